package check

import (
	"testing"

	"whistlecut/app/desk/task/tasktest"
)

// TestIntoTheReel: the finding's moment goes to the reel with its place on film
// and what is wrong as its note.
func TestIntoTheReel(t *testing.T) {
	d, c := opened(t, tasktest.Options{Seed: 3, Jams: 5}, 3)
	i, ok := c.current()
	if !ok {
		t.Fatal("no finding")
	}
	d.Keys(t, "E")
	got := d.Staged.Collected
	if len(got) != 1 {
		t.Fatalf("%d moments, said %q", len(got), d.Said)
	}
	p, _ := c.place(i)
	_, at, _ := d.Opened.Bout.Alignment.FilmOf(p)
	if m := got[0]; m.Film[0].Footage != tasktest.FilmID || m.Film[0].From != at || m.Note != oneLine(i) || m.Note == "" || m.Jam != i.finding.JamID {
		t.Errorf("moment %+v", m)
	}
}

// TestToExamples: a finding's moment becomes an example with film around it, or the
// penalty that it is about.
func TestToExamples(t *testing.T) {
	d, c := opened(t, tasktest.Options{Seed: 3, Jams: 5}, 3)
	i, ok := c.current()
	if !ok {
		t.Fatal("no finding")
	}
	d.Keys(t, "Q")
	got := d.Staged.Examples
	if len(got) != 1 || len(got[0].Film) == 0 {
		t.Fatalf("%d moments, said %q", len(got), d.Said)
	}
	if _, tagged := c.taggedMoment(i); !tagged && got[0].Film[0].To <= got[0].Film[0].From {
		t.Errorf("moment %+v", got[0])
	}
}

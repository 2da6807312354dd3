package reel

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"whistlecut/app"
	"whistlecut/app/desk/task"
	"whistlecut/app/desk/task/tasktest"
	"whistlecut/timeline"
)

// another is the same game in another bout file, with its film beside it; what was
// marked there is one thing to see.
func another(t *testing.T, d *tasktest.Desk) (bout, film string) {
	t.Helper()
	dir := t.TempDir()
	film = filepath.Join(dir, "away day.mp4")
	if err := os.WriteFile(film, []byte("not looked at here"), 0o644); err != nil {
		t.Fatal(err)
	}
	s, err := d.Program.Create(filepath.Join(dir, "other"+app.Ext))
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	f := d.Opened.Facts
	f.Info.Title, f.Reels, f.Parts = "Away day", nil, nil
	x := f.Footage[tasktest.FilmID]
	x.Path = film
	if err := s.Apply("the same game", append(timeline.FactsChanges(f), timeline.SetFootage(x))...); err != nil {
		t.Fatal(err)
	}
	return s.Path, film
}

// TestFromOther: clips of another bout are ticked and taken, and play as guests of
// the desk.
func TestFromOther(t *testing.T) {
	d, r := filled(t)
	path, film := another(t, d)
	r.openOther(path)
	if r.panel.asking == nil || !r.panel.asking.IsOpen() {
		t.Fatalf("nothing is asked; said %q, failed %v", d.Said, d.Failed)
	}
	of, err := d.Program.Open(path, true)
	if err != nil {
		t.Fatal(err)
	}
	defer of.Close()
	r.panel.asking.Close()
	var list source
	for _, s := range sources(of) {
		if len(s.moments) == len(penalties(d)) {
			list = s
		}
	}
	r.pickOther(of, list)
	r.panel.other.dialog.Accept()
	if r.panel.other.dialog.Said() == "" {
		t.Error("nothing ticked was taken")
	}
	r.panel.other.ticked[1] = true
	r.panel.other.dialog.Accept()
	parts := r.parts()
	if len(parts) != 5 || parts[4].Clip.Other == nil || parts[4].Clip.Other.Title != "Away day" {
		t.Fatalf("%d parts; said %q", len(parts), d.Said)
	}
	guest := task.GuestID(film)
	if len(d.Linked.Guests) != 1 || d.Linked.Guests[0] != film || d.Went[len(d.Went)-1].Footage != guest {
		t.Fatalf("guests %v, went to %v", d.Linked.Guests, d.Went[len(d.Went)-1])
	}
	p, i := r.part()
	if i != 4 || r.placeText(p) == "" || !strings.Contains(r.infoText(p), "Away day") || side(p) != timeline.NoSide {
		t.Errorf("part %d: %q, %q", i, r.placeText(p), r.infoText(p))
	}
	long := p.Clip.After
	d.Keys(t, "E")
	if q, _ := r.part(); q.Clip.After != long+time.Second {
		t.Errorf("its margin stays at %v", q.Clip.After)
	}
	d.Keys(t, "Return")
	if l := d.Loops; len(l) != 1 || l[0].Footage != guest {
		t.Errorf("looped %v", l)
	}
	d.Keys(t, "V")
	if r.run == nil || len(r.run.beats) == 0 || r.run.beats[0].footage != guest || r.run.bar.Empty() && r.reelOf(p).Bar {
		t.Errorf("presented as %+v", r.run)
	}
	r.Leave()
	if len(d.Linked.Guests) != 0 {
		t.Error("the film stays on the desk when another task is shown")
	}
	if err := os.Remove(film); err != nil {
		t.Fatal(err)
	}
	r.Shown()
	r.choose(4)
	if said := d.Said[len(d.Said)-1]; !strings.Contains(said, "away day.mp4 of Away day is missing") {
		t.Errorf("of a missing film it is said: %q", said)
	}
	r.openOther(d.Opened.Path)
	if said := d.Said[len(d.Said)-1]; !strings.Contains(said, "That is this bout") {
		t.Errorf("said %q", said)
	}
}

// TestSheetAlone: the session sheet is printed without a film where that is asked.
func TestSheetAlone(t *testing.T) {
	d, r := filled(t)
	dir, printed := t.TempDir(), ""
	r.print = func(_ context.Context, _ *app.App, _ *app.Session, _ timeline.ID, path string) error {
		printed = path
		return nil
	}
	d.Keys(t, "G")
	f := r.panel.making
	if !f.sheet.Checked || f.alone.Checked {
		t.Error("a film has no sheet by itself")
	}
	f.folder.SetText(dir)
	f.alone.SetChecked(true)
	if !f.sheet.Disabled() || !f.subtitles.Disabled() {
		t.Error("what belongs to the film can be chosen without it")
	}
	f.accept()
	if filepath.Dir(printed) != dir || filepath.Ext(printed) != ".pdf" || !strings.Contains(r.panel.told.Text(), printed) {
		t.Errorf("printed %q, told %q", printed, r.panel.told.Text())
	}
}

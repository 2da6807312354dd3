package align

import (
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"whistlecut/app"
	"whistlecut/app/desk/look"
	"whistlecut/app/desk/task/tasktest"
	"whistlecut/timeline"
	"whistlecut/timeline/sheet/plant"
)

func strong(o fyne.CanvasObject) bool {
	b, ok := o.(*look.Button)
	return ok && b.Importance == widget.HighImportance
}

// withCalls is a bout whose penalties are on the sheet but not tagged, each with
// three blasts to choose from.
func withCalls(t *testing.T) (*Task, *tasktest.Desk) {
	t.Helper()
	x, d := opened(t, tasktest.Options{Seed: 3, Jams: 4})
	var drop []timeline.Change
	for id, g := range d.Opened.Facts.Tags {
		if g.Kind == timeline.KindPenalty {
			drop = append(drop, timeline.DeleteTag(id))
		}
	}
	if !d.Apply("no penalties", drop...) {
		t.Fatal(d.Failed)
	}
	d.SetPaper(plant.Sheet(d.Game))
	for i, p := range d.Paper.Penalties {
		c := app.PenaltyCalls{Row: i, Period: p.Period.Value, Number: p.Jam.Value, Side: p.Side, Skater: p.Skater.Value, Code: p.Code.Value}
		for _, j := range d.Opened.Bout.Jams {
			if j.Period != c.Period || j.Number != c.Number {
				continue
			}
			c.Jam = j.ID
			for n, off := range []time.Duration{12 * time.Second, 7 * time.Second, 20 * time.Second} {
				_, film, _ := d.Opened.Bout.Alignment.FilmOf(timeline.InJam(j.ID, off))
				c.Calls = append(c.Calls, app.PenaltyCall{Camera: "hall", Footage: tasktest.FilmID, Film: film, InJam: off, Chance: 0.6 / float64(n+1)})
			}
		}
		x.calls.found = append(x.calls.found, c)
	}
	x.calls.looked = true
	if len(x.calls.found) < 3 {
		t.Fatalf("the simulated game has only %d penalties; take another seed", len(x.calls.found))
	}
	x.show(atCalls)
	x.fold.refresh()
	return x, d
}

func TestPenaltyCall(t *testing.T) {
	x, d := withCalls(t)
	all := len(x.calls.open())
	r, _ := x.calls.chosen()
	press(t, d, "2")
	if l := d.Loops[len(d.Loops)-1]; l.From != r.Calls[1].Film-runUp {
		t.Errorf("2 played %+v, want round %v", l, r.Calls[1].Film)
	}
	d.Picture(t, "calls")
	press(t, d, "Return")
	r, _ = x.calls.chosen()
	if !r.placed() || r.tag.Place != timeline.OnFilm(tasktest.FilmID, r.Calls[1].Film) {
		t.Fatalf("the call is %+v", r.tag)
	}
	if g := r.tag; g.Who.Number != r.Skater || g.Penalty.Code != r.Code || g.Side != r.Side || g.Jam != r.Jam {
		t.Errorf("the tag says %+v", g)
	}
	if err := timeline.CheckTag(r.tag); err != nil {
		t.Error(err)
	}
	if n := len(x.calls.open()); n != all-1 {
		t.Errorf("%d are open, want %d", n, all-1)
	}
	d.At(r.Calls[1].Film - 1500*time.Millisecond)
	press(t, d, "A")
	if g := d.Opened.Facts.Tags[r.tag.ID]; g.Penalty.Act != timeline.OnFilm(tasktest.FilmID, r.Calls[1].Film-1500*time.Millisecond) || g.Place != r.tag.Place {
		t.Errorf("the act is %+v", g.Penalty.Act)
	}
	if next, _ := x.calls.chosen(); next.placed() {
		t.Error("after the act the next open penalty is chosen")
	}
	d.Picture(t, "calls-act")
}

func TestPenaltyWithoutCall(t *testing.T) {
	x, d := withCalls(t)
	for i := range x.calls.found {
		x.calls.found[i].Calls = nil
	}
	x.fold.refresh()
	said := len(d.Said)
	press(t, d, "Return")
	if len(d.Said) == said || len(x.calls.open()) != len(x.calls.rows) {
		t.Error("with nothing heard Enter says so and stores nothing")
	}
	r, _ := x.calls.chosen()
	d.At(33 * time.Second)
	press(t, d, "H")
	now, _ := x.calls.chosen()
	if now.tag.Place != timeline.OnFilm(tasktest.FilmID, 33*time.Second) {
		t.Errorf("by hand: %+v", now.tag.Place)
	}
	press(t, d, "Delete")
	if now, _ = x.calls.chosen(); now.placed() || now.tag.Place != timeline.JamAlone(r.Jam) {
		t.Errorf("taken off the film: %+v", now.tag.Place)
	}
}

func TestPenaltiesBeforeListening(t *testing.T) {
	x, d := withCalls(t)
	x.calls.found, x.calls.looked = nil, false
	x.fold.refresh()
	if len(x.calls.rows) != len(d.Paper.Penalties) {
		t.Errorf("%d rows of %d penalties", len(x.calls.rows), len(d.Paper.Penalties))
	}
	d.Picture(t, "calls-before")
}

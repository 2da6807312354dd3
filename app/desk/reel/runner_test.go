package reel

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"whistlecut/app/desk/keys"
	"whistlecut/app/desk/task/tasktest"
	"whistlecut/timeline"
)

// clockwork stands in for time: what waits is done when the test says so.
type clockwork struct {
	do   func()
	wait time.Duration
}

func (c *clockwork) later(d time.Duration, do func()) func() {
	c.do, c.wait = do, d
	return func() { c.do = nil }
}

// ring lets the time that is waited for be over.
func (c *clockwork) ring(t *testing.T) {
	t.Helper()
	do := c.do
	if do == nil {
		t.Fatal("nothing is waited for")
	}
	c.do = nil
	do()
}

// played is what a reel shows until it ends, each beat in a few words.
func played(t *testing.T, d *tasktest.Desk, r *Task, c *clockwork) []string {
	t.Helper()
	var out []string
	for range 200 {
		run := r.run
		if run == nil || run.over {
			return out
		}
		b := run.beats[run.beat]
		switch {
		case b.footage == "":
			out = append(out, fmt.Sprintf("card %v", c.wait))
			if d.Where.Playing {
				t.Error("the film runs behind the card")
			}
			c.ring(t)
		case b.to <= b.from:
			out = append(out, fmt.Sprintf("hold %v", c.wait))
			if d.Where.Playing || d.Where.Film != b.from {
				t.Errorf("held at %v, want %v", d.Where.Film, b.from)
			}
			c.ring(t)
		default:
			out = append(out, fmt.Sprintf("film %v at %g", b.to-b.from, d.Where.Rate))
			if !d.Where.Playing {
				t.Error("the film does not run")
			}
			at, beat := run.at, run.beat
			for f := b.from; r.run == run && !run.over && run.at == at && run.beat == beat; f += 20 * time.Millisecond {
				d.At(f)
			}
		}
	}
	t.Fatal("it does not end")
	return nil
}

// staged is a reel of a card, a clip with slow motion and a held picture, and a
// plain clip.
func staged(t *testing.T) (*tasktest.Desk, *Task, *clockwork) {
	t.Helper()
	d, r := opened(t, tasktest.Options{Seed: 3, NoTags: true})
	c := &clockwork{}
	r.later = c.later
	id := d.Opened.File.Log().NewID()
	s := time.Second
	moment := func(at time.Duration) timeline.Clip {
		return timeline.Clip{Footage: tasktest.FilmID, Range: timeline.TimeRange{Start: at, End: at}, Before: 2 * s, After: 2 * s}
	}
	a, b := moment(10*s), moment(60*s)
	a.Speeds = []timeline.Speed{{Range: timeline.TimeRange{Start: 9 * s, End: 11 * s}, Rate: 0.5}}
	a.Freezes = []timeline.Freeze{{At: 11 * s, Length: 3 * s}}
	a.Mute = true
	d.Apply("a reel",
		timeline.SetReel(timeline.Reel{ID: id, Name: "Saturday", Languages: []string{"en"}}),
		timeline.SetPart(timeline.Part{ID: "1", Reel: id, Order: 1, Card: &timeline.Card{Title: timeline.Words{"en": "Hits"}, Length: 4 * s}}),
		timeline.SetPart(timeline.Part{ID: "2", Reel: id, Order: 2, Clip: &a, Caption: timeline.Words{"en": "Look"}, Point: "why?"}),
		timeline.SetPart(timeline.Part{ID: "3", Reel: id, Order: 3, Clip: &b, Private: "be kind"}),
	)
	return d, r, c
}

func TestPlayedThrough(t *testing.T) {
	d, r, c := staged(t)
	d.Keys(t, "P")
	want := []string{"card 4s", "film 1s at 1", "film 2s at 0.5", "hold 3s", "film 1s at 1", "film 4s at 1"}
	if got := played(t, d, r, c); !slices.Equal(got, want) {
		t.Errorf("played %v,\nwant %v", got, want)
	}
	if r.run != nil || d.Where.Playing || d.Where.Rate != 1 || d.Staged.Silent {
		t.Error("something is left of playing")
	}
}

func TestPartAgainAndAgain(t *testing.T) {
	d, r, _ := staged(t)
	d.Keys(t, "Down", "Down", "Return")
	want := tasktest.LoopAsked{Footage: tasktest.FilmID, From: 58 * time.Second, To: 62 * time.Second}
	if len(d.Loops) != 1 || d.Loops[0] != want {
		t.Errorf("loops %v", d.Loops)
	}
	d.Keys(t, "Up", "Return")
	if r.run == nil || !r.run.loop || !d.Staged.Silent {
		t.Fatal("the clip with slow motion is not played as it will be seen")
	}
	d.At(8 * time.Second)
	d.At(9 * time.Second)
	if d.Where.Rate != 0.5 {
		t.Errorf("at %v", d.Where.Rate)
	}
	d.Keys(t, "Escape")
	if r.run != nil || d.Where.Rate != 1 {
		t.Error("Escape did not stop it")
	}
}

// TestTakenElsewhere: who takes the film elsewhere ends the playing.
func TestTakenElsewhere(t *testing.T) {
	d, r, c := staged(t)
	d.Keys(t, "P")
	c.ring(t)
	d.At(8 * time.Second)
	d.At(2 * time.Minute)
	if r.run != nil {
		t.Error("it plays on")
	}
}

// TestStaleFilm: what the film said before a jump does not end the beat after it.
func TestStaleFilm(t *testing.T) {
	d, r, c := staged(t)
	d.Keys(t, "P")
	c.ring(t)
	run := r.run
	run.at, run.beats = 1, beats(run.parts[1], 0)
	run.beat = 0
	run.arrived = false
	d.Where.Film = 12 * time.Second
	r.Moved(d.Where) // still where the part ended before
	if run.beat != 0 {
		t.Error("a beat was passed that was never shown")
	}
}

func TestSpacePausesTheReel(t *testing.T) {
	d, r, c := staged(t)
	d.Keys(t, "P", "Space")
	if c.do != nil || !r.run.paused {
		t.Error("the card's time runs on")
	}
	d.Keys(t, "Space")
	if c.do == nil {
		t.Error("it does not go on")
	}
	c.ring(t)
	d.Keys(t, "Space")
	if d.Where.Playing {
		t.Error("the film runs on")
	}
	d.Press(t, keys.Press{Name: "Space", Held: true})
	d.Keys(t, "Space")
	if !d.Where.Playing {
		t.Error("the film does not go on")
	}
}

// TestShown: a reel in front of a team, by the keys of a clicker.
func TestShown(t *testing.T) {
	d, r, c := staged(t)
	r.refresh()
	d.Keys(t, "V")
	at := func(part int, card, black, over bool) {
		t.Helper()
		if r.show == nil || r.run == nil {
			t.Fatal("nothing is shown")
		}
		if r.run.at != part || r.scene().card != nil != card || r.scene().black != black || r.run.over != over {
			t.Errorf("part %d, card %v, black %v, over %v; want %d, %v, %v, %v", r.run.at, r.scene().card != nil, r.scene().black, r.run.over, part, card, black, over)
		}
	}
	if !d.Staged.Full {
		t.Error("not in full screen")
	}
	at(0, true, false, true) // a card stays until the person goes on
	d.Keys(t, "Next")
	at(1, false, false, false)
	if got := played(t, d, r, c); strings.Join(got, "; ") != "film 1s at 1; film 2s at 0.5; hold 3s; film 1s at 1" {
		t.Errorf("played %v", got)
	}
	at(1, false, false, true) // its last picture stands
	if r.scene().caption[0] != "Look" {
		t.Errorf("caption %v", r.scene().caption)
	}
	d.Keys(t, "R")
	at(1, false, false, false)
	d.Keys(t, "B")
	at(1, false, true, false)
	if d.Where.Playing {
		t.Error("the film runs behind the black screen")
	}
	d.Keys(t, "B", "Right")
	at(2, false, false, false)
	d.Keys(t, "Prior")
	at(1, false, false, false)
	d.Keys(t, "Left", "Up")
	at(0, true, false, true)
	d.Keys(t, "Space", "Down", "Return") // beyond the end the screen is black
	at(2, false, true, false)
	d.Keys(t, "Left")
	at(2, false, false, false)
	d.Keys(t, "F") // marks nothing while a team looks on
	d.Keys(t, "N")
	if r.show.notes == nil || r.show.notes.private.Text() != "be kind" || r.show.notes.next.Text() != "the end" {
		t.Error("no notes")
	}
	d.Keys(t, "N", "Escape")
	if r.show != nil || r.run != nil || d.Staged.Full || d.Where.Rate != 1 {
		t.Error("Escape did not end it")
	}
	if len(d.Labels) != 1 {
		t.Errorf("showing changed the bout: %v", d.Labels)
	}
}

// TestDrawnBeforeATeam: what is drawn on the stopped picture is stored only when
// a person keeps it, and gone when the film goes on.
func TestDrawnBeforeATeam(t *testing.T) {
	d, r, _ := staged(t)
	d.Keys(t, "Down", "V")
	d.At(9 * time.Second)
	d.Keys(t, "1")
	if d.Where.Playing || r.draw == nil || !r.draw.live {
		t.Fatal("no pen on a stopped picture")
	}
	arrow := func() {
		r.draw.down(timeline.Point{X: 0.2, Y: 0.2})
		r.draw.drag(timeline.Point{X: 0.4, Y: 0.4})
		r.draw.up(timeline.Point{X: 0.5, Y: 0.5})
	}
	arrow()
	arrow()
	d.Keys(t, "BackSpace")
	if n := len(r.scene().drawings); n != 1 {
		t.Errorf("%d drawings", n)
	}
	d.Keys(t, "Escape")
	if n := len(r.scene().drawings); n != 1 || r.draw != nil {
		t.Errorf("%d drawings after the pen was put away", n)
	}
	d.Keys(t, "Space")
	if n := len(r.scene().drawings); n != 0 || !d.Where.Playing {
		t.Errorf("%d drawings while the film goes on", n)
	}
	if len(d.Labels) != 1 {
		t.Errorf("stored: %v", d.Labels)
	}
	d.Keys(t, "D")
	arrow()
	d.Keys(t, "K")
	if len(d.Labels) != 2 || len(r.sketches.Tags) != 1 {
		t.Errorf("kept: %v, %d", d.Labels, len(r.sketches.Tags))
	}
}

package examples

import (
	"time"

	"whistlecut/app"
	"whistlecut/timeline"
)

// How many examples a staged bout gets at most, and of which kind.
const (
	stagedMost     = 12
	stagedUncalled = 3
	stagedTrips    = 2
	stagedLeads    = 2
	// stagedApart is how far a moment without a call is from any penalty, and how much
	// film two examples leave between them, so that no quiz shows one in the other.
	stagedApart = 9 * time.Second
	stagedAfter = 7 * time.Second
	// stagedGap is the least time from the act to the call in which there is something
	// to be seen.
	stagedGap = 700 * time.Millisecond
)

// Staged are examples for a staged bout, with the verdicts of its truth: every tag
// of a staged bout is true, and where none of a penalty is near, none was committed.
func Staged(s *app.Session) []timeline.Change {
	g := stager{s: s, o: Options{By: "staged"}}
	g.penalties()
	g.uncalled()
	g.leads()
	g.trips()
	return g.out
}

type stager struct {
	s    *app.Session
	o    Options
	out  []timeline.Change
	made int
	took []timeline.Tag
}

// add keeps an example unless it lies too near to another one.
func (g *stager) add(t timeline.Tag, err error, decide func(*timeline.Example)) bool {
	if err != nil || g.made >= stagedMost || g.near(t) {
		return false
	}
	decide(t.Example)
	if timeline.CheckTag(t) != nil {
		return false
	}
	g.took, g.made = append(g.took, t), g.made+1
	g.out = append(g.out, timeline.SetTag(t))
	return true
}

func (g *stager) near(t timeline.Tag) bool {
	from, to := reach(t)
	for _, o := range g.took {
		a, b := reach(o)
		if o.Place.Footage == t.Place.Footage && from-stagedApart < b+stagedAfter && a-stagedApart < to+stagedAfter {
			return true
		}
	}
	return false
}

func reach(t timeline.Tag) (from, to time.Duration) {
	return t.Place.Film, max(t.Place.Film, t.Example.End.Film, t.Example.Signal.Film)
}

func (g *stager) penalties() {
	n := 0
	for _, j := range g.s.Bout.Jams {
		for _, id := range j.Tags {
			if g.s.Facts.Tags[id].Penalty == nil {
				continue
			}
			t, _, err := OfPenalty(g.s, id, g.o)
			if err == nil && t.Example.Signal.Film-t.Place.Film < stagedGap {
				continue
			}
			if g.add(t, err, func(x *timeline.Example) {
				x.Verdicts = append([]timeline.Answer{x.Called}, g.twins(id)...)
				// What the official needed long for is hard.
				gap := x.Signal.Film - t.Place.Film
				x.Difficulty = min(1+int(gap/(400*time.Millisecond)), 5)
				x.Impact = timeline.ImpactSome
				x.Words = "She was in the way of nobody before; afterwards her opponent had lost her place."
				if n%5 == 4 {
					x.Verdicts = append(x.Verdicts, timeline.Answer{Choice: timeline.ChoiceWarning})
				}
			}) {
				n++
			}
		}
	}
}

// twins are the answers by which another penalty called at once is right, too.
func (g *stager) twins(id timeline.ID) (out []timeline.Answer) {
	t := g.s.Facts.Tags[id]
	for _, o := range timeline.SortTags(g.s.Facts.Tags) {
		if o.Penalty != nil && o.ID != id && o.Place == t.Place && o.Side == t.Side && o.Who == t.Who {
			c, _ := g.s.Bout.Rules.Code(o.Penalty.Code)
			out = append(out, timeline.Answer{Choice: timeline.ChoiceYes, Code: o.Penalty.Code, Section: c.Section})
		}
	}
	return out
}

// uncalled are moments in the middle of jams with no penalty near, elsewhere in each
// jam and at most one a jam.
func (g *stager) uncalled() {
	n := 0
	for i, j := range g.s.Bout.Jams {
		for k := range 6 {
			at := 10*time.Second + time.Duration((5*i+3*k)%18)*2*time.Second
			if n == stagedUncalled || j.Duration < at+stagedApart/2 {
				continue
			}
			film, ok := shownAt(g.s, timeline.InJam(j.ID, at))
			if !ok || g.penaltyNear(film.Footage, film.Film) {
				continue
			}
			t, _, err := OfPlace(g.s, film.Footage, film.Film, film.Film+time.Second, g.o)
			if g.add(t, err, func(x *timeline.Example) {
				x.Verdicts = []timeline.Answer{{Choice: timeline.ChoiceNo}}
				x.Impact, x.Difficulty = timeline.ImpactNone, 2+n
				x.Words = "Contact with legal zones, and nobody lost anything by it."
			}) {
				n++
				break
			}
		}
	}
}

func (g *stager) penaltyNear(footage timeline.ID, film time.Duration) bool {
	for _, t := range g.s.Facts.Tags {
		if t.Penalty == nil {
			continue
		}
		for _, p := range []timeline.Place{t.Place, t.Penalty.Act} {
			if at, ok := onFile(g.s, footage, p); ok && (at-film).Abs() < stagedApart {
				return true
			}
		}
	}
	return false
}

func (g *stager) trips() {
	n := 0
	for _, j := range g.s.Bout.Jams {
		for _, id := range j.Tags {
			t := g.s.Facts.Tags[id]
			if t.Trip == nil || t.Trip.Open || t.Trip.Number < 2 || n == stagedTrips {
				continue
			}
			made, _, err := OfTrip(g.s, id, g.o)
			if g.add(made, err, func(x *timeline.Example) {
				x.Verdicts, x.Difficulty = []timeline.Answer{{Choice: x.Called.Choice, Section: "3.1"}}, 2
				x.Words = "She passes in bounds and upright, hips past hips."
			}) {
				n++
				break
			}
		}
	}
}

func (g *stager) leads() {
	n := 0
	for _, j := range g.s.Bout.Jams {
		if n == stagedLeads {
			return
		}
		made, _, err := OfJam(g.s, j.ID, g.o)
		if g.add(made, err, func(x *timeline.Example) {
			x.Verdicts, x.Difficulty = []timeline.Answer{{Choice: x.Called.Choice, Section: "2.2.2"}}, 1
			x.Words = "First through the pack, every blocker passed legally."
		}) {
			n++
		}
	}
}

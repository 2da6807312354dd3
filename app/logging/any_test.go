package logging

import (
	"testing"
	"time"

	"pgregory.net/rapid"

	"whistlecut/timeline"
)

// TestAnyKeys: whatever is pressed wherever, every stored tag is one that can
// be, no two trips of a side have one number, and nothing panics.
func TestAnyKeys(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		b := plain(rt)
		at := seconds(10)
		for range rapid.IntRange(5, 60).Draw(rt, "keys") {
			switch rapid.IntRange(0, 9).Draw(rt, "film") {
			case 0:
				at = seconds(rapid.Float64Range(0, 400).Draw(rt, "jump"))
			case 1, 2, 3, 4:
				at += time.Duration(rapid.IntRange(0, 20000).Draw(rt, "on")) * time.Millisecond
			}
			b.at(at)
			k := Key{
				Act: Act(rapid.IntRange(1, int(Lineups)).Draw(rt, "act")), Side: timeline.Sides[rapid.IntRange(0, 1).Draw(rt, "side")],
				N: rapid.IntRange(-1, 5).Draw(rt, "n"), Letter: rapid.SampledFrom([]string{"A", "B", "X", "Q"}).Draw(rt, "letter"),
				By: time.Duration(rapid.IntRange(-40, 40).Draw(rt, "by")) * time.Millisecond,
			}
			if k.Act == Digit || k.Act == Trip {
				k.N = max(k.N, 0)
			}
			b.press(k)
			if b.out.Goes {
				if f, film, ok := b.bout.Alignment.FilmOf(b.out.Go); ok && f == b.now.Footage {
					at = film
					b.at(at)
				}
			}
			if rapid.IntRange(0, 19).Draw(rt, "undo") == 0 {
				b.undo()
			}
		}
		for id, x := range b.facts.Tags {
			x.ID = id
			if err := timeline.CheckTag(x); err != nil {
				rt.Errorf("%s tag %s: %v", x.Kind, id, err)
			}
		}
		for i, j := range b.bout.Jams {
			for n := range j.Sides {
				seen := map[int]timeline.ID{}
				for _, x := range b.view().tags(i, timeline.Sides[n], timeline.KindTrip) {
					if o, twice := seen[x.Trip.Number]; twice {
						rt.Errorf("jam %s %s: %s and %s are both trip %d", j.Name(), timeline.Sides[n], o, x.ID, x.Trip.Number)
					}
					seen[x.Trip.Number] = x.ID
				}
			}
		}
	})
}

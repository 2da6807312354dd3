package align_test

import (
	"testing"
	"time"

	"whistlecut/timeline"
	"whistlecut/timeline/align"
)

// A sheet with durations may be sure of a film of a part of the bout. Of a bare sheet
// nothing is sure before a jam was set by hand: nothing but the number of jams holds
// them in their places.
func TestModest(t *testing.T) {
	g := game(5)
	jams := g.Truth.Jams
	middle := jams[len(jams)/3]
	late := cut{middle.Start + middle.Duration()/4, g.Duration()}
	for _, c := range []struct {
		name      string
		from      cut
		durations bool
		hand      bool
		sure      bool
	}{
		{"durations", cut{0, g.Duration()}, true, false, true},
		{"durations, from within a jam on", late, true, false, true},
		{"bare", cut{0, g.Duration()}, false, false, false},
		{"bare, from within a jam on", late, false, false, false},
		{"bare, from within a jam on, one by hand", late, false, true, true},
	} {
		t.Run(c.name, func(t *testing.T) {
			in := align.Input{Films: films(g, hearing{}, 5, c.from), Jams: known(g, c.durations)}
			if c.hand {
				last := jams[len(jams)-2]
				in.Pins = append(in.Pins, align.Pin{Jam: last.ID, Edge: timeline.EdgeStart, Footage: in.Films[0].Footage, Film: last.Start - c.from.from})
			}
			res := place(t, in)
			placed, sure := 0, 0
			for i, p := range res.Jams {
				if p.Footage == "" || p.Hand {
					continue
				}
				placed++
				if p.Confidence >= 0.9 {
					sure++
					if off := (p.Start - (jams[i].Start - c.from.from)).Abs(); off > time.Second {
						t.Errorf("jam %d is sure and %v off", i+1, off)
					}
				}
			}
			if bare := !c.durations && !c.hand; bare != (len(res.Notes) > 0) {
				t.Errorf("notes %q", res.Notes)
			}
			t.Logf("%d of %d jams placed, %d sure", placed, len(jams), sure)
			if placed < len(jams)/2 || sure > 0 != c.sure {
				t.Errorf("%d of %d jams placed, %d sure", placed, len(jams), sure)
			}
		})
	}
}

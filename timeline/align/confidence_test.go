package align_test

import (
	"testing"

	"whistlecut/timeline/align"
)

// A bare sheet whose jams are all on film may be sure of them; where the film
// begins within the bout nothing but their number holds them in their places.
func TestModestWithoutDurations(t *testing.T) {
	g := game(5)
	jams := g.Truth.Jams
	middle := jams[len(jams)/3]
	for _, c := range []struct {
		name string
		from cut
		sure bool
	}{
		{"the whole bout", cut{0, g.Duration()}, true},
		{"from within a jam on", cut{middle.Start + middle.Duration()/4, g.Duration()}, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			res := place(t, align.Input{Films: films(g, hearing{}, 5, c.from), Jams: known(g, false)})
			placed, sure := 0, 0
			for _, p := range res.Jams {
				if p.Footage != "" {
					placed++
				}
				if p.Confidence >= 0.9 {
					sure++
				}
			}
			t.Logf("%d of %d jams placed, %d sure", placed, len(jams), sure)
			if placed < len(jams)/2 || sure > 0 != c.sure {
				t.Errorf("%d of %d jams placed, %d sure", placed, len(jams), sure)
			}
		})
	}
}

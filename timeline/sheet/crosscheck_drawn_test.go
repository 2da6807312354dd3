package sheet

import (
	"testing"
	"time"

	"pgregory.net/rapid"

	"whistlecut/timeline"
	"whistlecut/timeline/simulate"
)

// TestAnySheet: any sheet at all, checked against a bout it has nothing to do
// with, gives a report that adds up, by key and by points.
func TestAnySheet(t *testing.T) {
	g := simulate.Play(5, simulate.Options{PeriodLength: 4 * time.Minute})
	f := g.Facts()
	b := timeline.Derive(f)
	rapid.Check(t, func(t *rapid.T) {
		s := drawSheet(t)
		for i, n := 0, rapid.IntRange(0, 12).Draw(t, "rows of the bout"); i < n; i++ {
			rows := g.Rows()
			s.Rows = append(s.Rows, rows[rapid.IntRange(0, len(rows)-1).Draw(t, "row")])
		}
		for _, r := range [...]Report{Check(s, b, f), Check(s, timeline.Bout{}, timeline.Facts{}), SelfCheck(s, f.Rules)} {
			keys := map[string]bool{}
			var stake [2]int
			for _, x := range r.Findings {
				if keys[x.Key] {
					t.Errorf("two findings have the key %q", x.Key)
				}
				keys[x.Key] = true
				for i := range stake {
					stake[i] += x.Stake[i]
				}
			}
			for i, a := range r.Score {
				if a.Explained != stake[i] || a.Difference != stake[i]+a.Unchecked {
					t.Errorf("%s: difference %d, findings %d, unchecked %d", timeline.Sides[i], a.Difference, stake[i], a.Unchecked)
				}
			}
			if r.Agreed > r.Compared {
				t.Errorf("%d agree of %d compared", r.Agreed, r.Compared)
			}
		}
	})
}

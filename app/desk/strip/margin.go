package strip

import (
	"cmp"
	"slices"
	"sort"
	"time"
)

// step is the margin from a strip time on: home's points minus away's, as a
// range where points are not sure.
type step struct {
	at        time.Duration
	low, high int
}

// marginAt is the margin at a strip time; level before the first step.
func marginAt(steps []step, t time.Duration) (low, high int) {
	i := sort.Search(len(steps), func(i int) bool { return steps[i].at > t }) - 1
	if i < 0 {
		return 0, 0
	}
	return steps[i].low, steps[i].high
}

// change is some points at a moment, home's plus and away's minus.
type change struct {
	at        time.Duration
	low, high int
}

// sumUp adds changes to a margin, in order of time.
func sumUp(low, high int, changes []change) []step {
	slices.SortStableFunc(changes, func(a, b change) int { return cmp.Compare(a.at, b.at) })
	var out []step
	for _, c := range changes {
		low, high = low+c.low, high+c.high
		out = append(out, step{c.at, low, high})
	}
	return out
}

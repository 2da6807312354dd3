package strip

import (
	"cmp"
	"slices"
	"sort"
	"time"

	"whistlecut/timeline"
)

// Model is what there is to show, sorted so that the items of any window are
// found at once. It is built anew whenever the bout changes and never altered,
// so several goroutines may read it.
type Model struct {
	runs   [runCount]run
	margin []step
	peak   int // largest margin either way
	byID   map[timeline.ID]*Item
	// findings are those that something is the matter with, by time.
	findings []*Item
	// Off counts the tags that this camera does not show.
	Off int
}

// Runs hold the items of a lane; events have their own, because they are drawn
// under the trips of the same lane.
const (
	runEvents = int(laneCount) + iota
	runEventsAway
	runCount
)

func runOf(i Item) int {
	if i.Kind == KindEvent {
		if i.Side == timeline.Away {
			return runEventsAway
		}
		return runEvents
	}
	return int(i.lane())
}

// run is a list of items by their beginning. reach is the latest end of the
// items up to each one, which makes looking up intervals a binary search.
type run struct {
	items []Item
	reach []time.Duration
}

// in are the items that may touch a stretch of strip time, in order. Some may
// end before it; the caller looks.
func (r *run) in(from, to time.Duration) []Item {
	lo := sort.Search(len(r.reach), func(i int) bool { return r.reach[i] >= from })
	hi := sort.Search(len(r.items), func(i int) bool { return r.items[i].From > to })
	if lo >= hi {
		return nil
	}
	return r.items[lo:hi]
}

// newModel sorts the items into their runs.
func newModel(items []Item, margin []step) *Model {
	m := &Model{margin: margin, byID: make(map[timeline.ID]*Item, len(items))}
	for _, i := range items {
		r := &m.runs[runOf(i)]
		r.items = append(r.items, i)
	}
	for n := range m.runs {
		r := &m.runs[n]
		slices.SortFunc(r.items, func(a, b Item) int {
			return cmp.Or(cmp.Compare(a.From, b.From), cmp.Compare(a.To, b.To), cmp.Compare(a.Kind, b.Kind), cmp.Compare(a.ID, b.ID))
		})
		latest := time.Duration(0)
		for k := range r.items {
			latest = max(latest, r.items[k].To)
			r.reach = append(r.reach, latest)
			if id := r.items[k].ID; id != "" {
				m.byID[id] = &r.items[k]
			}
			if r.items[k].Kind == KindFinding && r.items[k].State >= Unsure {
				m.findings = append(m.findings, &r.items[k])
			}
		}
	}
	slices.SortStableFunc(m.findings, func(a, b *Item) int { return cmp.Compare(a.From, b.From) })
	stack(m.runs[LaneHomeBox].items)
	stack(m.runs[LaneAwayBox].items)
	for _, s := range margin {
		m.peak = max(m.peak, s.low, -s.low, s.high, -s.high)
	}
	return m
}

// stackRows is how many box visits are drawn above each other at most: a team
// has three in the box at a time (Rules 4.4.1), more are mistakes of the tags.
const stackRows = 3

// stack gives visits that overlap a row each; those of one heap share the height.
func stack(items []Item) {
	for i := 0; i < len(items); {
		ends := [stackRows]time.Duration{}
		heap, rows := items[i].To, 0
		j := i
		for ; j < len(items) && (j == i || items[j].From < heap); j++ {
			row := 0
			for row < stackRows-1 && ends[row] > items[j].From {
				row++
			}
			ends[row] = items[j].To
			items[j].Row = uint8(row)
			rows, heap = max(rows, row+1), max(heap, items[j].To)
		}
		for k := i; k < j; k++ {
			items[k].Rows = uint8(rows)
		}
		i = j
	}
}

// Find is the item with an ID.
func (m *Model) Find(id timeline.ID) (Item, bool) {
	i, ok := m.byID[id]
	if !ok {
		return Item{}, false
	}
	return *i, true
}

// Jam is the jam at a strip time: the one running, or none.
func (m *Model) Jam(t time.Duration) (Item, bool) {
	for _, i := range m.runs[LaneJams].in(t, t) {
		if i.Kind == KindJam && t >= i.From && t < i.To {
			return i, true
		}
	}
	return Item{}, false
}

// Len is the number of items.
func (m *Model) Len() int {
	n := 0
	for _, r := range m.runs {
		n += len(r.items)
	}
	return n
}

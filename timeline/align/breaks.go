package align

import (
	"math"
)

// farBreak is the longest time looked back for the end of the jam before, s: much
// longer over half-time than within a period.
const (
	farBreak   = 1500.0
	farHalf    = 2700.0
	farWeak    = 400.0
	farUnheard = 200.0
	nearHole   = 600.0 // how far from a hole a jam before or after it may lie, s
	breakGrid  = 0.1   // step of the tables of breaks and lengths, s
	holeGrid   = 2.0
	clockSlack = 1.8 // how exactly clock and duration written down tell a break, s
)

// breakKey is what the length of a break depends on.
type breakKey struct {
	timeouts       int // 0, 1 or -1
	periods, extra bool
	clock          int // tenths of a second of the break by the period clock; 0 unknown
}

func (c *chain) breakKeyOf(k, next int) breakKey {
	a, b := &c.stages[k], &c.stages[next]
	key := breakKey{timeouts: min(max(a.Timeouts, -1), 1), periods: a.Period != b.Period && a.Period > 0 && b.Period > 0, extra: b.Overtime}
	// The clock runs from a jam's start to the next but for timeouts, so that it
	// tells the break where the duration is written, too (Rules 1.1).
	if a.ClockKnown && b.ClockKnown && !key.periods && a.Duration > 0 {
		key.clock = int(math.Round(secs(a.Clock-b.Clock-a.Duration) / breakGrid))
		if key.clock < 30 {
			key.clock = 0 // not a line-up: one of them is wrong
		}
	}
	return key
}

// breakTable is the log density of the length of one kind of break, on film and
// with a hole in it.
type breakTable struct {
	plain, hole []float64
	kind        int
}

func (c *chain) breakTable(k, next int) *breakTable {
	key := c.breakKeyOf(k, next)
	if t, ok := c.breaks[key]; ok {
		return t
	}
	t := &breakTable{kind: c.stages[k].breakKind()}
	if key.periods {
		t.kind = breakOpen
	}
	reach := farBreak
	if key.periods || c.loop {
		reach = farHalf
	}
	for d := 0.0; d <= reach; d += breakGrid {
		p := c.logBreak(&c.stages[k], &c.stages[next], d)
		if key.clock > 0 {
			p = logByClock(p, key, d)
		}
		if c.loop && d > 3 {
			// Proposing knows no periods: one break in twenty may be half-time.
			p = logAdd(p+math.Log(0.95), math.Log(0.05)+logSpread(d, 150, 2400))
		}
		t.plain = append(t.plain, p)
	}
	for d := 0.0; d <= 2*nearHole; d += holeGrid {
		t.hole = append(t.hole, c.logHole(&c.stages[k], &c.stages[next], d))
	}
	c.breaks[key] = t
	return t
}

// logByClock sharpens a break by the period clock: without a timeout it is what
// the clock tells, with one it is longer.
func logByClock(p float64, key breakKey, d float64) float64 {
	want := float64(key.clock) * breakGrid
	if key.timeouts > 0 {
		if d < want-3*clockSlack {
			return p - 3
		}
		return p
	}
	return logAdd(math.Log(0.75)+logNormal(d, want, clockSlack), math.Log(0.25)+p)
}

func at(table []float64, d, step float64) float64 {
	i := int(d/step + 0.5)
	if i < 0 || i >= len(table) {
		return minusInf
	}
	return table[i]
}

// gap is where a break lies: on film, or with a hole in it, and what was heard.
type gap struct {
	shown  float64             // seconds of it on film
	whole  bool                // all of it is on film
	inside [breakKinds]float64 // log weight of the series in it
}

func (g *gap) most() float64 { return max(g.inside[0], g.inside[1], g.inside[2]) }

func (c *chain) gapOf(e, s *node) gap {
	g := gap{shown: s.at - e.at, whole: e.island == s.island}
	film := g.shown
	if !g.whole {
		g.shown = (c.islands[e.island].to - e.at) + (s.at - c.islands[s.island].from)
		film = g.shown + c.skippedFilm(e.island, s.island)
	}
	for kind := range g.inside {
		g.inside[kind] = c.breakInside(kind, e.after, s.before, film)
	}
	return g
}

// skippedFilm is the film of the islands between two.
func (c *chain) skippedFilm(a, b int) float64 {
	sum := 0.0
	for i := a + 1; i < b; i++ {
		sum += c.islands[i].to - c.islands[i].from
	}
	return sum
}

// link is the log weight of the break g between jam k and jam next; the jams
// between these are on no film.
func (c *chain) link(k, next int, g *gap) float64 {
	skipped := next - k - 1
	if c.loop {
		skipped = 0
	}
	for j := k + 1; j < next && !c.loop; j++ {
		if c.pinnedStart[j] >= 0 || c.pinnedEnd[j] >= 0 {
			return minusInf // a jam set by hand is on the film
		}
	}
	if skipped > 0 {
		if g.whole {
			return float64(skipped)*logSkipFilm + logSpread(g.shown, 100*float64(skipped), 2000) + g.inside[breakOpen]
		}
		return logSkipHole - 2*math.Log(float64(1+skipped)) - math.Log(60) + g.inside[breakOpen]
	}
	t := c.breakTable(k, next)
	if g.whole {
		return at(t.plain, g.shown, breakGrid) + g.inside[t.kind]
	}
	return at(t.hole, min(g.shown, 2*nearHole), holeGrid) + g.inside[t.kind]
}

// lostInHole is how many jams may be lost in one hole of the film.
const lostInHole = 40

func (c *chain) reach(whole bool) int {
	if whole {
		return 2
	}
	return lostInHole
}

// after calls f for every stage that may follow stage k; before, precede it.
func (c *chain) after(k int, whole bool, f func(next int)) {
	if c.loop {
		f(0)
		return
	}
	for next := k + 1; next < len(c.stages) && next <= k+c.reach(whole); next++ {
		f(next)
	}
}

func (c *chain) before(next int, whole bool, f func(k int)) {
	if c.loop {
		f(0)
		return
	}
	for k := next - 1; k >= 0 && k >= next-c.reach(whole); k-- {
		f(k)
	}
}

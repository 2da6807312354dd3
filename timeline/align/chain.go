package align

import (
	"math"
	"sort"
)

// What it costs to leave jams out (common practice, no source): the film starts
// late or ends early, a hole swallows some, or one is missing in plain film.
var (
	logFirst    = math.Log(0.7)  // the film shows the first jam
	logLate     = math.Log(0.3)  // it starts later, shared over the other jams
	logMidJam   = math.Log(0.1)  // it starts in the middle of a jam
	logSkipHole = math.Log(0.3)  // a jam lost in a hole
	logSkipFilm = math.Log(4e-4) // a jam of the sheet that no film shows though it ran
	logNothing  = math.Log(1e-3) // no jam on the film at all
)

// farBreak is the longest time looked back for the end of the jam before, s.
const farBreak = 2700.0

var minusInf = math.Inf(-1)

// chain holds the sums over all chains of segments.
type chain struct {
	*model
	first float64 // axis time at which the film starts
	last  float64

	lengths [][]float64 // by stage: log density of the jam's length on a grid
	breaks  map[breakKey][]float64

	// startIn[k][s] sums all chains up to jam k starting at s; endIn[k][e] up to its
	// end at e; startOut and endOut the chains from there on.
	startIn, startOut, endIn, endOut [][]float64
	total                            float64
}

// grid is the step of the tables of lengths, seconds.
const grid = 0.1

type breakKey struct {
	timeouts       int // 0, 1 or -1
	periods, extra bool
}

func newChain(m *model) *chain {
	c := &chain{model: m, breaks: map[breakKey][]float64{}}
	if n := len(m.islands); n > 0 {
		c.first, c.last = m.islands[0].from, m.islands[n-1].to
	}
	for k := range m.stages {
		t := make([]float64, int((m.jamMax+9)/grid)+1)
		for i := range t {
			t[i] = m.logJamLength(&m.stages[k], float64(i)*grid)
		}
		c.lengths = append(c.lengths, t)
	}
	c.startIn, c.startOut = table(len(m.stages), len(m.starts)), table(len(m.stages), len(m.starts))
	c.endIn, c.endOut = table(len(m.stages), len(m.ends)), table(len(m.stages), len(m.ends))
	return c
}

func table(rows, cols int) [][]float64 {
	t := make([][]float64, rows)
	for i := range t {
		t[i] = make([]float64, cols)
		for j := range t[i] {
			t[i][j] = minusInf
		}
	}
	return t
}

// length is the log density of jam k taking d seconds.
func (c *chain) length(k int, d float64) float64 {
	t := c.lengths[k]
	i := int(d/grid + 0.5)
	if i < 0 || i >= len(t) {
		return minusInf
	}
	return t[i]
}

// plainBreak is the log density of the break between consecutive jams, on film.
func (c *chain) plainBreak(k, next int, d float64) float64 {
	a, b := &c.stages[k], &c.stages[next]
	key := breakKey{timeouts: min(max(a.Timeouts, -1), 1), periods: a.Period != b.Period, extra: b.Overtime}
	t, ok := c.breaks[key]
	if !ok {
		t = make([]float64, int(farBreak/grid)+2)
		for i := range t {
			t[i] = c.logBreak(a, b, float64(i)*grid)
		}
		if c.loop {
			// Proposing knows no periods: one break in twenty may be half-time.
			for i := range t {
				t[i] = logAdd(t[i]+math.Log(0.95), math.Log(0.05)+logSpread(max(float64(i)*grid, 1), 150, 2400))
			}
		}
		c.breaks[key] = t
	}
	i := int(d/grid + 0.5)
	if i < 0 || i >= len(t) {
		return minusInf
	}
	return t[i]
}

// link is the log weight of jam next starting at s after jam k ended at e, with
// all that was heard in between.
func (c *chain) link(k, next int, e, s *node) float64 {
	if !c.may(next, s) || s.at <= e.at {
		return minusInf
	}
	skipped := next - k - 1
	if c.loop {
		skipped = 0
	}
	for j := k + 1; j < next && !c.loop; j++ {
		if c.pinned[j] >= 0 {
			return minusInf // a jam set by hand is on the film
		}
	}
	if e.island == s.island {
		d := s.at - e.at
		if skipped == 0 {
			return c.plainBreak(k, next, d) + c.breakInside(e.after, s.before, d)
		}
		return float64(skipped)*logSkipFilm + logSpread(d, 100*float64(skipped), 2000) + c.breakInside(e.after, s.before, d)
	}
	shown := (c.islands[e.island].to - e.at) + (s.at - c.islands[s.island].from)
	for i := e.island + 1; i < s.island; i++ {
		shown += c.islands[i].to - c.islands[i].from
	}
	p := c.breakInside(e.after, s.before, shown)
	if skipped == 0 {
		return p + c.hole(k, next, shown)
	}
	return p + float64(skipped)*logSkipHole - math.Log(60)
}

func (c *chain) hole(k, next int, shown float64) float64 {
	return c.logHole(&c.stages[k], &c.stages[next], shown)
}

// may reports whether stage k may start at the node.
func (c *chain) may(k int, s *node) bool {
	if c.loop {
		return true
	}
	if p := c.pinned[k]; p >= 0 {
		return s == &c.starts[p]
	}
	return s.only < 0
}

// opening is the log weight of jam k being the first on film, starting at s.
func (c *chain) opening(k int, s *node) float64 {
	if !c.may(k, s) {
		return minusInf
	}
	p := c.breakInside(0, s.before, s.at-c.first)
	return p + c.firstOn(k)
}

func (c *chain) firstOn(k int) float64 {
	for j := 0; j < k; j++ {
		if c.pinned[j] >= 0 {
			return minusInf
		}
	}
	if k == 0 {
		return logFirst
	}
	return logLate - math.Log(float64(len(c.stages)-1))
}

// openingInside is the weight of the film starting in the middle of jam k, which
// ends at e.
func (c *chain) openingInside(k int, e *node) float64 {
	d := e.at - c.first
	if e.island != 0 || d > c.jamMax+2 || !c.loop && c.pinned[k] >= 0 {
		return minusInf
	}
	s := node{at: c.first, after: 0}
	return c.firstOn(k) + logMidJam - math.Log(60) + c.jamInside(&c.stages[k], &s, e)
}

// closing is the weight of jam k, ended at e, being the last on film.
func (c *chain) closing(k int, e *node) float64 {
	rest := c.last - e.at
	if e.island != len(c.islands)-1 {
		rest = 0
	}
	return c.lastOn(k) + c.breakInside(e.after, len(c.events), rest)
}

// closingInside is the weight of the film ending in jam k, which started at s.
func (c *chain) closingInside(k int, s *node) float64 {
	d := c.last - s.at
	if s.island != len(c.islands)-1 || d > c.jamMax+2 {
		return minusInf
	}
	e := node{at: c.last, before: len(c.events)}
	p := c.lastOn(k) + c.jamInside(&c.stages[k], s, &e)
	if want := secs(c.stages[k].Duration); want > 0 && d > want+3 {
		return minusInf
	}
	return p - d/60
}

func (c *chain) lastOn(k int) float64 {
	if c.loop {
		return 0
	}
	for j := k + 1; j < len(c.stages); j++ {
		if c.pinned[j] >= 0 {
			return minusInf
		}
	}
	if k == len(c.stages)-1 {
		return logFirst
	}
	return logLate - math.Log(float64(len(c.stages)-1))
}

// jam is the weight of jam k from s to e, with what was heard in it and at its end.
func (c *chain) jam(k int, s, e *node) float64 {
	if e.island != s.island || e.at <= s.at {
		return minusInf
	}
	return c.length(k, e.at-s.at) + c.jamInside(&c.stages[k], s, e) + e.score + e.echo
}

// endsOf calls f for every end a jam from s may have; startsOf the other way round.
func (c *chain) endsOf(s *node, f func(i int, e *node)) {
	from := sort.Search(len(c.ends), func(i int) bool { return c.ends[i].at > s.at+2 })
	for i := from; i < len(c.ends) && c.ends[i].at < s.at+c.jamMax+8; i++ {
		f(i, &c.ends[i])
	}
}

// endsBefore calls f for every end that the break before s may begin at.
func (c *chain) endsBefore(s *node, f func(i int, e *node)) {
	to := sort.Search(len(c.ends), func(i int) bool { return c.ends[i].at >= s.at-3 })
	for i := to - 1; i >= 0; i-- {
		e := &c.ends[i]
		if e.island == s.island && s.at-e.at > farBreak {
			return
		}
		// Over a hole only the last jams before it matter.
		if e.island != s.island && c.islands[e.island].to-e.at > 600 {
			if e.island < s.island-2 {
				return
			}
			continue
		}
		f(i, e)
	}
}

// reach is how many jams may be lost between two on film.
const reach = 6

// nexts calls f for every stage that may follow stage k.
func (c *chain) nexts(k int, sameIsland bool, f func(next int)) {
	if c.loop {
		f(0)
		return
	}
	n := 2
	if !sameIsland {
		n = reach
	}
	for j := k + 1; j < len(c.stages) && j <= k+n; j++ {
		f(j)
	}
}

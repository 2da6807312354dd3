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
	logSkipHole = math.Log(0.3)  // jams lost in a hole, the fewer the likelier
	logSkipFilm = math.Log(4e-4) // a jam of the sheet that no film shows though it ran
	logNothing  = math.Log(1e-3) // no jam on the film at all
)

var minusInf = math.Inf(-1)

// chain holds the sums over all chains of segments.
type chain struct {
	*model
	first float64 // axis time at which the film starts
	last  float64

	lengths [][]float64 // by stage: log density of the jam's length on a grid
	breaks  map[breakKey]*breakTable

	// startIn[s][k] sums all chains up to jam k starting at s; endIn[e][k] up to its
	// end at e; startOut and endOut the chains from there on.
	startIn, startOut, endIn, endOut [][]float64
	total                            float64
	aliveStarts, aliveEnds           []living
	followed                         []int // ends worth following, in order
}

func newChain(m *model) *chain {
	c := &chain{model: m, breaks: map[breakKey]*breakTable{}}
	if n := len(m.islands); n > 0 {
		c.first, c.last = m.islands[0].from, m.islands[n-1].to
	}
	for k := range m.stages {
		t := make([]float64, int((m.jamMax+9)/breakGrid)+1)
		for i := range t {
			t[i] = m.logJamLength(&m.stages[k], float64(i)*breakGrid)
		}
		c.lengths = append(c.lengths, t)
	}
	c.startIn, c.startOut = table(len(m.starts), len(m.stages)), table(len(m.starts), len(m.stages))
	c.endIn, c.endOut = table(len(m.ends), len(m.stages)), table(len(m.ends), len(m.stages))
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

// mayStart reports whether stage k may start at the node; mayEnd, end.
func (c *chain) mayStart(k int, s *node) bool { return c.may(k, s, c.starts, c.pinnedStart) }
func (c *chain) mayEnd(k int, e *node) bool   { return c.may(k, e, c.ends, c.pinnedEnd) }

func (c *chain) may(k int, n *node, list []node, pinned []int) bool {
	if p := pinned[k]; p >= 0 {
		return n == &list[p]
	}
	return n.only < 0 || n.only == k
}

// stagesAt calls f for every stage that may start, or end, at the node.
func (c *chain) stagesAt(n *node, f func(k int)) {
	if n.only >= 0 {
		f(n.only)
		return
	}
	for k := range c.stages {
		f(k)
	}
}

// opening is the log weight of jam k being the first on film, starting at s.
func (c *chain) opening(k int, s *node) float64 {
	if !c.mayStart(k, s) {
		return minusInf
	}
	p := c.breakInside(breakOpen, 0, s.before, s.at-c.first)
	return p + c.firstOn(k)
}

func (c *chain) firstOn(k int) float64 {
	for j := 0; j < k; j++ {
		if c.pinnedStart[j] >= 0 || c.pinnedEnd[j] >= 0 {
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
	if e.island != 0 || d > c.jamMax+2 || !c.mayEnd(k, e) || c.pinnedStart[k] >= 0 {
		return minusInf
	}
	s := node{at: c.first, after: 0}
	return c.firstOn(k) + logMidJam - math.Log(60) + c.jamInside(&c.stages[k], &s, e, d)
}

// closing is the weight of jam k, ended at e, being the last on film.
func (c *chain) closing(k int, e *node) float64 {
	rest := c.last - e.at
	if e.island != len(c.islands)-1 {
		rest = 0
	}
	return c.lastOn(k) + c.breakInside(breakOpen, e.after, len(c.events), rest)
}

// closingInside is the weight of the film ending in jam k, which started at s.
func (c *chain) closingInside(k int, s *node) float64 {
	d := c.last - s.at
	if s.island != len(c.islands)-1 || d > c.jamMax+2 || c.pinnedEnd[k] >= 0 {
		return minusInf
	}
	e := node{at: c.last, before: len(c.events)}
	p := c.lastOn(k) + c.jamInside(&c.stages[k], s, &e, d)
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
		if c.pinnedStart[j] >= 0 || c.pinnedEnd[j] >= 0 {
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
	if e.at <= s.at || !c.mayEnd(k, e) || s.edge && e.edge {
		return minusInf
	}
	d := c.between(s, e)
	p := c.jamLength(k, s, e, d)
	if p == minusInf {
		if !s.pinned || !e.pinned {
			return p
		}
		p = 0 // a person has seen both edges
	}
	return p + c.jamInside(&c.stages[k], s, e, d) + e.score + e.echo
}

// between is the film between two nodes of one island or of neighbours, seconds.
func (c *chain) between(s, e *node) float64 {
	if s.island == e.island {
		return e.at - s.at
	}
	return c.islands[s.island].to - s.at + e.at - c.islands[e.island].from
}

// jamLength is the log density of jam k having d seconds on film from s to e,
// with a hole before, in or behind it where there is one.
func (c *chain) jamLength(k int, s, e *node, d float64) float64 {
	whole := at(c.lengths[k], d, breakGrid)
	switch {
	case !s.edge && !e.edge && s.island == e.island:
		return whole
	case d > c.jamMax+2:
		return minusInf
	case s.edge:
		return logMidJam - math.Log(60)
	case e.edge:
		if want := secs(c.stages[k].Duration); want > 0 && d > want+3 {
			return minusInf
		}
		return logMidJam - d/60
	}
	// Chapters of one recording follow without a hole as often as not.
	return logAdd(math.Log(0.5)+whole, math.Log(0.2)-math.Log(60)-d/60)
}

// endsOf calls f for every end a jam from s may have.
func (c *chain) endsOf(s *node, f func(i int, e *node)) {
	longest := c.jamMax + 8
	from := sort.Search(len(c.ends), func(i int) bool { return c.ends[i].at > s.at+2 })
	for i := from; i < len(c.ends) && c.ends[i].at < s.at+longest; i++ {
		if c.ends[i].island == s.island {
			f(i, &c.ends[i])
		}
	}
	left := c.islands[s.island].to - s.at
	if left > longest || s.edge || s.island+1 >= len(c.islands) {
		return
	}
	next := c.islands[s.island+1].from
	from = sort.Search(len(c.ends), func(i int) bool { return c.ends[i].at >= next })
	for i := from; i < len(c.ends) && c.ends[i].at < next+longest-left && c.ends[i].island == s.island+1; i++ {
		if !c.ends[i].edge {
			f(i, &c.ends[i])
		}
	}
}

// endsBefore calls f for every end worth following that the break before s may
// begin at, latest first.
func (c *chain) endsBefore(s *node, f func(i int, e *node)) {
	to := sort.Search(len(c.followed), func(i int) bool { return c.ends[c.followed[i]].at >= s.at-3 })
	fromHole := s.at - c.islands[s.island].from
	for i := to - 1; i >= 0; i-- {
		j := c.followed[i]
		e := &c.ends[j]
		if e.island == s.island {
			d := s.at - e.at
			if d > farHalf {
				return
			}
			if d > e.far() || d > farUnheard && s.event < 0 && !s.pinned {
				continue
			}
		} else {
			if fromHole > nearHole || e.island < s.island-2 {
				return
			}
			if c.islands[e.island].to-e.at > nearHole {
				continue
			}
		}
		f(j, e)
	}
}

// far is how long a break may follow an end, s: what is doubtful carries no long
// break.
func (n *node) far() float64 {
	switch {
	case n.pinned || n.edge || n.event >= 0 && n.score > strongScore:
		return farHalf
	case n.event >= 0:
		return farWeak
	}
	return farUnheard
}

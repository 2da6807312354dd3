package align

import (
	"context"
	"math"
	"sort"
	"time"
)

// near is how far two start times may differ and still count as the same place, s.
const near = 1.0

// Place finds the most likely place of each jam on the films of one camera. It
// fails only when ctx ends.
func Place(ctx context.Context, in Input) (Result, error) {
	m := newModel(in)
	var res Result
	if len(in.Films) == 0 {
		res.Notes = append(res.Notes, "there is no film to place jams on")
		return m.offFilm(res), nil
	}
	if len(m.events) == 0 && len(in.Pins) == 0 {
		res.Notes = append(res.Notes, "no whistle was heard on the film")
		return m.offFilm(res), nil
	}
	c := newChain(m)
	if !c.run(func() bool { return ctx.Err() != nil }) {
		return Result{}, ctx.Err()
	}
	if math.IsInf(c.total, -1) {
		res.Notes = append(res.Notes, "the places set by hand contradict each other or the length of jams; only they are shown")
		res = c.onlyPinned(res)
		res.Signals = m.meaning(res.Jams)
		return res, nil
	}
	if m.loop {
		res.Jams = c.propose()
	} else {
		var bare bool
		if res.Jams, bare = c.choose(); bare {
			res.Notes = append(res.Notes, "the sheet has no length of any jam on film, so that only their number holds them in their places: set one jam by hand to be sure of the others")
		}
	}
	res.Signals = m.meaning(res.Jams)
	return res, nil
}

func (m *model) offFilm(res Result) Result {
	if m.loop {
		return res
	}
	for _, k := range m.stages {
		res.Jams = append(res.Jams, Placed{Jam: k.ID, Period: k.Period, Number: k.Number, StartSeries: -1, EndSeries: -1})
	}
	return res
}

// onlyPinned places the jams set by hand and no others.
func (c *chain) onlyPinned(res Result) Result {
	res = c.offFilm(res)
	for k, i := range c.pinnedStart {
		if i < 0 {
			continue
		}
		p := &res.Jams[k]
		s := &c.starts[i]
		p.Footage, p.Start, p.StartSeries = c.film(s)
		p.Hand, p.Confidence, p.End = true, 1, p.Start
		if j := c.pinnedEnd[k]; j >= 0 && c.ends[j].at > s.at {
			p.EndFootage, p.End, p.EndSeries = c.film(&c.ends[j])
		}
	}
	return res
}

// choose takes for each jam the place that makes the expected number of right
// places largest, with all jams in order.
func (c *chain) choose() (out []Placed, bare bool) {
	n, k := len(c.starts), len(c.stages)
	// mass[k][i]: probability that jam k starts within near of node i.
	mass := table(k, n)
	for j := range mass {
		p := make([]float64, n+1)
		for i := range c.starts {
			p[i+1] = p[i] + c.startsAt(j, i)
		}
		for i := range c.starts {
			lo := sort.Search(n, func(x int) bool { return c.starts[x].at >= c.starts[i].at-near })
			hi := sort.Search(n, func(x int) bool { return c.starts[x].at > c.starts[i].at+near })
			mass[j][i] = p[hi] - p[lo]
			if c.startsAt(j, i) == 0 || c.starts[i].edge {
				mass[j][i] = 0
			}
		}
	}
	// best[j][i]: largest sum of the first j jams using nodes before i.
	best, from := table(k+1, n+1), make([][]bool, k+1)
	for j := range from {
		from[j] = make([]bool, n+1)
	}
	for i := range best[0] {
		best[0][i] = 0
	}
	for j := 1; j <= k; j++ {
		best[j][0] = 0
		for i := 1; i <= n; i++ {
			skip := max(best[j][i-1], 0)
			// Among nodes of one place the likeliest single one is taken.
			take := best[j-1][i-1] + mass[j-1][i-1] + 0.01*c.startsAt(j-1, i-1)
			if mass[j-1][i-1] > 0.02 && take > skip && take > best[j-1][i] {
				best[j][i], from[j][i] = take, true
			} else {
				best[j][i] = max(skip, best[j-1][i])
			}
		}
	}
	at := make([]int, k)
	for j, i := k, n; j > 0; {
		at[j-1] = -1
		for i > 0 && !from[j][i] && best[j][i] == best[j][i-1] && best[j][i] != best[j-1][i] {
			i--
		}
		if i > 0 && from[j][i] {
			at[j-1] = i - 1
			i--
		}
		j--
	}
	out = make([]Placed, k)
	nodes := make([]edges, k)
	for j := range out {
		nodes[j] = edges{-1, -1}
		s := &c.stages[j]
		out[j] = Placed{Jam: s.ID, Period: s.Period, Number: s.Number, StartSeries: -1, EndSeries: -1}
		if at[j] >= 0 {
			i, when := c.within(j, at[j], mass[j][at[j]])
			// The confidence is that of the place taken, not of the one it came from.
			nodes[j] = edges{i, c.fill(&out[j], j, i, min(mass[j][i], mass[j][at[j]]))}
			out[j].Start += time.Duration((when - c.starts[i].at) * float64(time.Second))
		}
	}
	c.infer(out, nodes)
	belief := c.sheetBelief()
	for j := range out {
		if !out[j].Hand {
			out[j].Confidence *= belief
		}
	}
	return out, c.modest(out)
}

// within settles where inside one place jam k starts: at a heard series that holds
// a fair share of the place's probability, else at the mean of the unheard ones.
func (c *chain) within(k, i int, mass float64) (node int, when float64) {
	best, most := i, -1.0
	var sum, weight float64
	for j := range c.starts {
		n := &c.starts[j]
		if n.edge || math.Abs(n.at-c.starts[i].at) > near {
			continue
		}
		p := c.startsAt(k, j)
		sum, weight = sum+p*n.at, weight+p
		if n.event >= 0 && p > most {
			best, most = j, p
		}
	}
	switch {
	case c.pinnedStart[k] >= 0 || weight == 0:
		return i, c.starts[i].at
	case most >= 0.3*mass:
		return best, c.starts[best].at
	case c.starts[i].event >= 0:
		return i, c.starts[i].at
	}
	return i, sum / weight
}

// fill writes the place of jam k at start node i, and returns its end node, -1
// when the film ends before.
func (c *chain) fill(p *Placed, k, i int, mass float64) (end int) {
	s := &c.starts[i]
	p.Footage, p.Start, p.StartSeries = c.film(s)
	p.StartHeard = s.event >= 0
	p.Confidence = tempered(mass)
	if !p.StartHeard {
		p.Confidence = min(p.Confidence, mostUnheard)
	}
	if !c.loop && c.pinnedStart[k] == i {
		p.Hand, p.Confidence = true, 1
	}
	if end = c.bestEnd(k, i); end >= 0 {
		e := &c.ends[end]
		p.EndHeard = e.event >= 0
		p.EndFootage, p.End, p.EndSeries = c.film(e)
		if e.edge {
			p.EndFootage = ""
		}
	} else {
		_, p.End, _ = c.film(&node{at: c.last, island: s.island, event: -1})
	}
	return end
}

// film is the film place of a node.
func (m *model) film(n *node) (footage timelineID, at time.Duration, series int) {
	series = -1
	film := -1
	for _, f := range m.islands[n.island].films {
		if film < 0 || m.base[f] <= n.at+1e-6 {
			film = f
		}
	}
	if n.event >= 0 {
		e := m.events[n.event]
		film, series = e.film, e.series
	}
	f := m.in.Films[film]
	return f.Footage, f.From + time.Duration(math.Round((n.at-m.base[film])*1e9)), series
}

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
	if m.loop {
		res.Jams = c.propose()
	} else {
		res.Jams = c.choose()
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

// choose takes for each jam the place that makes the expected number of right
// places largest, with all jams in order.
func (c *chain) choose() []Placed {
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
	out := make([]Placed, k)
	for j := range out {
		s := &c.stages[j]
		out[j] = Placed{Jam: s.ID, Period: s.Period, Number: s.Number, StartSeries: -1, EndSeries: -1}
		if at[j] >= 0 {
			c.fill(&out[j], j, at[j], mass[j][at[j]])
		}
	}
	return out
}

// fill writes the place of jam k at start node i.
func (c *chain) fill(p *Placed, k, i int, mass float64) {
	s := &c.starts[i]
	p.Footage, p.Start, p.StartSeries = c.film(s)
	p.StartHeard = s.event >= 0
	p.Confidence = tempered(mass)
	if !c.loop && c.pinnedStart[k] == i {
		p.Hand, p.Confidence = true, 1
	}
	if j := c.bestEnd(k, i); j >= 0 {
		e := &c.ends[j]
		p.EndHeard = e.event >= 0
		p.EndFootage, p.End, p.EndSeries = c.film(e)
		if e.edge {
			p.EndFootage = ""
		}
	} else {
		_, p.End, _ = c.film(&node{at: c.last, island: s.island, event: -1})
	}
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

// propose numbers the jams that the film itself shows: every place more likely
// than not, in order; a break of more than four minutes after twenty starts a
// new period.
func (c *chain) propose() []Placed {
	type spot struct {
		i int
		p float64
	}
	var spots []spot
	for i := 0; i < len(c.starts); {
		j, sum, best := i, 0.0, i
		for ; j < len(c.starts) && c.starts[j].at-c.starts[i].at <= near; j++ {
			p := c.startsAt(0, j)
			sum += p
			if p > c.startsAt(0, best) {
				best = j
			}
		}
		if sum >= 0.25 {
			spots = append(spots, spot{best, min(sum, 1)})
		}
		i = j
	}
	var out []Placed
	period, number, first, last := 1, 0, 0.0, -1.0
	for _, s := range spots {
		at := c.starts[s.i].at
		if last >= 0 && at-last < 8 {
			// Two places that exclude each other: the likelier stays.
			if s.p <= out[len(out)-1].Confidence {
				continue
			}
			out = out[:len(out)-1]
			number--
		}
		if last >= 0 && at-last > 240 && at-first > 1200 {
			period, number, first = period+1, 0, at
		}
		if number == 0 {
			first = at
		}
		number++
		p := Placed{Period: period, Number: number, StartSeries: -1, EndSeries: -1}
		c.fill(&p, 0, s.i, s.p)
		out = append(out, p)
		last = at
	}
	return out
}

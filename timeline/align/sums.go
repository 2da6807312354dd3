package align

import "math"

// What is not followed up any more, to be fast: a jam that is beam nats less
// likely than the likeliest at the same moment, and a moment that is stale nats
// less likely than the best one of the minute before.
const (
	beam      = 32.0
	stale     = 45.0
	staleSpan = 60.0
)

// run sums over all chains: forward, then backward.
func (c *chain) run(cancelled func() bool) bool {
	c.total = logNothing + c.breakInside(breakOpen, 0, len(c.events), c.last-c.first)
	for k := range c.stages {
		if c.pinnedStart[k] >= 0 || c.pinnedEnd[k] >= 0 {
			c.total = minusInf
		}
	}
	return c.forward(cancelled) && c.backward(cancelled)
}

func (c *chain) forward(cancelled func() bool) bool {
	for i := range c.ends {
		e := &c.ends[i]
		if e.island != 0 || e.at-c.first > c.jamMax+2 {
			continue
		}
		c.stagesAt(e, func(k int) { c.endIn[i][k] = c.openingInside(k, e) + e.score + e.echo })
	}
	c.aliveEnds, c.aliveStarts = make([]living, len(c.ends)), make([]living, len(c.starts))
	done := 0 // ends before this one are complete: a jam's end is later than its start
	var best recent
	for i := range c.starts {
		if i%64 == 0 && cancelled() {
			return false
		}
		s, in := &c.starts[i], c.startIn[i]
		for ; done < len(c.ends) && c.ends[done].at < s.at; done++ {
			c.follow(done, &best)
		}
		top := minusInf
		c.stagesAt(s, func(k int) {
			in[k] = c.opening(k, s)
			top = max(top, in[k])
		})
		c.endsBefore(s, func(j int, e *node) {
			a := &c.aliveEnds[j]
			g := c.gapOf(e, s)
			if a.top+g.most() < top-beam {
				return
			}
			for _, k := range a.stages {
				c.after(k, g.whole, func(next int) {
					if c.mayStart(next, s) {
						in[next] = logAdd(in[next], c.endIn[j][k]+c.link(k, next, &g))
						top = max(top, in[next])
					}
				})
			}
		})
		for k := range in {
			in[k] += s.score
		}
		a := best.living(in, s.at, true)
		c.aliveStarts[i] = a
		for _, k := range a.stages {
			c.total = logAdd(c.total, in[k]+c.closingInside(k, s))
		}
		if len(a.stages) == 0 {
			continue
		}
		c.endsOf(s, func(j int, e *node) {
			for _, k := range a.stages {
				if e.only < 0 || e.only == k {
					c.endIn[j][k] = logAdd(c.endIn[j][k], in[k]+c.jam(k, s, e))
				}
			}
		})
	}
	for ; done < len(c.ends); done++ {
		c.follow(done, &best)
	}
	for j := range c.ends {
		for _, k := range c.aliveEnds[j].stages {
			c.total = logAdd(c.total, c.endIn[j][k]+c.closing(k, &c.ends[j]))
		}
	}
	return true
}

// follow decides on an end whose weight is complete.
func (c *chain) follow(j int, best *recent) {
	c.aliveEnds[j] = best.living(c.endIn[j], c.ends[j].at, false)
	if len(c.aliveEnds[j].stages) > 0 {
		c.followed = append(c.followed, j)
	}
}

// living are the stages worth following at a moment, and the best weight among them.
type living struct {
	stages []int
	top    float64
}

// recent remembers the best weight of the last minute of film.
type recent struct {
	at, best []float64
}

// living says which stages are worth following at a moment.
func (r *recent) living(weights []float64, at float64, remember bool) living {
	out := living{top: minusInf}
	for _, w := range weights {
		out.top = max(out.top, w)
	}
	for len(r.at) > 0 && r.at[0] < at-staleSpan {
		r.at, r.best = r.at[1:], r.best[1:]
	}
	floor := minusInf
	for _, b := range r.best {
		floor = max(floor, b-stale)
	}
	if out.top == minusInf || out.top < floor {
		return living{top: minusInf}
	}
	if remember {
		r.at, r.best = append(r.at, at), append(r.best, out.top)
	}
	for k, w := range weights {
		if w >= out.top-beam {
			out.stages = append(out.stages, k)
		}
	}
	return out
}

func (c *chain) backward(cancelled func() bool) bool {
	for j := range c.ends {
		for _, k := range c.aliveEnds[j].stages {
			c.endOut[j][k] = c.closing(k, &c.ends[j])
		}
	}
	least := c.total - beam // chains less likely than this do not count
	for i := len(c.starts) - 1; i >= 0; i-- {
		if i%64 == 0 && cancelled() {
			return false
		}
		s, in, out := &c.starts[i], c.startIn[i], c.startOut[i]
		stages := c.aliveStarts[i].stages
		if len(stages) == 0 {
			continue
		}
		for _, k := range stages {
			out[k] = c.closingInside(k, s)
		}
		c.endsOf(s, func(j int, e *node) {
			if c.aliveEnds[j].top == minusInf {
				return
			}
			for _, k := range stages {
				if c.endOut[j][k] != minusInf {
					out[k] = logAdd(out[k], c.endOut[j][k]+c.jam(k, s, e))
				}
			}
		})
		top := minusInf
		var likely []int
		for _, k := range stages {
			if in[k]+out[k] > least {
				likely = append(likely, k)
				top = max(top, out[k]+s.score)
			}
		}
		if len(likely) == 0 {
			continue
		}
		c.endsBefore(s, func(j int, e *node) {
			a := &c.aliveEnds[j]
			g := c.gapOf(e, s)
			if a.top+g.most()+top < least {
				return
			}
			for _, next := range likely {
				c.before(next, g.whole, func(k int) {
					if in := c.endIn[j][k]; in != minusInf && in >= a.top-beam {
						c.endOut[j][k] = logAdd(c.endOut[j][k], out[next]+s.score+c.link(k, next, &g))
					}
				})
			}
		})
	}
	return true
}

// startsAt is the probability that jam k starts at start node i.
func (c *chain) startsAt(k, i int) float64 {
	p := c.startIn[i][k] + c.startOut[i][k] - c.total
	if p < -beam || math.IsNaN(p) {
		return 0
	}
	return math.Exp(min(p, 0))
}

// bestEnd is the likeliest end of jam k given its start at node i; -1 when the
// film ends before.
func (c *chain) bestEnd(k, i int) int {
	best, at := c.closingInside(k, &c.starts[i]), -1
	c.endsOf(&c.starts[i], func(j int, e *node) {
		if w := c.jam(k, &c.starts[i], e) + c.endOut[j][k]; w > best {
			best, at = w, j
		}
	})
	return at
}

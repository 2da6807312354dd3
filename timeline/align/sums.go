package align

import "math"

// What is not followed up any more, to be fast: a jam that is beam nats less
// likely than the likeliest at the same moment, and a moment that is stale nats
// less likely than the best one of the minute before.
const (
	beam      = 40.0
	stale     = 60.0
	staleSpan = 60.0
)

// run sums over all chains: forward, then backward.
func (c *chain) run(cancelled func() bool) bool {
	c.total = logNothing + c.breakInside(0, len(c.events), c.last-c.first)
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
	c.alive = make([][]bool, len(c.ends))
	done := 0 // ends before this one are complete: a jam's end is later than its start
	var best recent
	for i := range c.starts {
		if i%64 == 0 && cancelled() {
			return false
		}
		s, in := &c.starts[i], c.startIn[i]
		for ; done < len(c.ends) && c.ends[done].at < s.at; done++ {
			c.alive[done] = best.living(c.endIn[done], c.ends[done].at, false)
		}
		c.stagesAt(s, func(k int) { in[k] = c.opening(k, s) })
		c.endsBefore(s, func(j int, e *node) {
			if c.alive[j] == nil {
				return
			}
			g := c.gapOf(e, s)
			c.stagesAt(s, func(next int) {
				if !c.mayStart(next, s) {
					return
				}
				c.befores(next, g.whole, func(k int) {
					if c.alive[j][k] {
						in[next] = logAdd(in[next], c.endIn[j][k]+c.link(k, next, g))
					}
				})
			})
		})
		for k := range in {
			in[k] += s.score
		}
		alive := best.living(in, s.at, true)
		for k, a := range alive {
			if !a {
				in[k] = minusInf
			}
		}
		if alive == nil {
			for k := range in {
				in[k] = minusInf
			}
			continue
		}
		c.eachAlive(in, func(k int) { c.total = logAdd(c.total, in[k]+c.closingInside(k, s)) })
		c.endsOf(s, func(j int, e *node) {
			c.eachAlive(in, func(k int) { c.endIn[j][k] = logAdd(c.endIn[j][k], in[k]+c.jam(k, s, e)) })
		})
	}
	for ; done < len(c.ends); done++ {
		c.alive[done] = best.living(c.endIn[done], c.ends[done].at, false)
	}
	for j := range c.ends {
		for k, a := range c.alive[j] {
			if a {
				c.total = logAdd(c.total, c.endIn[j][k]+c.closing(k, &c.ends[j]))
			}
		}
	}
	return true
}

// eachAlive calls f for every stage with a weight.
func (c *chain) eachAlive(weights []float64, f func(k int)) {
	for k, w := range weights {
		if w != minusInf {
			f(k)
		}
	}
}

// recent remembers the best weight of the last minute of film.
type recent struct {
	at, best []float64
}

// living says which stages are worth following at a moment; nil when none is.
func (r *recent) living(weights []float64, at float64, remember bool) []bool {
	top := minusInf
	for _, w := range weights {
		top = max(top, w)
	}
	if top == minusInf {
		return nil
	}
	for len(r.at) > 0 && r.at[0] < at-staleSpan {
		r.at, r.best = r.at[1:], r.best[1:]
	}
	floor := minusInf
	for _, b := range r.best {
		floor = max(floor, b-stale)
	}
	if top < floor {
		return nil
	}
	if remember {
		r.at, r.best = append(r.at, at), append(r.best, top)
	}
	out := make([]bool, len(weights))
	for k, w := range weights {
		out[k] = w >= top-beam
	}
	return out
}

func (c *chain) backward(cancelled func() bool) bool {
	for j := range c.ends {
		for k, a := range c.alive[j] {
			if a {
				c.endOut[j][k] = c.closing(k, &c.ends[j])
			}
		}
	}
	for i := len(c.starts) - 1; i >= 0; i-- {
		if i%64 == 0 && cancelled() {
			return false
		}
		s, in, out := &c.starts[i], c.startIn[i], c.startOut[i]
		c.eachAlive(in, func(k int) { out[k] = c.closingInside(k, s) })
		c.endsOf(s, func(j int, e *node) {
			if c.alive[j] == nil {
				return
			}
			c.eachAlive(in, func(k int) {
				if c.alive[j][k] {
					out[k] = logAdd(out[k], c.endOut[j][k]+c.jam(k, s, e))
				}
			})
		})
		c.endsBefore(s, func(j int, e *node) {
			if c.alive[j] == nil {
				return
			}
			g := c.gapOf(e, s)
			c.eachAlive(out, func(next int) {
				c.befores(next, g.whole, func(k int) {
					if c.alive[j][k] {
						c.endOut[j][k] = logAdd(c.endOut[j][k], out[next]+s.score+c.link(k, next, g))
					}
				})
			})
		})
	}
	return true
}

// startsAt is the probability that jam k starts at start node i.
func (c *chain) startsAt(k, i int) float64 {
	p := c.startIn[i][k] + c.startOut[i][k] - c.total
	if p < -40 || math.IsNaN(p) {
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

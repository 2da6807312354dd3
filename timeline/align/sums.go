package align

import "math"

// run sums over all chains: forward, then backward.
func (c *chain) run(cancelled func() bool) bool {
	c.total = logNothing + c.breakInside(0, len(c.events), c.last-c.first)
	if !c.loop {
		for _, p := range c.pinned {
			if p >= 0 {
				c.total = minusInf
			}
		}
	}
	if !c.forward(cancelled) || !c.backward(cancelled) {
		return false
	}
	return true
}

func (c *chain) forward(cancelled func() bool) bool {
	for i := range c.ends {
		for k := range c.stages {
			e := &c.ends[i]
			c.endIn[k][i] = c.openingInside(k, e) + e.score + e.echo
		}
	}
	// Starts in the order of time: every end before a start is complete by then,
	// since a jam's end is later than its start.
	for i := range c.starts {
		if i%64 == 0 && cancelled() {
			return false
		}
		s := &c.starts[i]
		for k := range c.stages {
			c.startIn[k][i] = logAdd(c.startIn[k][i], c.opening(k, s)+s.score)
		}
		c.endsBefore(s, func(j int, e *node) {
			for k := range c.stages {
				in := c.endIn[k][j]
				if in == minusInf {
					continue
				}
				c.nexts(k, e.island == s.island, func(next int) {
					if w := c.link(k, next, e, s); w != minusInf {
						c.startIn[next][i] = logAdd(c.startIn[next][i], in+w+s.score)
					}
				})
			}
		})
		for k := range c.stages {
			in := c.startIn[k][i]
			if in == minusInf {
				continue
			}
			c.total = logAdd(c.total, in+c.closingInside(k, s))
			c.endsOf(s, func(j int, e *node) {
				c.endIn[k][j] = logAdd(c.endIn[k][j], in+c.jam(k, s, e))
			})
		}
	}
	for j := range c.ends {
		for k := range c.stages {
			if in := c.endIn[k][j]; in != minusInf {
				c.total = logAdd(c.total, in+c.closing(k, &c.ends[j]))
			}
		}
	}
	return true
}

func (c *chain) backward(cancelled func() bool) bool {
	for j := range c.ends {
		for k := range c.stages {
			c.endOut[k][j] = c.closing(k, &c.ends[j])
		}
	}
	for i := len(c.starts) - 1; i >= 0; i-- {
		if i%64 == 0 && cancelled() {
			return false
		}
		s := &c.starts[i]
		for k := range c.stages {
			out := c.closingInside(k, s)
			c.endsOf(s, func(j int, e *node) {
				out = logAdd(out, c.endOut[k][j]+c.jam(k, s, e))
			})
			c.startOut[k][i] = out
		}
		c.endsBefore(s, func(j int, e *node) {
			for k := range c.stages {
				if c.endIn[k][j] == minusInf {
					continue
				}
				c.nexts(k, e.island == s.island, func(next int) {
					out := c.startOut[next][i]
					if out == minusInf {
						return
					}
					if w := c.link(k, next, e, s); w != minusInf {
						c.endOut[k][j] = logAdd(c.endOut[k][j], out+w+s.score)
					}
				})
			}
		})
	}
	return true
}

// startsAt is the probability that jam k starts at start node i.
func (c *chain) startsAt(k, i int) float64 {
	p := c.startIn[k][i] + c.startOut[k][i] - c.total
	if p < -40 {
		return 0
	}
	return math.Exp(min(p, 0))
}

// bestEnd is the likeliest end of jam k given its start at node i; -1 when the
// film ends before.
func (c *chain) bestEnd(k, i int) int {
	best, at := c.closingInside(k, &c.starts[i]), -1
	c.endsOf(&c.starts[i], func(j int, e *node) {
		if w := c.jam(k, &c.starts[i], e) + c.endOut[k][j]; w > best {
			best, at = w, j
		}
	})
	return at
}

package align

import "math"

// A film without paperwork: every place more likely than this is considered, and
// the longest pause, if so long, with so much of a bout round it, is half-time
// (common practice, no source).
const (
	leastProposed = 0.2
	leastHalfTime = 100.0  // s
	sureHalfTime  = 240.0  // s
	periodFrom    = 1200.0 // s of film since the first jam
)

// spot is a place at which a jam may start.
type spot struct {
	i     int // start node
	p     float64
	from  float64
	until float64
}

// propose numbers the jams that the film itself shows: of all sets of places that
// do not overlap, the one with the most probability.
func (c *chain) propose() []Placed {
	spots := c.notOverlapping(c.spots())
	var out []Placed
	half, belief := c.halfTime(spots), c.belief()
	period, number := 1, 0
	for i, s := range spots {
		if half > 0 && i == half {
			period, number = period+1, 0
		}
		number++
		p := Placed{Period: period, Number: number, StartSeries: -1, EndSeries: -1}
		c.fill(&p, 0, s.i, s.p)
		p.Confidence *= belief
		out = append(out, p)
	}
	return out
}

// halfTime is the first spot of the second period: behind the longest pause among
// those that have enough film of play before and behind them; 0 when none has.
func (c *chain) halfTime(spots []spot) int {
	half, longest := 0, leastHalfTime
	if len(spots) == 0 {
		return 0
	}
	at := func(i int) float64 { return c.shown(spots[i].from, c.starts[spots[i].i].island) }
	for i := 1; i < len(spots); i++ {
		pause := at(i) - at(i-1) - (spots[i-1].until - spots[i-1].from)
		before, behind := at(i)-at(0), at(len(spots)-1)-at(i)
		if before >= periodFrom && (behind >= periodFrom/2 || pause > sureHalfTime) && pause > longest {
			half, longest = i, pause
		}
	}
	return half
}

// belief is how much the film as a whole sounds like a bout, 0..1: by how much the
// likeliest bouts explain what was heard better than no bout does, in all and for
// each jam. Simulated bouts had 5 nats a jam and more, down to halls where every
// second whistle is lost; music and noise of any rate 1.5 at most.
func (c *chain) belief() float64 {
	none := logNothing + c.breakInside(breakOpen, 0, len(c.events), c.last-c.first)
	jams := 1e-9
	for i := range c.starts {
		jams += c.startsAt(0, i)
	}
	gain := c.total - none
	logistic := func(x float64) float64 { return 1 / (1 + math.Exp(-x)) }
	return logistic((gain-16)/3) * logistic((gain/jams-3.2)/0.5)
}

// shown is the film shown before a moment, holes left out, s.
func (c *chain) shown(at float64, isl int) float64 {
	sum := at - c.islands[isl].from
	for _, x := range c.islands[:isl] {
		sum += x.to - x.from
	}
	return sum
}

// spots gathers the nodes of one place.
func (c *chain) spots() []spot {
	var out []spot
	for i := 0; i < len(c.starts); {
		j, sum, best := i, 0.0, i
		for ; j < len(c.starts) && c.starts[j].at-c.starts[i].at <= near; j++ {
			if c.starts[j].edge {
				continue
			}
			p := c.startsAt(0, j)
			sum += p
			if p > c.startsAt(0, best) {
				best = j
			}
		}
		if sum >= leastProposed {
			s := spot{i: best, p: min(sum, 1), from: c.starts[best].at, until: c.last}
			if e := c.bestEnd(0, best); e >= 0 {
				s.until = c.ends[e].at
			}
			out = append(out, s)
		}
		i = j
	}
	return out
}

// notOverlapping picks the set of spots, none of which starts before the one
// before has ended, with the most probability.
func (c *chain) notOverlapping(spots []spot) []spot {
	best, from := make([]float64, len(spots)), make([]int, len(spots))
	last := -1
	for i, s := range spots {
		from[i] = -1
		for j := range i {
			if spots[j].until+3 < s.from && (from[i] < 0 || best[j] > best[from[i]]) {
				from[i] = j
			}
		}
		best[i] = s.p - leastProposed
		if from[i] >= 0 {
			best[i] += best[from[i]]
		}
		if last < 0 || best[i] > best[last] {
			last = i
		}
	}
	var out []spot
	for i := last; i >= 0; i = from[i] {
		out = append([]spot{spots[i]}, out...)
	}
	return out
}

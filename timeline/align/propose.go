package align

import (
	"math"
	"sort"
)

// A film without paperwork: every place more likely than leastProposed is
// considered. A pause of many minutes in which no jam is likely separates periods;
// without one, the longest pause that has enough of a bout round it does (common
// practice, no source).
const (
	leastProposed = 0.5
	manyMinutes   = 360.0  // s
	leastHalfTime = 100.0  // s
	periodFrom    = 1200.0 // s of film since the first jam
	holePause     = 150.0  // s that a hole counts for: cameras are switched off in half-time
	countFrom     = 0.3    // a jam counts from three in ten less than certain on
	// Nats by which a film must sound more like a bout than like none to be believed
	// by half, without and with a sheet, and more for every minute: doubtful sounds
	// go on for as long as the film does. A bout need not fill a film of hours.
	musicGain      = 14.0
	musicGainSheet = 10.0
	musicAMinute   = 1.6  // a hall with four false blasts a minute gained 2.2
	musicLongest   = 60.0 // minutes that count
)

// spot is a place at which a jam may start.
type spot struct {
	i     int // start node
	p     float64
	from  float64
	until float64
}

// propose gives the jams that the film itself shows: of all sets of places that do
// not overlap, the one with the most probability. Numbers count from the first jam
// found in each period. A jam that was hardly heard is counted by its probability,
// so that it moves the numbers behind it only when it is likely; one
// that the film does not show, or of which nothing was heard, is not counted, and
// all numbers behind it in the period are one too low.
func (c *chain) propose() []Placed {
	spots := c.notOverlapping(c.spots())
	var out []Placed
	count := c.countStarts()
	first, belief := c.periods(spots, count), c.belief()
	period, number, from := 1, 0, 0.0
	for i, s := range spots {
		before := count(s.from - near)
		if i == 0 || first[i] {
			if i > 0 {
				period++
			}
			number, from = 0, before
		}
		number = max(number+1, int(before-from+countFrom)+1)
		p := Placed{Period: period, Number: number, StartSeries: -1, EndSeries: -1}
		c.fill(&p, 0, s.i, s.p)
		p.Confidence *= belief
		out = append(out, p)
	}
	return out
}

// countStarts returns how many jams are expected to start before an axis time.
func (c *chain) countStarts() func(at float64) float64 {
	sum := make([]float64, len(c.starts)+1)
	for i := range c.starts {
		sum[i+1] = sum[i] + c.startsAt(0, i)
	}
	return func(at float64) float64 {
		return sum[sort.Search(len(c.starts), func(i int) bool { return c.starts[i].at >= at })]
	}
}

// periods says which spots begin a further period.
func (c *chain) periods(spots []spot, count func(float64) float64) []bool {
	first := make([]bool, len(spots))
	half, best, any := 0, minusInf, false
	for i := 1; i < len(spots); i++ {
		a, b := spots[i-1], spots[i]
		at := func(k int) float64 { return c.shown(spots[k].from, c.starts[spots[k].i].island) }
		pause := at(i) - at(i-1) - (a.until - a.from)
		// With a jam as likely as not in between it is no pause.
		quiet := count(b.from-near)-count(a.from+near) < 0.5
		if pause >= manyMinutes && quiet {
			first[i], any = true, true
		}
		if c.starts[a.i].island != c.starts[b.i].island {
			pause += holePause
		}
		before, behind := at(i)-at(0), at(len(spots)-1)-at(i)
		if before < periodFrom || behind < periodFrom/2 || pause < leastHalfTime {
			continue
		}
		// The longer the pause the better, and no period may be too long.
		score := math.Log(pause) - c.tooLong(before) - c.tooLong(behind)
		if !quiet {
			score -= 0.5
		}
		if score > best {
			half, best = i, score
		}
	}
	if !any && half > 0 {
		first[half] = true
	}
	return first
}

// tooLong is what speaks against a stretch of play being one period, nats: the
// clock stops in timeouts only, and these rarely add more than a quarter (common
// practice, no source).
func (c *chain) tooLong(span float64) float64 {
	length := secs(c.in.Rules.PeriodLength)
	if length <= 0 {
		length = 1800
	}
	return 4 * max(0, span-1.25*length) / length
}

// belief is how much the film as a whole sounds like a bout, 0..1: by how much the
// likeliest bouts explain what was heard better than no bout does, in all and for
// each jam. Simulated bouts had 5 nats a jam and more, down to halls where every
// second whistle is lost. Of all places in a film the sum picks the one at which
// chance sounds most like a jam, so that a single jam says little: a quarter of an
// hour of staged music and crowd (tuning family, middle and hard) had up to
// 17 nats in all, staged bouts of six jams 41 and more, 16 to 33 in the hopeless
// hall. One of eight such quarters of the evaluation family had 34, which is why
// the bound lies well above 17. The longer the film, the more places there are
// for chance.
func (c *chain) belief() float64 {
	jams := 1e-9
	for i := range c.starts {
		jams += c.startsAt(0, i)
	}
	gain := c.gain()
	return logistic((gain-musicGain-c.chance())/2) * logistic((gain/jams-3.2)/0.5)
}

// sheetBelief is the same for jams that a sheet names; less will do, since that
// there was a bout is known, and only whether this film shows it is not. The same
// music had up to 14 nats with a sheet of six jams, the bouts 40 and more, 15 to 48
// in the hopeless hall.
func (c *chain) sheetBelief() float64 {
	for k := range c.stages {
		if c.pinnedStart[k] >= 0 || c.pinnedEnd[k] >= 0 {
			return 1 // a person has seen it
		}
	}
	return logistic((c.gain() - musicGainSheet - c.chance()) / 2)
}

// gain is by how many nats the likeliest bouts explain what was heard better than
// no bout does.
func (c *chain) gain() float64 {
	return c.total - logNothing - c.breakInside(breakOpen, 0, len(c.events), c.last-c.first)
}

// chance is the nats by which the film's length counts against belief.
func (c *chain) chance() float64 {
	n := len(c.islands)
	return musicAMinute * min(c.shown(c.islands[n-1].to, n-1)/60, musicLongest)
}

func logistic(x float64) float64 { return 1 / (1 + math.Exp(-x)) }

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

package whistle

import (
	"math"
	"sort"
)

// partnerApart is how far from each other two may begin, s, to be looked at as
// partials of one whistle.
const partnerApart = 0.06

// kinship is what the rest of a recording says of two pitches: partials of one
// whistle, or two officials? Times are in steps, levels in dB.
type kinship struct {
	both, onlyA, onlyB float64 // how often they begin together, and each without the other
	apart              float64 // how far from each other they begin, on the mean
	louder             float64 // level of A over that of B, on the mean
	spread             float64 // of it, standard deviation
}

// What of a recording is compared: how far a pitch may wander with the breath
// (share), how far the ratio of two partials (share), how far from each other the
// two begin (steps), and which share of a tone counts as hidden behind another.
const (
	kinPitch  = 0.03
	kinRatio  = 0.015
	kinSteps  = 5
	hideLane  = 0.06
	hiddenFor = 0.25 // weight of a tone alone whose mate may be hidden
	loudGuess = 4.0  // spread of the level before anything is seen, dB
)

// byPitch orders candidates by pitch, so that those near one are found quickly.
type byPitch struct {
	order []int
	hz    []float64 // in that order
}

func newByPitch(hz []float64) *byPitch {
	b := &byPitch{order: make([]int, len(hz)), hz: make([]float64, len(hz))}
	for i := range b.order {
		b.order[i] = i
	}
	sort.SliceStable(b.order, func(i, k int) bool { return hz[b.order[i]] < hz[b.order[k]] })
	for i, k := range b.order {
		b.hz[i] = hz[k]
	}
	return b
}

// near lists the candidates within a share of a pitch.
func (b *byPitch) near(hz, share float64) []int {
	lo := sort.SearchFloat64s(b.hz, hz*(1-share))
	hi := sort.SearchFloat64s(b.hz, hz*(1+share))
	return b.order[lo:hi]
}

// kin gathers the kinship of pitches a and b (Hz) elsewhere than round step at. A
// whistle blown harder is higher by some per cent, but the ratio of its partials
// stays. A tone without its mate says little while another sounds where the mate
// would be.
func (s *scene) kin(a, b, at float64) kinship {
	var k kinship
	var apart, louder, square, weight float64
	side := func(from, to float64, first bool) {
		for _, j := range s.tones.near(from, kinPitch) {
			hz := s.hz[j]
			if near(hz, to, kinPitch) && math.Abs(hz/to-1) < math.Abs(hz/from-1) || math.Abs(s.list[j].start-at)*stepSeconds < 0.1 {
				continue
			}
			mate, with, hidden := s.mate(j, hz*to/from)
			p := s.prior[j]
			k.both += p * mate / 2
			alone := p * (1 - mate)
			if hidden {
				alone *= hiddenFor
			}
			if !first {
				k.onlyB += alone
				continue
			}
			k.onlyA += alone
			if with < 0 {
				continue
			}
			w := p * mate
			d := s.list[j].meanLevel() - s.list[with].meanLevel()
			apart += w * math.Abs(s.list[j].start-s.list[with].start)
			louder += w * d
			square += w * d * d
			weight += w
		}
	}
	side(a, b, true)
	side(b, a, false)
	k.apart = (apart + 0.5) / (weight + 0.5)
	k.louder = louder / (weight + 0.5)
	mean := louder / max(weight, 1e-9)
	k.spread = math.Sqrt((square - weight*mean*mean + 0.5*loudGuess*loudGuess) / (weight + 0.5))
	return k
}

// mate is the likeliest candidate of a pitch that begins with candidate j, how
// likely it is one, and, where there is none, whether another tone may hide it.
func (s *scene) mate(j int, hz float64) (likely float64, with int, hidden bool) {
	with = -1
	start := s.list[j].start
	look := func(k int) {
		o := &s.list[k]
		switch {
		case math.Abs(o.start-start) < kinSteps && near(s.hz[k], hz, kinRatio):
			if s.prior[k] > likely {
				likely, with = s.prior[k], k
			}
		case float64(o.last) >= start && near(s.hz[k], hz, hideLane):
			hidden = true
		}
	}
	for k := j + 1; k < len(s.list) && s.list[k].start-start < kinSteps; k++ {
		look(k)
	}
	for k := j - 1; k >= 0 && start-s.list[k].start < reachSeconds/stepSeconds; k-- {
		look(k)
	}
	return likely, with, hidden
}

// explain looks for the candidate that explains this one best as its partial: of
// all that begin with it the one that it most seldom sounds without.
func (s *scene) explain(i, from int, t *traits) {
	c := &s.list[i]
	best, least := -1, math.Inf(1)
	var kin kinship
	for k := from; k < len(s.list) && (s.list[k].start-c.start)*stepSeconds < partnerApart; k++ {
		o := &s.list[k]
		if k == i || (c.start-o.start)*stepSeconds > partnerApart || !near(o.hz, c.hz, 0.3) || s.prior[k] < 0.1 {
			continue
		}
		n := s.kin(s.hz[i], s.hz[k], c.start)
		cost := math.Log((n.onlyA+0.3)/(n.both+0.3)) + 0.3*min(4, n.apart+math.Abs(c.start-o.start)) - s.prior[k]
		if cost < least {
			best, least, kin = k, cost, n
		}
	}
	if best < 0 {
		t[38], t[39], t[40], t[41], t[43] = -3, -3, 3, 3, 3
		return
	}
	o := &s.list[best]
	level := c.meanLevel() - o.meanLevel()
	t[38] = math.Log((kin.onlyA + 0.3) / (kin.both + 0.3))
	t[39] = math.Log((kin.onlyB + 0.3) / (kin.both + 0.3))
	t[40] = min(3, kin.apart/2)
	t[41] = min(3, math.Abs(c.start-o.start)/2)
	t[42] = max(-2, min(2, kin.louder/6))
	t[43] = min(3, kin.spread/3)
	t[44] = max(-2, min(2, (level-kin.louder)/6))
	t[45] = max(-2, min(2, 2*(s.prior[i]-s.prior[best])))
	t[46] = 8 * math.Log(s.hz[i]/s.hz[best])
	t[47] = min(3, math.Abs(float64(c.last-o.last))/4)
	t[48] = math.Log(kin.both + 0.3)
	t[49] = max(-2, min(2, level/6))
}

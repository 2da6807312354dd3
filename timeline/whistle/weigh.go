package whistle

import (
	"math"
	"slices"
	"sort"
	"time"
)

// Weighed is a blast with what its confidence was weighed from.
type Weighed struct {
	Blast
	Prior  float64         // how likely by its own frames alone, 0..1
	Traits [Traits]float64 // of the last weighing
}

// Draft is all that may be a blast in a whole recording, to be weighed.
type Draft struct {
	list   []candidate // by beginning
	length time.Duration
}

// shortest is the least length of a blast, in steps.
const shortest = 4

// draft ends all candidates, those under way included.
func (p *picker) draft(length time.Duration) *Draft {
	for u := max(0, p.n-lateSteps); u < p.n; u++ {
		p.step(u)
	}
	for _, c := range p.active {
		p.done = append(p.done, *c)
	}
	p.active = nil
	list := p.done[:0]
	for _, c := range p.done {
		if c.blown >= shortest && float64(c.last)-c.start > shortest {
			list = append(list, c)
		}
	}
	sort.SliceStable(list, func(i, j int) bool { return list[i].start < list[j].start })
	return &Draft{list, length}
}

// Weigh weighs all candidates and returns those with a confidence of least or more
// (0..1; 0 stands for Least). The draft stays as it is.
func (d *Draft) Weigh(w *Weigher, least float64) []Weighed {
	if least == 0 {
		least = Least
	}
	list := slices.Clone(d.list)
	alone := make([]float64, len(list))
	for i := range list {
		alone[i] = list[i].alone()
	}
	all, conf, sc := w.First.weighAll(list, alone)
	if w.Second != nil {
		all, conf, sc = w.Second.weighAll(list, conf)
	}
	sc.roll(conf)
	// A piece that is no blast of its own belongs to the one it goes on from.
	for i := len(list) - 1; i >= 0; i-- {
		if k := sc.before[i]; k >= 0 && conf[i] < goesOnBelow && list[i].meanOn() > 0.5 {
			list[k].last = max(list[k].last, list[i].last)
		}
	}
	var out []Weighed
	for i, t := range all {
		if conf[i] >= least {
			out = append(out, Weighed{list[i].blast(conf[i], d.length), alone[i], t})
		}
	}
	return out
}

// weighAll describes candidates by how likely each is so far and weighs them.
func (f *Forest) weighAll(list []candidate, prior []float64) (all []traits, conf []float64, sc *scene) {
	all, sc = describe(list, prior)
	conf = make([]float64, len(list))
	for i := range all {
		conf[i] = f.Weigh(&all[i])
	}
	return all, conf, sc
}

// offsetBias is added to the last blown step, in seconds (measured on the wide
// scenes).
const offsetBias = 0.012

// onsetBias is how much later than it is a beginning is taken for, in seconds, by
// how far the whistle stands out of its surroundings in dB: of a faint one the
// first rise is not to be seen. Measured on the tuning family: -1 ms at 30 dB, 3
// at 15, 8 at 10, 15 at 7.
func onsetBias(contrast float64) float64 {
	return 0.003 + 0.060*math.Exp(-max(3, contrast)/5)
}

func (c *candidate) blast(conf float64, length time.Duration) Blast {
	n := float64(c.blown)
	at := func(s float64) time.Duration {
		return max(0, min(length, time.Duration(s*float64(time.Second))))
	}
	b := Blast{
		Start: at(c.start*stepSeconds - onsetBias(c.contrast/n)), End: at(float64(c.last)*stepSeconds + offsetBias),
		Hz: c.sumHz / n, Level: c.level, Contrast: c.contrast / n, Confidence: conf,
	}
	b.End = max(b.End, min(length, b.Start+30*time.Millisecond))
	return b
}

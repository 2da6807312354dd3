package whistle

import (
	"math"
	"sort"
	"time"
)

// Traits is how many numbers describe a candidate when it is weighed as a whole.
const Traits = 17

// traits are those numbers, each of the order of 1.
type traits = [Traits]float64

// Weighed is a blast with what its confidence was weighed from.
type Weighed struct {
	Blast
	Traits [Traits]float64
}

// shortest is the least length of a blast, in steps.
const shortest = 4

// finish weighs all candidates, those under way included, and returns the blasts.
func (p *picker) finish(o Options, length time.Duration) []Weighed {
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
	least := o.Least
	if least == 0 {
		least = leastConfidence
	}
	var out []Weighed
	all, before := describe(list)
	conf := make([]float64, len(list))
	for i := range all {
		conf[i] = weighTraits(&all[i])
	}
	// A piece that is no blast of its own belongs to the one it goes on from.
	for i := len(list) - 1; i >= 0; i-- {
		if k := before[i]; k >= 0 && conf[i] < goesOnBelow {
			list[k].last = max(list[k].last, list[i].last)
		}
	}
	for i, t := range all {
		c, conf := &list[i], conf[i]
		if conf < least {
			continue
		}
		out = append(out, Weighed{c.blast(conf, length), t})
	}
	return out
}

// biases of the edges in seconds, measured on the wide scenes: what is added to
// the centre of the probability of a beginning, and to the last blown step.
const (
	onsetBias  = -0.004
	offsetBias = 0.012
)

func (c *candidate) blast(conf float64, length time.Duration) Blast {
	n := float64(c.blown)
	at := func(s float64) time.Duration {
		return max(0, min(length, time.Duration(s*float64(time.Second))))
	}
	b := Blast{
		Start: at(c.start*stepSeconds + onsetBias), End: at(float64(c.last)*stepSeconds + offsetBias),
		Hz: c.sumHz / n, Level: c.level, Contrast: c.contrast / n, Confidence: conf,
	}
	b.End = max(b.End, min(length, b.Start+30*time.Millisecond))
	return b
}

// describe measures every candidate, in itself and among its neighbours: the
// officials of a bout blow the same whistles again and again, so a pitch that
// comes back all over the recording speaks for a candidate, and a crowd of tones
// at every pitch (music) against it.
//
// before names the candidate that each goes on from without a gap, or -1.
func describe(list []candidate) (out []traits, before []int) {
	out = make([]traits, len(list))
	before = make([]int, len(list))
	chains := make([]float64, len(list))
	prior := make([]float64, len(list))
	var levels []float64
	for i := range list {
		c := &list[i]
		prior[i] = math.Sqrt(max(c.onset, 0.02)) * c.meanOn()
		if prior[i] > 0.6 {
			levels = append(levels, c.sumLevel/float64(c.blown))
		}
	}
	ref := -30.0
	if len(levels) > 0 {
		sort.Float64s(levels)
		ref = levels[len(levels)*3/4]
	}
	h := newHistogram(list, prior)
	from := 0
	for i := range list {
		c := &list[i]
		t := &out[i]
		n := float64(c.blown)
		long := math.Log(max(0.03, (float64(c.last)-c.start)*stepSeconds) / 0.25)
		t[0] = 1
		t[1] = logit(c.onset)
		t[2] = logit(c.meanOn())
		t[3] = logit(c.earlyOn / float64(max(1, c.early)))
		t[4] = long
		t[5] = long * long
		t[6] = c.contrast / n / 10
		t[7] = max(-3, min(1, (c.sumLevel/n-ref)/10))
		t[8] = c.loudShare / n / 10
		for from < i && list[i].start-list[from].start > 5/stepSeconds {
			from++
		}
		mates, clutter, twin, chain := 0.0, 0.0, 0.0, 0.0
		own := 0.0
		before[i] = -1
		for k := from; k < len(list) && list[k].start-c.start < 5/stepSeconds; k++ {
			if k == i {
				continue
			}
			o := &list[k]
			dt := math.Abs(o.start-c.start) * stepSeconds
			if dt < 0.045 && near(o.hz, c.hz, 0.25) {
				twin = max(twin, prior[k])
			}
			if k < i && dt > 0.045 && float64(o.last) >= c.start-4 && float64(o.last) < c.start+4 && near(o.hz, c.hz, 0.08) && chains[k]+dt > chain {
				chain, before[i] = chains[k]+dt, k
			}
			same := near(o.hz, c.hz, 0.035)
			if same && dt < 1.5 && dt > 0.12 {
				mates += prior[k]
			}
			if same {
				own += prior[k]
			} else {
				clutter += prior[k]
			}
		}
		t[9] = math.Min(mates, 3)
		t[10] = math.Log1p(clutter)
		t[11] = h.support(c.hz, own+prior[i])
		t[12] = c.onset * c.meanOn() * 2
		// Another that begins at once may be a partial of the same whistle; one
		// that goes on until here, a rolling whistle cut in two.
		t[13] = twin
		t[14] = max(0, twin-prior[i]) * 2
		chains[i] = min(chain, 2.5)
		t[15] = chains[i]
		t[16] = t[15] * (1 - c.onset)
	}
	return out, before
}

func (c *candidate) meanOn() float64 { return c.sumOn / float64(max(1, c.steps)) }

// logit is the log odds of p, within -4..4, over 2.
func logit(p float64) float64 {
	p = min(max(p, 0.018), 0.982)
	return math.Log(p/(1-p)) / 2
}

// histogram counts candidates by pitch, in steps of 1 per cent.
type histogram struct {
	bin   [128]float64
	total float64
}

func pitchBin(hz float64) int {
	return min(max(int(math.Log(hz/1500)/math.Log(1.01)), 2), 125)
}

func newHistogram(list []candidate, prior []float64) *histogram {
	h := &histogram{}
	for i := range list {
		w := prior[i] * prior[i]
		h.bin[pitchBin(list[i].hz)] += w
		h.total += w
	}
	return h
}

// support says how much likelier than by even spreading other candidates of the
// recording have this pitch; own is what the candidate and its neighbours weigh.
func (h *histogram) support(hz, own float64) float64 {
	k := pitchBin(hz)
	sum := 0.0
	for j := k - 2; j <= k+2; j++ {
		sum += h.bin[j]
	}
	rest := max(0, h.total-own)
	sum = max(0, sum-own)
	// Five of about ninety bins, and a candidate or two of doubt.
	return math.Log((sum + 0.5) / (rest*5/90 + 0.5))
}

func weighTraits(t *traits) float64 {
	s := 0.0
	for i, w := range traitWeights {
		s += w * t[i]
	}
	return 1 / (1 + math.Exp(-s))
}

package whistle

import (
	"math"
	"sort"
)

// Traits is how many numbers describe a candidate when it is weighed as a whole.
const Traits = 50

// traits are those numbers, each of the order of 1.
type traits = [Traits]float64

// reachSeconds is how far a candidate's neighbours are looked at.
const reachSeconds = 5.0

// scene is a recording's candidates in order of their beginnings, with what all
// of them together tell.
type scene struct {
	list  []candidate
	prior []float64 // how likely each is a blast
	hz    []float64 // mean pitches, Hz
	ref   float64   // level of the loud ones, dB
	pitch *histogram
	tones *byPitch
	// before names the candidate that each goes on from without a gap, or -1.
	before []int
	chains []float64
}

// describe measures every candidate, in itself and among its neighbours: the
// officials of a bout blow the same whistles again and again, so a pitch that
// comes back all over the recording speaks for a candidate, and a crowd of tones
// at every pitch (music) against it. How far a whistle stands out and how much of
// the whole sound it is are left out: they depend on the microphone and the
// loudspeakers more than on whether it is a whistle. prior is how likely each is a
// blast so far, 0..1.
func describe(list []candidate, prior []float64) ([]traits, *scene) {
	s := &scene{list: list, prior: prior, hz: make([]float64, len(list)), before: make([]int, len(list)), chains: make([]float64, len(list)), ref: -30}
	var levels []float64
	for i := range list {
		c := &list[i]
		s.hz[i] = c.meanHz()
		if s.prior[i] > 0.6 {
			levels = append(levels, c.meanLevel())
		}
	}
	if len(levels) > 0 {
		sort.Float64s(levels)
		s.ref = levels[len(levels)*3/4]
	}
	s.pitch = newHistogram(list, s.prior)
	s.tones = newByPitch(s.hz)
	out := make([]traits, len(list))
	from := 0
	for i := range list {
		for list[i].start-list[from].start > reachSeconds/stepSeconds {
			from++
		}
		s.itself(i, &out[i])
		s.neighbours(i, from, &out[i])
		s.host(i, from, &out[i])
		s.explain(i, from, &out[i])
	}
	s.together(out)
	return out, s
}

// together measures how long a candidate is with all that it goes on from and all
// that goes on from it: pieces of one rolling whistle are long together.
func (s *scene) together(out []traits) {
	tail := make([]float64, len(s.list))
	for i := len(s.list) - 1; i >= 0; i-- {
		c := &s.list[i]
		tail[i] = max(tail[i], (float64(c.last)-c.start)*stepSeconds)
		if k := s.before[i]; k >= 0 {
			tail[k] = max(tail[k], tail[i]+(c.start-s.list[k].start)*stepSeconds)
		}
		out[i][35] = min(s.chains[i]+tail[i], 5)
	}
}

// alone is how likely a candidate is a blast by its own frames, 0..1.
func (c *candidate) alone() float64 { return math.Sqrt(max(c.onset, 0.02)) * c.meanOn() }

func (c *candidate) meanOn() float64 { return c.sumOn / float64(max(1, c.steps)) }

func (c *candidate) meanLevel() float64 { return c.sumLevel / float64(max(1, c.blown)) }

func (c *candidate) meanHz() float64 { return c.sumHz / float64(max(1, c.blown)) }

func (s *scene) itself(i int, t *traits) {
	c := &s.list[i]
	long := math.Log(max(0.03, (float64(c.last)-c.start)*stepSeconds) / 0.25)
	t[0] = logit(c.onset)
	t[1] = logit(c.meanOn())
	t[2] = logit(c.earlyOn / float64(max(1, c.early)))
	t[3] = long
	t[4] = long * long
	t[5] = max(-3, min(1, (c.meanLevel()-s.ref)/10))
	t[6] = c.onset * c.meanOn() * 2
	t[7] = c.dip * 2
	t[8] = max(-1, min(3, c.rise/10))
	// A whistle begins low and rises to its pitch, a piece of one does not.
	t[9] = max(-1.5, min(1.5, 10*math.Log(c.first/c.meanHz())))
	t[10] = max(-1.5, min(1.5, 10*math.Log(c.hz/c.meanHz())))
	stands := max(3, c.contrast/float64(max(1, c.blown)))
	t[30] = max(-1, min(2, 2*c.rise/stands))
	t[31] = max(-0.5, min(2, 2*c.valley/stands))
	t[32] = max(-1, min(3, c.valley/10))
	t[33] = 4 * float64(c.run) * stepSeconds
	t[34] = logit(s.prior[i])
	t[36] = float64(c.held) * stepSeconds
	t[37] = c.below / 10
	t[11] = 2 * float64(c.blown) / float64(max(1, c.steps))
}

func (s *scene) neighbours(i, from int, t *traits) {
	c := &s.list[i]
	mates, clutter, twin, own, crowd := 0.0, 0.0, 0.0, 0.0, 0.0
	early, late, beatBefore, beatAfter := 0.0, 0.0, 0.0, 0.0
	for k := from; k < len(s.list) && s.list[k].start-c.start < reachSeconds/stepSeconds; k++ {
		if k == i {
			continue
		}
		o := &s.list[k]
		p := s.prior[k]
		after := (o.start - c.start) * stepSeconds
		dt := math.Abs(after)
		if dt < 0.045 && near(o.hz, c.hz, 0.25) {
			// Another that begins at once may be a partial of the same whistle.
			twin = max(twin, p)
		}
		if dt >= 0.045 && dt < 0.16 && near(o.hz, c.hz, 0.25) {
			if after < 0 {
				early = max(early, p)
			} else {
				late = max(late, p)
			}
		}
		same := near(o.hz, c.hz, 0.035)
		if same && dt > 0.2 && dt < 0.6 {
			if after < 0 {
				beatBefore = max(beatBefore, p)
			} else {
				beatAfter = max(beatAfter, p)
			}
		}
		if dt < 1 {
			crowd += p
		}
		if same && dt < 1.5 && dt > 0.12 {
			mates += p
		}
		if same {
			own += p
		} else {
			clutter += p
		}
	}
	t[12] = math.Min(mates, 3)
	t[13] = math.Log1p(clutter)
	t[14] = s.pitch.support(c.hz, own+s.prior[i])
	t[15] = twin
	t[16] = max(0, twin-s.prior[i]) * 2
	t[17] = early
	t[18] = late
	t[19] = beatBefore
	t[20] = beatAfter
	t[21] = math.Log1p(crowd)
}

// host looks for the candidate that was going on when this one began, or had just
// ended: a rolling whistle is cut in pieces, a late partial or the flutter of a
// pea begins within its blast.
func (s *scene) host(i, from int, t *traits) {
	c := &s.list[i]
	host, best, chain := -1, 0.0, 0.0
	s.before[i] = -1
	for k := from; k < i; k++ {
		o := &s.list[k]
		dt := (c.start - o.start) * stepSeconds
		if dt < 0.045 || float64(o.last) < c.start-float64(max(5, c.run)) {
			continue
		}
		off := math.Abs(math.Log(o.hz / c.first))
		if fit := s.prior[k] * math.Exp(-off/0.1); off < 0.25 && fit > best {
			host, best = k, fit
		}
		if off < 0.15 && s.chains[k]+dt > chain {
			chain, s.before[i] = s.chains[k]+dt, k
		}
	}
	s.chains[i] = min(chain, 2.5)
	t[22] = s.chains[i]
	t[23] = s.chains[i] * (1 - c.onset)
	if host < 0 {
		return
	}
	o := &s.list[host]
	off := math.Log(c.hz / o.hz)
	t[24] = s.prior[host]
	t[25] = min(2.5, 10*math.Abs(off))
	t[26] = max(-2, min(2, 10*off))
	t[27] = min(1.5, (c.start-o.start)*stepSeconds)
	t[28] = max(-2, min(2, (c.meanLevel()-o.meanLevel())/10))
	t[29] = max(-2, min(2, float64(c.last-o.last)*stepSeconds*4))
}

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

package whistle

import "math"

type judgedHump struct {
	hump
	verdict
	contrast float32
}

type judgedFrame struct {
	humps  [most]judgedHump
	n      int
	all    float32
	ground float32
}

// What counts as a beginning.
const (
	onsetSide   = 4    // steps to both sides in which a beginning must be the likeliest
	together    = 1    // steps within which all partials of a whistle begin
	onsetLeast  = 0.10 // probability from which on a beginning is followed up
	againLeast  = 0.18 // the same where a blast of this pitch is already going on
	dipLeast    = 0.12 // the same where that one had a dip just before
	longLeast   = 0.55 // the same without a dip and longer than a short blast
	shortSteps  = 45   // length of the longest short blast
	lateLeast   = 0.55 // mean probability of blowing that makes a blast without a beginning
	lateSteps   = 8
	onLeast     = 0.5 // a step counts as blown
	lane        = 0.05
	clusterLane = 0.18
	faint       = 20.0 // dB below the loudest near its pitch a hump begins nothing
	beside      = 0.08 // of two humps that begin together nearer than this the surer is taken
)

// past is how many frames the picker remembers: of a rolling whistle nearly all.
const past = 256

// picker turns verdicts into candidates: beginnings, followed until the blowing
// ends. It sees frames in order.
type picker struct {
	hist   [past]judgedFrame
	n      int // frames added
	active []*candidate
	done   []candidate
}

// candidate is a blast under way or done, in steps.
type candidate struct {
	start     float64 // steps
	hz        float64
	last      int // last step that counts as blown
	begun     int
	onset     float64 // greatest probability of a beginning
	smooth    float64
	off       int
	sumOn     float64
	blown     int
	steps     int
	level     float64 // loudest, dB
	sumLevel  float64
	contrast  float64
	sumHz     float64
	loudShare float64 // level over the whole sound, summed
	earlyOn   float64 // probabilities of blowing over the first 100 ms, summed
	early     int
	first     float64 // pitch as it began, Hz
	dip       float64 // least probability of blowing near the pitch just before
	rise      float64 // level near the pitch after the beginning over that before, dB
	valley    float64 // the same over the least level just before
	run       int     // steps that it sounded on about this level before the beginning
	below     float64 // level of the loudest near the pitch as it began over its own, dB
	held      int     // the same but for gaps shorter than those between two blasts
}

func (p *picker) add(d judgedFrame) {
	p.hist[p.n%past] = d
	p.n++
	u := p.n - 1 - lateSteps
	if u < 0 {
		return
	}
	p.step(u)
}

func (p *picker) at(i int) *judgedFrame {
	if i < 0 || i >= p.n || i < p.n-past {
		return &judgedFrame{}
	}
	return &p.hist[i%past]
}

func (p *picker) step(u int) {
	f := p.at(u)
	for i := range f.n {
		p.begin(u, &f.humps[i])
	}
	kept := p.active[:0]
	for _, c := range p.active {
		if p.follow(c, u) {
			kept = append(kept, c)
		} else {
			p.done = append(p.done, *c)
		}
	}
	p.active = kept
	p.unite()
}

// unite drops candidates that have come to follow the same tone: the one that
// began less surely goes, but a later sure beginning ends the one before.
func (p *picker) unite() {
	for i, a := range p.active {
		for _, b := range p.active[i+1:] {
			if a.off >= 1000 || b.off >= 1000 || a.steps < 8 || b.steps < 8 || !near(a.hz, b.hz, 0.025) {
				continue
			}
			switch {
			case b.onset < againLeast || b.onset < a.onset && b.begun-a.begun < 2*onsetSide:
				b.off, b.blown = 1000, 0
			default:
				a.last = min(a.last, max(a.begun, int(b.start)-1))
				a.off = 1000
			}
		}
	}
}

// begin starts a candidate at hump h of step u if it is the likeliest beginning
// round it, or if blowing goes on that no candidate covers.
func (p *picker) begin(u int, h *judgedHump) {
	if float64(h.onset) >= onsetLeast && p.below(u, h) < faint && p.likeliest(u, h) {
		same := p.covering(h, lane)
		if same == nil {
			p.open(u, p.centre(u, h), h)
			return
		}
		need := againLeast
		if p.dips(u, same.hz) {
			need = dipLeast
		} else if u-same.begun > shortSteps {
			need = longLeast
		}
		if float64(h.onset) >= need && u-same.begun > onsetSide {
			// The same pitch blown anew: the one before ended.
			same.off = 1000
			p.open(u, p.centre(u, h), h)
		}
		return
	}
	if h.on >= onLeast && p.covering(h, clusterLane) == nil && p.goesOn(u, h) >= lateLeast && !p.beginsSoon(u, h) {
		p.open(u, float64(u), h)
	}
}

// below is by how many dB the loudest hump near h's pitch is above h.
func (p *picker) below(u int, h *judgedHump) float64 {
	top := h.level
	f := p.at(u)
	for k := range f.n {
		if o := &f.humps[k]; near(float64(o.hz), float64(h.hz), clusterLane) {
			top = max(top, o.level)
		}
	}
	return float64(top - h.level)
}

// dips: just before step u blowing at this pitch was doubtful. A rolling whistle
// swells and swings without such a dip.
func (p *picker) dips(u int, hz float64) bool {
	return p.leastOn(u, hz) < 0.4
}

// beginsSoon: a beginning near h's pitch follows, which will be taken instead.
func (p *picker) beginsSoon(u int, h *judgedHump) bool {
	for i := u + 1; i <= u+lateSteps; i++ {
		f := p.at(i)
		for k := range f.n {
			if o := &f.humps[k]; float64(o.onset) >= onsetLeast && near(float64(o.hz), float64(h.hz), clusterLane) {
				return true
			}
		}
	}
	return false
}

// likeliest: no other hump near in time and pitch is likelier to begin a blast.
// Those further apart are candidates each: whether they are partials of one whistle
// or whistles of two officials is told by the whole recording (kinship.go).
func (p *picker) likeliest(u int, h *judgedHump) bool {
	for i := u - onsetSide; i <= u+onsetSide; i++ {
		f := p.at(i)
		for k := range f.n {
			o := &f.humps[k]
			width := beside
			if i-u > together || u-i > together {
				width = lane
			}
			if o == h || o.onset < h.onset || !near(float64(o.hz), float64(h.hz), width) {
				continue
			}
			if o.onset > h.onset || i < u || i == u && o.level > h.level {
				return false
			}
		}
	}
	return true
}

// centre is the middle of the probability of a beginning round step u.
func (p *picker) centre(u int, h *judgedHump) float64 {
	sum, at := 0.0, 0.0
	for i := u - 3; i <= u+3; i++ {
		f := p.at(i)
		best := 0.0
		for k := range f.n {
			if near(float64(f.humps[k].hz), float64(h.hz), 0.12) {
				best = max(best, float64(f.humps[k].onset))
			}
		}
		sum += best
		at += best * float64(i)
	}
	if sum == 0 {
		return float64(u)
	}
	return at / sum
}

// goesOn is the mean probability of blowing near h's pitch over the next steps.
func (p *picker) goesOn(u int, h *judgedHump) float64 {
	sum := 0.0
	for i := range lateSteps {
		on, _ := p.best(u+i, float64(h.hz), lane)
		sum += on
	}
	return sum / lateSteps
}

// best is the greatest probability of blowing near a pitch in step i.
func (p *picker) best(i int, hz, width float64) (float64, *judgedHump) {
	f := p.at(i)
	var hit *judgedHump
	on := 0.0
	for k := range f.n {
		if h := &f.humps[k]; near(float64(h.hz), hz, width) && float64(h.on) >= on {
			on, hit = float64(h.on), h
		}
	}
	return on, hit
}

func (p *picker) covering(h *judgedHump, width float64) *candidate {
	for _, c := range p.active {
		if c.off < 1000 && near(c.hz, float64(h.hz), width) {
			return c
		}
	}
	return nil
}

func (p *picker) open(u int, start float64, h *judgedHump) {
	c := &candidate{
		start: start, begun: u, last: u, hz: float64(h.hz), onset: float64(h.onset), smooth: max(0.6, float64(h.on)), level: -200,
		first: float64(h.hz), dip: p.leastOn(u, float64(h.hz)),
	}
	c.rise, c.valley, c.run = p.before(u, c.hz)
	c.held = p.heldFor(u, c.hz)
	c.below = p.below(u, h)
	p.active = append(p.active, c)
}

// leastOn is the least probability of blowing near a pitch in the steps before u.
func (p *picker) leastOn(u int, hz float64) float64 {
	least := 1.0
	for i := u - 6; i <= u; i++ {
		on, _ := p.best(i, hz, 0.11)
		least = min(least, on)
	}
	return least
}

// How far back before looks, and by how many dB the level may fall short of that
// of the blast for the sound to go on.
const (
	runSteps = 48
	longRun  = past - lateSteps - 16
	runFall  = 7.0
)

// before compares the level near a pitch after step u with that before it: by how
// many dB it is above the mean and the least just before, and for how many steps
// it had been about as loud. The pieces of a rolling whistle and the flutter of a
// pea begin amid sound, a blast of its own seldom does.
func (p *picker) before(u int, hz float64) (rise, valley float64, run int) {
	after, mean, least := 0.0, 0.0, 1000.0
	for i := u + 2; i <= u+6; i++ {
		after += p.levelNear(i, hz) / 5
	}
	for i := u - 6; i <= u-3; i++ {
		mean += p.levelNear(i, hz) / 4
	}
	for i := u - 12; i < u; i++ {
		// Of two steps the louder: windows between two tones of a flutter are quiet.
		least = min(least, max(p.levelNear(i, hz), p.levelNear(i-1, hz)))
	}
	quiet := 0
	for run = 0; run < runSteps; run++ {
		if p.levelNear(u-1-run, hz) < after-runFall {
			if quiet++; quiet == 2 {
				run--
				break
			}
		} else {
			quiet = 0
		}
	}
	return after - mean, after - least, max(run, 0)
}

// heldFor is for how many steps before u it sounded near a pitch but for quiet
// moments too short to be the gap between two blasts.
func (p *picker) heldFor(u int, hz float64) int {
	after := -200.0
	for i := u + 2; i <= u+6; i++ {
		after = max(after, p.levelNear(i, hz))
	}
	quiet := 0
	for k := range min(longRun, u) {
		if p.levelNear(u-1-k, hz) < after-10 {
			if quiet++; quiet == 5 {
				return max(0, k-4)
			}
		} else {
			quiet = 0
		}
	}
	return min(longRun, u)
}

// levelNear is the level of the strongest hump near a pitch in step i, dB.
func (p *picker) levelNear(i int, hz float64) float64 {
	f := p.at(i)
	l := float64(f.ground)
	for k := range f.n {
		if h := &f.humps[k]; near(float64(h.hz), hz, 0.13) {
			l = max(l, float64(h.level))
		}
	}
	return l
}

// follow takes step u into a candidate and reports whether it goes on.
func (p *picker) follow(c *candidate, u int) bool {
	if c.off >= 1000 {
		return false
	}
	width := lane
	age := u - c.begun
	if age < 8 {
		width = 0.11
	}
	on, h := p.best(u, c.hz, width)
	c.smooth += 0.35 * (on - c.smooth)
	c.steps++
	c.sumOn += on
	if age < 10 {
		c.earlyOn += on
		c.early++
	}
	if h != nil && on > 0.3 {
		rate := 0.12
		if age < 8 {
			rate = 0.35
		}
		c.hz += rate * (float64(h.hz) - c.hz)
	}
	if h != nil && on >= onLeast {
		c.last = u
		c.blown++
		c.level = max(c.level, float64(h.level))
		c.sumLevel += float64(h.level)
		c.contrast += float64(h.contrast)
		c.sumHz += float64(h.hz)
		c.loudShare += float64(h.level - p.at(u).all)
	}
	if c.smooth < 0.35 {
		c.off++
	} else {
		c.off = 0
	}
	return c.off < 3
}

func near(a, b, width float64) bool { return math.Abs(a-b) <= width*b }

package sound

import "math"

// recorder is the camera's own electronics: a cut of the deepest sound,
// automatic gain, and the most it can hold.
type recorder struct {
	rate  float64
	cut   []biquad // per channel
	gain  float64  // fixed
	lift  float64  // automatic gain's most, in dB; 0 is off
	level float64  // power the automatic gain follows
	auto  float64  // its gain now, as amplitude
}

func newRecorder(channels, rate int, gain, lift float64) *recorder {
	r := &recorder{rate: float64(rate), gain: gain, lift: lift, auto: 1}
	for range channels {
		r.cut = append(r.cut, highpass(70, 0.7, rate))
	}
	return r
}

// Automatic gain: the level it aims at and its times (common practice, no
// source). Recorders pull down at once and let go slowly.
const (
	autoTarget  = 0.13 // RMS of full scale
	autoAttack  = 0.004
	autoRelease = 0.25
	autoDown    = 0.008
	autoUp      = 1.1
	autoMostCut = -24.0 // dB
)

// process works in place on one block.
func (r *recorder) process(chans [][]float64) {
	for ch := range chans {
		c := &r.cut[ch]
		for i, x := range chans[ch] {
			chans[ch][i] = r.gain * c.next(x)
		}
	}
	if r.lift > 0 {
		r.automatic(chans)
	}
	for _, c := range chans {
		for i, x := range c {
			c[i] = min(1, max(-1, x))
		}
	}
}

func (r *recorder) automatic(chans [][]float64) {
	attack := 1 - math.Exp(-1/(autoAttack*r.rate))
	release := 1 - math.Exp(-1/(autoRelease*r.rate))
	down := 1 - math.Exp(-hold/(autoDown*r.rate))
	up := 1 - math.Exp(-hold/(autoUp*r.rate))
	most, least := fromDB(r.lift), fromDB(autoMostCut)
	for i := 0; i < len(chans[0]); i += hold {
		for k := i; k < i+hold; k++ {
			p := 0.0
			for _, c := range chans {
				p = max(p, c[k]*c[k])
			}
			if p > r.level {
				r.level += (p - r.level) * attack
			} else {
				r.level += (p - r.level) * release
			}
		}
		want := min(most, max(least, autoTarget/math.Sqrt(r.level+1e-12)))
		from := r.auto
		if want < from {
			r.auto += (want - from) * down
		} else {
			r.auto += (want - from) * up
		}
		slope := (r.auto - from) / hold
		for _, c := range chans {
			g := from
			for k := i; k < i+hold; k++ {
				g += slope
				c[k] *= g
			}
		}
	}
}

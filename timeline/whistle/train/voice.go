package train

import (
	"math"
	"math/rand/v2"
)

// partial is one tone of a whistle.
type partial struct {
	hz, level, phase float64
}

// voice is something that whistles.
type voice struct {
	partials        []partial
	scale           float64 // of all pitches
	rise, riseTime  float64 // share missing at the start, time constant in s
	curve           float64 // glide over the length, share
	attack, release float64 // s
	second, third   float64 // amplitude of harmonics
	breath          float64
	warble, width   float64 // Hz, share
	depth           float64 // of the level in the warble, 0..1
	jitter          float64 // slow random wandering of the pitch, share
	roll            bool
}

// newWhistle draws an official's whistle, of whatever kind.
func newWhistle(r *rand.Rand) voice {
	hz := math.Exp(math.Log(2900) + 0.17*r.NormFloat64())
	hz = min(max(hz, 2150), 4250)
	v := voice{
		scale: 1, rise: within(r, 0, 0.12), riseTime: within(r, 0.006, 0.03), curve: within(r, -0.02, 0.015),
		attack: math.Exp(within(r, math.Log(0.002), math.Log(0.06))) / 3, release: within(r, 0.008, 0.09),
		second: fromDB(within(r, -45, -15)), third: fromDB(within(r, -40, -13)),
		breath: fromDB(within(r, -34, -8)), jitter: within(r, 0, 0.006),
	}
	v.partials = []partial{{hz, 1, r.Float64()}}
	for range r.IntN(4) {
		hz += math.Exp(within(r, math.Log(20), math.Log(380)))
		if hz < 4500 {
			v.partials = append(v.partials, partial{hz, within(r, 0.1, 1.1), r.Float64()})
		}
	}
	if chance(r, 0.4) {
		v.warble, v.width, v.depth = within(r, 8, 95), within(r, 0.005, 0.1), within(r, 0, 0.85)
	}
	return v
}

// newFingers draws a whistle of lips or fingers: one tone, gliding.
func newFingers(r *rand.Rand) voice {
	v := voice{
		scale: 1, rise: within(r, -0.1, 0.3), riseTime: within(r, 0.02, 0.15), curve: within(r, -0.5, 0.5),
		attack: within(r, 0.005, 0.04), release: within(r, 0.02, 0.1), breath: fromDB(within(r, -35, -12)),
		second: fromDB(within(r, -50, -22)), third: fromDB(within(r, -55, -28)), jitter: within(r, 0.002, 0.02),
	}
	if math.Abs(v.curve) < 0.08 && math.Abs(v.rise) < 0.1 {
		v.curve = math.Copysign(0.15, v.curve)
	}
	v.partials = []partial{{within(r, 1200, 3600), 1, 0}}
	return v
}

// newSqueak draws a wheel or a shoe.
func newSqueak(r *rand.Rand) voice {
	return voice{
		scale: 1, rise: within(r, -0.2, 0.2), riseTime: within(r, 0.005, 0.05), curve: within(r, -0.4, 0.4),
		attack: within(r, 0.002, 0.03), release: within(r, 0.005, 0.05), breath: fromDB(within(r, -20, 0)),
		second: fromDB(within(r, -30, -3)), third: fromDB(within(r, -35, -5)), jitter: within(r, 0.01, 0.05),
		partials: []partial{{within(r, 1000, 5200), 1, 0}},
	}
}

// newBeep draws a clock's, a till's or a machine's beep: steady, with harmonics.
func newBeep(r *rand.Rand) voice {
	return voice{
		scale: 1, riseTime: 0.01, attack: within(r, 0.0005, 0.004), release: within(r, 0.002, 0.02),
		second: fromDB(within(r, -30, 0)), third: fromDB(within(r, -25, 0)),
		partials: []partial{{within(r, 800, 4500), 1, 0}},
	}
}

// span is the steady pitch of the lowest and highest partial.
func (v *voice) span() (low, hi float64) {
	low, hi = 1e9, 0
	for _, p := range v.partials {
		low, hi = min(low, p.hz*v.scale), max(hi, p.hz*v.scale)
	}
	spread := v.width / 2
	return low * (1 - spread), hi * (1 + spread)
}

// sound makes length seconds of it with power about 1/2.
func (v *voice) sound(r *rand.Rand, length float64) []float64 {
	n := int(length * rate)
	out := make([]float64, n)
	norm := 0.0
	for _, p := range v.partials {
		norm += p.level * p.level
	}
	norm = 1 / math.Sqrt(norm)
	phase := make([]float64, len(v.partials))
	for i, p := range v.partials {
		phase[i] = p.phase
	}
	wander, level, breathe := 0.0, 0.0, resonator{}
	breathe.set(v.partials[0].hz*v.scale, within(r, 150, 1500))
	wobble, swing, swell := within(r, 1.5, 8), within(r, 0, 0.06), within(r, 0, 0.4)
	wp := r.Float64()
	fm := within(r, 0, 1)
	bend, loud := 0.0, 0.0
	for i := range out {
		t := float64(i) / rate
		if i%8 == 0 {
			wander += 0.02*r.NormFloat64() - 0.004*wander
			bend = v.scale * (1 - v.rise*math.Exp(-t/v.riseTime) + v.curve*t/max(length, 0.25) + v.jitter*wander)
			loud = 1
			if v.warble > 0 {
				w := math.Sin(2*math.Pi*v.warble*t + wp)
				sq := math.Tanh(3 * fm * w)
				if fm < 0.2 {
					sq = w
				}
				bend *= 1 + v.width/2*sq
				loud *= 1 - v.depth*(0.5+0.5*math.Sin(2*math.Pi*v.warble*t+wp+1))
			}
			if v.roll {
				bend *= 1 + swing*math.Sin(2*math.Pi*(wobble*t+wp))
				loud *= 1 - swell + swell*math.Sin(2*math.Pi*(wobble*t+wp+0.2))
			}
		}
		level += (1 - level) / (v.attack*rate + 1)
		env := level * min(1, (length-t)/v.release) * loud
		x := 0.0
		for k, p := range v.partials {
			phase[k] += p.hz * bend / rate
			phase[k] -= math.Floor(phase[k])
			s := math.Sin(2 * math.Pi * phase[k])
			c := math.Cos(2 * math.Pi * phase[k])
			x += p.level * s
			if v.second > 0 && p.hz*bend < 3900 {
				x += p.level * v.second * 2 * s * c
			}
			if v.third > 0 && p.hz*bend < 2600 {
				x += p.level * v.third * s * (3 - 4*s*s)
			}
		}
		out[i] = env * (x*norm + v.breath*breathe.next(r.NormFloat64()))
	}
	return out
}

// resonator lets noise of about power 1/2 through round a pitch.
type resonator struct{ a1, a2, g, y1, y2 float64 }

func (q *resonator) set(hz, width float64) {
	rr := math.Exp(-math.Pi * width / rate)
	q.a1, q.a2 = 2*rr*math.Cos(2*math.Pi*hz/rate), -rr*rr
	q.g = (1 - rr) * math.Sqrt(1+rr*rr-2*rr*math.Cos(4*math.Pi*hz/rate)) * math.Sqrt(1/(1-rr+1e-6)) * 0.7
}

func (q *resonator) next(x float64) float64 {
	y := q.g*x + q.a1*q.y1 + q.a2*q.y2
	q.y2, q.y1 = q.y1, y
	return y
}

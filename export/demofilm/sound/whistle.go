package sound

import (
	"math"
	"math/rand/v2"
)

// Model is the kind of a whistle.
type Model string

// The kinds of whistle; Fingers is what people on the stand use.
const (
	Pealess Model = "pealess"
	Pea     Model = "pea"
	Fingers Model = "fingers"
)

// instrument is one official's whistle. Its tables hold one period of the tone
// with its harmonics.
type instrument struct {
	model   Model
	tones   []tone
	table   []float64
	rise    float64 // share of the pitch missing at the onset
	riseTau float64 // s
	attack  float64 // s, time constant
	release float64 // s
	breath  float64 // amplitude of the noise

	flutter, flutterWidth, flutterLevel float64 // pea
}

type tone struct{ hz, amplitude float64 }

// tableSize is the length of a wave table; linear reading errs below -100 dB.
const tableSize = 2048

// newInstrument draws a whistle of a family. Officials must have a pealess one
// today; a third still blow a pea (common practice, no source).
func newInstrument(f Family, rng *rand.Rand, rate int) *instrument {
	p := f.Parameters()
	in := &instrument{
		model:   Pealess,
		rise:    p[Rise].draw(rng),
		riseTau: p[RiseTime].draw(rng) / 3,
		attack:  p[Attack].draw(rng) / 3,
		release: p[Release].draw(rng),
		breath:  fromDB(p[BreathDB].draw(rng)),
	}
	if rng.Float64() < 0.33 {
		in.model = Pea
		in.tones = []tone{{p[PeaHz].draw(rng), 1}}
		in.flutter = p[Flutter].draw(rng)
		in.flutterWidth = p[FlutterWidth].draw(rng)
		in.flutterLevel = p[FlutterLevel].draw(rng)
	} else {
		hz := lowPitch(p[PealessHz], rng)
		in.tones = []tone{{hz, 1}}
		for range 2 {
			hz *= p[Chamber].draw(rng)
			in.tones = append(in.tones, tone{hz, within(rng, 0.35, 0.9)})
		}
	}
	in.finish(fromDB(p[SecondDB].draw(rng)), fromDB(p[ThirdDB].draw(rng)), rate)
	return in
}

// lowPitch favours the lower pitches: most real ones lie below 3.3 kHz.
func lowPitch(r Ranges, rng *rand.Rand) float64 {
	a := r.draw(rng)
	if a > 3300 && rng.Float64() < 0.6 {
		return r.draw(rng)
	}
	return a
}

// finish scales the tones to a steady power of 1 and draws the table. Harmonics
// above half the sample rate are left out.
func (in *instrument) finish(second, third float64, rate int) {
	power, top := 0.0, 0.0
	for _, t := range in.tones {
		power += t.amplitude * t.amplitude / 2
		top = max(top, t.hz)
	}
	for i := range in.tones {
		in.tones[i].amplitude /= math.Sqrt(power)
	}
	harmonics := []float64{1, second, third}
	in.table = make([]float64, tableSize+1)
	for n, a := range harmonics {
		k := float64(n + 1)
		if k*top*1.1 > float64(rate)/2 {
			break
		}
		for i := range in.table {
			in.table[i] += a * math.Sin(2*math.Pi*k*float64(i)/tableSize)
		}
	}
}

// pitch is the frequency of the strongest tone in Hz.
func (in *instrument) pitch() float64 {
	best := in.tones[0]
	for _, t := range in.tones {
		if t.amplitude > best.amplitude {
			best = t
		}
	}
	return best.hz
}

// blow is one blast to be made.
type blow struct {
	instrument *instrument
	length     float64 // s, from onset to silence
	rolling    bool    // swooping pitch and level
	effort     float64 // share added to the pitch
	glide      float64 // share of pitch gained (or lost) over the whole blast
	vary       *rand.Rand
}

// voice is a blast while it sounds.
type voice struct {
	blow
	rate   float64
	phases []float64 // of the tones, 0..1
	pea    float64   // phase of the flutter
	wander float64   // slow change of the breath
	noise  hiss
	breath biquad
	air    float64    // makes the filtered noise as strong as the tone
	roll   [2]float64 // rate and phase of the swoop

	pitch, level float64 // of the running step
}

func newVoice(b blow, rate int) *voice {
	v := &voice{blow: b, rate: float64(rate), noise: newHiss(b.vary)}
	for range b.instrument.tones {
		v.phases = append(v.phases, b.vary.Float64())
	}
	v.pea = b.vary.Float64()
	const q = 4
	hz := b.instrument.pitch()
	v.breath = bandpass(hz, q, rate)
	// A resonator passes noise of pi/2 times its bandwidth hz/q.
	v.air = b.instrument.breath / math.Sqrt(math.Pi/2*hz/q/(float64(rate)/2)/3)
	v.roll = [2]float64{within(b.vary, 2, 4.5), b.vary.Float64()}
	return v
}

// hold is how many samples keep the same pitch and level: a third of a
// millisecond at 48 kHz.
const hold = 16

// add lets the voice sound on into dst, which starts at sample number at of the
// blast.
func (v *voice) add(dst []float64, at int64) {
	in := v.instrument
	for len(dst) > 0 {
		// Steps count from the onset, wherever blocks begin.
		n := min(hold-int(at%hold), len(dst))
		if at%hold == 0 {
			v.pitch, v.level = v.shape(float64(at) / v.rate)
		}
		pitch, level := v.pitch, v.level
		for i, tn := range in.tones {
			step := tn.hz * pitch / v.rate
			amp := tn.amplitude * level
			ph := v.phases[i]
			for k := range n {
				x := ph * tableSize
				j := int(x)
				dst[k] += amp * (in.table[j] + (in.table[j+1]-in.table[j])*(x-float64(j)))
				ph += step
				if ph >= 1 {
					ph--
				}
			}
			v.phases[i] = ph
		}
		air := v.air * level
		for k := range n {
			dst[k] += air * v.breath.next(v.noise.next())
		}
		dst, at = dst[n:], at+int64(n)
	}
}

// shape is the pitch factor and the level at t seconds.
func (v *voice) shape(t float64) (pitch, level float64) {
	in := v.instrument
	level = 1 - math.Exp(-t/in.attack)
	pitch = 1 + v.effort - in.rise*math.Exp(-t/in.riseTau) + v.glide*t/v.length
	v.wander += 0.06*v.noise.next() - 0.01*v.wander
	pitch *= 1 + 0.002*v.wander
	level *= 1 + 0.06*v.wander
	if left := v.length - t; left < in.release {
		fade := max(0, left/in.release)
		level *= fade
		pitch *= 1 - 0.03*(1-fade)
	}
	if in.flutter > 0 {
		v.pea += in.flutter * (1 + 0.15*v.wander) * hold / v.rate
		s := math.Sin(2 * math.Pi * v.pea)
		pitch *= 1 + in.flutterWidth/2*math.Tanh(3*s)/math.Tanh(3)
		level *= 1 - in.flutterLevel*(0.5-0.5*s)
	}
	if v.rolling {
		s := math.Sin(2 * math.Pi * (v.roll[0]*t + v.roll[1]))
		pitch *= 1 + 0.05*s
		level *= 1 - 0.25*(0.5-0.5*s)
	}
	return pitch, level
}

// newFingers is a whistle of two fingers from the stand: a pure tone that glides.
func newFingers(rng *rand.Rand, rate int) *instrument {
	in := &instrument{
		model:   Fingers,
		tones:   []tone{{within(rng, 1500, 3400), 1}},
		rise:    within(rng, 0.02, 0.25),
		riseTau: within(rng, 0.03, 0.12),
		attack:  within(rng, 0.01, 0.03),
		release: within(rng, 0.03, 0.09),
		breath:  fromDB(within(rng, -30, -18)),
	}
	in.finish(fromDB(within(rng, -40, -28)), fromDB(within(rng, -50, -35)), rate)
	return in
}

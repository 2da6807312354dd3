package sound

import (
	"math"
	"math/rand/v2"
)

// skates is the rumble and hiss of wheels on the floor and the thuds of hits;
// it follows the jams.
type skates struct {
	clock        clock
	mood         *mood
	noise        hiss
	rumble, hiss biquad
	roll         float64 // phase of the uneven floor
	vary         *rand.Rand
	thud         thud
	scratch      []float64
	gain         float64
}

// thud is bodies or a hip on the floor: a low tone that falls and dies.
type thud struct{ level, phase, hz float64 }

func newSkates(c clock, m *mood, seed uint64, rate int) *skates {
	r := random(seed, "skates", 0)
	return &skates{
		clock: c, mood: m, gain: 1, noise: newHiss(r), vary: r,
		rumble: lowpass(260, 0.9, rate), hiss: bandpass(3100, 0.5, rate),
		scratch: make([]float64, blockSize),
	}
}

func (s *skates) fill(b *block) {
	for i := 0; i < blockSize; i += step {
		t := s.clock.game(b.at + int64(i))
		busy := s.mood.skating(t)
		s.roll += 9 * step / s.clock.rate
		uneven := 1 + 0.3*math.Sin(2*math.Pi*s.roll)*math.Sin(2*math.Pi*0.31*s.roll)
		if busy > 0.5 && s.vary.Float64() < 0.8*step/s.clock.rate {
			s.thud = thud{level: within(s.vary, 1, 4), hz: within(s.vary, 55, 110)}
		}
		decay := math.Exp(-step / s.clock.rate / 0.06)
		for k := i; k < i+step; k++ {
			x := s.noise.next()
			y := busy * uneven * (1.6*s.rumble.next(x) + 0.7*s.hiss.next(x))
			if s.thud.level > 0.01 {
				s.thud.phase += s.thud.hz / s.clock.rate
				y += s.thud.level * (math.Sin(2*math.Pi*s.thud.phase) + 0.15*x)
			}
			s.scratch[k] = y
		}
		s.thud.level *= decay
	}
	b.mix(s.scratch, 0, s.gain, s.gain, 0.5*s.gain)
}

// squeak is a wheel or a toe stop: a short tone with a torn edge.
type squeak struct {
	hz, glide, length, rate float64
	noise                   hiss
	phase, level            float64
}

func newSqueak(r *rand.Rand, rate int) *squeak {
	return &squeak{
		hz: within(r, 1300, 5200), glide: within(r, -0.25, 0.25), length: within(r, 0.025, 0.16),
		rate: float64(rate), noise: newHiss(r),
	}
}

func (s *squeak) add(dst []float64, at int64) {
	for i := range dst {
		t := float64(at+int64(i)) / s.rate / s.length
		if t >= 1 {
			return
		}
		x := s.noise.next()
		s.level += (0.6 + 0.8*math.Abs(x) - s.level) * 0.03
		s.phase += s.hz * (1 + s.glide*t + 0.02*x) / s.rate
		env := math.Sin(math.Pi * math.Sqrt(t))
		dst[i] += math.Sqrt2 * env * s.level * math.Sin(2*math.Pi*s.phase)
	}
}

package sound

import "math"

// crowd is hundreds of voices at once: noise with the colour of speech and
// cheering, swelling with the game, different at each microphone.
type crowd struct {
	clock clock
	mood  *mood
	ears  []crowdEar
	gain  float64
	level float64 // of the last block's end
	begun bool
}

type crowdEar struct {
	noise          hiss
	low, voice, hi biquad
	waves          [3]wave
}

// wave is a slow change of level: groups that get louder and quieter.
type wave struct{ rate, phase float64 }

func newCrowd(c clock, m *mood, channels int, seed uint64, rate int) *crowd {
	cr := &crowd{clock: c, mood: m, gain: 1}
	for ch := range channels {
		r := random(seed, "crowd", int64(ch))
		e := crowdEar{
			noise: newHiss(r),
			low:   lowpass(700, 0.6, rate),
			voice: bandpass(1100, 0.7, rate),
			hi:    bandpass(2700, 0.6, rate),
		}
		for i := range e.waves {
			e.waves[i] = wave{within(r, 0.15, 1.8), r.Float64()}
		}
		cr.ears = append(cr.ears, e)
	}
	return cr
}

// step is how many samples share a level.
const step = 128

func (c *crowd) fill(b *block) {
	end := c.mood.crowd(c.clock.game(b.at + blockSize))
	if !c.begun {
		c.level, c.begun = c.mood.crowd(c.clock.game(b.at)), true
	}
	for ch := range b.direct {
		e := &c.ears[ch]
		dst := b.direct[ch]
		for i := 0; i < blockSize; i += step {
			t := float64(b.at+int64(i)) / c.clock.rate
			level := c.level + (end-c.level)*float64(i)/blockSize
			for _, w := range e.waves {
				level *= 1 + 0.07*math.Sin(2*math.Pi*(w.rate*t+w.phase))
			}
			level *= c.gain
			for k := i; k < i+step; k++ {
				x := e.noise.next()
				dst[k] += level * (0.9*e.low.next(x) + 1.2*e.voice.next(x) + 1.3*e.hi.next(x))
			}
		}
	}
	c.level = end
}

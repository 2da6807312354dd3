package sound

import (
	"math"
	"math/rand/v2"
)

// announcer is a voice over the loudspeakers that says nothing: syllables of a
// hummed source through three formants, with hissing consonants, in phrases
// with pauses.
type announcer struct {
	clock   clock
	seed    uint64
	rate    int
	noise   hiss
	scratch []float64
	gain    float64

	begun     bool
	cellAt    int64
	syllables []syllable
	next      int
	now       syllable
	talking   bool
	formants  [3]biquad
	hissing   biquad
	phase     float64
	tilt      float64
}

// syllable: start and length in game seconds.
type syllable struct {
	start, length float64
	hz, bend      float64
	formants      [3]float64
	consonant     float64 // s of hiss at its start
}

func newAnnouncer(c clock, seed uint64, rate int) *announcer {
	return &announcer{clock: c, seed: seed, rate: rate, gain: 1, noise: newHiss(random(seed, "breath", 0)), scratch: make([]float64, blockSize)}
}

// write makes the syllables of one cell.
func (a *announcer) write(k int64) {
	r := random(a.seed, "syllables", k)
	voice := within(random(a.seed, "voice", 0), 105, 215)
	a.syllables = a.syllables[:0]
	t, end := float64(k)*cell+within(r, 0, 1.5), float64(k+1)*cell-0.3
	for t < end {
		phrase := t + within(r, 1.5, 4.5)
		for t < min(phrase, end) {
			s := newSyllable(r, voice, t)
			a.syllables = append(a.syllables, s)
			t += s.length
		}
		t += within(r, 0.4, 2.5)
	}
}

func newSyllable(r *rand.Rand, voice, at float64) syllable {
	// Vowels of adult speakers lie about here (from memory).
	vowels := [...][3]float64{{730, 1090, 2440}, {270, 2290, 3010}, {300, 870, 2240}, {530, 1840, 2480}, {570, 840, 2410}, {660, 1720, 2410}}
	s := syllable{
		start: at, length: within(r, 0.11, 0.28), hz: voice * within(r, 0.85, 1.5), bend: within(r, -0.2, 0.15),
		formants: vowels[r.IntN(len(vowels))],
	}
	if r.Float64() < 0.6 {
		s.consonant = within(r, 0.03, 0.09)
	}
	return s
}

func (a *announcer) fill(b *block) {
	clear(a.scratch)
	for i := 0; i < blockSize; i += step {
		t := a.clock.game(b.at + int64(i))
		if k := int64(math.Floor(t / cell)); !a.begun || k != a.cellAt {
			a.begun, a.cellAt, a.next, a.talking = true, k, 0, false
			a.write(k)
		}
		for a.next < len(a.syllables) && a.syllables[a.next].start <= t {
			a.start(a.syllables[a.next])
			a.next++
		}
		if a.talking {
			a.talking = a.speak(a.scratch[i:i+step], t-a.now.start)
		}
	}
	b.mix(a.scratch, 0, a.gain, a.gain, a.gain)
}

func (a *announcer) start(s syllable) {
	a.now, a.talking = s, true
	for k, hz := range s.formants {
		f := bandpass(hz, []float64{6, 9, 11}[k], a.rate)
		f.z1, f.z2 = a.formants[k].z1, a.formants[k].z2
		a.formants[k] = f
	}
	a.hissing = bandpass(4300, 1.2, a.rate)
}

// speak adds one step of the syllable and reports whether it goes on.
func (a *announcer) speak(dst []float64, age float64) bool {
	if age >= a.now.length {
		return false
	}
	share := age / a.now.length
	env := min(1, age/0.02) * min(1, (a.now.length-age)/0.04)
	hz := a.now.hz * (1 + a.now.bend*share)
	if age < a.now.consonant {
		for i := range dst {
			dst[i] += 1.4 * env * a.hissing.next(a.noise.next())
		}
		return true
	}
	for i := range dst {
		a.phase += hz / a.clock.rate
		if a.phase >= 1 {
			a.phase--
		}
		// A falling saw, softened, is close to what the vocal folds give.
		saw := 1 - 2*a.phase + 0.08*a.noise.next()
		a.tilt += (saw - a.tilt) * 0.5
		y := a.formants[0].next(a.tilt) + 0.7*a.formants[1].next(a.tilt) + 0.45*a.formants[2].next(a.tilt)
		dst[i] += 2 * env * y
	}
	return true
}

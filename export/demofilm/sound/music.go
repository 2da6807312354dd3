package sound

import (
	"math"
	"math/rand/v2"
)

// cell is the length in seconds of game time of the pieces that music and
// announcer are made in. Each piece has its own random numbers, so that two
// cameras, or a stream that starts later, hear the same.
const cell = 16

// music is a made-up dance tune over the loudspeakers: bass, chords, drums and a
// lead with strong tones right in the whistle band.
type music struct {
	clock  clock
	seed   uint64
	rate   int
	drums  hiss
	hat    biquad
	noteAt []note // of the current cell, by start
	next   int
	active []*note
	cellAt int64
	begun  bool

	beat      float64 // s
	sinceBeat float64
	kick      float64 // phase of the drum
	scratch   []float64
	gain      float64
}

// note is one tone of the tune; start and length in game seconds.
type note struct {
	start, length float64
	hz, level     float64
	bright        float64 // how slowly the harmonics fall
	phase         float64
}

func newMusic(c clock, seed uint64, rate int) *music {
	return &music{
		clock: c, seed: seed, rate: rate, gain: 1, drums: newHiss(random(seed, "drums", 0)),
		hat: highpass(5000, 0.7, rate), scratch: make([]float64, blockSize),
	}
}

// compose writes the notes of one cell: eight bars of four beats of half a
// second. Keys and colours change every four cells.
func (m *music) compose(k int64) {
	song := random(m.seed, "song", k>>2)
	r := random(m.seed, "notes", k)
	root := 55 * math.Pow(2, float64(song.IntN(12))/12)
	bright := within(song, 0.35, 0.8)
	m.beat = cell / 32.0
	steps := [...]float64{0, 3, 5, 7, 10, 12, 15, 17, 19, 22}
	chords := [4]int{0, song.IntN(4), song.IntN(5), song.IntN(4)}
	base := float64(k) * cell
	m.noteAt = m.noteAt[:0]
	add := func(beat, beats, semitones, level float64) {
		m.noteAt = append(m.noteAt, note{
			start: base + beat*m.beat, length: beats * m.beat,
			hz: root * math.Pow(2, semitones/12), level: level, bright: bright,
		})
	}
	for bar := range 8 {
		at := float64(4 * bar)
		chord := steps[chords[bar%4]]
		for b := range 4 {
			add(at+float64(b), 0.8, chord, 0.9)
		}
		for _, s := range [3]float64{24, 28, 31} {
			add(at, 3.8, chord+s, 0.22)
		}
		m.lead(r, at, chord, add)
	}
	sortNotes(m.noteAt)
}

// lead plays up to the seventh octave: 2 to 3.5 kHz.
func (m *music) lead(r *rand.Rand, at, chord float64, add func(beat, beats, semitones, level float64)) {
	steps := [...]float64{0, 3, 5, 7, 10, 12}
	for beat := 0.0; beat < 4; {
		beats := []float64{0.5, 0.5, 1, 1.5}[r.IntN(4)]
		beats = min(beats, 4-beat)
		if r.Float64() < 0.8 {
			octave := []float64{36, 48, 60}[r.IntN(3)]
			add(at+beat, beats*0.9, chord+octave+steps[r.IntN(len(steps))], 0.3)
		}
		beat += beats
	}
}

func sortNotes(n []note) {
	// Few and nearly in order.
	for i := 1; i < len(n); i++ {
		for j := i; j > 0 && n[j].start < n[j-1].start; j-- {
			n[j], n[j-1] = n[j-1], n[j]
		}
	}
}

func (m *music) fill(b *block) {
	clear(m.scratch)
	for i := 0; i < blockSize; i += step {
		t := m.clock.game(b.at + int64(i))
		if k := int64(math.Floor(t / cell)); !m.begun || k != m.cellAt {
			m.begun, m.cellAt, m.next = true, k, 0
			m.compose(k)
			m.active = m.active[:0]
		}
		for m.next < len(m.noteAt) && m.noteAt[m.next].start <= t {
			m.active = append(m.active, &m.noteAt[m.next])
			m.next++
		}
		part := m.scratch[i : i+step]
		kept := m.active[:0]
		for _, n := range m.active {
			if n.play(part, t, m.clock.rate) {
				kept = append(kept, n)
			}
		}
		m.active = kept
		m.drum(part, t)
	}
	b.mix(m.scratch, 0, m.gain, m.gain, m.gain)
}

// play adds one step of a note and reports whether it goes on.
func (n *note) play(dst []float64, t, rate float64) bool {
	age := t - n.start
	if age >= n.length {
		return false
	}
	env := n.level * min(1, age/0.012+0.1) * min(1, (n.length-age)/0.03) * math.Exp(-0.7*age)
	step := n.hz / rate
	for i := range dst {
		n.phase += step
		if n.phase >= 1 {
			n.phase--
		}
		// A chain of harmonics that fall by n.bright each: a closed form of the
		// sum (Moorer 1976), bounded and without aliasing to speak of.
		sin, cos := sinCos(n.phase)
		dst[i] += env * sin / (1 + n.bright*n.bright - 2*n.bright*cos)
	}
	return true
}

// drum adds a kick on every beat and a hat between.
func (m *music) drum(dst []float64, t float64) {
	in := math.Mod(t, m.beat)
	if in < m.sinceBeat {
		m.kick = 0
	}
	m.sinceBeat = in
	kick := 1.5 * math.Exp(-in/0.07)
	off := math.Mod(t+m.beat/2, m.beat)
	hat := 0.5 * math.Exp(-off/0.04)
	fall := (48 + 60*math.Exp(-in/0.03)) / m.clock.rate
	for i := range dst {
		m.kick += fall
		if m.kick >= 1 {
			m.kick--
		}
		sin, _ := sinCos(m.kick)
		dst[i] += kick*sin + hat*m.hat.next(m.drums.next())
	}
}

var sineTable = func() (t [tableSize + 1]float64) {
	for i := range t {
		t[i] = math.Sin(2 * math.Pi * float64(i) / tableSize)
	}
	return t
}()

// sinCos reads sine and cosine of a phase in 0..1 from a table.
func sinCos(phase float64) (sin, cos float64) {
	x := phase * tableSize
	i := int(x)
	f := x - float64(i)
	i &= tableSize - 1
	j := (i + tableSize/4) & (tableSize - 1)
	return sineTable[i] + (sineTable[i+1]-sineTable[i])*f, sineTable[j] + (sineTable[j+1]-sineTable[j])*f
}

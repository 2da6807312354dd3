package train

import (
	"math"
	"math/rand/v2"

	"whistlecut/timeline/whistle"
)

const rate = whistle.Rate

// Blast is the truth of one official's blast in a scene.
type Blast struct {
	On, Off float64 // seconds, of the direct sound
	Low, Hi float64 // pitches of its lowest and highest partial while steady, Hz
}

// Scene is a stretch of sound with its truth.
type Scene struct {
	Samples []float32
	Blasts  []Blast
}

// stage collects a scene while it is made.
type stage struct {
	r      *rand.Rand
	n      int
	direct []float64
	send   []float64
	blasts []Blast
}

func within(r *rand.Rand, lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }

func chance(r *rand.Rand, p float64) bool { return r.Float64() < p }

func fromDB(db float64) float64 { return math.Pow(10, db/20) }

// NewScene makes the scene of a seed, some seconds long.
func NewScene(seed uint64, seconds float64) Scene {
	r := rand.New(rand.NewPCG(seed, 77))
	n := int(seconds * rate)
	s := &stage{r: r, n: n, direct: make([]float64, n), send: make([]float64, n)}
	s.officials(seconds)
	s.bystanders(seconds)
	room := newRoom(r)
	wet := room.apply(s.send)
	out := s.direct
	for i := range out {
		out[i] += wet[i]
	}
	s.background(out)
	record(r, out)
	sc := Scene{Samples: make([]float32, n), Blasts: s.blasts}
	for i, x := range out {
		sc.Samples[i] = float32(x)
	}
	return sc
}

// official is one whistle and where its blower stands.
type official struct {
	v      voice
	direct float64
	send   float64
}

// officials lets one to five officials give signals at random.
func (s *stage) officials(seconds float64) {
	r := s.r
	if chance(r, 0.15) {
		return
	}
	var crew []official
	for range 1 + r.IntN(6) {
		loud := fromDB(4 * r.NormFloat64())
		o := official{v: newWhistle(r), direct: loud * fromDB(within(r, -10, 4)), send: loud * fromDB(within(r, -4, 3))}
		if chance(r, 0.06) { // behind someone or far away
			o.direct *= 0.2
		}
		crew = append(crew, o)
	}
	for at := within(r, 0, 2); at < seconds; at += within(r, 0.4, 3) {
		who := r.IntN(len(crew))
		o := crew[who]
		switch k := r.IntN(10); {
		case k < 2:
			at = s.series(o, at, 1, 0.1, 0.5)
		case k < 4:
			at = s.series(o, at, 2, 0.1, 0.35)
		case k < 7:
			first := at
			at = s.series(o, at, 3+r.IntN(3), 0.08, 0.35)
			for _, e := range crew[:r.IntN(len(crew)+1)] {
				if chance(r, 0.75) {
					late := within(r, 0.1, 1.6)
					if chance(r, 0.3) {
						late = within(r, -0.05, 0.3)
					}
					at = max(at, s.series(e, max(0, first+late), 4, 0.1, 0.35))
				}
			}
		case k < 9:
			first := at
			at = s.series(o, at, 1, 0.5, 1.6)
			if other := r.IntN(len(crew)); other != who && chance(r, 0.3) {
				at = max(at, s.series(crew[other], first+within(r, 0, 1), 1, 0.4, 1.2))
			}
		default:
			at = s.series(o, at, 1, 1.4, 3)
		}
	}
}

// series plays n blasts and returns their end.
func (s *stage) series(o official, at float64, n int, lo, hi float64) float64 {
	r := s.r
	length, gap := within(r, lo, hi), within(r, 0.05, 0.28)
	for range n {
		l := length * within(r, 0.85, 1.15)
		if at+l > float64(s.n)/rate {
			return at
		}
		v := o.v
		v.scale *= within(r, 0.985, 1.015)
		v.roll = length > 0.9 && chance(r, 0.7)
		g := fromDB(1.2 * r.NormFloat64())
		on := s.play(v, at, l, g*o.direct, g*o.send)
		low, hi := v.span()
		s.blasts = append(s.blasts, Blast{On: on, Off: at + l, Low: low, Hi: hi})
		at += l + gap*within(r, 0.8, 1.2)
	}
	return at
}

// play adds a voice to the scene; it returns when it is first to be heard.
func (s *stage) play(v voice, at, length, direct, send float64) float64 {
	from := int(math.Ceil(at * rate))
	x := v.sound(s.r, length)
	for i, y := range x {
		if k := from + i; k >= 0 && k < s.n {
			s.direct[k] += direct * y
			s.send[k] += send * y
		}
	}
	return float64(from) / rate
}

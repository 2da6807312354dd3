package whistle

import (
	"math"
	"testing"
)

// sceneOf is a scene of sure candidates at steps and pitches, sorted by steps.
func sceneOf(at ...[2]float64) *scene {
	s := &scene{}
	for _, x := range at {
		s.list = append(s.list, candidate{start: x[0], last: int(x[0]) + 20, hz: x[1], sumHz: x[1], blown: 1})
		s.prior = append(s.prior, 1)
		s.hz = append(s.hz, x[1])
	}
	s.tones = newByPitch(s.hz)
	return s
}

func TestKinship(t *testing.T) {
	// A whistle of two partials, blown at several pitches; another blown at once
	// with it once and alone twice; and the first with its upper partial where
	// another tone hides it.
	s := sceneOf([2]float64{100, 3000}, [2]float64{100, 3300}, [2]float64{102, 2500},
		[2]float64{300, 3030}, [2]float64{301, 3333}, [2]float64{500, 2970}, [2]float64{501, 3267},
		[2]float64{700, 2510}, [2]float64{900, 2490}, [2]float64{1090, 3400}, [2]float64{1100, 3000})
	for _, c := range []struct {
		name               string
		a, b               float64
		both, onlyA, onlyB float64
		apart              float64
	}{
		{"partials of one whistle", 3000, 3300, 2, hiddenFor, 0, 1},
		{"partials, the upper first", 3300, 3000, 2, 0, hiddenFor, 1},
		{"two officials", 3000, 2500, 0, 3, 2, 1},
	} {
		t.Run(c.name, func(t *testing.T) {
			k := s.kin(c.a, c.b, 100)
			if k.both != c.both || k.onlyA != c.onlyA || k.onlyB != c.onlyB {
				t.Errorf("together %g, alone %g and %g; want %g, %g and %g", k.both, k.onlyA, k.onlyB, c.both, c.onlyA, c.onlyB)
			}
			if math.Abs(k.apart-c.apart) > 1e-9 {
				t.Errorf("they begin %g steps from each other, want %g", k.apart, c.apart)
			}
		})
	}
}

// Of two that begin with a candidate the one is taken that it never sounds without,
// though the other is louder.
func TestExplain(t *testing.T) {
	s := sceneOf([2]float64{100, 3000}, [2]float64{100, 3300}, [2]float64{100, 3600},
		[2]float64{300, 3030}, [2]float64{300, 3333}, [2]float64{500, 3000}, [2]float64{500, 3300},
		[2]float64{700, 3600}, [2]float64{900, 3600})
	var x traits
	s.explain(1, 0, &x)
	if want := 8 * math.Log(3300.0/3000); math.Abs(x[46]-want) > 1e-9 {
		t.Errorf("explained by the candidate %g above it, want %g", x[46], want)
	}
	if x[38] > -1 || x[39] > -1 {
		t.Errorf("log odds to be heard alone are %.2f and %.2f, want far below 0", x[38], x[39])
	}
	x = traits{}
	s.explain(7, 0, &x)
	if x[38] != -3 || x[41] != 3 {
		t.Errorf("one that begins alone has an explanation: %v", x[38:])
	}
}

// The pieces of a rolling whistle are one blast; four sure blasts are not, nor are
// blasts with gaps between them.
func TestRoll(t *testing.T) {
	piece := func(start float64, held int) candidate {
		return candidate{start: start, last: int(start) + 60, hz: 3000, held: held}
	}
	roll := []candidate{piece(0, 0), piece(50, 50), piece(100, 100), piece(150, 150)}
	for _, c := range []struct {
		name string
		list []candidate
		conf []float64
		want int // blasts left
	}{
		{"rolling", roll, []float64{0.95, 0.6, 0.2, 0.3}, 1},
		{"sure blasts", roll, []float64{0.95, 0.8, 0.9, 0.9}, 4},
		{"gaps", []candidate{piece(0, 0), piece(64, 0), piece(128, 0), piece(192, 0)}, []float64{0.95, 0.6, 0.2, 0.3}, 2},
		{"short", roll[:2], []float64{0.95, 0.6}, 2},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := &scene{list: append([]candidate(nil), c.list...)}
			s.roll(c.conf)
			n := 0
			for _, x := range c.conf {
				if x >= Least {
					n++
				}
			}
			if n != c.want {
				t.Errorf("%d blasts left, want %d: %v", n, c.want, c.conf)
			}
			if c.want == 1 && s.list[0].last != 210 {
				t.Errorf("the blast ends at step %d", s.list[0].last)
			}
		})
	}
}

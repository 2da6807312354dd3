package sound

import "testing"

// What was measured on recordings in halls (see Parameters) must be among what
// the evaluation family makes: pitches of 2.3 to 4.0 kHz, most below 3.3 kHz, a
// rise of 5 to 10 per cent within about 50 ms, harmonics round -25 and -20 dB,
// pealess whistles and such with a pea.
func TestEvaluationCoversHalls(t *testing.T) {
	r := random(7, "halls", 0)
	const n = 3000
	low, pea, inBand, outside := 0, 0, 0, 0
	var band [17]int // hundreds of Hz from 2.3 to 4.0 kHz
	for range n {
		in := newInstrument(Evaluation, r, 48000)
		hz := in.pitch()
		switch {
		case hz >= 2300 && hz < 4000:
			inBand++
			band[int((hz-2300)/100)]++
		case hz < 1950 || hz > 4700:
			outside++
		}
		if hz < 3300 {
			low++
		}
		if in.model == Pea {
			pea++
			if in.flutter <= 0 || in.flutterWidth <= 0 {
				t.Fatal("a pea that does not flutter")
			}
		}
		if in.rise < 0.045 || in.rise > 0.11 || in.riseTau*3 > 0.08 {
			t.Fatalf("a rise of %.3f in %.3f s", in.rise, in.riseTau*3)
		}
	}
	if low < n/2 || inBand < n*3/4 || outside > n/20 {
		t.Errorf("of %d pitches %d lie below 3.3 kHz, %d in 2.3 to 4.0 kHz, %d outside the search band", n, low, inBand, outside)
	}
	// The families share the pitches out between them: a hundred Hz that one lacks
	// the other has.
	empty := 0
	for i, k := range band {
		if k > 0 {
			continue
		}
		empty++
		if hz := float64(2350 + 100*i); !Tuning.Parameters()[PealessHz].Contains(hz) && !Tuning.Parameters()[PeaHz].Contains(hz) {
			t.Errorf("no whistle round %.0f Hz in either family", hz)
		}
	}
	if empty > 4 {
		t.Errorf("%d of 17 hundreds of Hz are without a whistle", empty)
	}
	if pea < n/4 || pea > n/2 {
		t.Errorf("%d of %d whistles have a pea", pea, n)
	}
	p := Evaluation.Parameters()
	for _, c := range []struct {
		name   Parameter
		lo, hi float64
	}{{SecondDB, -34, -19}, {ThirdDB, -29, -15}} {
		least, most := p[c.name][0].Lo, p[c.name][len(p[c.name])-1].Hi
		if least > c.lo || most < c.hi {
			t.Errorf("%s from %g to %g", c.name, least, most)
		}
	}
}

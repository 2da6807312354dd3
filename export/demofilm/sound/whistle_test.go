package sound

import (
	"encoding/binary"
	"io"
	"math"
	"math/cmplx"
	"strings"
	"testing"
	"time"

	"gonum.org/v1/gonum/dsp/fourier"
	"gonum.org/v1/gonum/dsp/window"
	"whistlecut/timeline"
	"whistlecut/timeline/simulate"
)

// spectrum is the power at n/2+1 frequencies of a Hann-windowed stretch.
func spectrum(x []float64) []float64 {
	n := 1
	for 2*n <= len(x) {
		n *= 2
	}
	part := window.Hann(append([]float64(nil), x[:n]...))
	c := fourier.NewFFT(n).Coefficients(nil, part)
	p := make([]float64, len(c))
	for i, v := range c {
		p[i] = sq(cmplx.Abs(v))
	}
	return p
}

func peak(p []float64, lo, hi, perBin float64) (hz, power float64) {
	for i, v := range p {
		if f := float64(i) * perBin; f >= lo && f < hi && v > power {
			hz, power = f, v
		}
	}
	return hz, power
}

// TestTheEvaluationFamilyIsApart holds it against all families that anything is
// set or taught by.
func TestTheEvaluationFamilyIsApart(t *testing.T) {
	for _, f := range []Family{Tuning, Outer} {
		a, b := f.Parameters(), Evaluation.Parameters()
		if len(a) != len(b) || len(a) < 10 {
			t.Fatalf("%q: %d and %d parameters", f, len(a), len(b))
		}
		for p, ra := range a {
			for _, x := range ra {
				for _, y := range b[p] {
					if x.Lo < y.Hi && y.Lo < x.Hi {
						t.Errorf("%q, %s: %v and %v overlap", f, p, x, y)
					}
				}
			}
			r := random(1, string(p), 0)
			for range 200 {
				if v := ra.draw(r); !ra.Contains(v) || b[p].Contains(v) {
					t.Fatalf("%q, %s: drew %v", f, p, v)
				}
			}
		}
	}
}

// Every official's whistle sounds where its truth says, with its harmonics and
// its rise.
func TestPitch(t *testing.T) {
	for _, f := range []Family{Tuning, Evaluation} {
		t.Run(string(f), func(t *testing.T) {
			s := apart(8, time.Second, 2*time.Second)
			x, st := render(t, s, Options{Family: f, Part: Whistles, Seed: 5})
			models := map[Model]int{}
			for _, b := range st.Truth().Blasts {
				models[b.Model]++
				steady := x[at(b.Onset, 48000)+9600 : at(b.Onset, 48000)+9600+32768]
				p := spectrum(steady)
				perBin := 48000.0 / 32768
				hz, power := peak(p, 1000, 5500, perBin)
				width := 0.02
				if b.Model == Pea {
					width = 0.09 // it flutters between two pitches round this one
				}
				if math.Abs(hz/b.Hz-1) > width {
					t.Errorf("%s %s: strongest at %.0f Hz, truth says %.0f", b.Official, b.Model, hz, b.Hz)
				}
				_, second := peak(p, 1.8*b.Hz, 2.3*b.Hz, perBin)
				if db := 10 * math.Log10(second/power); db < -38 || db > -15 {
					t.Errorf("%s: second harmonic %.1f dB", b.Official, db)
				}
			}
			if models[Pealess] == 0 || models[Pea] == 0 {
				t.Errorf("models %v: want both kinds", models)
			}
		})
	}
}

// The pitch rises by 5 to 10 per cent in the first 50 ms: a pealess whistle of
// one chamber, followed by its zero crossings.
func TestRise(t *testing.T) {
	r := random(1, "rise", 0)
	in := newInstrument(Tuning, r, 48000)
	for in.model != Pealess {
		in = newInstrument(Tuning, r, 48000)
	}
	in.tones, in.breath = in.tones[:1], 0
	x := make([]float64, 48000/2)
	newVoice(blow{instrument: in, length: 0.5, vary: r}, 48000).add(x, 0)
	early, late := crossings(x[240:720]), crossings(x[9600:14400]) // 5..15 ms, 200..300 ms
	if rise := 1 - early/late; rise < 0.02 || rise > 0.09 {
		t.Errorf("pitch at 10 ms is %.1f per cent under the steady one", 100*rise)
	}
	at50 := crossings(x[2160:2640])
	if miss := 1 - at50/late; miss > 0.01 {
		t.Errorf("at 50 ms the pitch still misses %.1f per cent", 100*miss)
	}
}

func crossings(x []float64) float64 {
	first, last, n := -1.0, 0.0, -1
	for i := 1; i < len(x); i++ {
		if x[i-1] < 0 && x[i] >= 0 {
			last = float64(i) - x[i]/(x[i]-x[i-1])
			if first < 0 {
				first = last
			}
			n++
		}
	}
	return float64(n) / (last - first) * 48000
}

// Sound starts at Onset, not before, and is gone at Offset; far officials are
// heard later than they blow.
func TestOnsetAndOffset(t *testing.T) {
	s := apart(10, 300*time.Millisecond, 2*time.Second)
	x, st := render(t, s, Options{Part: Whistles, Seed: 9})
	peakAll := 0.0
	for _, v := range x {
		peakAll = max(peakAll, math.Abs(v))
	}
	for i, b := range st.Truth().Blasts {
		on, off := at(b.Onset, 48000), at(b.Offset, 48000)
		// The recorder's high-pass rings below the threshold.
		for k := off + 100; k < off+4800; k++ {
			if math.Abs(x[k]) > 0.01*peakAll || math.Abs(x[on-1-(k-off)]) > 0.01*peakAll {
				t.Fatalf("blast %d sounds outside its onset and offset", i)
			}
		}
		loud := 0.0
		for _, v := range x[on : on+1440] {
			loud = max(loud, math.Abs(v))
		}
		if loud < 0.1*peakAll {
			t.Errorf("blast %d: only %.3f in its first 30 ms", i, loud)
		}
		way := (b.Onset - b.Blown).Seconds() * soundSpeed / metresPerFoot
		w := s.Whistles[i]
		want := math.Sqrt(sq(w.Pos.X+3) + sq(w.Pos.Y+66) + sq(12))
		if math.Abs(way-want) > 0.2 {
			t.Errorf("blast %d: sound took the way of %.1f ft, want %.1f", i, way, want)
		}
	}
}

func TestRecorderConditions(t *testing.T) {
	s := apart(6, 500*time.Millisecond, 3*time.Second)
	base := Options{Seed: 2}
	clipped := func(o Options) (share float64) {
		x, st := render(t, s, o)
		n, all := 0, 0
		for _, b := range st.Truth().Blasts {
			for _, v := range x[at(b.Onset, 48000):at(b.Offset, 48000)] {
				all++
				if math.Abs(v) > 0.999 {
					n++
				}
			}
		}
		return float64(n) / float64(all)
	}
	if c := clipped(base); c > 0 {
		t.Errorf("%.3f of the samples clip with headroom", c)
	}
	loud := base
	loud.Clip = 9
	if c := clipped(loud); c < 0.2 {
		t.Errorf("only %.3f of a blast's samples clip at 9 dB", c)
	}

	auto := base
	auto.AutoGain = 20
	quietBefore := func(o Options) float64 {
		x, _ := render(t, s, o)
		sum := 0.0
		for _, v := range x[48000:96000] {
			sum += v * v
		}
		return 10 * math.Log10(sum/48000)
	}
	if up := quietBefore(auto) - quietBefore(base); up < 3 || up > 20.5 {
		t.Errorf("automatic gain lifts the quiet by %.1f dB", up)
	}

	gap := base
	gap.Dropouts = []timeline.TimeRange{{Start: time.Second, End: 2 * time.Second}}
	x, _ := render(t, s, gap)
	for i, v := range x {
		if in := i >= 48000 && i < 96000; in != (v == 0) && in {
			t.Fatalf("sample %d sounds in a dropout", i)
		}
	}

	stereo := base
	stereo.Channels, stereo.DeadRight = 2, true
	x, _ = render(t, s, stereo)
	for i := 1; i < len(x); i += 2 {
		if x[i] != 0 {
			t.Fatal("the dead channel sounds")
		}
	}
}

func TestDriftAndStart(t *testing.T) {
	s := apart(20, 300*time.Millisecond, 3*time.Second)
	_, st := render(t, s, Options{Drift: 1000, Start: 9 * time.Second, Length: 30 * time.Second})
	if d := st.Duration() - 30030*time.Millisecond; d.Abs() > time.Millisecond {
		t.Errorf("30 s at +1000 millionths last %v", st.Duration())
	}
	for _, b := range st.Truth().Blasts {
		w := s.Whistles[b.Jam-1]
		want := time.Duration(float64(w.At()-9*time.Second) * 1.001)
		if d := b.Blown - want; d.Abs() > time.Millisecond {
			t.Errorf("jam %d: blown at %v, want %v", b.Jam, b.Blown, want)
		}
	}
	// A later start hears the same.
	o := Options{Part: Whistles, Seed: 4}
	whole, _ := render(t, s, o)
	o.Start = 10 * time.Second
	part, _ := render(t, s, o)
	if c := correlation(whole[480000:480000+len(part)], part); c < 0.999 {
		t.Errorf("whistles from 10 s on correlate by %.4f", c)
	}
	o.Part, o.Music, o.Start = Background, 1, 20*time.Second
	b, _ := render(t, s, o)
	o.Start = 0
	a, _ := render(t, s, o)
	if c := correlation(a[960000:960000+len(b)], b); c < 0.9 {
		t.Errorf("music from 20 s on correlates by %.4f", c)
	}
}

func correlation(a, b []float64) float64 {
	var ab, aa, bb float64
	for i := range b {
		ab += a[i] * b[i]
		aa += a[i] * a[i]
		bb += b[i] * b[i]
	}
	return ab / math.Sqrt(aa*bb)
}

func TestMissingEchoesDecoys(t *testing.T) {
	s := apart(60, 200*time.Millisecond, 2*time.Second)
	for i := range s.Whistles {
		w := &s.Whistles[i]
		w.Blasts = append(w.Blasts, w.Blasts[0], w.Blasts[0], w.Blasts[0])
	}
	st, err := New(s, Options{Missing: 0.3, Echoes: 0.25, Fingers: 10, Squeaks: 20, Neighbour: 5, Seed: 8})
	if err != nil {
		t.Fatal(err)
	}
	tr := st.Truth()
	echoes := 0
	for _, b := range tr.Blasts {
		if b.Echo && b.InSeries == 0 {
			echoes++
		}
	}
	kinds := map[string]int{}
	for _, d := range tr.Decoys {
		kinds[d.What]++
	}
	t.Logf("missing %d, echoes %d, decoys %v", len(tr.Missing), echoes, kinds)
	if len(tr.Missing) < 30 || len(tr.Missing) > 90 { // of about 60 + 105 series
		t.Errorf("%d series are missing", len(tr.Missing))
	}
	if echoes < 40 || echoes > 120 {
		t.Errorf("%d echoes", echoes)
	}
	if kinds["fingers"] < 10 || kinds["squeak"] < 20 || kinds["neighbour"] < 5 {
		t.Errorf("decoys %v in two minutes", kinds)
	}
}

// An official has one whistle: nobody repeats a jam's end while blowing it anyway.
func TestOneWhistleEach(t *testing.T) {
	g := simulate.Play(11, simulate.Options{Periods: 1, Jams: 4})
	s := NewSchedule(g.Whistles(), g.Duration())
	echoes := 0
	for _, chance := range []float64{0, 0.6} {
		st, err := New(s, Options{Echoes: chance, Seed: 11, Rate: 16000})
		if err != nil {
			t.Fatal(err)
		}
		list := st.Truth().Blasts
		for i, b := range list {
			for _, a := range list[:i] {
				if a.Official == b.Official && b.Onset < a.Offset {
					t.Errorf("echoes %g: %s begins to blow at %v and blows until %v", chance, a.Official, b.Onset, a.Offset)
				}
			}
		}
		if n := len(list); chance > 0 && n < echoes+10 {
			t.Errorf("%d blasts with more echoes, %d without", n, echoes)
		} else {
			echoes = n
		}
	}
}

func TestPCM(t *testing.T) {
	s := apart(2, 200*time.Millisecond, time.Second)
	o := Options{Channels: 2, Seed: 6, Rate: 16000}
	x, _ := render(t, s, o)
	st, err := New(s, o)
	if err != nil {
		t.Fatal(err)
	}
	b, err := io.ReadAll(st.PCM())
	if err != nil {
		t.Fatal(err)
	}
	if len(b) != 2*len(x) {
		t.Fatalf("%d bytes for %d samples", len(b), len(x))
	}
	for i, v := range x {
		if got := int16(binary.LittleEndian.Uint16(b[2*i:])); math.Abs(float64(got)-v*32767) > 0.51 {
			t.Fatalf("sample %d: %d for %v", i, got, v)
		}
	}
}

func TestOptionsAreChecked(t *testing.T) {
	s := apart(2, time.Second, 2*time.Second)
	for _, c := range []struct {
		name, says string
		o          Options
	}{
		{"shares over 1", "together", Options{Music: 0.6, Announcer: 0.6}},
		{"rate", "Rate", Options{Rate: 4000}},
		{"reverberation", "reverberation", Options{Reverb: time.Minute}},
		{"start after the end", "empty", Options{Start: time.Hour}},
		{"family", "family", Options{Family: "mine"}},
		{"no number", "Drift", Options{Drift: math.NaN()}},
	} {
		t.Run(c.name, func(t *testing.T) {
			if _, err := New(s, c.o); err == nil || !strings.Contains(err.Error(), c.says) {
				t.Errorf("error %v; want one about %q", err, c.says)
			}
		})
	}
}

// A hall without a whistle still sounds, at a sensible level.
func TestNobodyWhistles(t *testing.T) {
	x, st := render(t, Schedule{Length: 10 * time.Second}, Options{Music: 1, Reverb: time.Second})
	if n := len(st.Truth().Blasts); n != 0 || st.Duration() != 10*time.Second {
		t.Errorf("%d blasts in %v", n, st.Duration())
	}
	sum, most := 0.0, 0.0
	for _, v := range x {
		sum += v * v
		most = max(most, math.Abs(v))
	}
	if rms := toDB(math.Sqrt(sum / float64(len(x)))); rms < -40 || rms > -10 || most >= 1 {
		t.Errorf("music at %.1f dB, peak %.2f", rms, most)
	}
}

package align_test

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"whistlecut/timeline/align"
	"whistlecut/timeline/whistle"
)

// camera is what one of two cameras hears of the blasts of a bout: some missed,
// some of its own, onsets a little off, its clock shifted and drifting.
func cameraHears(r *rand.Rand, truth []whistle.Blast, offset, drift, miss float64, noise int) []whistle.Blast {
	var out []whistle.Blast
	for _, b := range truth {
		at := (b.Start.Seconds() - offset) / (1 + drift)
		if at < 0 || r.Float64() < miss {
			continue
		}
		at += r.NormFloat64() * 0.015
		out = append(out, whistle.Blast{Start: time.Duration(at * 1e9), Hz: b.Hz * (1 + 0.01*r.NormFloat64()), Confidence: 0.5 + 0.5*r.Float64()})
	}
	last := truth[len(truth)-1].Start.Seconds()
	for range noise {
		out = append(out, whistle.Blast{Start: time.Duration(r.Float64() * last * 1e9), Hz: 2300 + 1700*r.Float64(), Confidence: 0.2 + 0.5*r.Float64()})
	}
	return out
}

func blasts(seed uint64) []whistle.Blast {
	var out []whistle.Blast
	for _, w := range game(seed).Whistles() {
		hz := 2400 + float64(len(w.By)*97%1400)
		for _, b := range w.Blasts {
			out = append(out, whistle.Blast{Start: b.Start, End: b.End, Hz: hz, Confidence: 0.9})
		}
	}
	return out
}

func TestInStep(t *testing.T) {
	frame := 1.0 / 30
	for _, c := range []struct {
		name          string
		offset, drift float64
		miss          float64
		noise         int
	}{
		{"the same clock", 0, 0, 0.1, 20},
		{"started later", 734.27, 0, 0.2, 60},
		{"started earlier, drifting", -95.5, 60e-6, 0.3, 120},
		{"fast clock, hard hall", 12.345, -120e-6, 0.5, 300},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := rand.New(rand.NewPCG(7, 7))
			truth := blasts(1)
			a := cameraHears(r, truth, 0, 0, c.miss, c.noise)
			b := cameraHears(r, truth, c.offset, c.drift, c.miss, c.noise)
			step, ok := align.InStep(a, b)
			if !ok {
				t.Fatalf("not in step: %+v", step)
			}
			for _, at := range []float64{0, 1800, 3600} {
				second := time.Duration((at - c.offset) / (1 + c.drift) * 1e9)
				if d := math.Abs(step.First(second).Seconds() - at); d > frame {
					t.Errorf("at %.0f s: %.0f ms off", at, d*1000)
				}
				if back := step.Second(step.First(second)); (back - second).Abs() > time.Microsecond {
					t.Errorf("there and back: %v became %v", second, back)
				}
			}
			t.Logf("%+v", step)
		})
	}
}

func TestInStepOfDifferentBouts(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 8))
	step, ok := align.InStep(cameraHears(r, blasts(1), 0, 0, 0.1, 40), cameraHears(r, blasts(2), 0, 0, 0.1, 40))
	if ok {
		t.Errorf("two different bouts are said to be in step: %+v", step)
	}
	if _, ok := align.InStep(nil, blasts(1)); ok {
		t.Error("in step with silence")
	}
}

// hallSound is broad noise with a tone, the same on both sides but for a shift by
// a part of a sample, own noise and own loudness.
func hallSound(r *rand.Rand, n, rate int, shift, noise float64) (a, b []float32) {
	type part struct{ hz, amp, phase float64 }
	var parts []part
	for range 300 {
		parts = append(parts, part{320 + 6500*r.Float64(), r.NormFloat64() / 20, 6.28 * r.Float64()})
	}
	at := func(t float64) float64 {
		x := 0.0
		for _, p := range parts {
			x += p.amp * math.Sin(6.283185307*p.hz*t+p.phase)
		}
		return x
	}
	a, b = make([]float32, n), make([]float32, n)
	for i := range n {
		t := float64(i) / float64(rate)
		a[i] = float32(at(t) + noise*r.NormFloat64())
		b[i] = float32(0.3*at(t-shift) + 0.3*noise*r.NormFloat64())
	}
	return a, b
}

func TestShift(t *testing.T) {
	const rate = 16000
	r := rand.New(rand.NewPCG(9, 9))
	for _, ms := range []float64{0, 3.27, -41.6, 120.05} {
		a, b := hallSound(r, rate, rate, ms/1000, 0.2)
		shift, sharp := align.Shift(a, b, rate, 250*time.Millisecond)
		if d := math.Abs(shift.Seconds()*1000 - ms); d > 0.5 {
			t.Errorf("shift of %.2f ms read as %v (sharpness %.1f)", ms, shift, sharp)
		}
		if sharp < 6 {
			t.Errorf("shift of %.2f ms: sharpness only %.1f", ms, sharp)
		}
	}
	a, _ := hallSound(r, rate, rate, 0, 0.2)
	_, b := hallSound(r, rate, rate, 0, 0.2)
	if _, sharp := align.Shift(a, b, rate, 250*time.Millisecond); sharp > 5.4 {
		t.Errorf("different sounds: sharpness %.1f", sharp)
	}
	if _, sharp := align.Shift(nil, b, rate, time.Second); sharp != 0 {
		t.Errorf("no sound: sharpness %.1f", sharp)
	}
}

func TestRefine(t *testing.T) {
	const rate = 16000
	r := rand.New(rand.NewPCG(10, 10))
	// The true step is 35 ms and 40 parts in a million off what blasts gave.
	rough := align.Step{Offset: 100 * time.Second, Scale: 1, Matched: 20, Confidence: 0.9}
	var windows []align.Window
	for i := range 8 {
		second := time.Duration(i) * 300 * time.Second
		// The second plays what the first plays at its beginning later by this.
		late := (rough.First(second).Seconds() - 100.035 - second.Seconds()*(1+40e-6))
		a, b := hallSound(r, rate/2, rate, late, 0.3)
		windows = append(windows, align.Window{Second: second, First: a, Sample: b, Rate: rate})
	}
	got := align.Refine(rough, windows)
	for _, at := range []float64{0, 1000, 2100} {
		want := 100.035 + at*(1+40e-6)
		if d := math.Abs(got.First(time.Duration(at*1e9)).Seconds() - want); d > 0.004 {
			t.Errorf("at %.0f s: %.1f ms off after refining", at, d*1000)
		}
	}
}

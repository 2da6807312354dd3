package train

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"os"
	"testing"
)

func TestFiltersAgreeWithScipy(t *testing.T) {
	raw, err := os.ReadFile("../testdata/spectra.json")
	if err != nil {
		t.Fatal(err)
	}
	var ref struct {
		Filters struct {
			X     []float64
			Cases []struct {
				Kind        string
				Hz, Q, Gain float64
				Y           []float64
			}
		}
	}
	if err := json.Unmarshal(raw, &ref); err != nil {
		t.Fatal(err)
	}
	if len(ref.Filters.Cases) == 0 {
		t.Fatal("no reference filters")
	}
	for _, c := range ref.Filters.Cases {
		q := peaking(c.Hz, c.Q, c.Gain)
		switch c.Kind {
		case "lowpass":
			q = lowpass(c.Hz, c.Q)
		case "highpass":
			q = highpass(c.Hz, c.Q)
		}
		for i, x := range ref.Filters.X {
			if y := q.next(x); math.Abs(y-c.Y[i]) > 1e-9 {
				t.Fatalf("%s at %g Hz: sample %d is %g, scipy has %g", c.Kind, c.Hz, i, y, c.Y[i])
			}
		}
	}
}

func TestConvolutionAgreesWithSum(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	m := &room{h: make([]float64, 37)}
	x := make([]float64, 100)
	for i := range m.h {
		m.h[i] = r.NormFloat64()
	}
	for i := range x {
		x[i] = r.NormFloat64()
	}
	for i, y := range m.apply(x) {
		want := 0.0
		for k, h := range m.h {
			if i >= k {
				want += h * x[i-k]
			}
		}
		if math.Abs(y-want) > 1e-9 {
			t.Fatalf("sample %d is %g, the plain sum is %g", i, y, want)
		}
	}
}

func TestSceneIsRepeatable(t *testing.T) {
	a, b := NewScene(5, 4), NewScene(5, 4)
	if len(a.Samples) != 4*rate || len(a.Blasts) != len(b.Blasts) {
		t.Fatalf("%d samples, %d and %d blasts", len(a.Samples), len(a.Blasts), len(b.Blasts))
	}
	for i := range a.Samples {
		if a.Samples[i] != b.Samples[i] {
			t.Fatalf("sample %d differs", i)
		}
		if math.IsNaN(float64(a.Samples[i])) || math.Abs(float64(a.Samples[i])) > 1 {
			t.Fatalf("sample %d is %g", i, a.Samples[i])
		}
	}
}

// The gradient by which the judge is taught, against differences of the loss.
func TestGradient(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	tc := newTeacher(r, 3, 2)
	e := Example{On: 1, Onset: 0.3}
	for i := range e.In {
		e.In[i] = float32(r.NormFloat64())
	}
	loss := func() float64 { return tc.loss([]Example{e}) }
	tc.learn(&e, rand.New(rand.NewPCG(1, 1)))
	// learn shakes the inputs a little: measure at the same place.
	copy(e.In[:], tc.in[:])
	for k := 0; k < tc.n; k += 97 {
		const h = 1e-2
		was := tc.w[k]
		tc.w[k] = was + h
		up := loss()
		tc.w[k] = was - h
		down := loss()
		tc.w[k] = was
		want := (up - down) / (2 * h)
		if math.Abs(want-float64(tc.g[k])) > 0.02+0.05*math.Abs(want) {
			t.Errorf("weight %d: gradient %g, differences give %g", k, tc.g[k], want)
		}
	}
}

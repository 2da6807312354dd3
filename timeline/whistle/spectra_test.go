package whistle

import (
	"encoding/json"
	"math"
	"os"
	"testing"
)

func TestSpectraAgreeWithScipy(t *testing.T) {
	raw, err := os.ReadFile("testdata/spectra.json")
	if err != nil {
		t.Fatal(err)
	}
	var ref struct {
		Window []float64
		Cases  []struct {
			Name     string
			X, Power []float64
		}
	}
	if err := json.Unmarshal(raw, &ref); err != nil {
		t.Fatal(err)
	}
	if len(ref.Window) != window || len(ref.Cases) < 5 {
		t.Fatalf("reference has %d window values and %d cases", len(ref.Window), len(ref.Cases))
	}
	for i, w := range hann(window) {
		if math.Abs(w-ref.Window[i]) > 1e-12 {
			t.Fatalf("window[%d] = %g, scipy has %g", i, w, ref.Window[i])
		}
	}
	for _, c := range ref.Cases {
		t.Run(c.Name, func(t *testing.T) {
			x := make([]float32, window)
			for i := range x {
				x[i] = float32(c.X[i])
			}
			got := make([]float64, bins)
			newSpectrum(window).power(got, x)
			// The two ends have no twin below zero and above half the rate; scipy
			// counts them once, here nothing depends on them.
			for k := 1; k < bins-1; k++ {
				if math.Abs(got[k]-c.Power[k]) > 1e-10*(1+c.Power[k]) {
					t.Fatalf("bin %d: power %g, scipy has %g", k, got[k], c.Power[k])
				}
			}
		})
	}
}

package app

import (
	"bytes"
	"encoding/binary"
	"io"
	"math"
	"testing"
)

// TestMono mixes two channels of which one may be dead or wired the wrong way.
func TestMono(t *testing.T) {
	tone := func(i int) float64 { return 0.5 * math.Sin(float64(i)*0.9) }
	for _, c := range []struct {
		name        string
		left, right func(i int) float64
		want        float64 // amplitude of the mix
		noted       bool
	}{
		{"both alike", tone, tone, 0.5, false},
		{"left dead", func(int) float64 { return 0 }, tone, 0.5, true},
		{"right dead", tone, func(int) float64 { return 0 }, 0.5, true},
		{"right hums at the noise of 16 bits", tone, func(i int) float64 { return float64(i%2) / 32768 }, 0.5, true},
		{"cancelling", tone, func(i int) float64 { return -tone(i) }, 0.5, true},
		{"both dead", func(int) float64 { return 0 }, func(int) float64 { return 0 }, 0, true},
	} {
		t.Run(c.name, func(t *testing.T) {
			const n = 3*monoBlock + 17
			var in bytes.Buffer
			for i := range n {
				for _, x := range []float64{c.left(i), c.right(i)} {
					in.Write(binary.LittleEndian.AppendUint32(nil, math.Float32bits(float32(x))))
				}
			}
			m := newMono(&in, 2)
			out, err := io.ReadAll(m)
			if err != nil {
				t.Fatal(err)
			}
			if len(out) != 4*n {
				t.Fatalf("%d samples became %d", n, len(out)/4)
			}
			peak := 0.0
			for i := range n {
				peak = max(peak, math.Abs(float64(math.Float32frombits(binary.LittleEndian.Uint32(out[4*i:])))))
			}
			if math.Abs(peak-c.want) > 0.01 {
				t.Errorf("the mix peaks at %.3f, want %.3f", peak, c.want)
			}
			if got := m.note() != "" || c.name == "both dead"; got != c.noted {
				t.Errorf("note %q", m.note())
			}
		})
	}
}

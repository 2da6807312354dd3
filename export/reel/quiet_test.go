package reel

import (
	"bytes"
	"encoding/binary"
	"testing"
	"time"
)

// TestHushed: full sound up to the fade, less and less in it, nothing from the film
// time on, at any speed and however the samples come in.
func TestHushed(t *testing.T) {
	const loud = 10000
	for _, c := range []struct {
		name  string
		leg   leg
		quiet time.Duration
		at    int64 // sample from which on there is silence
	}{
		{"in the leg", leg{from: 2 * time.Second, to: 4 * time.Second, rate: 1}, 3 * time.Second, soundRate},
		{"at half speed", leg{from: 2 * time.Second, to: 4 * time.Second, rate: 0.5}, 3 * time.Second, 2 * soundRate},
		{"before the leg", leg{from: 2 * time.Second, to: 4 * time.Second, rate: 1}, time.Second, 0},
		{"behind the leg", leg{from: 2 * time.Second, to: 4 * time.Second, rate: 1}, 9 * time.Second, 7 * soundRate},
		{"never", leg{from: 2 * time.Second, to: 4 * time.Second, rate: 1}, 0, 1 << 40},
	} {
		t.Run(c.name, func(t *testing.T) {
			var out bytes.Buffer
			w := hushed(&out, c.quiet, c.leg)
			one := binary.LittleEndian.AppendUint16(binary.LittleEndian.AppendUint16(nil, loud), loud)
			const total = 4 * soundRate
			for n := 0; n < total; n += 1000 {
				if _, err := w.Write(bytes.Repeat(one, 1000)); err != nil {
					t.Fatal(err)
				}
			}
			fade := int64(quietFade.Seconds() / c.leg.rate * soundRate)
			last := uint16(loud)
			for n := range int64(total) {
				v := binary.LittleEndian.Uint16(out.Bytes()[n*sampleBytes:])
				switch {
				case n >= c.at && v != 0, n < c.at-fade && v != loud, v > last:
					t.Fatalf("sample %d is %d, silence begins at %d", n, v, c.at)
				}
				last = v
			}
		})
	}
}

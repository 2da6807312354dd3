package bench

import (
	"encoding/binary"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
)

const soundRate = 48000

// clickTimes are the times in seconds of clicks at uneven distances, so that a
// clip's sound can't be taken for another stretch of the film.
func clickTimes(seconds float64) []float64 {
	r := rand.New(rand.NewPCG(7, 7))
	var out []float64
	for t := 0.31; t < seconds-0.05; t += 0.35 + 0.6*r.Float64() {
		out = append(out, t)
	}
	return out
}

// writeClicks writes a WAV file with a click at each time.
func writeClicks(path string, seconds float64, times []float64) error {
	n := int(seconds * soundRate)
	data := make([]int16, n)
	for _, t := range times {
		from := int(t * soundRate)
		for i := range soundRate * 6 / 1000 {
			if from+i < n {
				data[from+i] = int16(26000 * math.Sin(2*math.Pi*2500*float64(i)/soundRate))
			}
		}
	}
	b := []byte("RIFF")
	le := binary.LittleEndian
	b = le.AppendUint32(b, uint32(36+2*n))
	b = append(b, "WAVEfmt "...)
	b = le.AppendUint32(b, 16)
	b = le.AppendUint16(le.AppendUint16(b, 1), 1)
	b = le.AppendUint32(le.AppendUint32(b, soundRate), 2*soundRate)
	b = le.AppendUint16(le.AppendUint16(b, 2), 16)
	b = append(b, "data"...)
	b = le.AppendUint32(b, uint32(2*n))
	for _, v := range data {
		b = le.AppendUint16(b, uint16(v))
	}
	return os.WriteFile(path, b, 0o666)
}

// findClicks gives the times in seconds at which clicks start in 16-bit mono
// sound.
func findClicks(pcm []byte) []float64 {
	const threshold = 9000
	var out []float64
	quiet := soundRate
	for i := 0; i+1 < len(pcm); i += 2 {
		v := int(int16(binary.LittleEndian.Uint16(pcm[i:])))
		if v > threshold || v < -threshold {
			if quiet > soundRate/10 {
				out = append(out, float64(i/2)/soundRate)
			}
			quiet = 0
		} else {
			quiet++
		}
	}
	return out
}

// soundOffset compares found clicks with those expected between two times; both
// in seconds of the film, from is where the clip starts. It returns the largest
// offset and says what is missing or too many. Clicks close to the ends don't
// count: they are cut.
func soundOffset(found, expected []float64, from, to float64) (worst float64, err error) {
	const edge = 0.03
	used := map[int]bool{}
	for _, t := range expected {
		if t < from+edge || t > to-edge {
			continue
		}
		best := -1
		for i, f := range found {
			if best < 0 || math.Abs(f+from-t) < math.Abs(found[best]+from-t) {
				best = i
			}
		}
		if best < 0 || math.Abs(found[best]+from-t) > 0.1 {
			return worst, fmt.Errorf("the click at %.3f s is missing", t)
		}
		used[best] = true
		if d := found[best] + from - t; math.Abs(d) > math.Abs(worst) {
			worst = d
		}
	}
	for i, f := range found {
		if !used[i] && f > edge && f < to-from-edge {
			near := false
			for _, t := range expected {
				near = near || math.Abs(f+from-t) < 0.1
			}
			if !near {
				return worst, fmt.Errorf("a click at %.3f s of the clip is not in the film", f)
			}
		}
	}
	return worst, nil
}

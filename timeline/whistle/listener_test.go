package whistle_test

import (
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"pgregory.net/rapid"

	"whistlecut/timeline/whistle"
)

func hear(t *testing.T, x []float32) whistle.Result {
	t.Helper()
	l := whistle.New(whistle.Options{})
	if err := l.Write(x); err != nil {
		t.Fatal(err)
	}
	r, err := l.Close()
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// tweet adds a whistle of two close tones that rise to their pitch.
func tweet(x []float32, at, length, hz, level float64) {
	from := int(at * whistle.Rate)
	p1, p2 := 0.0, 0.0
	for i := range int(length * whistle.Rate) {
		t := float64(i) / whistle.Rate
		bend := 1 - 0.07*math.Exp(-t/0.015)
		p1 += hz * bend / whistle.Rate
		p2 += (hz + 130) * bend / whistle.Rate
		env := level * min(1, t/0.01) * min(1, (length-t)/0.02)
		x[from+i] += float32(env * (math.Sin(2*math.Pi*p1) + 0.6*math.Sin(2*math.Pi*p2)))
	}
}

func noise(seconds, level float64) []float32 {
	r := rand.New(rand.NewPCG(9, 9))
	x := make([]float32, int(seconds*whistle.Rate))
	for i := range x {
		x[i] = float32(level * r.NormFloat64())
	}
	return x
}

// signals plays one short, two short, four short and one long.
func signals(level, background float64) []float32 {
	x := noise(12, background)
	tweet(x, 1, 0.25, 2800, level)
	for k := range 2 {
		tweet(x, 3+0.32*float64(k), 0.2, 2800, level)
	}
	for k := range 4 {
		tweet(x, 5+0.32*float64(k), 0.2, 2800, level)
	}
	tweet(x, 9, 1.1, 3100, level)
	return x
}

func TestHearsSignals(t *testing.T) {
	want := []whistle.Kind{whistle.Short, whistle.Pair, whistle.Four, whistle.Long}
	starts := []float64{1, 3, 5, 9}
	scale := func(g float32) func([]float32) []float32 {
		return func(x []float32) []float32 {
			for i := range x {
				x[i] = max(-1, min(1, x[i]*g))
			}
			return x
		}
	}
	for _, c := range []struct {
		name   string
		change func([]float32) []float32
	}{
		{"as it is", scale(1)},
		{"one dead channel mixed in: half the level", scale(0.5)},
		{"very quiet", scale(0.01)},
		{"clipped", scale(12)},
		{"telephone: nothing above 3.7 kHz", telephone},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := hear(t, c.change(signals(0.2, 0.01)))
			if len(r.Series) != len(want) {
				t.Fatalf("heard %d series %v, want %v", len(r.Series), r.Series, want)
			}
			for i, s := range r.Series {
				if s.Kind != want[i] {
					t.Errorf("series %d is %s, want %s", i, s.Kind, want[i])
				}
				if d := s.Start.Seconds() - starts[i]; math.Abs(d) > 0.03 {
					t.Errorf("series %d begins %.0f ms off", i, d*1000)
				}
			}
		})
	}
}

// telephone leaves out what is above 3.7 kHz, by a windowed ideal filter.
func telephone(x []float32) []float32 {
	const half = 100
	var h [2*half + 1]float64
	for i := range h {
		n := float64(i - half)
		v := 2 * 3700.0 / whistle.Rate
		if n != 0 {
			v = math.Sin(2*math.Pi*3700/whistle.Rate*n) / (math.Pi * n)
		}
		h[i] = v * (0.5 + 0.5*math.Cos(math.Pi*n/(half+1)))
	}
	out := make([]float32, len(x))
	for i := range x {
		s := 0.0
		for k, w := range h {
			if j := i + half - k; j >= 0 && j < len(x) {
				s += w * float64(x[j])
			}
		}
		out[i] = float32(s)
	}
	return out
}

func TestSilence(t *testing.T) {
	for _, c := range []struct {
		name string
		x    []float32
	}{
		{"nothing", nil},
		{"zeros", make([]float32, 5*whistle.Rate)},
		{"below one step of 16 bits", noise(3, 0.000003)},
	} {
		r := hear(t, c.x)
		if !r.Silent || len(r.Blasts) != 0 {
			t.Errorf("%s: silent %v, %d blasts", c.name, r.Silent, len(r.Blasts))
		}
	}
	if r := hear(t, noise(5, 0.05)); r.Silent || len(r.Blasts) != 0 {
		t.Errorf("noise: silent %v, %d blasts", r.Silent, len(r.Blasts))
	}
}

func TestClippedIsReported(t *testing.T) {
	if r := hear(t, noise(2, 3)); r.Clipped < 0.5 {
		t.Errorf("share of clipped samples is %.2f", r.Clipped)
	}
}

// Steady tones, as a machine or an organ makes them, are no officials.
func TestSteadyToneIsNotAWhistle(t *testing.T) {
	x := noise(30, 0.005)
	for i := range x {
		s := math.Sin(2 * math.Pi * 440 * float64(i) / whistle.Rate)
		for k := 2.0; k < 8; k++ {
			s += math.Sin(2*math.Pi*440*k*float64(i)/whistle.Rate) / k
		}
		x[i] += float32(0.1 * s)
	}
	for _, s := range hear(t, x).Series {
		if s.Start > time.Second && s.Confidence > 0.3 {
			t.Errorf("heard %s at %v with confidence %.2f", s.Kind, s.Start, s.Confidence)
		}
	}
}

// However the samples are cut into writes, the same is heard.
func TestPiecesDoNotMatter(t *testing.T) {
	x := signals(0.2, 0.02)
	whole := hear(t, x)
	l := whistle.New(whistle.Options{})
	for len(x) > 0 {
		n := min(len(x), 777)
		if err := l.Write(x[:n]); err != nil {
			t.Fatal(err)
		}
		x = x[n:]
	}
	pieces, err := l.Close()
	if err != nil {
		t.Fatal(err)
	}
	if len(pieces.Blasts) != len(whole.Blasts) {
		t.Fatalf("%d blasts in pieces, %d in one", len(pieces.Blasts), len(whole.Blasts))
	}
	for i := range whole.Blasts {
		if pieces.Blasts[i] != whole.Blasts[i] {
			t.Errorf("blast %d: %+v, %+v", i, pieces.Blasts[i], whole.Blasts[i])
		}
	}
	if err := l.Write([]float32{0}); err == nil {
		t.Error("a closed listener took more sound")
	}
	if _, err := l.Close(); err == nil {
		t.Error("a closed listener closed again")
	}
}

func TestListen(t *testing.T) {
	var raw bytes.Buffer
	for _, x := range signals(0.2, 0.01) {
		_ = binary.Write(&raw, binary.LittleEndian, x)
	}
	last := 0.0
	r, err := whistle.ListenWith(context.Background(), bytes.NewReader(raw.Bytes()), 12*time.Second, func(d float64) { last = d }, whistle.Options{})
	if err != nil || len(r.Series) != 4 || last != 1 || r.Length != 12*time.Second {
		t.Errorf("heard %d series in %v, progress %g, error %v", len(r.Series), r.Length, last, err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := whistle.ListenWith(ctx, bytes.NewReader(raw.Bytes()), 0, nil, whistle.Options{}); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled listening ended with %v", err)
	}
	bad := errors.New("torn")
	if _, err := whistle.ListenWith(context.Background(), failing{bad}, 0, nil, whistle.Options{}); !errors.Is(err, bad) {
		t.Errorf("a failing reader gave %v", err)
	}
}

type failing struct{ err error }

func (f failing) Read([]byte) (int, error) { return 0, f.err }

// Whatever the samples are, results are sound: no panic, times in order and in
// range, probabilities in 0..1.
func TestAnySamples(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(0, 30000).Draw(t, "n")
		kind := rapid.IntRange(0, 4).Draw(t, "kind")
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
		x := make([]float32, n)
		for i := range x {
			switch kind {
			case 0:
				x[i] = math.Float32frombits(r.Uint32())
			case 1:
				x[i] = float32(r.NormFloat64())
			case 2:
				x[i] = float32(math.Sin(float64(i) * 1.1 * float64(i%4000) / 4000))
			case 3:
				x[i] = float32(math.Inf(1 - 2*(i%2)))
			case 4:
				x[i] = float32(math.Sin(float64(i)) * float64(i/3000%2))
			}
		}
		l := whistle.New(whistle.Options{Least: 1e-9})
		if err := l.Write(x); err != nil {
			t.Fatal(err)
		}
		res, err := l.Close()
		if err != nil {
			t.Fatal(err)
		}
		p := func(what string, v float64) {
			if !(v >= 0 && v <= 1) {
				t.Fatalf("%s is %g", what, v)
			}
		}
		p("clipped", res.Clipped)
		before := time.Duration(0)
		for _, b := range res.Blasts {
			p("confidence", b.Confidence)
			if b.Start < before || b.End < b.Start || b.End > res.Length || math.IsNaN(b.Hz+b.Level+b.Contrast) {
				t.Fatalf("blast %+v after %v in %v", b, before, res.Length)
			}
			before = b.Start
		}
		for _, s := range res.Series {
			p("confidence", s.Confidence)
			sum := 0.0
			for _, v := range s.Likely {
				p("likely", v)
				sum += v
			}
			if math.Abs(sum-1) > 1e-6 {
				t.Fatalf("kinds sum to %g", sum)
			}
			for _, i := range s.Blasts {
				if i < 0 || i >= len(res.Blasts) {
					t.Fatalf("series names blast %d of %d", i, len(res.Blasts))
				}
			}
		}
	})
}

func BenchmarkListener(b *testing.B) {
	x := signals(0.2, 0.02)
	b.SetBytes(int64(4 * len(x)))
	for b.Loop() {
		l := whistle.New(whistle.Options{})
		_ = l.Write(x)
		_, _ = l.Close()
	}
	b.ReportMetric(12*float64(b.N)/b.Elapsed().Seconds(), "x-real-time")
}

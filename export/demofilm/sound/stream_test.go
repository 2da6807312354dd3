package sound

import (
	"errors"
	"fmt"
	"io"
	"math"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"whistlecut/timeline"
	"whistlecut/timeline/simulate"
)

// apart is a schedule of single blasts far enough apart to be measured alone.
func apart(n int, length, every time.Duration) Schedule {
	var ws []simulate.Whistle
	for k := range n {
		at := time.Duration(k+1) * every
		ws = append(ws, simulate.Whistle{
			Kind: simulate.WhistlePenalty, By: simulate.Crew[k%8],
			Pos:    simulate.Point{X: float64(k%5)*12 - 24, Y: float64(k%3)*20 - 20},
			Blasts: []timeline.TimeRange{{Start: at, End: at + length}},
			Period: 1, Jam: k + 1,
		})
	}
	return Schedule{Whistles: ws, Length: time.Duration(n+2) * every}
}

func readAll(t testing.TB, s *Stream) []float64 {
	t.Helper()
	var out []float64
	buf := make([]float32, 10000*s.Channels())
	for {
		n, err := s.Read(buf)
		for _, x := range buf[:n] {
			out = append(out, float64(x))
		}
		if errors.Is(err, io.EOF) {
			return out
		}
		if err != nil {
			t.Fatal(err)
		}
	}
}

func render(t testing.TB, s Schedule, o Options) ([]float64, *Stream) {
	t.Helper()
	st, err := New(s, o)
	if err != nil {
		t.Fatal(err)
	}
	return readAll(t, st), st
}

func at(d time.Duration, rate int) int { return int(math.Round(d.Seconds() * float64(rate))) }

// The signal-to-background ratio is what was asked for, in dry and live halls,
// for every mixture of the background.
func TestSignalToBackground(t *testing.T) {
	for _, c := range []struct {
		name string
		o    Options
	}{
		{"20 dB over a dry crowd", Options{}},
		{"10 dB over music, network room", Options{Signal: 10, Reverb: time.Second, Music: 0.5, Announcer: 0.1, Skates: 0.1}},
		{"0 dB, convolved room", Options{Level: true, Family: Evaluation, Reverb: 2 * time.Second, Music: 0.3, Announcer: 0.3, Skates: 0.2, Spread: 3}},
		{"-5 dB, announcer alone, stereo", Options{Signal: -5, Channels: 2, Announcer: 1}},
		{"6 dB, music alone", Options{Signal: 6, Music: 1, Family: Evaluation}},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := apart(20, 600*time.Millisecond, 4500*time.Millisecond)
			want := c.o.withDefaults(s).Signal
			c.o.Seed = 3
			c.o.Part = Whistles
			wet, st := render(t, s, c.o)
			c.o.Part = Background
			noise, _ := render(t, s, c.o)
			ch := st.Channels()
			mean := 0.0
			for _, b := range st.Truth().Blasts {
				part := wet[at(b.Onset, st.Rate())*ch : at(b.Offset, st.Rate())*ch]
				mean += 10 * math.Log10(channelPower(part, ch, st.Rate())) / float64(len(st.Truth().Blasts))
			}
			got := mean - 10*math.Log10(channelPower(noise, ch, st.Rate()))
			t.Logf("asked %.1f dB, measured %.2f dB", want, got)
			if math.Abs(got-want) > 1 {
				t.Errorf("signal to background is %.2f dB, asked for %.1f", got, want)
			}
		})
	}
}

func channelPower(x []float64, channels, rate int) float64 {
	sum := 0.0
	for ch := range channels {
		var one []float64
		for i := ch; i < len(x); i += channels {
			one = append(one, x[i])
		}
		sum += BandPower(one, rate) / float64(channels)
	}
	return sum
}

// The hall dies away as asked: Schroeder's backward integral (1965), from -5 to
// -35 dB, in the whistle band.
func TestReverberationTime(t *testing.T) {
	for _, f := range []Family{Tuning, Evaluation} {
		for _, rt := range []float64{0.3, 1, 2, 3} {
			t.Run(fmt.Sprintf("%q %.1f s", f, rt), func(t *testing.T) {
				r, _ := newRoom(Options{Family: f, Reverb: seconds(rt), Rate: 48000, Channels: 2})
				for ch := range 2 {
					r.reset()
					got := decay(r, rt, ch, 48000)
					t.Logf("channel %d: asked %.2f s, measured %.3f s", ch, rt, got)
					if math.Abs(got-rt) > 0.15*rt {
						t.Errorf("channel %d: reverberation %.3f s, asked for %.2f", ch, got, rt)
					}
				}
			})
		}
	}
}

func decay(r room, rt float64, ch, rate int) float64 {
	n := int(rt * 1.3 * float64(rate))
	in := make([]float64, blockSize)
	in[0] = 1
	f := newBandFilter(rate)
	var e []float64
	for len(e) < n {
		out := [][]float64{make([]float64, blockSize), make([]float64, blockSize)}
		r.process(in, out)
		in[0] = 0
		for _, x := range out[ch] {
			y := f.next(x)
			e = append(e, y*y)
		}
	}
	for i := len(e) - 2; i >= 0; i-- {
		e[i] += e[i+1]
	}
	cross := func(db float64) float64 {
		for i := range e {
			if e[i] < e[0]*math.Pow(10, db/10) {
				return float64(i) / float64(rate)
			}
		}
		return math.Inf(1)
	}
	return 2 * (cross(-35) - cross(-5))
}

func TestSameSeedSameSound(t *testing.T) {
	s := apart(3, 300*time.Millisecond, 3*time.Second)
	o := Graded(Middle, Evaluation, 11)
	a, sa := render(t, s, o)
	b, sb := render(t, s, o)
	if len(a) != len(b) {
		t.Fatalf("lengths %d and %d", len(a), len(b))
	}
	for i := range a {
		if a[i] != b[i] {
			t.Fatalf("sample %d differs", i)
		}
	}
	if d := cmp.Diff(sa.Truth(), sb.Truth()); d != "" {
		t.Fatal(d)
	}
	o.Seed++
	c, _ := render(t, s, o)
	same := 0
	for i := range a {
		if a[i] == c[i] {
			same++
		}
	}
	if same > len(a)/10 {
		t.Errorf("%d of %d samples are the same with another seed", same, len(a))
	}
}

func BenchmarkStream(b *testing.B) {
	s := apart(40, 300*time.Millisecond, 3*time.Second)
	for _, tier := range Tiers {
		for _, f := range []Family{Tuning, Evaluation} {
			b.Run(fmt.Sprintf("%s %s", tier, f), func(b *testing.B) {
				n := 0
				for b.Loop() {
					x, _ := render(b, s, Graded(tier, f, 1))
					n += len(x)
				}
				b.ReportMetric(float64(n)/48000/b.Elapsed().Seconds(), "x-real-time")
			})
		}
	}
}

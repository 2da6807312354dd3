package footage

import (
	"encoding/binary"
	"errors"
	"io"
	"math"
	"testing"
	"time"
)

// clickTimes reads sound as floats and returns where clicks begin, in seconds
// from the start of what was read.
func clickTimes(t *testing.T, f *File, from, to time.Duration) (clicks []float64, seconds float64) {
	t.Helper()
	const rate = 16000
	s, err := f.Sound(t.Context(), SoundFormat{Rate: rate, Channels: 1, Float: true}, from, to)
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	data, err := io.ReadAll(s)
	if err != nil {
		t.Fatal(err)
	}
	last := -1
	for i := 0; i+4 <= len(data); i += 4 {
		v := math.Float32frombits(binary.LittleEndian.Uint32(data[i:]))
		if math.Abs(float64(v)) < 0.1 {
			continue
		}
		if last < 0 || i/4-last > rate/10 {
			clicks = append(clicks, float64(i/4)/rate)
		}
		last = i / 4
	}
	return clicks, float64(len(data)/4) / rate
}

// TestSoundIsInStepWithThePicture hears the click track of several films: clicks
// lie at known distances from the first shown frame.
func TestSoundIsInStepWithThePicture(t *testing.T) {
	tests := []struct {
		name  string
		first float64 // film time of the first click
		count int
	}{
		{"closed", 0, 8},
		{"bframes", 0, 8},
		{"variable", 0, 8},
		{"ts", 0, 8},
		{"mkv", 0, 8},
		{"fragmented", 0, 8},
		{"negative", 0, 8},
		{"noedits", 0, 8},
		{"rotated", 0, 8},
		{"timecode", 0, 8},
		{"opents", 0, 8},
		{"latesound", 0.4, 4}, // recorded 0.4 s later
		{"latepicture", 0, 7}, // the first click is 0.5 s before the picture
		{"trimmed", 0.2, 5},   // begins 1.3 s into the film
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			f := opened(t, tt.name)
			clicks, seconds := clickTimes(t, f, 0, 0)
			if len(clicks) != tt.count {
				t.Fatalf("%d clicks at %.3f in %.3f s, want %d", len(clicks), clicks, seconds, tt.count)
			}
			for i, c := range clicks {
				if want := tt.first + 0.5*float64(i); math.Abs(c-want) > 0.003 {
					t.Errorf("click %d at %.4f, want %.4f", i, c, want)
				}
			}
			// From the middle: the same clicks at the same film time.
			from := 1100 * time.Millisecond
			later, _ := clickTimes(t, f, from, 0)
			var want []float64
			for _, c := range clicks {
				if c > from.Seconds() {
					want = append(want, c-from.Seconds())
				}
			}
			if len(later) != len(want) {
				t.Fatalf("from %v: clicks at %.3f, want %.3f", from, later, want)
			}
			for i := range want {
				if math.Abs(later[i]-want[i]) > 0.001 {
					t.Errorf("from %v: clicks at %.4f, want %.4f", from, later, want)
				}
			}
		})
	}
}

func TestSoundGapIsSilence(t *testing.T) {
	clicks, _ := clickTimes(t, opened(t, "soundgap"), 0, 0)
	want := []float64{0, 0.5, 2, 2.5} // those at 1.0 and 1.5 lie in the gap
	if len(clicks) != len(want) {
		t.Fatalf("clicks at %.3f, want %.3f", clicks, want)
	}
	for i := range want {
		if math.Abs(clicks[i]-want[i]) > 0.003 {
			t.Errorf("clicks at %.4f, want %.4f", clicks, want)
		}
	}
}

func TestSoundEndsWhereAsked(t *testing.T) {
	f := opened(t, "closed")
	for _, format := range []SoundFormat{{Rate: 8000, Channels: 1}, {Rate: 44100, Channels: 2, Float: true}, {}} {
		s, err := f.Sound(t.Context(), format, time.Second, 1500*time.Millisecond)
		if err != nil {
			t.Fatal(err)
		}
		data, err := io.ReadAll(s)
		s.Close()
		got := s.Format()
		if err != nil || len(data) != got.Rate/2*got.SampleBytes() {
			t.Errorf("%+v: %d bytes, %v; want half a second", got, len(data), err)
		}
		if format.Rate == 0 && got != (SoundFormat{Rate: 48000, Channels: 1}) {
			t.Errorf("as recorded is %+v", got)
		}
	}
}

func TestSoundRefusals(t *testing.T) {
	if _, err := opened(t, "silent").Sound(t.Context(), SoundFormat{}, 0, 0); !errors.Is(err, ErrNoSound) {
		t.Errorf("a silent film: %v", err)
	}
	f := opened(t, "closed")
	if _, err := f.Sound(t.Context(), SoundFormat{Stream: 2}, 0, 0); !errors.Is(err, ErrNoSound) {
		t.Errorf("a second sound: %v", err)
	}
	for _, r := range [][2]time.Duration{{-1, 0}, {5, 5}, {5, 4}} {
		if _, err := f.Sound(t.Context(), SoundFormat{}, r[0], r[1]); err == nil {
			t.Errorf("%v was accepted", r)
		}
	}
}

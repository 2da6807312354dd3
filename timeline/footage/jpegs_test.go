package footage

import (
	"bytes"
	"image"
	"image/jpeg"
	"io"
	"testing"
)

// TestJPEGsAreTheFrames holds the pictures against the raw frames of the same
// film: each must be nearer to its own frame than to the neighbours.
func TestJPEGsAreTheFrames(t *testing.T) {
	for _, name := range []string{"bframes", "variable", "hevc", "rotated"} {
		t.Run(name, func(t *testing.T) {
			f := opened(t, name)
			w, h := f.Info.Video.Width, f.Info.Video.Height
			from, to := f.Index.Len()/2-3, f.Index.Len()/2+9
			raw, err := f.Frames(t.Context(), from, to, Picture{Width: w, Height: h, Format: Gray})
			if err != nil {
				t.Fatal(err)
			}
			defer raw.Close()
			var frames [][]byte
			for range to - from {
				buf := make([]byte, w*h)
				if _, err := raw.Next(buf); err != nil {
					t.Fatal(err)
				}
				frames = append(frames, buf)
			}
			s, err := f.JPEGs(t.Context(), from, to, w, h, 3)
			if err != nil {
				t.Fatal(err)
			}
			defer s.Close()
			var buf []byte
			for want := from; want < to; want++ {
				var n int
				if buf, n, err = s.Next(buf[:0]); err != nil || n != want {
					t.Fatalf("frame %d came as %d: %v", want, n, err)
				}
				got, err := jpeg.Decode(bytes.NewReader(buf))
				if err != nil {
					t.Fatal(err)
				}
				best := 0
				for i := range frames {
					if far(got.(*image.YCbCr), frames[i], w) < far(got.(*image.YCbCr), frames[best], w) {
						best = i
					}
				}
				if best != want-from {
					t.Errorf("frame %d looks like frame %d", want, from+best)
				}
			}
			if _, _, err := s.Next(nil); err != io.EOF {
				t.Errorf("after the last frame: %v", err)
			}
		})
	}
}

// far is the sum of differences of brightness; the gray of a frame is in the
// narrow range, so only comparisons mean something.
func far(p *image.YCbCr, gray []byte, w int) (sum int) {
	for i, g := range gray {
		d := int(p.Y[i/w*p.YStride+i%w])*219/255 + 16 - int(g)
		sum += max(d, -d)
	}
	return sum
}

func TestSoundTempoKeepsLengthAndPlace(t *testing.T) {
	f := opened(t, "closed") // clicks at every half second
	for _, tempo := range []float64{0.5, 1, 1.5, 2, 4} {
		s, err := f.Sound(t.Context(), SoundFormat{Rate: 48000, Channels: 2, Tempo: tempo}, 0, 0)
		if err != nil {
			t.Fatal(err)
		}
		data, err := io.ReadAll(s)
		s.Close()
		if err != nil {
			t.Fatal(err)
		}
		seconds, want := float64(len(data))/4/48000, 4/tempo
		if seconds < want-0.1 || seconds > want+0.1 {
			t.Errorf("at tempo %g the sound takes %.3f s, want %.3f", tempo, seconds, want)
		}
		if tempo > 2 {
			continue // what is left out may be a click
		}
		// The third click, at 1 s of film.
		last, count := -1.0, 0
		for i := 0; i+1 < len(data) && count < 3; i += 4 {
			if v := int16(uint16(data[i]) | uint16(data[i+1])<<8); v > 8000 {
				if at := float64(i) / 4 / 48000; last < 0 || at-last > 0.1 {
					last, count = at, count+1
				}
			}
		}
		// Stretching moves pieces of sound by up to 20 ms of film.
		if d := last*tempo - 1; d > 0.03 || d < -0.03 {
			t.Errorf("at tempo %g the click is at %.3f s, want %.3f", tempo, last, 1/tempo)
		}
	}
	if _, err := f.Sound(t.Context(), SoundFormat{Rate: 48000, Tempo: 5}, 0, 0); err == nil {
		t.Error("a tempo without its pitch was accepted")
	}
}

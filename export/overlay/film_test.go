package overlay_test

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"math"
	"path/filepath"
	"testing"

	"whistlecut/export/clip"
	"whistlecut/export/overlay"
	"whistlecut/timeline"
	"whistlecut/timeline/footage/ffmpeg"
)

const filmWidth, filmHeight = 320, 180

// frame decodes one frame of a film.
func frame(t *testing.T, r *ffmpeg.Runner, path string, n int) *image.RGBA {
	t.Helper()
	var out bytes.Buffer
	err := r.Run(context.Background(), ffmpeg.Job{Stdout: &out, Args: []string{
		"-i", path, "-vf", fmt.Sprintf("select=eq(n\\,%d)", n), "-frames:v", "1", "-f", "rawvideo", "-pix_fmt", "rgba", "pipe:1",
	}})
	if err != nil {
		t.Fatal(err)
	}
	img := image.NewRGBA(image.Rect(0, 0, filmWidth, filmHeight))
	if len(out.Bytes()) != len(img.Pix) {
		t.Fatalf("%d bytes of a frame", out.Len())
	}
	copy(img.Pix, out.Bytes())
	return img
}

// TestScreenAndFilmShowTheSame paints drawings, captions and a bar into a frame as
// the screen does, and into an exported clip, and compares what is seen.
func TestScreenAndFilmShowTheSame(t *testing.T) {
	ctx, r := context.Background(), ffmpeg.Default()
	if _, err := r.Path(); err != nil {
		t.Skip("ffmpeg is not installed: " + err.Error())
	}
	dir := t.TempDir()
	film := filepath.Join(dir, "film.mp4")
	err := r.Run(ctx, ffmpeg.Job{Args: []string{
		"-y", "-f", "lavfi", "-i", fmt.Sprintf("gradients=s=%dx%d:r=25:d=1:c0=0x302820:c1=0xd8d0c0:x0=0:y0=0:x1=%d:y1=%d:speed=0.00001", filmWidth, filmHeight, filmWidth, filmHeight),
		"-c:v", "libx264", "-preset", "ultrafast", "-crf", "10", "-pix_fmt", "yuv420p", film,
	}})
	if err != nil {
		t.Fatal(err)
	}
	pt := func(x, y float64) timeline.Point { return timeline.Point{X: x, Y: y} }
	list := []timeline.Drawing{
		{Shape: timeline.ShapeSpotlight, Points: []timeline.Point{pt(0.02, 0.02), pt(0.9, 0.9)}},
		{Shape: timeline.ShapeArrow, Points: []timeline.Point{pt(0.1, 0.2), pt(0.4, 0.5)}, Width: 0.03},
		{Shape: timeline.ShapeRing, Points: []timeline.Point{pt(0.5, 0.1), pt(0.7, 0.4)}, Colour: "#FFFFFF", Width: 0.03},
		{Shape: timeline.ShapeMarker, Points: []timeline.Point{pt(0.3, 0.15)}, Number: 7, Width: 0.03},
		{Shape: timeline.ShapeHide, Points: []timeline.Point{pt(0.55, 0.5), pt(0.72, 0.7)}, Colour: "#808080"},
		{Shape: timeline.ShapeText, Points: []timeline.Point{pt(0.75, 0.1)}, Text: "now", Colour: "#FFFFFF"},
	}
	bar := overlay.Bar(filmWidth, filmHeight, overlay.Caption{Jam: "4", Score: "12–9"})
	words := overlay.Captions(filmWidth, filmHeight, []string{"Back in", "חזרה"}, bar.Bounds().Dy())
	out := filepath.Join(dir, "clip.mp4")
	s, err := clip.Open(ctx, r, film, clip.Options{WorkDir: dir})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	if _, err := s.Cut(ctx, clip.Request{First: 0, Last: 9, Out: out, Overlays: []clip.Overlay{
		{Image: overlay.Drawings(filmWidth, filmHeight, list, overlay.Colours{}), First: 3, Last: 6},
		{Image: words, X: words.Bounds().Min.X, Y: words.Bounds().Min.Y},
		{Image: bar, Y: filmHeight - bar.Bounds().Dy()},
	}}); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name  string
		frame int
		drawn bool
	}{{"before the drawings", 2, false}, {"first frame of the drawings", 3, true}, {"last frame of the drawings", 6, true}, {"after", 7, false}} {
		t.Run(c.name, func(t *testing.T) {
			screen := frame(t, r, film, c.frame)
			if c.drawn {
				var p overlay.Painter
				p.Paint(screen, list, overlay.Colours{})
			}
			lay(screen, words, words.Bounds().Min)
			lay(screen, bar, image.Pt(0, filmHeight-bar.Bounds().Dy()))
			got := frame(t, r, out, c.frame)
			// The film keeps brightness for every pixel and colour for blocks of
			// four, and is coded with loss: only brightness is compared.
			sum, far := 0.0, 0
			for i := 0; i < len(got.Pix); i += 4 {
				d := math.Abs(grey(got.Pix[i:]) - grey(screen.Pix[i:]))
				sum += d
				if d > 40 {
					far++
				}
			}
			n := len(got.Pix) / 4
			if mean := sum / float64(n); mean > 2.5 || far > n/200 {
				t.Errorf("mean difference %.2f of 255, %d of %d pixels far off", mean, far, n)
			}
		})
	}
}

func grey(p []uint8) float64 {
	return 0.299*float64(p[0]) + 0.587*float64(p[1]) + 0.114*float64(p[2])
}

// lay lays a picture over another one with its corner at a place.
func lay(dst, src *image.RGBA, at image.Point) {
	b := src.Bounds()
	for y := range b.Dy() {
		for x := range b.Dx() {
			s, d := src.RGBAAt(b.Min.X+x, b.Min.Y+y), dst.PixOffset(at.X+x, at.Y+y)
			for k, v := range [3]uint8{s.R, s.G, s.B} {
				dst.Pix[d+k] = uint8(int(v) + int(dst.Pix[d+k])*(255-int(s.A))/255)
			}
		}
	}
}

package overlay

import (
	"flag"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"whistlecut/timeline"
)

var update = flag.Bool("update", false, "write the golden pictures anew")

// halves is a film that is dark on the left and light on the right.
func halves(width, height int) *image.RGBA {
	img := filmOf(width, height, color.RGBA{40, 34, 30, 255})
	draw.Draw(img, image.Rect(width/2, 0, width, height), image.NewUniform(color.RGBA{222, 216, 205, 255}), image.Point{}, draw.Src)
	return img
}

func TestGoldenPictures(t *testing.T) {
	type scene struct {
		name string
		img  *image.RGBA
	}
	var scenes []scene
	for _, c := range each {
		img := halves(192, 108)
		draw.Draw(img, img.Bounds(), Drawings(192, 108, []timeline.Drawing{c.d}, Colours{}), image.Point{}, draw.Over)
		scenes = append(scenes, scene{c.name, img})
	}
	captioned := halves(320, 180)
	words := Captions(320, 180, []string{"The jammer is back before the whistle", "الجامر تعود قبل الصافرة 12"}, 26)
	draw.Draw(captioned, words.Bounds(), words, words.Bounds().Min, draw.Over)
	scenes = append(scenes, scene{"captions", captioned}, scene{"card", Card(320, 180, "Power jams of period 2", "Thursday, 18:00", "Εβδομάδα 3")})
	barred := halves(480, 270)
	bar := Bar(480, 270, Caption{"2", "14", "3:07", "112–98", "12 שלומית", "power jam"})
	draw.Draw(barred, bar.Bounds().Add(image.Pt(0, 270-bar.Bounds().Dy())), bar, image.Point{}, draw.Over)
	scenes = append(scenes, scene{"bar", barred})
	for _, s := range scenes {
		t.Run(s.name, func(t *testing.T) {
			path := filepath.Join("testdata", strings.ReplaceAll(s.name, " ", "-")+".png")
			if *update {
				writePNG(t, path, s.img)
				return
			}
			f, err := os.Open(path)
			if err != nil {
				t.Fatal(err)
			}
			defer f.Close()
			want, err := png.Decode(f)
			if err != nil {
				t.Fatal(err)
			}
			if n := differing(s.img, want); n > 0 {
				out := filepath.Join(t.ArtifactDir(), filepath.Base(path))
				writePNG(t, out, s.img)
				t.Errorf("%d pixels differ from %s; see %s (-update writes it anew)", n, path, out)
			}
		})
	}
}

// differing counts the pixels that differ by more than rounding.
func differing(a *image.RGBA, b image.Image) int {
	if a.Bounds() != b.Bounds() {
		return a.Bounds().Dx() * a.Bounds().Dy()
	}
	off := func(x, y uint8) bool { return max(x, y)-min(x, y) > 3 }
	n := 0
	for y := range a.Bounds().Dy() {
		for x := range a.Bounds().Dx() {
			c, d := a.RGBAAt(x, y), color.RGBAModel.Convert(b.At(x, y)).(color.RGBA)
			if off(c.R, d.R) || off(c.G, d.G) || off(c.B, d.B) || off(c.A, d.A) {
				n++
			}
		}
	}
	return n
}

func writePNG(t *testing.T, path string, img image.Image) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
		t.Fatal(err)
	}
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := png.Encode(f, img); err != nil {
		t.Fatal(err)
	}
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
}

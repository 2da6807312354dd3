package overlay

import (
	"image"
	"image/color"
	"image/draw"
	"math"
	"testing"

	"pgregory.net/rapid"

	"whistlecut/timeline"
)

// at makes points from x, y, x, y...
func at(v ...float64) []timeline.Point {
	var out []timeline.Point
	for i := 0; i+1 < len(v); i += 2 {
		out = append(out, timeline.Point{X: v[i], Y: v[i+1]})
	}
	return out
}

// each is one drawing of every shape, with its name.
var each = []struct {
	name string
	d    timeline.Drawing
}{
	{"arrow", timeline.Drawing{Shape: timeline.ShapeArrow, Points: at(0.2, 0.8, 0.7, 0.3), Colour: "home"}},
	{"short arrow", timeline.Drawing{Shape: timeline.ShapeArrow, Points: at(0.5, 0.5, 0.53, 0.48)}},
	{"line", timeline.Drawing{Shape: timeline.ShapeLine, Points: at(0.1, 0.2, 0.9, 0.4), Colour: "away"}},
	{"ring", timeline.Drawing{Shape: timeline.ShapeRing, Points: at(0.7, 0.8, 0.3, 0.3)}},
	{"area", timeline.Drawing{Shape: timeline.ShapeArea, Points: at(0.2, 0.2, 0.8, 0.3, 0.5, 0.5, 0.7, 0.85), Colour: "#203090"}},
	{"free line", timeline.Drawing{Shape: timeline.ShapeFree, Points: at(0.1, 0.5, 0.3, 0.2, 0.3, 0.2, 0.5, 0.7, 0.7, 0.3, 0.9, 0.6), Colour: "#FFFFFF", Width: 0.02}},
	{"text", timeline.Drawing{Shape: timeline.ShapeText, Points: at(0.1, 0.3), Text: "früher\nרולר 12", Width: 0.016}},
	{"spotlight", timeline.Drawing{Shape: timeline.ShapeSpotlight, Points: at(0.3, 0.2, 0.7, 0.8)}},
	{"marker", timeline.Drawing{Shape: timeline.ShapeMarker, Points: at(0.5, 0.5), Number: 27, Width: 0.03}},
	{"hide", timeline.Drawing{Shape: timeline.ShapeHide, Points: at(0.8, 0.7, 0.4, 0.2)}},
}

// filmOf is a picture of one colour.
func filmOf(width, height int, c color.Color) *image.RGBA {
	img := image.NewRGBA(image.Rect(0, 0, width, height))
	draw.Draw(img, img.Bounds(), image.NewUniform(c), image.Point{}, draw.Src)
	return img
}

func TestDrawingLooksTheSameAtEverySize(t *testing.T) {
	const w, h = 320, 180
	for _, c := range each {
		t.Run(c.name, func(t *testing.T) {
			small := Drawings(w, h, []timeline.Drawing{c.d}, Colours{})
			large := Drawings(2*w, 2*h, []timeline.Drawing{c.d}, Colours{})
			sum, far, inked := 0.0, 0, 0
			for y := range h {
				for x := range w {
					worst := 0.0
					s := small.RGBAAt(x, y)
					for k, v := range [4]uint8{s.R, s.G, s.B, s.A} {
						mean := 0
						for _, p := range [4]image.Point{{2 * x, 2 * y}, {2*x + 1, 2 * y}, {2 * x, 2*y + 1}, {2*x + 1, 2*y + 1}} {
							mean += int(large.Pix[large.PixOffset(p.X, p.Y)+k])
						}
						worst = max(worst, math.Abs(float64(v)-float64(mean)/4))
					}
					if s.A > 0 {
						inked++
					}
					sum += worst
					if worst > 100 {
						far++
					}
				}
			}
			if inked < 50 {
				t.Fatalf("only %d pixels were painted", inked)
			}
			// Edges fall differently on the pixels; everything else is the same. A
			// hidden box is rounded to whole pairs of pixels, the stripes too.
			allowed := 0.06
			if c.d.Shape == timeline.ShapeHide {
				allowed = 0.12
			}
			if mean := sum / float64(inked) / 255; mean > allowed || float64(far) > 0.06*float64(inked) {
				t.Errorf("mean difference %.3f of a painted pixel, %d of %d pixels far off", mean, far, inked)
			}
		})
	}
}

func TestDrawingStandsOutFromAnyFilmWithoutColour(t *testing.T) {
	for _, c := range each {
		if c.d.Shape == timeline.ShapeSpotlight || c.d.Shape == timeline.ShapeHide {
			continue // one darkens and the other hides; neither points at something
		}
		inks := []string{"", "home", "#000000", "#FFFFFF", "#777777", "#FF0000"}
		if testing.Short() { // as under the race detector
			inks = inks[:1]
		}
		for _, ink := range inks {
			for _, film := range []uint8{0, 90, 128, 255} {
				img := filmOf(480, 270, color.Gray{film})
				d := c.d
				d.Colour = ink
				var p Painter
				p.Paint(img, []timeline.Drawing{d}, Colours{})
				base := luminance(color.NRGBA{film, film, film, 255})
				changed, seen := 0, 0
				for i := 0; i < len(img.Pix); i += 4 {
					px := color.NRGBA{img.Pix[i], img.Pix[i+1], img.Pix[i+2], 255}
					if px == (color.NRGBA{film, film, film, 255}) {
						continue
					}
					changed++
					if l := luminance(px); (max(l, base)+0.05)/(min(l, base)+0.05) >= 2 {
						seen++
					}
				}
				if c.d.Shape == timeline.ShapeArea {
					changed /= 4 // its tint is faint, its edge is what is seen
				}
				if seen < 20 || seen < changed/8 {
					t.Errorf("%s in %q on a film of brightness %d: only %d of %d pixels stand out", c.name, ink, film, seen, changed)
				}
			}
		}
	}
}

func TestNothingOfTheFilmIsLeftInAHiddenBox(t *testing.T) {
	hide := timeline.Drawing{Shape: timeline.ShapeHide, Points: at(0.31, 0.27, 0.52, 0.61)}
	for _, c := range []struct {
		name string
		more []timeline.Drawing
	}{
		{"alone", nil},
		{"with a spotlight drawn later", []timeline.Drawing{{Shape: timeline.ShapeSpotlight, Points: at(0.2, 0.2, 0.8, 0.8)}}},
		{"with a line over it", []timeline.Drawing{{Shape: timeline.ShapeLine, Points: at(0, 0, 1, 1)}}},
		{"with an area over it", []timeline.Drawing{{Shape: timeline.ShapeArea, Points: at(0, 0, 1, 0, 1, 1)}}},
	} {
		t.Run(c.name, func(t *testing.T) {
			const w, h = 161, 91
			var p Painter
			list := append([]timeline.Drawing{hide}, c.more...)
			black, white := filmOf(w, h, color.Black), filmOf(w, h, color.White)
			p.Paint(black, list, Colours{})
			p.Paint(white, list, Colours{})
			over := Drawings(w, h, list, Colours{})
			// The box reaches from 49.9, 24.6 to 83.7, 55.5; all pixels that it
			// touches, and their pairs.
			for y := 24; y < 56; y++ {
				for x := 48; x < 84; x++ {
					if a, b, o := black.RGBAAt(x, y), white.RGBAAt(x, y), over.RGBAAt(x, y); a != b || o.A != 255 {
						t.Fatalf("at %d, %d the film shows: %v on black, %v on white, %v to be laid over", x, y, a, b, o)
					}
				}
			}
		})
	}
}

func TestOverlappingSpotlightsStayLit(t *testing.T) {
	// One is drawn from corner to corner the other way round.
	list := []timeline.Drawing{
		{Shape: timeline.ShapeSpotlight, Points: at(0.1, 0.1, 0.6, 0.9)},
		{Shape: timeline.ShapeSpotlight, Points: at(0.9, 0.1, 0.4, 0.9)},
	}
	img := filmOf(160, 90, color.White)
	var p Painter
	p.Paint(img, list, Colours{})
	for _, c := range []struct {
		name string
		x, y int
		lit  bool
	}{{"first", 40, 45, true}, {"both", 80, 45, true}, {"second", 120, 45, true}, {"corner", 2, 2, false}, {"above", 80, 5, false}} {
		if got := img.RGBAAt(c.x, c.y).R == 255; got != c.lit {
			t.Errorf("%s: lit is %v", c.name, got)
		}
	}
}

func TestPaintIntoPartOfAPicture(t *testing.T) {
	var list []timeline.Drawing
	for _, c := range each {
		list = append(list, c.d)
	}
	alone := filmOf(160, 90, color.Gray{100})
	whole := filmOf(400, 300, color.Gray{100})
	part := whole.SubImage(image.Rect(40, 50, 200, 140)).(*image.RGBA)
	var p Painter
	p.Paint(alone, list, Colours{})
	p.Paint(part, list, Colours{})
	for y := range 300 {
		for x := range 400 {
			want := color.RGBA{100, 100, 100, 255}
			if image.Pt(x, y).In(part.Bounds()) {
				want = alone.RGBAAt(x-40, y-50)
			}
			if got := whole.RGBAAt(x, y); got != want {
				t.Fatalf("at %d, %d: %v, want %v", x, y, got, want)
			}
		}
	}
}

// What is laid over the film as a picture of its own (an exported clip) and what is
// painted into the film (the screen) is the same.
func TestLaidOverIsPaintedInto(t *testing.T) {
	for _, c := range each {
		into, under := filmOf(160, 90, color.RGBA{30, 120, 200, 255}), filmOf(160, 90, color.RGBA{30, 120, 200, 255})
		var p Painter
		p.Paint(into, []timeline.Drawing{c.d}, Colours{})
		draw.Draw(under, under.Bounds(), Drawings(160, 90, []timeline.Drawing{c.d}, Colours{}), image.Point{}, draw.Over)
		for i := range into.Pix {
			if d := int(into.Pix[i]) - int(under.Pix[i]); d > 4 || d < -4 {
				t.Errorf("%s: byte %d is %d painted into and %d laid over", c.name, i, into.Pix[i], under.Pix[i])
				break
			}
		}
	}
}

func TestPaintingAgainAllocatesNothing(t *testing.T) {
	var list []timeline.Drawing
	for _, c := range each {
		list = append(list, c.d)
	}
	img := image.NewRGBA(image.Rect(0, 0, 320, 180))
	var p Painter
	p.Paint(img, list, Colours{})
	if n := testing.AllocsPerRun(20, func() { p.Paint(img, list, Colours{}) }); n > 0 {
		t.Errorf("%.1f allocations a picture", n)
	}
}

func TestDrawingThatCannotBePaintedIsLeftOut(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	for _, d := range []timeline.Drawing{
		{},
		{Shape: "cloud", Points: at(0.1, 0.1, 0.5, 0.5)},
		{Shape: timeline.ShapeArrow},
		{Shape: timeline.ShapeArrow, Points: at(0.1, 0.1)},
		{Shape: timeline.ShapeArea, Points: at(0.1, 0.1, 0.5, 0.5)},
		{Shape: timeline.ShapeLine, Points: at(nan, 0.1, 0.5, 0.5)},
		{Shape: timeline.ShapeSpotlight, Points: at(0.1, 0.1, inf, 0.5)},
		{Shape: timeline.ShapeText, Points: at(0.1, 0.1), Text: " \n\t"},
		{Shape: timeline.ShapeHide, Points: at(-1, -1, -0.5, -0.5)},
		{Shape: timeline.ShapeRing, Points: at(1.5, 1.5, 1.8, 1.9)},
	} {
		for i, v := range Drawings(64, 36, []timeline.Drawing{d}, Colours{}).Pix {
			if v != 0 {
				t.Errorf("%s %v left a mark at byte %d", d.Shape, d.Points, i)
				break
			}
		}
	}
	for _, size := range [][2]int{{0, 0}, {-3, 5}, {1, 1}, {1, 300}, {300, 1}, {3, 2}} {
		for _, c := range each {
			Drawings(size[0], size[1], []timeline.Drawing{c.d}, Colours{})
		}
	}
}

func TestAnyDrawingStaysInsideThePicture(t *testing.T) {
	shapes := timeline.Shapes()
	rapid.Check(t, func(t *rapid.T) {
		d := timeline.Drawing{
			Shape: rapid.SampledFrom(shapes).Draw(t, "shape"),
			Text:  rapid.StringN(0, 30, 60).Draw(t, "text"), Number: rapid.IntRange(0, 999).Draw(t, "number"),
			Colour: rapid.SampledFrom([]string{"", "home", "#102030", "#zz"}).Draw(t, "colour"),
			Width:  rapid.Float64Range(0, 0.2).Draw(t, "width"),
		}
		for range rapid.IntRange(0, 8).Draw(t, "points") {
			d.Points = append(d.Points, timeline.Point{X: rapid.Float64Range(-2, 3).Draw(t, "x"), Y: rapid.Float64Range(-2, 3).Draw(t, "y")})
		}
		w, h := rapid.IntRange(1, 60).Draw(t, "w"), rapid.IntRange(1, 60).Draw(t, "h")
		whole := image.NewRGBA(image.Rect(0, 0, w+20, h+20))
		part := whole.SubImage(image.Rect(10, 10, 10+w, 10+h)).(*image.RGBA)
		var p Painter
		p.Paint(part, []timeline.Drawing{d}, Colours{})
		for y := range h + 20 {
			for x := range w + 20 {
				c := whole.RGBAAt(x, y)
				if c != (color.RGBA{}) && !image.Pt(x, y).In(part.Bounds()) {
					t.Fatalf("%d, %d was painted, outside of %v", x, y, part.Bounds())
				}
				if c.R > c.A || c.G > c.A || c.B > c.A {
					t.Fatalf("%d, %d is %v: no colour with its alpha multiplied in", x, y, c)
				}
			}
		}
		for i, v := range p.mask.pix {
			if v != 0 {
				t.Fatalf("the mask is not empty at %d", i)
			}
		}
	})
}

// BenchmarkPaint is a full repaint of a 720p picture.
func BenchmarkPaint(b *testing.B) {
	img := image.NewRGBA(image.Rect(0, 0, 1280, 720))
	var p Painter
	for _, c := range each {
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				p.Paint(img, []timeline.Drawing{c.d}, Colours{})
			}
		})
	}
	b.Run("all ten", func(b *testing.B) {
		var list []timeline.Drawing
		for _, c := range each {
			list = append(list, c.d)
		}
		for b.Loop() {
			p.Paint(img, list, Colours{})
		}
	})
}

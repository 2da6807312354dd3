package overlay

import (
	"image"
	"image/color"
	"testing"
)

var full = Caption{"2", "14", "3:07", "112–98", "404 Ünverhofft Schlägerin von der Müllhalde zu Ångström", "penalty: back block"}

// ratio is the WCAG contrast of two opaque colours.
func ratio(a, b color.NRGBA) float64 {
	l := func(c color.NRGBA) float64 {
		f := func(v uint8) float64 {
			x := float64(v) / 255
			return x * x // near enough to the standard's curve for a bound
		}
		return 0.2126*f(c.R) + 0.7152*f(c.G) + 0.0722*f(c.B) + 0.05
	}
	x, y := l(a), l(b)
	return max(x, y) / min(x, y)
}

// over is a colour seen through the bar's ground on a film of that brightness.
func over(film uint8) color.NRGBA {
	mix := func(g uint8) uint8 { return uint8((int(g)*int(ground.A) + int(film)*(255-int(ground.A))) / 255) }
	return color.NRGBA{mix(ground.R), mix(ground.G), mix(ground.B), 255}
}

func TestBarIsLegibleOnAnyFilm(t *testing.T) {
	for _, film := range []uint8{0, 128, 255} {
		if r := ratio(text, over(film)); r < 4.5 {
			t.Errorf("text on a film of brightness %d: contrast %.1f", film, r)
		}
	}
	if r := ratio(ink, accent); r < 4.5 {
		t.Errorf("period and jam: contrast %.1f", r)
	}
}

func TestBarSizes(t *testing.T) {
	for _, c := range []struct {
		name                     string
		width, height, bar, line int
	}{
		{"360p", 640, 360, 26, 26},
		{"720p", 1280, 720, 50, 50},
		{"1080p", 1920, 1080, 76, 76},
		{"upright phone", 1080, 1920, 84, 42},
		{"small upright", 360, 640, 52, 26},
	} {
		t.Run(c.name, func(t *testing.T) {
			img := Bar(c.width, c.height, full)
			if got := img.Bounds(); got != image.Rect(0, 0, c.width, c.bar) {
				t.Errorf("bar is %v", got)
			}
			// Letters take about two fifths of a line: 10 pixels at 360p.
			if h := lineHeight(c.width, c.height); h != c.line {
				t.Errorf("line of %d pixels", h)
			}
		})
	}
}

func TestBarPutsThingsInTheirPlaces(t *testing.T) {
	lit := func(img *image.RGBA, x0, x1 int, c color.NRGBA) bool {
		for y := range img.Bounds().Dy() {
			for x := x0; x < x1; x++ {
				if got := img.RGBAAt(x, y); got.R == c.R && got.G == c.G && got.B == c.B {
					return true
				}
			}
		}
		return false
	}
	for _, c := range []struct {
		name               string
		caption            Caption
		block, left, right bool
	}{
		{"everything", full, true, true, true},
		{"no period, no jam", Caption{Kind: "power jam"}, false, true, false},
		{"score alone", Caption{Score: "1–0"}, false, false, true},
		{"nothing", Caption{}, false, false, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			img := Bar(1280, 720, c.caption)
			if got := lit(img, 0, 3, accent); got != c.block {
				t.Errorf("accent block: %v", got)
			}
			if got := lit(img, 0, 640, text); got != c.left {
				t.Errorf("text on the left: %v", got)
			}
			if got := lit(img, 1100, 1280, text); got != c.right {
				t.Errorf("text on the right: %v", got)
			}
		})
	}
}

func TestWhatDoesNotFitEndsWithAnEllipsis(t *testing.T) {
	p := newPen(image.NewRGBA(image.Rect(0, 0, 10, 10)), 36)
	const name = "88 Pêche Melbagarre"
	dots, all := p.line(plain, "…", 0), p.line(plain, name, 0)
	for _, room := range []int{1, 5, 12, 30, 80, 150, 1000} {
		got := p.line(plain, name, room)
		switch {
		case got == nil:
			if room > 30 {
				t.Errorf("%d pixels: nothing fits", room)
			}
		case float64(got.width)*p.size > float64(room):
			t.Errorf("%d pixels: it is %.1f wide", room, float64(got.width)*p.size)
		case room < 1000 && (len(got.strokes) >= len(all.strokes) || !sameTail(got, dots)):
			t.Errorf("%d pixels: it does not end with an ellipsis", room)
		case room == 1000 && !same(*got, *all):
			t.Error("shortened without need")
		}
	}
}

// sameTail says whether a line ends with the shapes of another one.
func sameTail(l, tail *textLine) bool {
	n := len(tail.strokes)
	if len(l.strokes) < n {
		return false
	}
	got := textLine{width: tail.width}
	for _, st := range l.strokes[len(l.strokes)-n:] {
		for k := range st.p {
			st.p[k][0] -= l.width - tail.width
		}
		got.strokes = append(got.strokes, st)
	}
	return same(got, *tail)
}

func TestBarOrdersNamesAsTheyAreRead(t *testing.T) {
	// The number stands right of a name that is read from right to left.
	p := newPen(image.NewRGBA(image.Rect(0, 0, 10, 10)), 36)
	if !same(*p.line(plain, "אב12", 0), side("1", "2", "ב", "א")) {
		t.Error("a Hebrew name is not ordered from right to left")
	}
}

func TestFontHasTheLettersOfDerbyNames(t *testing.T) {
	if m := Missing("ÄÖÜßéèñçÅøŁžĞıΩЖ–…→#0123456789"); len(m) > 0 {
		t.Errorf("no letters for %q", string(m))
	}
}

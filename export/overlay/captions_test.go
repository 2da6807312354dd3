package overlay

import (
	"image"
	"image/color"
	"testing"
)

const long = "The jammer leaves the pack on the inside and is back before the whistle, the pivot of the other team is late and takes the star after the call"

func TestCaptions(t *testing.T) {
	for _, c := range []struct {
		name          string
		width, height int
		lines         []string
		bar           int
		rows          int
		fits          bool
	}{
		{"one line", 1280, 720, []string{"Lead"}, 0, 1, true},
		{"two languages", 1280, 720, []string{"Lead", "Cheffe de file"}, 0, 2, true},
		{"second language alone", 1280, 720, []string{"", "Cheffe de file"}, 0, 1, true},
		{"both alike", 1280, 720, []string{"Lead", "Lead"}, 0, 1, true},
		{"above a bar", 1280, 720, []string{"Lead"}, 50, 1, true},
		{"too long", 1280, 720, []string{long, "Short"}, 0, 3, false},
		{"small", 320, 180, []string{"Lead", "קו"}, 26, 2, true},
		{"upright", 1080, 1920, []string{"Lead jammer calls it off"}, 84, 1, true},
		{"a third language is left out", 1280, 720, []string{"a", "b", "c"}, 0, 2, true},
	} {
		t.Run(c.name, func(t *testing.T) {
			img := Captions(c.width, c.height, c.lines, c.bar)
			b := img.Bounds()
			if !b.In(image.Rect(0, 0, c.width, c.height-c.bar)) || b.Empty() {
				t.Fatalf("it lies at %v on a film of %dx%d with a bar of %d", b, c.width, c.height, c.bar)
			}
			size := captionSize(c.width, c.height)
			if low := float64(min(c.width, c.height)) / 18; size < low {
				t.Errorf("letters of %.1f pixels, want %.1f", size, low)
			}
			want := lineStep * size * float64(c.rows)
			if h := float64(b.Dy()); h < want || h > want+1.2*size {
				t.Errorf("%d pixels high, want %d rows", b.Dy(), c.rows)
			}
			if got := CaptionFits(c.width, c.height, c.lines); got != c.fits {
				t.Errorf("fits: %v", got)
			}
			if mid := (b.Min.X + b.Max.X) / 2; mid < c.width/2-2 || mid > c.width/2+2 {
				t.Errorf("it is not in the middle: %v", b)
			}
		})
	}
	for _, lines := range [][]string{nil, {""}, {"", " \n"}} {
		if b := Captions(1280, 720, lines, 0).Bounds(); !b.Empty() {
			t.Errorf("%q gives %v", lines, b)
		}
	}
	Captions(0, 0, []string{"a"}, 0)
	Captions(1, 1, []string{"a", "b"}, 5)
	Captions(40, 30, []string{long, long}, 200)
}

func TestCaptionsAreLegibleOnAnyFilm(t *testing.T) {
	for _, film := range []uint8{0, 128, 255} {
		for name, c := range map[string]color.NRGBA{"main": text, "second": second} {
			if r := contrast(c, over(film)); r < 4.5 {
				t.Errorf("%s language on a film of brightness %d: contrast %.1f", name, film, r)
			}
		}
	}
}

func TestCard(t *testing.T) {
	for _, c := range []struct {
		name          string
		width, height int
		title         string
		lines         []string
	}{
		{"title alone", 640, 360, "Power jams", nil},
		{"lines alone", 640, 360, "", []string{"Thursday", "18:00"}},
		{"nothing", 640, 360, "", nil},
		{"much", 640, 360, long, []string{long, long, long, long}},
		{"upright", 360, 640, "Power jams of the second period", []string{"Thursday"}},
		{"tiny", 16, 9, "Power jams", []string{"Thursday"}},
		{"square", 300, 300, "כותרת", []string{"עברית 12"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			img := Card(c.width, c.height, c.title, c.lines...)
			if img.Bounds() != image.Rect(0, 0, c.width, c.height) {
				t.Fatalf("it is %v", img.Bounds())
			}
			paper := img.RGBAAt(0, 0)
			low, high, inked := c.height, 0, 0
			for y := range c.height {
				for x := range c.width {
					p := img.RGBAAt(x, y)
					if p.A != 255 {
						t.Fatalf("at %d, %d it lets the film through", x, y)
					}
					if p != paper {
						low, high, inked = min(low, y), max(high, y), inked+1
						if x == 0 || x == c.width-1 {
							t.Fatalf("text reaches the edge at %d, %d", x, y)
						}
					}
				}
			}
			if want := c.title != "" || len(c.lines) > 0; (inked > 0) != want {
				t.Errorf("%d pixels of text", inked)
			}
			if inked > 0 && c.height > 50 && (low < c.height/50 || high > c.height-c.height/50) {
				t.Errorf("text from row %d to %d of %d", low, high, c.height)
			}
		})
	}
	Card(0, -1, "a", "b")
}

func TestColours(t *testing.T) {
	for _, c := range []struct {
		name, stored string
		colours      Colours
		want         color.NRGBA
	}{
		{"usual", "", Colours{}, usualColours.Usual},
		{"home", "home", TeamColours("#102030", "#FFFFFF"), color.NRGBA{0x10, 0x20, 0x30, 255}},
		{"away", "away", TeamColours("#102030", "#fFfFfF"), color.NRGBA{255, 255, 255, 255}},
		{"home without colour", "home", TeamColours("", "red"), usualColours.Home},
		{"away without colour", "away", Colours{}, usualColours.Away},
		{"own", "#A0b0C0", Colours{}, color.NRGBA{0xA0, 0xB0, 0xC0, 255}},
		{"nonsense", "#12345g", Colours{}, usualColours.Usual},
		{"nonsense of seven letters", "magenta", Colours{}, usualColours.Usual},
		{"black team", "home", TeamColours("#000000", ""), color.NRGBA{0, 0, 0, 255}},
	} {
		if got := c.colours.Of(c.stored); got != c.want {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
	for v := range 256 {
		for _, c := range []color.NRGBA{{uint8(v), uint8(v), uint8(v), 255}, {uint8(v), 0, 0, 255}, {0, uint8(v), 0, 255}, {0, 0, uint8(v), 255}} {
			if r := contrast(c, against(c)); r < 4.5 {
				t.Errorf("the halo of %v has contrast %.2f", c, r)
			}
		}
	}
}

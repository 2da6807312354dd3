package screen

import (
	"image"
	"image/color"
	"image/draw"
	"os"
	"sync"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"whistlecut/app/play"
)

func TestMain(m *testing.M) {
	test.NewApp()
	os.Exit(m.Run())
}

// on puts a screen of a size on a test window.
func on(t *testing.T, w, h float32) (*Screen, fyne.Window) {
	t.Helper()
	s := New()
	win := test.NewTempWindow(t, s)
	win.SetPadded(false)
	win.Resize(fyne.NewSize(w, h))
	return s, win
}

func coloured(w, h int, c color.Color) *image.RGBA {
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	draw.Draw(img, img.Rect, image.NewUniform(c), image.Point{}, draw.Src)
	return img
}

var green = color.NRGBA{0, 200, 0, 255}

func isGreen(c color.Color) bool {
	r, g, b, _ := c.RGBA()
	return g > 0xb000 && r < 0x2000 && b < 0x2000
}

func TestPictureIsAsLargeAsItFits(t *testing.T) {
	s, win := on(t, 400, 400)
	s.SetShown(play.Shown{Image: coloured(160, 90, green), State: play.Paused})
	img := win.Canvas().Capture()
	w, h := img.Bounds().Dx(), img.Bounds().Dy()
	high := w * 90 / 160
	for _, c := range []struct {
		name  string
		x, y  int
		green bool
	}{
		{"the middle", w / 2, h / 2, true},
		{"the left edge", 2, h / 2, true},
		{"the right edge", w - 3, h / 2, true},
		{"its upper edge", w / 2, (h-high)/2 + 4, true},
		{"above it", w / 2, (h-high)/2 - 4, false},
		{"below it", w / 2, (h+high)/2 + 4, false},
	} {
		if got := isGreen(img.At(c.x, c.y)); got != c.green {
			t.Errorf("%s: of the picture %v", c.name, got)
		}
	}
}

func TestOnSizeTellsPixels(t *testing.T) {
	s := New()
	var w, h int
	s.OnSize = func(x, y int) { w, h = x, y }
	win := test.NewTempWindow(t, s)
	win.SetPadded(false)
	win.Resize(fyne.NewSize(320, 200))
	scale := win.Canvas().Scale()
	if w != int(320*scale) || h != int(200*scale) {
		t.Errorf("%dx%d at scale %g", w, h, scale)
	}
}

func TestNewestOfManyIsShown(t *testing.T) {
	s, _ := on(t, 200, 100)
	// The test driver has no goroutine of the window's: it would do things on
	// those that ask, several at once.
	window := make(chan func(), 100)
	s.later = func(do func()) { window <- do }
	var wg sync.WaitGroup
	for i := range 50 {
		wg.Go(func() { s.SetShown(play.Shown{Index: i, State: play.Playing}) })
	}
	wg.Wait()
	s.SetShown(play.Shown{Index: 999, State: play.Paused})
	if n := len(window); n != 1 {
		t.Errorf("the window is asked %d times", n)
	}
	for len(window) > 0 {
		(<-window)()
	}
	if s.shown.Index != 999 || s.shown.State != play.Paused {
		t.Errorf("%+v", s.shown)
	}
}

func TestSentences(t *testing.T) {
	s, _ := on(t, 300, 200)
	s.Words = func(st play.State) string {
		if st == play.Empty {
			return "Choose the film."
		}
		return ""
	}
	r := test.WidgetRenderer(s).(*renderer)
	picture := coloured(16, 9, green)
	for _, c := range []struct {
		name  string
		shown play.Shown
		want  string
	}{
		{"nothing loaded", play.Shown{State: play.Empty}, "Choose the film."},
		{"being opened", play.Shown{State: play.Loading}, ""},
		{"missing, with the last frame behind", play.Shown{State: play.Missing, Note: "It is gone.", Image: picture}, "It is gone."},
		{"broken", play.Shown{State: play.Broken, Note: "It stops at 1:02."}, "It stops at 1:02."},
		{"a note while playing is for the status line", play.Shown{State: play.Playing, Note: "No sound.", Image: picture}, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			s.SetShown(c.shown)
			fyne.DoAndWait(func() {})
			if got := r.said.Text(); got != c.want || r.said.Hidden != (c.want == "") || r.plate.Hidden != (c.want == "") {
				t.Errorf("%q, hidden %v", got, r.said.Hidden)
			}
		})
	}
}

// TestLongSentenceFits: where the film is, and what to do, must be readable.
func TestLongSentenceFits(t *testing.T) {
	s, _ := on(t, 260, 200)
	s.SetShown(play.Shown{State: play.Missing, Note: "GH010042.MP4 is not at /media/camera/2026-11-26 evening/period 1 any more; put it back, or say where it is now"})
	fyne.DoAndWait(func() {})
	r := test.WidgetRenderer(s).(*renderer)
	pos, size := r.said.Position(), r.said.Size()
	if pos.X < 0 || pos.Y < 0 || pos.X+size.Width > 260 || pos.Y+size.Height > 200 || size.Height < 30 {
		t.Errorf("at %v, %v large", pos, size)
	}
}

func TestCaption(t *testing.T) {
	s, _ := on(t, 300, 200)
	r := test.WidgetRenderer(s).(*renderer)
	if !r.caption.Hidden || !r.bar.Hidden {
		t.Error("an empty caption shows")
	}
	s.SetCaption("Period 1, jam 7")
	if r.caption.Hidden || r.caption.Text != "Period 1, jam 7" || r.caption.Position().Y+r.caption.Size().Height > 200 {
		t.Errorf("%q at %v", r.caption.Text, r.caption.Position())
	}
	s.SetCaption("")
	if !r.caption.Hidden {
		t.Error("the caption stays")
	}
}

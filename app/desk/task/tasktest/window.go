package tasktest

import (
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/test"

	"whistlecut/app/desk/keys"
	"whistlecut/app/desk/look"
)

// EnvPictures names a folder in which tests leave pictures of their windows, for
// eyes.
const EnvPictures = "WHISTLECUT_LOOK"

// Wear starts a test program that wears a palette and a text scale.
func Wear(t testing.TB, p look.Palette, scale float64) {
	t.Helper()
	test.NewTempApp(t).Settings().SetTheme(look.Use(p, scale))
}

// Open shows the task's panel in a window of a size, as it stands on the desk.
func (d *Desk) Open(t testing.TB, w, h float32) {
	t.Helper()
	d.Win = test.NewTempWindow(t, container.NewStack(canvas.NewRectangle(look.Now.Ground), look.Panel(d.Task.Panel())))
	d.Win.SetPadded(false)
	d.Win.Resize(fyne.NewSize(w, h))
	d.Task.Shown()
}

// Picture leaves a picture of the window where EnvPictures asks for it.
func (d *Desk) Picture(t testing.TB, name string) {
	t.Helper()
	dir := os.Getenv(EnvPictures)
	if dir == "" {
		return
	}
	f, err := os.Create(filepath.Join(dir, name+".png"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if err := png.Encode(f, d.Win.Canvas().Capture()); err != nil {
		t.Fatal(err)
	}
}

// Keys presses keys by their names, one after the other.
func (d *Desk) Keys(t testing.TB, names ...string) {
	t.Helper()
	for _, n := range names {
		p := keys.Press{Name: n}
		if rest, ok := strings.CutPrefix(n, "Ctrl+"); ok {
			p.Name, p.Ctrl = rest, true
		}
		d.Press(t, p)
	}
}

// Text is all text that the window shows, a line each.
func (d *Desk) Text() string { return strings.Join(Texts(d.Win.Canvas().Content()), "\n") }

// Texts are all texts that are drawn in an object, in order.
func Texts(root fyne.CanvasObject) (out []string) {
	var walk func(o fyne.CanvasObject)
	walk = func(o fyne.CanvasObject) {
		switch x := o.(type) {
		case *canvas.Text:
			out = append(out, x.Text)
		case *fyne.Container:
			for _, c := range x.Objects {
				walk(c)
			}
		case fyne.Widget:
			for _, c := range test.WidgetRenderer(x).Objects() {
				walk(c)
			}
		}
	}
	walk(root)
	return out
}

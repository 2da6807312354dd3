package log

import (
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/test"

	"whistlecut/app/desk/look"
	"whistlecut/app/desk/task/tasktest"
	"whistlecut/app/logging"
	"whistlecut/timeline"
)

// opened is the task on a simulated bout, shown in a window as wide as the panel
// is on a laptop.
func opened(t *testing.T, o tasktest.Options) (*tasktest.Desk, *Task) {
	t.Helper()
	d := tasktest.New(t, o)
	l := New(d)
	d.Task = l
	d.Book().Add(l.Actions()...)
	windowed(t, d, l, 412, 514)
	return d, l
}

func windowed(t *testing.T, d *tasktest.Desk, l *Task, w, h float32) {
	t.Helper()
	a := test.NewTempApp(t)
	a.Settings().SetTheme(look.Use(look.DarkPalette, d.Set.TextScale()))
	win := test.NewTempWindow(t, container.NewStack(canvas.NewRectangle(look.Now.Ground), look.Panel(l.Panel())))
	win.SetPadded(false)
	d.Win = win
	win.Resize(fyne.NewSize(w, h))
	l.Shown()
}

// pictured writes what the window shows where WHISTLECUT_LOOK asks for it.
func pictured(t *testing.T, d *tasktest.Desk, name string) {
	t.Helper()
	dir := os.Getenv("WHISTLECUT_LOOK")
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

const (
	sayFirst = logging.NoFilm
	sayLast  = logging.NotOnRoster
)

func say(s logging.Sentence) logging.Say { return logging.Say{What: s, Side: timeline.Home, Jam: 1} }

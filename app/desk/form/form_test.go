package form

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"

	"whistlecut/app/desk/look"
)

func window(t *testing.T, w, h float32) fyne.Window {
	t.Helper()
	a := test.NewTempApp(t)
	a.Settings().SetTheme(look.Use(look.DarkPalette, 1))
	x := test.NewTempWindow(t, nil)
	x.Resize(fyne.NewSize(w, h))
	return x
}

func TestDialogByKeys(t *testing.T) {
	w := window(t, 640, 480)
	d := New(w, "A question", fyne.NewSize(400, 300))
	one, lines := d.Entry("", "one line"), d.Lines("", "lines", 3)
	accepted, closed := 0, 0
	d.Accept = func() { accepted++ }
	d.Closed = func() { closed++ }
	d.Show(container.NewVBox(one, lines), one)
	test.Type(one, "x")
	one.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	if accepted != 1 {
		t.Error("Enter in a line accepts")
	}
	test.FocusNext(w.Canvas())
	if w.Canvas().Focused() != fyne.Focusable(lines) {
		t.Fatalf("Tab leads to %T", w.Canvas().Focused())
	}
	lines.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	if accepted != 1 || !strings.Contains(lines.Text, "\n") {
		t.Error("Enter in lines begins a line")
	}
	lines.TypedShortcut(&desktop.CustomShortcut{KeyName: fyne.KeyReturn, Modifier: fyne.KeyModifierControl})
	if accepted != 2 || lines.AcceptsTab() {
		t.Error("Ctrl+Enter accepts, Tab moves on")
	}
	d.Focus(nil)
	w.Canvas().Focused().TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
	if closed != 1 || d.IsOpen() || w.Canvas().Overlays().Top() != nil {
		t.Error("Escape closes")
	}
	d.Close()
	if closed != 1 {
		t.Error("closing twice is once")
	}
}

func TestDialogFits(t *testing.T) {
	w := window(t, 500, 300)
	d := New(w, strings.Repeat("A long question ", 20), fyne.NewSize(900, 700))
	d.Show(widget.NewLabel("content"), nil)
	d.Say(strings.Repeat("Something is wrong. ", 10))
	if s := d.popup.Content.Size(); s.Width > 500 || s.Height > 300 {
		t.Errorf("%v outgrows the window", s)
	}
	if d.say.MinSize().Height < 2*look.Size(look.TextSize) {
		t.Error("a long sentence does not wrap")
	}
}

func TestChoose(t *testing.T) {
	w := window(t, 640, 480)
	picked := -1
	Choose(w, "One of", []string{"jam number", "jammer", "lead", "lost"}, 3, func(i int) { picked = i })
	e := w.Canvas().Focused()
	e.TypedKey(&fyne.KeyEvent{Name: fyne.KeyUp})
	e.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	if picked != 2 {
		t.Errorf("above the chosen one stands 2, picked %d", picked)
	}
	Choose(w, "One of", []string{"jam number", "jammer", "lead", "lost"}, 0, func(i int) { picked = i })
	e = w.Canvas().Focused()
	test.Type(e, "JAMM")
	e.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	if picked != 1 {
		t.Errorf("narrowed to 1, picked %d", picked)
	}
	picked = -1
	Choose(w, "One of", []string{"jammer"}, 0, func(i int) { picked = i })
	e = w.Canvas().Focused()
	test.Type(e, "nothing like it")
	e.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	if picked != -1 {
		t.Errorf("nothing is left to pick, picked %d", picked)
	}
}

func TestSort(t *testing.T) {
	dir := t.TempDir()
	write := func(name, text string) string {
		p := filepath.Join(dir, name)
		if err := os.MkdirAll(filepath.Dir(p), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(p, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		return p
	}
	write("day/b.MP4", "")
	write("day/a.mov", "")
	write("day/notes.txt", "")
	s := Sort([]string{
		write("x.mp4", ""), write("program.ts", "export const x = 1"), write("stream.ts", "\x47\x40"),
		write("s.xlsx", ""), write("s.csv", ""), write("p.JPG", ""), write("g.bout", ""),
		write("chapter01", "\x00\x00\x00\x18ftypmp42"), write("mkv", "\x1A\x45\xDF\xA3"), write("zip", "PK\x03\x04"), write("noise", "x"),
		filepath.Join(dir, "day"),
	})
	names := func(list []string) string {
		var out []string
		for _, p := range list {
			out = append(out, filepath.Base(p))
		}
		return strings.Join(out, " ")
	}
	for what, c := range map[string][2]string{
		"films":  {names(s.Films), "x.mp4 stream.ts chapter01 mkv a.mov b.MP4"},
		"sheets": {names(s.Sheets), "s.xlsx s.csv zip"},
		"photos": {names(s.Photos), "p.JPG"},
		"bouts":  {names(s.Bouts), "g.bout"},
		"others": {names(s.Others), "program.ts noise"},
	} {
		if c[0] != c[1] {
			t.Errorf("%s: %s, want %s", what, c[0], c[1])
		}
	}
}

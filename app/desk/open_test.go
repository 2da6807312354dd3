package desk

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"whistlecut/app"
	"whistlecut/app/desk/keys"
	"whistlecut/app/desk/task/tasktest"
	"whistlecut/app/settings"
)

// shownText is all text on a canvas's top overlay.
func shownText(d *Desk) string {
	top := d.win.Canvas().Overlays().Top()
	if top == nil {
		return ""
	}
	return strings.Join(tasktest.Texts(top), " ")
}

// another is a second desk of the same person, without a bout.
func another(t *testing.T, d *Desk) *Desk {
	t.Helper()
	set, err := settings.Load(filepath.Join(t.TempDir(), "settings.json"))
	if err != nil {
		t.Fatal(err)
	}
	set.Language = "en"
	e := New(d.fyne, app.New("another"), set, false)
	e.win.Resize(fyne.NewSize(1024, 600))
	t.Cleanup(func() {
		e.closeBout()
		e.player.Close()
	})
	return e
}

// TestOpenElsewhere: the second desk on a bout says that it is open elsewhere, opens
// nothing by itself, and opens it once the first has let go.
func TestOpenElsewhere(t *testing.T) {
	d, _ := opened(t)
	path := d.session.Path
	e := another(t, d)
	e.Open(path)
	if said := shownText(e); e.session != nil || !strings.Contains(said, "open elsewhere") || !strings.Contains(said, "Try again") {
		t.Fatalf("opened %v, says %q", e.session != nil, said)
	}
	e.win.Canvas().Focused().TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	if e.session != nil || !strings.Contains(shownText(e), "open elsewhere") {
		t.Fatal("the second try opened it, or said nothing")
	}
	d.closeBout()
	e.win.Canvas().Focused().TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	if e.session == nil || e.session.File.ReadOnly() {
		t.Fatal("it does not open after the first desk has closed it")
	}
}

// TestOpenDamaged: a damaged bout is refused in plain words, without the database's.
func TestOpenDamaged(t *testing.T) {
	d, _ := opened(t)
	path := d.session.Path
	d.askClose()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	for i := 2000; i < len(data) && i < 40000; i++ {
		data[i] ^= 0x5A
	}
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	d.Open(path)
	said := shownText(d)
	if d.session != nil || !strings.Contains(said, filepath.Base(path)) || !strings.Contains(said, "backup copy") {
		t.Errorf("opened %v, says %q", d.session != nil, said)
	}
	for _, raw := range []string{"SQL", "malformed", "database", "("} {
		if strings.Contains(said, raw) {
			t.Errorf("%q is in %q", raw, said)
		}
	}
}

// TestLeaveByKey: cards are walked by Tab, and Escape closes one whatever in it has
// the focus.
func TestLeaveByKey(t *testing.T) {
	d, _ := opened(t)
	for name, open := range map[string]func(){"preferences": d.showPreferences, "rules": d.showRules, "history": d.showHistory, "keys": d.showKeys} {
		c := d.win.Canvas()
		open()
		seen := map[fyne.Focusable]bool{}
		test.FocusNext(c)
		for c.Focused() != nil && !seen[c.Focused()] {
			seen[c.Focused()] = true
			test.FocusNext(c)
		}
		if len(seen) == 0 {
			t.Errorf("%s: Tab reaches nothing", name)
		}
		d.press(keys.Press{Name: string(fyne.KeyEscape)})
		for n := range len(seen) {
			open()
			for range n + 1 {
				test.FocusNext(c)
			}
			kind := fmt.Sprintf("%T", c.Focused())
			c.Focused().TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
			if c.Overlays().Top() != nil {
				t.Errorf("%s: Escape does nothing while a %s has the focus", name, kind)
				d.press(keys.Press{Name: string(fyne.KeyEscape)})
			}
		}
	}
}

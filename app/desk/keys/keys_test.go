package keys

import (
	"runtime"
	"testing"
)

func TestParse(t *testing.T) {
	for text, want := range map[string]string{
		"ctrl+shift+Z": "Ctrl+Shift+Z", "upper 3": "upper 3", "Ctrl++": "Ctrl++", "Space": "Space", " Alt+Left": "Alt+Left",
		"upper 11": "", "middle 1": "", "Hyper+A": "", "": "",
	} {
		c, err := Parse(text)
		if err != nil && want != "" || err == nil && c.String() != want {
			t.Errorf("%q is %q (%v), want %q", text, c, err, want)
		}
	}
}

func TestFind(t *testing.T) {
	if runtime.GOOS != "linux" {
		t.Skip("the hardware codes below are those of X11")
	}
	b := NewBook(map[string]string{"play": "P", "gone": "A"})
	b.Add(
		Action{ID: "play", Keys: []Chord{MustParse("Space")}},
		Action{ID: "step", Keys: []Chord{MustParse("Left")}},
		Action{ID: "undo", Keys: []Chord{MustParse("Ctrl+Z")}},
		Action{ID: "lead", Scope: "log", Keys: []Chord{MustParse("upper 1")}},
		Action{ID: "away", Scope: "log", Keys: []Chord{MustParse("lower 1")}},
	)
	for _, c := range []struct {
		name, scope string
		press       Press
		want        string
	}{
		{"own chord instead of the given", "log", Press{Name: "P"}, "play"},
		{"the given chord is free then", "log", Press{Name: "Space"}, ""},
		{"position on QWERTY", "log", Press{Name: "Q", Code: 24}, "lead"},
		{"same position on AZERTY", "log", Press{Name: "A", Code: 24}, "lead"},
		{"position without a name", "log", Press{Code: 52}, "away"},
		{"not in another task", "check", Press{Name: "Q", Code: 24}, ""},
		{"a modifier makes it another key", "log", Press{Name: "Z", Code: 52, Ctrl: true}, "undo"},
		{"everywhere", "check", Press{Name: "Left"}, "step"},
	} {
		t.Run(c.name, func(t *testing.T) {
			a, ok := b.Find(c.scope, c.press)
			if ok != (c.want != "") || ok && a.ID != c.want {
				t.Errorf("got %+v", a)
			}
		})
	}
	if err := b.Rebind("step", MustParse("P")); err == nil {
		t.Error("a chord was given twice")
	}
	if err := b.Rebind("step", MustParse("J")); err != nil || b.Own()["step"] != "J" {
		t.Errorf("%v, own %v", err, b.Own())
	}
	if c := b.Clashes(); len(c) != 0 {
		t.Errorf("clashes %v", c)
	}
}

func TestLegend(t *testing.T) {
	if runtime.GOOS != "linux" {
		t.Skip("the hardware codes below are those of X11")
	}
	l := NewLegend("qwerty")
	if got := l.Of(MustParse("upper 6")); got != "Y" {
		t.Errorf("got %q", got)
	}
	if !l.Heard(Press{Name: "Z", Code: 29}) || l.Of(MustParse("upper 6")) != "Z" {
		t.Error("the legend did not learn from a QWERTZ press")
	}
	if l.Heard(Press{Name: "Return", Code: 36}) {
		t.Error("a key of neither row changed the legend")
	}
}

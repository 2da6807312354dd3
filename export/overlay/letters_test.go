package overlay

import (
	"math"
	"slices"
	"strings"
	"testing"
)

// side puts lines of letters beside each other.
func side(texts ...string) textLine {
	var out textLine
	for _, s := range texts {
		l := set(setting{text: s}).lines[0]
		for _, st := range l.strokes {
			for k := range st.p {
				st.p[k][0] += out.width
			}
			out.strokes = append(out.strokes, st)
		}
		out.width += l.width
	}
	return out
}

// same says whether two lines look alike.
func same(a, b textLine) bool {
	return math.Abs(float64(a.width-b.width)) < 1e-3 && slices.EqualFunc(a.strokes, b.strokes, func(x, y stroke) bool {
		for k := range x.p {
			for i := range x.p[k] {
				// Arguments an operation does not use keep what they are.
				if d := x.p[k][i] - y.p[k][i]; x.op != y.op || k == 0 && (d > 1e-3 || d < -1e-3) {
					return false
				}
			}
		}
		return true
	})
}

func TestScriptsAreOrderedAsTheyAreRead(t *testing.T) {
	for _, c := range []struct {
		name, text string
		seen       []string // from left to right
		rtl        bool
	}{
		{"Latin", "jam", []string{"j", "a", "m"}, false},
		{"Hebrew", "אבג", []string{"ג", "ב", "א"}, true},
		{"digits within Hebrew", "אב12", []string{"1", "2", "ב", "א"}, true},
		{"Hebrew within Latin", "a אב", []string{"a", " ", "ב", "א"}, false},
		{"Latin within Hebrew", "אבab", []string{"a", "b", "ב", "א"}, true},
		{"digits before Hebrew", "12 א", []string{"א", " ", "1", "2"}, true},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := set(setting{text: c.text}).lines[0]
			if got.rtl != c.rtl {
				t.Errorf("read from right to left: %v", got.rtl)
			}
			if slices.Contains(c.seen, " ") {
				// A space alone has no width to compare by; what is leftmost says it.
				first := set(setting{text: c.seen[0]}).lines[0]
				if len(got.strokes) < len(first.strokes) || !same(textLine{strokes: got.strokes[:len(first.strokes)]}, textLine{strokes: first.strokes}) {
					t.Errorf("%q does not begin with %q on the left", c.text, c.seen[0])
				}
				return
			}
			if !same(got, side(c.seen...)) {
				t.Errorf("%q is not seen as %q", c.text, c.seen)
			}
		})
	}
}

func TestArabicLettersAreJoined(t *testing.T) {
	word, apart := set(setting{text: "ببب"}).lines[0], side("ب", "ب", "ب")
	if same(word, apart) || word.width > 0.95*apart.width {
		t.Errorf("the joined word is %.2f wide, its letters apart %.2f", word.width, apart.width)
	}
}

func TestMissingLettersAreNamedAndShownAsBoxes(t *testing.T) {
	for _, c := range []struct {
		name, text, want string
	}{
		{"everyday", "Ångström ßé œ 12 – “…” → Ω Ж ѣ", ""},
		{"Hebrew and Arabic", "שלום رولر", ""},
		{"Vietnamese", "Nguyễn Thị", ""},
		{"Han, each once", "漢字漢", "漢字"},
		{"Devanagari", "अ", "अ"},
		{"marks that have no shape", "a\u200db\u200f\ufe0f\tc\n", ""},
		{"broken text", "a\xffb", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			if got := string(Missing(c.text)); got != c.want {
				t.Errorf("missing %q, want %q", got, c.want)
			}
		})
	}
	box := set(setting{text: "漢"}).lines[0]
	if len(box.strokes) == 0 || box.width == 0 {
		t.Error("a letter that no font has is not shown at all")
	}
}

func TestTextIsBrokenBetweenWords(t *testing.T) {
	const words = "one two three four five six seven"
	for _, c := range []struct {
		name  string
		text  string
		room  float32
		most  int
		lines int
		cut   bool
	}{
		{"fits", words, 100, 0, 1, false},
		{"no room given", words, 0, 0, 1, false},
		{"two lines", words, 10, 0, 2, false},
		{"cut after two", words, 6, 2, 2, true},
		{"a line of its own stays one", "one\ntwo", 100, 0, 2, false},
		{"cut lines of its own", "one\ntwo\nthree", 100, 2, 2, true},
		{"a word longer than a line", "Donaudampfschifffahrt", 3, 0, 4, false},
		{"nothing", "", 10, 2, 1, false},
		{"carriage returns", "one\r\ntwo", 0, 0, 2, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := set(setting{text: c.text, room: c.room, most: c.most})
			if len(p.lines) != c.lines || p.cut != c.cut {
				t.Errorf("%d lines, cut %v", len(p.lines), p.cut)
			}
			if c.room > 0 && p.width > c.room {
				t.Errorf("%.2f wide in a room of %.2f", p.width, c.room)
			}
		})
	}
}

func TestTypesetterForgets(t *testing.T) {
	for i := range remembered + 20 {
		set(setting{text: strings.Repeat("a", i%7) + numeral(i)})
	}
	if n := len(letters().known); n > remembered {
		t.Errorf("%d paragraphs are remembered", n)
	}
}

package keys

import (
	"runtime"
	"strconv"
)

// The two letter rows that logging uses, and how many keys of each.
const (
	Upper   = "upper"
	Lower   = "lower"
	RowKeys = 10
)

// codes are the hardware codes of the keys of a row by system. X11 key codes are
// the kernel's plus 8 (X11 core protocol keeps 0..7 free); Windows reports set 1
// scan codes; macOS its virtual key codes (from memory).
var codes = map[string]map[string][RowKeys]int{
	"linux": {
		Upper: {24, 25, 26, 27, 28, 29, 30, 31, 32, 33},
		Lower: {52, 53, 54, 55, 56, 57, 58, 59, 60, 61},
	},
	"windows": {
		Upper: {16, 17, 18, 19, 20, 21, 22, 23, 24, 25},
		Lower: {44, 45, 46, 47, 48, 49, 50, 51, 52, 53},
	},
	"darwin": {
		Upper: {12, 13, 14, 15, 17, 16, 32, 34, 31, 35},
		Lower: {6, 7, 8, 9, 11, 45, 46, 43, 47, 44},
	},
}

// Position is the position name of a hardware code on this system, "" for a key
// of neither row.
func Position(code int) string {
	for row, list := range codes[runtime.GOOS] {
		for i, c := range list {
			if c == code {
				return row + " " + strconv.Itoa(i+1)
			}
		}
	}
	return ""
}

// Layouts are the letters printed on the two rows, for the legend.
var Layouts = map[string]map[string][RowKeys]string{
	"qwerty": {
		Upper: {"Q", "W", "E", "R", "T", "Y", "U", "I", "O", "P"},
		Lower: {"Z", "X", "C", "V", "B", "N", "M", ",", ".", "/"},
	},
	"qwertz": {
		Upper: {"Q", "W", "E", "R", "T", "Z", "U", "I", "O", "P"},
		Lower: {"Y", "X", "C", "V", "B", "N", "M", ",", ".", "-"},
	},
	"azerty": {
		Upper: {"A", "Z", "E", "R", "T", "Y", "U", "I", "O", "P"},
		Lower: {"W", "X", "C", "V", "B", "N", ",", ";", ":", "!"},
	},
}

// Legend knows what is printed on the keys: a layout to begin with, and what the
// keys themselves have told since.
type Legend struct{ letters map[string]string }

// NewLegend starts with a layout; an unknown one is QWERTY.
func NewLegend(layout string) *Legend {
	l, ok := Layouts[layout]
	if !ok {
		l = Layouts["qwerty"]
	}
	g := &Legend{letters: map[string]string{}}
	for row, keys := range l {
		for i, k := range keys {
			g.letters[row+" "+strconv.Itoa(i+1)] = k
		}
	}
	return g
}

// Heard takes a press into account: the name that the system gave the key at a
// position is what is printed on it. It reports whether the legend changed.
func (g *Legend) Heard(p Press) bool {
	at := Position(p.Code)
	if at == "" || len([]rune(p.Name)) != 1 || g.letters[at] == p.Name {
		return false
	}
	g.letters[at] = p.Name
	return true
}

// Of is how a person would name the chord's key: the letter on it.
func (g *Legend) Of(c Chord) string {
	if l, ok := g.letters[c.Key]; ok {
		c.Key = l
	}
	return c.String()
}

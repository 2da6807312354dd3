// Package keys says which key does what: chords, the actions they start, and a
// person's own choice of them. It knows no window; the desk hands it presses.
package keys

import (
	"fmt"
	"strconv"
	"strings"
)

// Chord is a key with its modifiers. Key is a name ("A", "Space", "Left",
// "Return", "F11") or a position on the keyboard that holds on every layout:
// "upper 1" to "upper 10" on the upper letter row, "lower 1" to "lower 10" on
// the lower.
type Chord struct {
	Key              string
	Ctrl, Shift, Alt bool
}

// Parse reads a chord as String writes it: "Ctrl+Shift+Z", "upper 3".
func Parse(text string) (Chord, error) {
	var c Chord
	rest := strings.TrimSpace(text)
	for {
		mod, after, ok := strings.Cut(rest, "+")
		if !ok || after == "" { // "Ctrl++" ends in the plus key itself
			break
		}
		switch strings.ToLower(strings.TrimSpace(mod)) {
		case "ctrl":
			c.Ctrl = true
		case "shift":
			c.Shift = true
		case "alt":
			c.Alt = true
		default:
			return Chord{}, fmt.Errorf("%q is no modifier: Ctrl, Shift or Alt stand before a plus", mod)
		}
		rest = after
	}
	c.Key = strings.TrimSpace(rest)
	if c.Key == "" {
		return Chord{}, fmt.Errorf("%q names no key", text)
	}
	if row, n, ok := strings.Cut(c.Key, " "); ok {
		i, err := strconv.Atoi(n)
		if row != Upper && row != Lower || err != nil || i < 1 || i > RowKeys {
			return Chord{}, fmt.Errorf("%q is no key: positions are upper 1 to upper %d and lower 1 to lower %d", c.Key, RowKeys, RowKeys)
		}
	}
	return c, nil
}

// MustParse is Parse for chords written in the program.
func MustParse(text string) Chord {
	c, err := Parse(text)
	if err != nil {
		panic(err)
	}
	return c
}

// Chords is MustParse for several.
func Chords(texts ...string) []Chord {
	var out []Chord
	for _, t := range texts {
		out = append(out, MustParse(t))
	}
	return out
}

// String writes the chord as Parse reads it.
func (c Chord) String() string {
	s := ""
	if c.Ctrl {
		s += "Ctrl+"
	}
	if c.Alt {
		s += "Alt+"
	}
	if c.Shift {
		s += "Shift+"
	}
	return s + c.Key
}

// Row returns the row and the number from 1 of a chord that is a position.
func (c Chord) Row() (row string, n int, ok bool) {
	row, num, cut := strings.Cut(c.Key, " ")
	if !cut {
		return "", 0, false
	}
	n, err := strconv.Atoi(num)
	return row, n, err == nil
}

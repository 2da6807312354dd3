package sheet

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"whistlecut/timeline"
)

// Our own plain form: one table per kind of paper with fixed headings. As CSV
// the tables stand one below the other, each under its name in square brackets;
// as XLSX each is a worksheet. The first cell of all says what it is. README
// documents it for people who fill it in by hand.
const (
	ownMark    = "Whistlecut sheet"
	ownVersion = 1
)

// ownText is one cell of the form on its way in or out.
type ownText struct {
	state     timeline.CellState
	text      string
	low, high int
	from      string
}

// ownColumn is one column of a table of the form.
type ownColumn[T any] struct {
	name string
	// number marks a column of whole numbers, right-aligned and summable in XLSX.
	number bool
	get    func(*T) ownText
	set    func(*T, ownText) bool // false: the text can't be read
}

// column is a column of optional cells.
func column[T any, V comparable](name string, number bool, at func(*T) *timeline.Cell[V], format func(V) string, parse func(string) (V, bool)) ownColumn[T] {
	return ownColumn[T]{
		name: name, number: number,
		get: func(t *T) ownText {
			c := at(t)
			o := ownText{state: c.State, low: c.Low, high: c.High, from: c.From}
			if c.State == timeline.CellKnown {
				o.text = format(c.Value)
			}
			return o
		},
		set: func(t *T, o ownText) bool {
			c := at(t)
			c.State, c.Low, c.High, c.From = o.state, o.low, o.high, o.from
			if o.state != timeline.CellKnown {
				return true
			}
			v, ok := parse(o.text)
			if !ok {
				c.State = timeline.CellUnread
				return false
			}
			c.Value = v
			return true
		},
	}
}

// plainColumn is a column of a value that is always there.
func plainColumn[T any](name string, number bool, get func(*T) string, set func(*T, string) bool) ownColumn[T] {
	return ownColumn[T]{
		name: name, number: number,
		get: func(t *T) ownText { return ownText{state: timeline.CellKnown, text: get(t)} },
		set: func(t *T, o ownText) bool { return set(t, o.text) },
	}
}

func wholeText(n int) string { return strconv.Itoa(n) }

func parseWhole(s string) (int, bool) { return wholeNumber(s) }

func parseNumber(s string) (timeline.Number, bool) {
	return timeline.Number(s), s != ""
}

func numberText(n timeline.Number) string { return string(n) }

func sameText(s string) string { return s }

func anyText(s string) (string, bool) { return s, true }

func markText(b bool) string {
	if b {
		return "x"
	}
	return "no"
}

// clockText writes a time as m:ss, with milliseconds where it has any.
func clockText(d time.Duration) string {
	ms := d.Milliseconds()
	s := fmt.Sprintf("%d:%02d", ms/60000, ms/1000%60)
	if ms%1000 != 0 {
		s += strings.TrimRight(fmt.Sprintf(".%03d", ms%1000), "0")
	}
	return s
}

func roleText(r timeline.Role) string { return r.String() }

func parseOwnRole(s string) (timeline.Role, bool) {
	var r timeline.Role
	return r, r.UnmarshalText([]byte(s)) == nil && s != ""
}

func sideColumn[T any](at func(*T) *timeline.Side) ownColumn[T] {
	return plainColumn("Team", false,
		func(t *T) string {
			if *at(t) == timeline.NoSide {
				return ""
			}
			return at(t).String()
		},
		func(t *T, s string) bool { return at(t).UnmarshalText([]byte(strings.ToLower(s))) == nil })
}

func intColumn[T any](name string, at func(*T) *int) ownColumn[T] {
	return plainColumn(name, true,
		func(t *T) string { return strconv.Itoa(*at(t)) },
		func(t *T, s string) bool {
			n, ok := wholeNumber(s)
			*at(t) = n
			return ok
		})
}

// slotColumns are a place of a line-up and its box marks.
func slotColumns(name string, at func(*Lineup) *Slot) []ownColumn[Lineup] {
	return []ownColumn[Lineup]{
		column(name, false, func(l *Lineup) *timeline.Cell[timeline.Number] { return &at(l).Skater }, numberText, parseNumber),
		{
			name: name + " box",
			get: func(l *Lineup) ownText {
				var words []string
				for _, b := range at(l).Box {
					if b.State == timeline.CellKnown {
						words = append(words, string(b.Value))
					} else {
						words = append(words, "?")
					}
				}
				if len(words) == 0 {
					return ownText{state: timeline.CellBlank}
				}
				return ownText{state: timeline.CellKnown, text: strings.Join(words, " ")}
			},
			set: func(l *Lineup, o ownText) bool {
				ok := true
				for _, w := range splitMarks(o.text) {
					cell := timeline.Cell[BoxMark]{State: timeline.CellUnread, From: o.from}
					if m, is := parseBoxMark(w); is {
						cell.State, cell.Value = timeline.CellKnown, m
					} else if w != "?" {
						ok = false
					}
					at(l).Box = append(at(l).Box, cell)
				}
				return ok
			},
		},
	}
}

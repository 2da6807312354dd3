package sheet

import (
	"strconv"
	"strings"

	"whistlecut/timeline"
)

// ownSection is one table of the form where it stands in a book.
type ownSection struct {
	name        string
	g           Grid
	head        int
	first, last int
}

// ownForm reports a book in our own plain form.
func ownForm(b Book) bool {
	for _, g := range b.Tables {
		if strings.EqualFold(g.At(0, 0), ownMark) {
			return true
		}
	}
	return false
}

// ownSections finds the tables: named in brackets below one another, or one per worksheet.
func ownSections(b Book) (title string, out []ownSection) {
	for _, g := range b.Tables {
		marked := strings.EqualFold(g.At(0, 0), ownMark)
		if marked {
			title = g.At(0, 2)
		}
		bracketed := false
		for r := range g.Cells {
			s := g.At(r, 0)
			if strings.HasPrefix(s, "[") && strings.HasSuffix(s, "]") {
				bracketed = true
				out = append(out, ownSection{name: strings.Trim(s, "[] "), g: g, head: r + 1, first: r + 2, last: len(g.Cells) - 1})
				if n := len(out); n > 1 && out[n-2].g.Name == g.Name {
					out[n-2].last = r - 1
				}
			}
		}
		if !bracketed && !marked {
			out = append(out, ownSection{name: g.Name, g: g, head: 0, first: 1, last: len(g.Cells) - 1})
		}
	}
	return title, out
}

// ownReader collects what reading the form gives besides values.
type ownReader struct {
	raw      map[string]string
	problems []Problem
}

// decode reads one table of the form. Unknown headings are reported.
func decode[T any](r *ownReader, sec ownSection, cols []ownColumn[T]) []T {
	index := map[string]int{}
	for c := range sec.g.Width() {
		if h := plain(sec.g.At(sec.head, c)); h != "" {
			index[h] = c
		}
	}
	known := map[string]bool{}
	for _, c := range cols {
		known[plain(c.name)] = true
	}
	for h, c := range index {
		if !known[h] {
			r.problems = append(r.problems, Problem{sec.g.Ref(sec.head, c), strconv.Quote(sec.g.At(sec.head, c)) + " is no heading of the table " + sec.name})
		}
	}
	var out []T
	for row := sec.first; row <= sec.last && row < len(sec.g.Cells); row++ {
		if len(sec.g.Cells[row]) == 0 {
			continue
		}
		var item T
		for _, c := range cols {
			at, ok := index[plain(c.name)]
			if !ok {
				continue
			}
			o := parseOwn(sec.g.At(row, at))
			o.from = sec.g.Ref(row, at)
			if o.state == timeline.CellUnread {
				r.raw[o.from] = o.text
			}
			if !c.set(&item, o) {
				r.raw[o.from] = sec.g.At(row, at)
				r.problems = append(r.problems, Problem{o.from, strconv.Quote(sec.g.At(row, at)) + " can't be read as " + strings.ToLower(c.name)})
			}
		}
		out = append(out, item)
	}
	return out
}

// parseOwn reads what ownCell wrote.
func parseOwn(s string) ownText {
	switch {
	case s == "":
		return ownText{state: timeline.CellBlank}
	case strings.HasPrefix(s, `\`):
		return ownText{state: timeline.CellKnown, text: s[1:]}
	case strings.HasPrefix(s, "?"):
		if low, high, ok := strings.Cut(s[1:], ".."); ok {
			a, err1 := strconv.Atoi(low)
			b, err2 := strconv.Atoi(high)
			if err1 == nil && err2 == nil && a <= b {
				return ownText{state: timeline.CellRange, low: a, high: b}
			}
		}
		return ownText{state: timeline.CellUnread, text: s[1:]}
	}
	return ownText{state: timeline.CellKnown, text: s}
}

// readOwn reads a book in our own form.
func readOwn(b Book) (Sheet, []Problem) {
	var s Sheet
	r := &ownReader{raw: map[string]string{}}
	title, sections := ownSections(b)
	s.Title = title
	for _, sec := range sections {
		last, blockers := 1, 0
		for c := range sec.g.Width() {
			words := strings.Fields(plain(sec.g.At(sec.head, c)))
			if len(words) >= 2 {
				n, _ := strconv.Atoi(words[1])
				switch words[0] {
				case "trip":
					last = max(last, min(n, 40))
				case "blocker":
					blockers = max(blockers, min(n, 10))
				}
			}
		}
		switch plain(sec.name) {
		case "teams":
			for _, t := range decode(r, sec, teamColumns()) {
				if t.side != timeline.NoSide {
					s.Teams[t.side.Index()].Name = t.name
				}
			}
		case "rosters":
			for _, t := range decode(r, sec, rosterColumns()) {
				if t.side != timeline.NoSide {
					team := &s.Teams[t.side.Index()]
					team.Roster = append(team.Roster, t.line)
				}
			}
		case "score":
			for _, row := range decode(r, sec, scoreColumns(last)) {
				if row.Side == timeline.NoSide {
					r.problems = append(r.problems, Problem{sec.name, "a score row names neither home nor away; it was left out"})
					continue
				}
				for n := len(row.Trips); n > 0 && row.Trips[n-1].State == timeline.CellBlank; n-- {
					row.Trips = row.Trips[:n-1]
				}
				if len(row.Trips) == 0 {
					row.Trips = nil
				}
				s.Rows = append(s.Rows, row)
			}
		case "totals":
			s.Totals = ofSides(decode(r, sec, totalColumns()), func(t Total) timeline.Side { return t.Side })
		case "penalties":
			s.Penalties = ofSides(decode(r, sec, penaltyColumns()), func(p Penalty) timeline.Side { return p.Side })
		case "outs":
			s.Outs = ofSides(decode(r, sec, outColumns()), func(o Out) timeline.Side { return o.Side })
		case "line ups":
			for _, l := range ofSides(decode(r, sec, lineupColumns(blockers)), func(l Lineup) timeline.Side { return l.Side }) {
				for n := len(l.Blockers); n > 0 && l.Blockers[n-1].Skater.State <= timeline.CellBlank && len(l.Blockers[n-1].Box) == 0; n-- {
					l.Blockers = l.Blockers[:n-1]
				}
				if len(l.Blockers) == 0 {
					l.Blockers = nil
				}
				s.Lineups = append(s.Lineups, l)
			}
		case "clock":
			s.Clock = decode(r, sec, clockColumns())
		case "timeouts":
			s.Timeouts = decode(r, sec, timeoutColumns())
		case "box":
			s.Box = ofSides(decode(r, sec, boxColumns()), func(b BoxVisit) timeline.Side { return b.Side })
		case "kept":
			s.Kept = decode(r, sec, keptColumns())
		}
	}
	if len(r.raw) > 0 {
		s.Raw = r.raw
	}
	return s, r.problems
}

// ofSides drops lines that name neither team: nothing could be said about them.
func ofSides[T any](list []T, side func(T) timeline.Side) []T {
	var out []T
	for _, x := range list {
		if side(x) != timeline.NoSide {
			out = append(out, x)
		}
	}
	return out
}

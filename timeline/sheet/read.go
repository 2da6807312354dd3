package sheet

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"whistlecut/timeline"
)

// Problem is something on the sheet that could not be read, with its place.
type Problem struct {
	From string `json:"from"`
	Text string `json:"text"`
}

func (p Problem) String() string { return p.From + ": " + p.Text }

// Read turns a book into a Sheet by a mapping. What can't be read becomes a
// CellUnread value with its text in Sheet.Raw, and a Problem; it is never
// guessed.
func Read(b Book, m Mapping) (Sheet, []Problem) {
	if m.Own {
		return readOwn(b)
	}
	r := &reader{book: b, m: m, at: map[timeline.Side]*jamCount{}}
	r.teams()
	for _, k := range kinds {
		for _, blk := range m.Blocks {
			if blk.Kind != k || blk.Index < 0 || blk.Index >= len(b.Tables) {
				continue
			}
			r.block(blk)
		}
	}
	r.finish()
	return r.s, r.problems
}

// reader is the state of reading one book.
type reader struct {
	book     Book
	m        Mapping
	s        Sheet
	problems []Problem
	at       map[timeline.Side]*jamCount // of the kind being read
	kind     Kind

	blk Block
	g   Grid
	row int
}

// jamCount follows the jam numbers of one side down the paper.
type jamCount struct{ period, jam int }

func (r *reader) block(blk Block) {
	r.blk, r.g = blk, r.book.Tables[blk.Index]
	if blk.Transposed {
		r.g = r.g.Transpose()
	}
	if r.kind != blk.Kind {
		r.kind, r.at = blk.Kind, map[timeline.Side]*jamCount{}
	}
	switch blk.Kind {
	case KindScore:
		r.score()
	case KindLineups:
		r.lineups()
	case KindPenalties:
		r.penalties()
	case KindBox:
		r.box()
	case KindTimeouts:
		r.timeouts()
	case KindClock:
		r.clock()
	case KindRoster:
		r.roster()
	}
	r.keep()
}

// rows walks the block's rows of values, skipping empty ones and repeated headings.
func (r *reader) rows(each func()) {
	jam := r.blk.column(FieldJam, 0)
	for r.row = max(r.blk.First, 0); r.row <= r.blk.Last && r.row < len(r.g.Cells); r.row++ {
		if r.blank() {
			continue
		}
		if jam >= 0 {
			if s := r.text(jam); hasLetter(s) && starRow(s) == notStar {
				if cs := readings(s); len(cs) > 0 && cs[0].field == FieldJam && cs[0].n == 0 && cs[0].sure > 0.8 {
					continue
				}
			}
		}
		each()
	}
}

// blank reports a row without anything in the block's columns.
func (r *reader) blank() bool {
	for _, c := range r.blk.Columns {
		if c.Field != FieldKeep && r.text(c.Index) != "" {
			return false
		}
	}
	return true
}

func (r *reader) text(c int) string { return r.g.At(r.row, c) }

// ref names a cell of the current row as it stands in the file.
func (r *reader) ref(c int) string {
	if r.blk.Transposed {
		return r.g.Ref(c, r.row)
	}
	return r.g.Ref(r.row, c)
}

func (r *reader) problem(c int, format string, args ...any) {
	if len(r.problems) < 1000 {
		r.problems = append(r.problems, Problem{r.ref(c), fmt.Sprintf(format, args...)})
	}
}

// cellOf reads one cell: absent without a column, blank when empty, unread when
// parse refuses the text.
func cellOf[T comparable](r *reader, c int, what string, parse func(string) (T, bool)) timeline.Cell[T] {
	if c < 0 {
		return timeline.Cell[T]{}
	}
	s := r.text(c)
	if s == "" {
		return timeline.Cell[T]{State: timeline.CellBlank, From: r.ref(c)}
	}
	if v, ok := parse(s); ok {
		return timeline.Cell[T]{State: timeline.CellKnown, Value: v, From: r.ref(c)}
	}
	if isDash(s) {
		return timeline.Cell[T]{State: timeline.CellBlank, From: r.ref(c)}
	}
	r.unread(c)
	r.problem(c, "%q can't be read as %s", s, what)
	return timeline.Cell[T]{State: timeline.CellUnread, From: r.ref(c)}
}

func (r *reader) unread(c int) {
	if r.s.Raw == nil {
		r.s.Raw = map[string]string{}
	}
	r.s.Raw[r.ref(c)] = r.text(c)
}

func (r *reader) mark(c int) timeline.Cell[bool] {
	return cellOf(r, c, "a mark", func(s string) (bool, bool) {
		if v, ok := parseMark(s); ok {
			return v, true
		}
		// A word or initial of the mark's own kind ticks it as well.
		return true, hasLetter(s) && len(plain(s)) <= 6 && !strings.ContainsAny(s, "?0123456789")
	})
}

func (r *reader) points(c int) timeline.Cell[int] { return cellOf(r, c, "points", parsePoints) }

func (r *reader) skater(c int) timeline.Cell[timeline.Number] {
	return cellOf(r, c, "a skater's number", parseSkater)
}

func (r *reader) number(c int, what string) timeline.Cell[int] {
	return cellOf(r, c, what, func(s string) (int, bool) { _, n, ok := parseJam(s); return n, ok })
}

func (r *reader) time(c int) timeline.Cell[time.Duration] { return cellOf(r, c, "a time", parseClock) }

func (r *reader) word(c int) timeline.Cell[string] {
	return cellOf(r, c, "a text", func(s string) (string, bool) { return s, true })
}

// parseJam reads a jam number: "12", "J12", "Jam 12", and with the period "P2 J12", "2-12".
func parseJam(s string) (period, jam int, ok bool) {
	if n, ok := wholeNumber(s); ok {
		return 0, n, n >= 0
	}
	if len(s) > 24 || strings.ContainsAny(s, "?:") {
		return 0, 0, false
	}
	var nums []int
	for _, w := range strings.Fields(plain(s)) {
		if n, err := strconv.Atoi(w); err == nil {
			nums = append(nums, n)
			continue
		}
		if w != "j" && w != "jam" && w != "p" && w != "no" && w != "nr" && !periodWord[w] && w != "h" && w != "ot" && !ordinal[w] {
			return 0, 0, false
		}
	}
	switch {
	case len(nums) == 1:
		return 0, nums[0], true
	case len(nums) == 2 && nums[0] >= 1 && nums[0] <= 4:
		return nums[0], nums[1], true
	}
	return 0, 0, false
}

// count is the jam count of a side in the kind being read.
func (r *reader) count(side timeline.Side) *jamCount {
	c := r.at[side]
	if c == nil {
		c = &jamCount{}
		r.at[side] = c
	}
	if r.blk.Period > 0 && c.period != r.blk.Period {
		*c = jamCount{period: r.blk.Period}
	}
	return c
}

// step moves a side's count to the jam a row names. A period column wins; without
// one the numbers beginning anew start the next period.
func (r *reader) step(side timeline.Side, period, jam int) *jamCount {
	c := r.count(side)
	if p := r.blk.column(FieldPeriod, 0); p >= 0 {
		if n := periodCell(r.text(p)); n > 0 {
			period = n
		}
	}
	switch {
	case period > 0:
		if period != c.period {
			*c = jamCount{period: period}
		}
	case c.period == 0:
		c.period = 1
	case r.blk.Period == 0 && r.blk.column(FieldPeriod, 0) < 0 && jam < c.jam && (jam == 1 || jam+3 < c.jam):
		c.period++
	}
	c.jam = jam
	return c
}

// periodCell reads a cell of a period column: "1", "P2", "2nd half".
func periodCell(s string) int {
	if n, ok := wholeNumber(s); ok {
		return n
	}
	return periodOf(s)
}

// side is the side of the current row: the block's, or what the team column says.
func (r *reader) side() timeline.Side {
	c := r.blk.column(FieldTeam, 0)
	if c < 0 {
		return r.blk.Side
	}
	s := r.text(c)
	if s == "" {
		return r.blk.Side
	}
	return r.sideNamed(s)
}

// sideNamed reads a team cell: side words, their initials, or a team's name; a
// new name becomes the side that has none.
func (r *reader) sideNamed(s string) timeline.Side {
	if side := sideOf(s); side != timeline.NoSide {
		return side
	}
	name := teamName(s)
	if side := r.m.named(s); side != timeline.NoSide {
		return side
	}
	if side, ok := r.m.Names[name]; ok && name != "" {
		return side
	}
	switch plain(s) {
	case "h", "l", "d":
		return timeline.Home
	case "a", "v", "g", "e":
		return timeline.Away
	}
	return timeline.NoSide
}

// teams fills the team names that the mapping knows, and learns names that stand
// only in team columns: the first one met is home.
func (r *reader) teams() {
	names := map[string]timeline.Side{}
	for n, s := range r.m.Names {
		names[n] = s
	}
	r.m.Names = names
	var found []string
	for _, blk := range r.m.Blocks {
		col := blk.column(FieldTeam, 0)
		if col < 0 || blk.Index >= len(r.book.Tables) || blk.Index < 0 {
			continue
		}
		g := r.book.Tables[blk.Index]
		if blk.Transposed {
			g = g.Transpose()
		}
		for row := max(blk.First, 0); row <= blk.Last && row < len(g.Cells); row++ {
			s := g.At(row, col)
			n := teamName(s)
			if n == "" || len(plain(s)) == 1 || r.sideNamed(s) != timeline.NoSide || contains(found, n) || officialWord(s) {
				continue
			}
			found = append(found, n)
		}
	}
	taken := map[timeline.Side]bool{}
	for _, s := range names {
		taken[s] = true
	}
	for _, n := range found {
		switch {
		case !taken[timeline.Home]:
			names[n], taken[timeline.Home] = timeline.Home, true
		case !taken[timeline.Away]:
			names[n], taken[timeline.Away] = timeline.Away, true
		}
	}
}

// keep stores the texts of columns nobody has a field for.
func (r *reader) keep() {
	for _, c := range r.blk.Columns {
		if c.Field != FieldKeep {
			continue
		}
		for r.row = max(r.blk.First, 0); r.row <= r.blk.Last && r.row < len(r.g.Cells); r.row++ {
			if s := r.text(c.Index); s != "" && len(r.s.Kept) < 20_000 {
				r.s.Kept = append(r.s.Kept, Kept{Heading: c.Heading, Text: s, From: r.ref(c.Index)})
			}
		}
	}
}

// finish names the teams as the paper writes them.
func (r *reader) finish() {
	for _, g := range r.book.Tables {
		for row := range min(len(g.Cells), 60) {
			for c, s := range g.Cells[row] {
				if len(s) > 80 {
					continue
				}
				text := s
				if head, tail, ok := strings.Cut(s, ":"); ok && sideOf(head) != timeline.NoSide {
					text = strings.TrimSpace(tail)
				} else if head, tail, ok := strings.Cut(s, "("); ok && sideOf(tail) != timeline.NoSide {
					text = strings.TrimSpace(head)
				} else if head, tail, ok := strings.Cut(s, " - "); ok && sideOf(head) != timeline.NoSide {
					text = strings.TrimSpace(tail)
				}
				side, ok := r.m.Names[teamName(text)]
				if !ok || strings.Join(without(strings.Fields(plain(text)), noise), " ") != strings.Join(without(strings.Fields(teamName(text)), noise), " ") {
					continue
				}
				if t := &r.s.Teams[side.Index()]; t.Name.State == timeline.CellAbsent {
					t.Name = timeline.Cell[string]{State: timeline.CellKnown, Value: text, From: g.Ref(row, c)}
				}
			}
		}
	}
}

func officialWord(s string) bool {
	for _, w := range strings.Fields(plain(s)) {
		switch w {
		case "official", "oficial", "officiel", "offiziell", "officials", "oficiales", "officiels", "offizielle", "ot", "oto", "ref", "referee", "refs", "arbitre", "arbitro", "schiedsrichter":
			return true
		}
	}
	return false
}

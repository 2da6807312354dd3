package sheet

import (
	"strconv"
	"strings"
)

// zone is a heading of one or more rows and the rows of values below it.
type zone struct {
	top, bottom int // heading rows; top == bottom+1 == first when there is none
	first, last int // rows of values
	titles      []string
}

// reader memoises the readings of headings of one book.
type headingReader struct {
	seen map[string][]candidate
}

func (h *headingReader) read(s string) []candidate {
	if s == "" || len(s) > 80 {
		return nil
	}
	if c, ok := h.seen[s]; ok {
		return c
	}
	if len(h.seen) > 20_000 {
		return nil
	}
	c := readings(s)
	h.seen[s] = c
	return c
}

// rowLook is what a row looks like as a heading.
type rowLook struct {
	texts   int     // cells with letters
	matched int     // of them, read as a field
	sure    float64 // of the surest
	fields  map[Field]bool
	numbers int // cells that are plain numbers
	inRuns  int // numbers in such runs of two or more
	run     int // length of the longest run 1 2 3.. or 2 3 4.. of neighbouring numbers
	sides   int // cells that name a side and nothing else
	longest int // longest text
}

func (h *headingReader) look(g Grid, r int) rowLook {
	l := rowLook{fields: map[Field]bool{}}
	prev, run := -1, 0
	for c := range g.Cells[r] {
		s := g.Cells[r][c]
		if s == "" {
			continue
		}
		if n, ok := wholeNumber(s); ok {
			l.numbers++
			switch {
			case n == prev+1 && run > 0:
				run++
			case n == 1 || n == 2:
				run = 1
			default:
				run = 0
			}
			prev = n
			l.run = max(l.run, run)
			switch {
			case run == 2:
				l.inRuns += 2
			case run > 2:
				l.inRuns++
			}
			continue
		}
		prev, run = -1, 0
		if !hasLetter(s) {
			if s != "#" {
				continue
			}
		}
		l.texts++
		l.longest = max(l.longest, len(s))
		cs := h.read(s)
		if len(cs) > 0 && cs[0].sure >= 0.55 {
			l.matched++
			l.sure = max(l.sure, cs[0].sure)
			l.fields[cs[0].field] = true
		} else if sideOf(s) != 0 && len(strings.Fields(s)) <= 2 {
			l.sides++
		}
	}
	return l
}

// heading reports whether a row reads as a heading by itself.
func (l rowLook) heading() bool {
	data := l.numbers - l.inRuns
	switch {
	case l.sure < 0.75 || 4*data > l.matched:
		return false
	case len(l.fields) >= 2 && 2*l.matched >= l.texts:
		return true
	case len(l.fields) >= 1 && l.run >= 3:
		return true
	case len(l.fields) >= 4 && 3*l.matched >= l.texts:
		return true
	}
	return l.matched >= 1 && l.sides >= 2
}

// sub reports whether a row continues the heading above it.
func (l rowLook) sub() bool {
	if l.run >= 3 && l.numbers == l.inRuns && l.matched == l.texts {
		return true
	}
	return l.numbers <= l.inRuns && l.matched >= 2 && 3*l.matched >= 2*l.texts && l.sure >= 0.55
}

// maxHeadingRows bounds where headings are looked for.
const maxHeadingRows = 5_000

// zones finds the headings of a table and the rows that belong to each.
func (h *headingReader) zones(g Grid) []zone {
	var zs []zone
	n := len(g.Cells)
	for r := 0; r < min(n, maxHeadingRows); r++ {
		l := h.look(g, r)
		if !l.heading() && !h.jamHeading(g, r, l) {
			continue
		}
		z := zone{top: r, bottom: r}
		for z.bottom+1 < n && z.bottom-z.top < 3 && h.look(g, z.bottom+1).sub() {
			z.bottom++
		}
		// A row of group texts right above ("Home", "Trips") belongs to the heading.
		for z.top > 0 && z.bottom-z.top < 3 && group(g, z.top-1, h.look(g, z.top-1)) {
			if len(zs) > 0 && z.top-1 <= zs[len(zs)-1].bottom {
				break
			}
			z.top--
		}
		z.first = z.bottom + 1
		zs = append(zs, z)
		r = z.bottom
	}
	for i := range zs {
		zs[i].last = n - 1
		if i+1 < len(zs) {
			// Titles of the next table are no rows of this one.
			end := zs[i+1].top
			for end-1 >= zs[i].first && end > zs[i+1].top-4 && (len(g.Cells[end-1]) == 0 || loneTitle(g, end-1)) {
				end--
			}
			zs[i].last = end - 1
		}
		floor := 0
		if i > 0 {
			floor = zs[i-1].first
		}
		for r := zs[i].top - 1; r >= floor && r >= zs[i].top-5; r-- {
			if t := title(g, r); t != "" {
				zs[i].titles = append(zs[i].titles, t)
			} else if len(g.Cells[r]) > 0 {
				break
			}
		}
	}
	return zs
}

// jamHeading accepts a row whose only known heading is the jam, when jam
// numbers count up below it: "Jam | Night Herons | Salt Foxes".
func (h *headingReader) jamHeading(g Grid, r int, l rowLook) bool {
	if !l.fields[FieldJam] || l.numbers > 0 || l.texts < 2 {
		return false
	}
	for c, s := range g.Cells[r] {
		if cs := h.read(s); len(cs) > 0 && cs[0].field == FieldJam && cs[0].sure > 0.8 {
			a, ok1 := wholeNumber(g.At(r+1, c))
			b, ok2 := wholeNumber(g.At(r+2, c))
			return ok1 && ok2 && b == a+1
		}
	}
	return false
}

// group reports whether a row above a heading groups its columns: texts and no values.
func group(g Grid, r int, l rowLook) bool {
	return l.texts >= 2 && l.numbers <= l.texts/2 && l.longest <= 60
}

// title returns the text of a row that holds one or two texts and nothing else.
func title(g Grid, r int) string {
	var texts []string
	for _, s := range g.Cells[r] {
		if s != "" {
			texts = append(texts, s)
		}
	}
	if len(texts) == 0 || len(texts) > 4 {
		return ""
	}
	joined := strings.Join(texts, " ")
	if !hasLetter(joined) || len(joined) > 120 {
		return ""
	}
	return joined
}

// loneTitle reports a row with one text that no row of values could be.
func loneTitle(g Grid, r int) bool {
	only := ""
	for _, s := range g.Cells[r] {
		if s == "" {
			continue
		}
		if only != "" {
			return false
		}
		only = s
	}
	return hasLetter(only) && starRow(only) == notStar && !isTotalLine(only) && len(only) > 2
}

func hasLetter(s string) bool {
	for _, r := range s {
		if r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r > 0xbf && r != '×' && r != '÷' && r < 0x2000 {
			return true
		}
	}
	return false
}

// wholeNumber reads a cell as a whole number: "7", "7.0", "7,0".
func wholeNumber(s string) (int, bool) {
	if i := strings.IndexAny(s, ".,"); i > 0 && strings.Trim(s[i+1:], "0") == "" {
		s = s[:i]
	}
	if len(s) > 6 {
		return 0, false
	}
	n, err := strconv.Atoi(s)
	return n, err == nil
}

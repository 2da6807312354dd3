package sheet

import (
	"errors"
	"strconv"
	"strings"
)

// errFormula says that a formula is beyond plain arithmetic.
var errFormula = errors.New("not plain arithmetic")

// formula works out plain arithmetic (+ - * / and SUM, MIN, MAX over ranges of
// the same table): what jam totals and running totals are made of.
type formula struct {
	grid   *Grid
	source map[[2]int]string // cells with a formula and no stored value
	done   map[[2]int]float64
	open   map[[2]int]bool // being worked out: a circle
	steps  int
}

// fill writes the values that could be worked out into the grid and returns how
// many formulas stay without a value.
func (f *formula) fill() int {
	f.done, f.open = map[[2]int]float64{}, map[[2]int]bool{}
	left := 0
	for at := range f.source {
		if _, err := f.value(at, 0); err != nil {
			left++
		}
	}
	for at, v := range f.done {
		for len(f.grid.Cells[at[0]]) <= at[1] {
			f.grid.Cells[at[0]] = append(f.grid.Cells[at[0]], "")
		}
		f.grid.Cells[at[0]][at[1]] = strconv.FormatFloat(v, 'f', -1, 64)
	}
	return left
}

// value is the number a cell holds; an empty or text cell counts 0, as spreadsheets sum.
func (f *formula) value(at [2]int, depth int) (float64, error) {
	if f.steps++; f.steps > 200_000 || depth > 500 {
		return 0, errFormula
	}
	src, is := f.source[at]
	if !is {
		v, _ := strconv.ParseFloat(f.grid.At(at[0], at[1]), 64)
		return v, nil
	}
	if v, ok := f.done[at]; ok {
		return v, nil
	}
	if f.open[at] {
		return 0, errFormula
	}
	f.open[at] = true
	defer delete(f.open, at)
	p := formulaParser{f: f, s: strings.TrimPrefix(strings.TrimSpace(src), "="), depth: depth}
	v, err := p.sum()
	if p.skip(); err == nil && p.at < len(p.s) {
		err = errFormula
	}
	if err != nil {
		return 0, err
	}
	f.done[at] = v
	return v, nil
}

type formulaParser struct {
	f     *formula
	s     string
	at    int
	depth int
	nest  int
}

func (p *formulaParser) skip() {
	for p.at < len(p.s) && p.s[p.at] == ' ' {
		p.at++
	}
}

func (p *formulaParser) take(b byte) bool {
	p.skip()
	if p.at < len(p.s) && p.s[p.at] == b {
		p.at++
		return true
	}
	return false
}

func (p *formulaParser) sum() (float64, error) {
	v, err := p.product()
	for err == nil {
		var w float64
		switch {
		case p.take('+'):
			w, err = p.product()
			v += w
		case p.take('-'):
			w, err = p.product()
			v -= w
		default:
			return v, nil
		}
	}
	return 0, err
}

func (p *formulaParser) product() (float64, error) {
	v, err := p.atom()
	for err == nil {
		var w float64
		switch {
		case p.take('*'):
			w, err = p.atom()
			v *= w
		case p.take('/'):
			if w, err = p.atom(); err == nil && w == 0 {
				err = errFormula
			}
			v /= w
		default:
			return v, nil
		}
	}
	return 0, err
}

func (p *formulaParser) atom() (float64, error) {
	if p.nest++; p.nest > 100 {
		return 0, errFormula
	}
	defer func() { p.nest-- }()
	switch {
	case p.take('-'):
		v, err := p.atom()
		return -v, err
	case p.take('+'):
		return p.atom()
	case p.take('('):
		v, err := p.sum()
		if err == nil && !p.take(')') {
			err = errFormula
		}
		return v, err
	}
	p.skip()
	start := p.at
	for p.at < len(p.s) && (isWord(p.s[p.at]) || p.s[p.at] == '.') {
		p.at++
	}
	word := strings.ToUpper(p.s[start:p.at])
	if word == "" {
		return 0, errFormula
	}
	if v, err := strconv.ParseFloat(word, 64); err == nil {
		return v, nil
	}
	if p.take('(') {
		return p.call(word)
	}
	at, ok := parseRef(word)
	if !ok {
		return 0, errFormula
	}
	return p.f.value(at, p.depth+1)
}

// call works out SUM, MIN or MAX after its opening bracket.
func (p *formulaParser) call(name string) (float64, error) {
	if name != "SUM" && name != "MIN" && name != "MAX" {
		return 0, errFormula
	}
	var all []float64
	for {
		mark := p.at
		if from, to, ok := p.ranged(); ok {
			for r := from[0]; r <= min(to[0], len(p.f.grid.Cells)-1); r++ {
				for c := from[1]; c <= min(to[1], MaxColumns); c++ {
					v, err := p.f.value([2]int{r, c}, p.depth+1)
					if err != nil {
						return 0, err
					}
					all = append(all, v)
				}
			}
		} else {
			p.at = mark
			v, err := p.sum()
			if err != nil {
				return 0, err
			}
			all = append(all, v)
		}
		if p.take(',') || p.take(';') {
			continue
		}
		if !p.take(')') {
			return 0, errFormula
		}
		break
	}
	out := 0.0
	for i, v := range all {
		switch {
		case name == "SUM":
			out += v
		case i == 0, name == "MIN" && v < out, name == "MAX" && v > out:
			out = v
		}
	}
	return out, nil
}

// ranged reads "A1:B2".
func (p *formulaParser) ranged() (from, to [2]int, ok bool) {
	p.skip()
	var refs [2][2]int
	for i := range refs {
		start := p.at
		for p.at < len(p.s) && isWord(p.s[p.at]) {
			p.at++
		}
		if refs[i], ok = parseRef(strings.ToUpper(p.s[start:p.at])); !ok {
			return from, to, false
		}
		if i == 0 && !p.take(':') {
			return from, to, false
		}
	}
	return refs[0], refs[1], true
}

func isWord(b byte) bool {
	return b == '$' || b == '_' || b >= '0' && b <= '9' || b >= 'a' && b <= 'z' || b >= 'A' && b <= 'Z'
}

// parseRef reads a cell name as "C7" or "$C$7".
func parseRef(s string) (at [2]int, ok bool) {
	s = strings.ReplaceAll(s, "$", "")
	i, col := 0, 0
	for i < len(s) && s[i] >= 'A' && s[i] <= 'Z' {
		col = col*26 + int(s[i]-'A') + 1
		if i++; i > 3 {
			return at, false
		}
	}
	row, err := strconv.Atoi(s[i:])
	if i == 0 || err != nil || row < 1 || row > 1<<20 {
		return at, false
	}
	return [2]int{row - 1, col - 1}, true
}

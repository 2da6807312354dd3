package sheet

import (
	"fmt"
	"path"
	"strings"
)

// readCSV reads delimited text into one table. Quoting is that of RFC 4180,
// read leniently: a quote inside an unquoted cell is a plain letter. Blank lines
// count as rows, so that a cell's name is the one a spreadsheet program shows.
func readCSV(book *Book, data []byte) error {
	text, enc, err := decodeText(data)
	if err != nil {
		return err
	}
	book.Format, book.Encoding = "csv", enc
	sep, rest := separator(text)
	book.Comma = string(sep)

	name := strings.TrimSuffix(path.Base(book.Name), path.Ext(book.Name))
	if name == "" {
		name = "sheet"
	}
	f := filler{book: book}
	f.table(name)
	p := csvParser{text: rest, sep: byte(sep)}
	for n := 1; ; n++ {
		row, more := p.next()
		if !f.row(row) {
			return fmt.Errorf("it goes on after row %d, far more than a bout's sheet has (at most %d rows and %d cells are read); choose the sheet itself, or cut the file down to the bout",
				n-1, MaxRows, MaxCells)
		}
		if !more {
			break
		}
	}
	f.trim()
	if len(book.Tables[0].Cells) == 0 {
		return fmt.Errorf("it holds no text; choose the sheet again")
	}
	return nil
}

// csvParser walks the text record by record.
type csvParser struct {
	text string
	at   int
	sep  byte
	row  []string
}

// next returns the next record and whether there may be another.
func (p *csvParser) next() (row []string, more bool) {
	p.row = p.row[:0]
	for {
		cell, end := p.cell()
		if len(p.row) <= MaxColumns {
			p.row = append(p.row, cell)
		}
		switch end {
		case 'e':
			return p.row, false
		case 'n':
			return p.row, p.at < len(p.text)
		}
	}
}

// cell reads one cell and says what ended it: 's' separator, 'n' line, 'e' text.
func (p *csvParser) cell() (string, byte) {
	start := p.at
	for start < len(p.text) && p.text[start] == ' ' && p.sep != ' ' {
		start++
	}
	if start < len(p.text) && p.text[start] == '"' {
		return p.quoted(start + 1)
	}
	i := p.at
	for i < len(p.text) && p.text[i] != p.sep && p.text[i] != '\n' && p.text[i] != '\r' {
		i++
	}
	s := p.text[p.at:i]
	p.at = i
	return s, p.end()
}

// quoted reads a cell after its opening quote.
func (p *csvParser) quoted(i int) (string, byte) {
	var b strings.Builder
	for i < len(p.text) {
		j := strings.IndexByte(p.text[i:], '"')
		if j < 0 {
			b.WriteString(p.text[i:])
			p.at = len(p.text)
			return b.String(), 'e'
		}
		b.WriteString(p.text[i : i+j])
		i += j + 1
		if i < len(p.text) && p.text[i] == '"' {
			b.WriteByte('"')
			i++
			continue
		}
		break
	}
	// What follows the closing quote up to the separator belongs to the cell.
	j := i
	for j < len(p.text) && p.text[j] != p.sep && p.text[j] != '\n' && p.text[j] != '\r' {
		j++
	}
	b.WriteString(p.text[i:j])
	p.at = j
	return b.String(), p.end()
}

// end steps over the separator or the line end at the current place.
func (p *csvParser) end() byte {
	if p.at >= len(p.text) {
		return 'e'
	}
	b := p.text[p.at]
	p.at++
	switch b {
	case p.sep:
		return 's'
	case '\r':
		if p.at < len(p.text) && p.text[p.at] == '\n' {
			p.at++
		}
	}
	return 'n'
}

// separator finds the separator of a text: the one named by a first line
// "sep=;" (common practice of spreadsheet programs, no source), else the one
// that splits most of the first lines, and most evenly. It returns the text
// after such a first line blanked, so that rows keep their numbers.
func separator(text string) (rune, string) {
	if len(text) > 5 && strings.EqualFold(text[:4], "sep=") && (text[5] == '\n' || text[5] == '\r') {
		return rune(text[4]), text[5:]
	}
	lines := sample(text, 60)
	best, bestScore := ',', -1.0
	for _, sep := range ",;\t|" {
		with, fields, even := 0, 0, 0
		prev := -1
		for _, l := range lines {
			n := countOutside(l, byte(sep))
			if n > 0 {
				with++
				fields += n
			}
			if n > 0 && n == prev {
				even++
			}
			prev = n
		}
		if with == 0 {
			continue
		}
		score := float64(with)*2 + float64(even)*3 + float64(fields)/float64(with)
		if score > bestScore {
			best, bestScore = sep, score
		}
	}
	return best, text
}

// sample returns the first n lines that hold anything.
func sample(text string, n int) []string {
	var out []string
	for len(text) > 0 && len(out) < n {
		i := strings.IndexAny(text, "\r\n")
		if i < 0 {
			i = len(text) - 1
		}
		if l := strings.TrimSpace(text[:i+1]); l != "" {
			if len(l) > 8192 {
				l = l[:8192]
			}
			out = append(out, l)
		}
		text = text[i+1:]
	}
	return out
}

func countOutside(line string, sep byte) int {
	n, in := 0, false
	for i := 0; i < len(line); i++ {
		switch {
		case line[i] == '"':
			in = !in
		case line[i] == sep && !in:
			n++
		}
	}
	return n
}

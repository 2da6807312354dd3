package sheet

import (
	"strings"

	"whistlecut/timeline"
)

// Recognise proposes what each table and column of a book holds. It reads the
// trade's headings in English, Spanish, French and German, in one row or
// several, with the teams or periods side by side, one below the other or in
// worksheets of their own, and weighs in what the cells hold. Every block and
// column carries its certainty and a reason for a person to confirm or correct.
func Recognise(b Book) Mapping {
	m := Mapping{Version: MappingVersion, Names: map[string]timeline.Side{}}
	if ownForm(b) {
		m.Own, m.Certainty = true, 1
		return m
	}
	h := &headingReader{seen: map[string][]candidate{}}
	var titles []blockTitles
	for i, g := range b.Tables {
		blocks, t := h.table(g, i)
		if turned, tt := h.turned(g, i, blocks); turned != nil {
			blocks, t = turned, tt
		}
		m.Blocks = append(m.Blocks, blocks...)
		titles = append(titles, t...)
	}
	settlePeriods(m.Blocks, titles)
	settleSides(&m, b, titles)
	m.Certainty = certainty(m.Blocks)
	return m
}

// blockTitles are the texts round a block that may name its side and period.
type blockTitles struct{ titles []string }

// table recognises the blocks of one worksheet.
func (h *headingReader) table(g Grid, index int) ([]Block, []blockTitles) {
	zs := h.zones(g)
	bare := len(zs) == 0
	if bare {
		zs = bareZone(g)
	}
	var blocks []Block
	var titles []blockTitles
	tableKind := kindOf(g.Name)
	for _, z := range zs {
		if z.first > z.last {
			continue
		}
		hint := tableKind
		for _, t := range z.titles {
			if k := kindOf(t); k != KindNone {
				hint = k
				break
			}
		}
		for _, seg := range segments(h.columns(g, z)) {
			for _, b := range blocksOf(seg, z, hint) {
				b.Table, b.Index = g.Name, index
				if bare {
					b.Head, b.Certainty, b.Reason = -1, min(b.Certainty, 0.4), "no headings, by what the cells hold"
				}
				blocks = append(blocks, b)
				titles = append(titles, blockTitles{append(append([]string{b.Label}, z.titles...), g.Name)})
			}
		}
	}
	return blocks, titles
}

// bareZone treats a table without any heading as values from its first row of
// numbers on.
func bareZone(g Grid) []zone {
	for r, row := range g.Cells {
		numbers := 0
		for _, s := range row {
			if _, ok := wholeNumber(s); ok {
				numbers++
			}
		}
		if numbers >= 3 && len(g.Cells)-r >= 4 {
			return []zone{{top: r, bottom: r - 1, first: r, last: len(g.Cells) - 1}}
		}
	}
	return nil
}

// turned recognises a table whose headings stand in a column: when turned it
// must give more than it does as it stands.
func (h *headingReader) turned(g Grid, index int, as []Block) ([]Block, []blockTitles) {
	if len(g.Cells) > 60 || g.Width() > 300 || g.Width() < 4 {
		return nil, nil
	}
	for _, b := range as {
		if b.Kind == KindScore && b.Last-b.First >= 4 || len(b.Columns) >= 6 {
			return nil, nil
		}
	}
	blocks, titles := h.table(g.Transpose(), index)
	best, now := 0, 0
	for i := range blocks {
		blocks[i].Transposed = true
		if blocks[i].Head < 0 {
			return nil, nil
		}
		best = max(best, named(blocks[i].Columns))
	}
	for _, b := range as {
		now = max(now, named(b.Columns))
	}
	if best <= now+1 {
		return nil, nil
	}
	return blocks, titles
}

// settlePeriods reads the period of blocks without a period column from label,
// titles and worksheet name.
func settlePeriods(blocks []Block, titles []blockTitles) {
	most := 0
	for i := range blocks {
		if blocks[i].Period == 0 && !blocks[i].has(FieldPeriod) {
			for _, t := range titles[i].titles {
				if p := periodOf(t); p > 0 {
					blocks[i].Period = p
					break
				}
			}
		}
		if blocks[i].Period != overtimePeriod {
			most = max(most, blocks[i].Period)
		}
	}
	for i := range blocks {
		if blocks[i].Period == overtimePeriod {
			blocks[i].Period = max(most, 2)
		}
	}
}

// settleSides gives every block without a team column its side: by the trade's
// words, by a team's name seen elsewhere, else by order.
func settleSides(m *Mapping, b Book, titles []blockTitles) {
	learnNames(m, b)
	for i := range m.Blocks {
		blk := &m.Blocks[i]
		if blk.Side != timeline.NoSide || blk.has(FieldTeam) || !sided(blk.Kind) {
			continue
		}
		for _, t := range titles[i].titles {
			if s := sideOf(t); s != timeline.NoSide {
				blk.Side, blk.Label = s, t
				break
			}
			if s := m.named(t); s != timeline.NoSide {
				blk.Side, blk.Label = s, t
				break
			}
		}
	}
	byNames(m, titles)
	byOrder(m)
}

// sided reports kinds of table that belong to one team.
func sided(k Kind) bool { return k != KindClock && k != KindTimeouts && k != KindNone }

// named looks a team's name up in a text.
func (m *Mapping) named(text string) timeline.Side {
	p := " " + plain(text) + " "
	var found timeline.Side
	size := 0
	for name, side := range m.Names {
		if len(name) > size && strings.Contains(p, " "+name+" ") {
			found, size = side, len(name)
		}
	}
	return found
}

// learnNames finds which side a team's name belongs to from texts such as
// "Home: Night Herons" or a name beside a cell "Home team".
func learnNames(m *Mapping, b Book) {
	for _, g := range b.Tables {
		for r := range min(len(g.Cells), 40) {
			for c, s := range g.Cells[r] {
				side := sideOf(s)
				if side == timeline.NoSide || len(s) > 80 {
					continue
				}
				name := ""
				if head, tail, ok := strings.Cut(s, ":"); ok && sideOf(head) == side {
					name = strings.TrimSpace(tail)
				} else if head, tail, ok := strings.Cut(s, " - "); ok && sideOf(head) == side {
					name = tail
				} else if head, tail, ok := strings.Cut(s, "("); ok && sideOf(tail) == side {
					name = head
				}
				if onlySide(s) && name == "" {
					if right := g.At(r, c+1); right != "" && sideOf(right) == timeline.NoSide && len(readings(right)) == 0 {
						name = right
					}
				}
				name = teamName(name)
				if name == "" {
					continue
				}
				if _, known := m.Names[name]; !known {
					m.Names[name] = side
				}
			}
		}
	}
}

// onlySide reports a text of side words and "team" alone.
func onlySide(s string) bool {
	for _, w := range strings.Fields(plain(s)) {
		if !homeWords[w] && !awayWords[w] && w != "team" && w != "equipo" && w != "equipe" && w != "mannschaft" {
			return false
		}
	}
	return true
}

// teamName reduces a text to what may be a team's name: no table words, periods,
// numbers or side words.
func teamName(s string) string {
	if !hasLetter(s) || len(s) > 80 {
		return ""
	}
	var out []string
	for _, w := range strings.Fields(plain(s)) {
		if homeWords[w] || awayWords[w] || periodWord[w] || tableWord[w] || w == "p" || w == "h" || w == "mi" || w == "temps" || noise[w] && len(w) < 3 {
			continue
		}
		if _, ok := counted[w]; ok || w[0] >= '0' && w[0] <= '9' || ordinal[w] && len(w) < 3 {
			continue
		}
		out = append(out, w)
	}
	return strings.Join(out, " ")
}

// tableWord are the words of table titles, never part of a team's name here.
var tableWord = func() map[string]bool {
	m := wordSet(`team equipo equipe mannschaft sheet hoja feuille blatt bogen jam jams table tabla tabelle bout game partido match spiel
		spielbericht bericht acta tracker track jammer jammers hoja1 tabelle1 feuil sheet1 overtime form`)
	for _, list := range kindWords {
		for _, phrase := range list {
			for _, w := range strings.Fields(phrase) {
				m[w] = true
			}
		}
	}
	return m
}()

// byNames gives sides by names in titles that no word placed: the first name
// met is home, as paperwork prints the home side first.
func byNames(m *Mapping, titles []blockTitles) {
	var names []string
	of := make([]string, len(m.Blocks))
	for i, b := range m.Blocks {
		if b.Side != timeline.NoSide || b.has(FieldTeam) || !sided(b.Kind) {
			continue
		}
		for _, t := range titles[i].titles {
			if n := teamName(t); n != "" {
				of[i] = n
				break
			}
		}
		if of[i] != "" && !contains(names, of[i]) {
			names = append(names, of[i])
		}
	}
	known := map[timeline.Side]bool{}
	for _, s := range m.Names {
		known[s] = true
	}
	switch {
	case len(names) == 2 && !known[timeline.Home] && !known[timeline.Away]:
		m.Names[names[0]], m.Names[names[1]] = timeline.Home, timeline.Away
	case len(names) == 1 && known[timeline.Home] != known[timeline.Away]:
		if known[timeline.Home] {
			m.Names[names[0]] = timeline.Away
		} else {
			m.Names[names[0]] = timeline.Home
		}
	default:
		return
	}
	for i := range m.Blocks {
		if s, ok := m.Names[of[i]]; ok && of[i] != "" {
			m.Blocks[i].Side = s
			if m.Blocks[i].Label == "" {
				m.Blocks[i].Label = of[i]
			}
		}
	}
}

// byOrder gives the blocks of one kind and period that still have no side: the
// first is home, the second away.
func byOrder(m *Mapping) {
	type key struct {
		kind   Kind
		period int
	}
	seen := map[key]map[timeline.Side]bool{}
	for _, b := range m.Blocks {
		k := key{b.Kind, b.Period}
		if seen[k] == nil {
			seen[k] = map[timeline.Side]bool{}
		}
		seen[k][b.Side] = true
	}
	for i := range m.Blocks {
		b := &m.Blocks[i]
		if b.Side != timeline.NoSide || b.has(FieldTeam) || !sided(b.Kind) {
			continue
		}
		k := key{b.Kind, b.Period}
		b.Side = timeline.Home
		if seen[k][timeline.Home] {
			b.Side = timeline.Away
		}
		if seen[k][timeline.Home] && seen[k][timeline.Away] {
			b.Side = timeline.Home // a second pair: the next period
			if b.Period == 0 {
				seen[k] = map[timeline.Side]bool{}
			}
		}
		seen[k][b.Side] = true
		b.Certainty = round2(b.Certainty * 0.8)
		b.Reason += "; side by order"
	}
}

func contains(list []string, s string) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}

// certainty is that of the least sure column that a score rests on.
func certainty(blocks []Block) float64 {
	least := 1.0
	any := false
	for _, b := range blocks {
		if b.Kind != KindScore {
			continue
		}
		any = true
		least = min(least, b.Certainty)
		for _, c := range b.Columns {
			switch c.Field {
			case FieldJam, FieldTrip, FieldJamTotal, FieldGameTotal:
				least = min(least, c.Certainty)
			}
		}
	}
	if !any {
		least = 0
		for _, b := range blocks {
			least = max(least, b.Certainty)
		}
	}
	return round2(least)
}

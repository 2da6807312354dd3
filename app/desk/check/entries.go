package check

import (
	"slices"
	"strings"

	"whistlecut/app"
	"whistlecut/app/desk/words"
	"whistlecut/timeline"
	"whistlecut/timeline/sheet"
)

// entryTable is what the sheet and the tags have in a place that is no score row:
// two lines under one heading, one cell per column.
type entryTable struct {
	heads       []string
	paper, tags []string
}

// differs reports the columns that are not alike.
func (t entryTable) differs(i int) bool { return t.paper[i] != t.tags[i] }

// entriesOf fills the table for a finding.
func entriesOf(paper *sheet.Sheet, s *app.Session, f sheet.Finding) entryTable {
	switch {
	case paper == nil:
	case f.Table == sheet.KindPenalties && f.Cause != sheet.CauseOut && f.Column != sheet.FieldOut:
		return penaltyEntries(paper, s, f)
	case f.Table == sheet.KindLineups:
		if t, ok := lineupEntries(paper, s, f); ok {
			return t
		}
	}
	name := columnName(string(f.Column))
	if name == "" {
		name = tableText(f.Table)
	}
	t := entryTable{heads: []string{name}, paper: []string{valueText(f.Sheet)}, tags: []string{valueText(f.Tags)}}
	if f.Skater != "" {
		t.heads = slices.Insert(t.heads, 0, words.T("skater"))
		t.paper = slices.Insert(t.paper, 0, string(f.Skater))
		t.tags = slices.Insert(t.tags, 0, string(f.Skater))
	}
	return t
}

// penaltyEntries are skater, code and jam of a penalty on both papers.
func penaltyEntries(paper *sheet.Sheet, s *app.Session, f sheet.Finding) entryTable {
	t := entryTable{heads: []string{words.T("skater"), words.T("penalty"), words.T("period"), words.T("jam")}}
	none := []string{"–", words.T("none"), "–", "–"}
	t.paper, t.tags = none, none
	if p, ok := paperPenalty(paper, f); ok {
		t.paper = []string{cellText(p.Skater), cellText(p.Code), numberText(p.Period), numberText(p.Jam)}
	}
	for _, id := range f.TagID {
		x, ok := s.Facts.Tags[id]
		if !ok || x.Penalty == nil {
			continue
		}
		t.tags = []string{whoText(x.Who), x.Penalty.Code, "?", "?"}
		if x.Penalty.Seen == timeline.NotSeen || x.Penalty.Code == "" {
			t.tags[1] = "?"
		}
		for i := range s.Bout.Jams {
			if j := &s.Bout.Jams[i]; slices.Contains(j.Tags, id) {
				t.tags[2], t.tags[3] = number(j.Period), number(j.Number)
			}
		}
		break
	}
	return t
}

// paperPenalty is the entry of the penalty sheet that a finding is about.
func paperPenalty(paper *sheet.Sheet, f sheet.Finding) (sheet.Penalty, bool) {
	best, most := -1, 0
	if f.Sheet == "none" {
		return sheet.Penalty{}, false
	}
	for i, p := range paper.Penalties {
		if p.Side != f.Side || p.Skater.Value != f.Skater {
			continue
		}
		n := 1
		for _, from := range []string{p.Code.From, p.Skater.From} {
			if from != "" && slices.Contains(f.From, from) {
				n += 4
			}
		}
		if p.Period.Value == f.Period && p.Jam.Value == f.Jam {
			n += 2
		}
		if code := strings.ToUpper(p.Code.Value); code != "" && (f.Sheet == code || strings.HasPrefix(f.Sheet, code+" ")) {
			n++
		}
		if n > most {
			best, most = i, n
		}
	}
	if best < 0 {
		return sheet.Penalty{}, false
	}
	return paper.Penalties[best], true
}

// lineupEntries are the two line-ups of a jam; blockers that both have stand in
// the same column.
func lineupEntries(paper *sheet.Sheet, s *app.Session, f sheet.Finding) (entryTable, bool) {
	j, ok := s.Bout.Jam(f.JamID)
	if !ok || f.Side == timeline.NoSide {
		return entryTable{}, false
	}
	t := entryTable{heads: []string{words.T("jammer"), words.T("pivot")}}
	t.paper = []string{words.T("no row"), "–"}
	var blockers []string
	for _, l := range paper.Lineups {
		if l.Side != f.Side || l.Period != f.Period || l.Jam != f.Jam || l.StarPass {
			continue
		}
		t.paper = []string{cellText(l.Jammer.Skater), cellText(l.Pivot.Skater)}
		for _, b := range l.Blockers {
			blockers = append(blockers, cellText(b.Skater))
		}
		break
	}
	side := &j.Sides[f.Side.Index()]
	t.tags = []string{whoText(side.Jammer), whoText(side.Pivot)}
	var tagged []string
	for _, w := range side.Blockers {
		tagged = append(tagged, whoText(w))
	}
	for n := range max(len(blockers), len(tagged)) {
		t.heads = append(t.heads, words.T("blocker"))
		p, x := pairAt(blockers, tagged, n)
		t.paper, t.tags = append(t.paper, p), append(t.tags, x)
	}
	return t, true
}

// pairAt is the n-th pair of two lists: first what both have, then the rest side
// by side.
func pairAt(a, b []string, n int) (string, string) {
	var both, onlyA, onlyB []string
	for _, x := range a {
		if slices.Contains(b, x) {
			both = append(both, x)
		} else {
			onlyA = append(onlyA, x)
		}
	}
	for _, x := range b {
		if !slices.Contains(a, x) {
			onlyB = append(onlyB, x)
		}
	}
	at := func(list []string, i int) string {
		if i < len(list) {
			return list[i]
		}
		return "–"
	}
	if n < len(both) {
		return both[n], both[n]
	}
	return at(onlyA, n-len(both)), at(onlyB, n-len(both))
}

func whoText(w timeline.Who) string {
	switch {
	case w.Seen == timeline.NotSeen:
		return "?"
	case w.Number == "":
		return "–"
	}
	return string(w.Number)
}

func cellText[T ~string](c timeline.Cell[T]) string {
	switch c.State {
	case timeline.CellKnown:
		return string(c.Value)
	case timeline.CellUnread:
		return "?"
	}
	return "–"
}

func numberText(c timeline.Cell[int]) string {
	switch c.State {
	case timeline.CellKnown:
		return number(c.Value)
	case timeline.CellUnread:
		return "?"
	}
	return "–"
}

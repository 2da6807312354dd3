package sheet

import (
	"sort"
	"strconv"
	"strings"
	"sync"

	"whistlecut/timeline"
)

// candidate is one reading of a heading.
type candidate struct {
	field  Field
	n      int     // trip, blocker or penalty number; 0 without
	sure   float64 // 0..1
	base   float64 // the same before looking at the cells
	reason string
}

// phrases is the vocabulary by heading text.
var phrases = sync.OnceValue(func() map[string][]Field {
	m := map[string][]Field{}
	for f, list := range vocabulary {
		for _, p := range list {
			p = plain(p)
			m[p] = append(m[p], f)
		}
	}
	for p := range m {
		sort.Slice(m[p], func(i, j int) bool { return m[p][i] < m[p][j] })
	}
	return m
})

// longest is the number of words of the longest phrase.
const longest = 5

// readings lists what a heading may mean, surest first. Words that name a side
// are set aside first, so that "Home jammer" reads as jammer; numbers are read
// as the number of a trip, blocker or penalty.
func readings(heading string) []candidate {
	words := strings.Fields(plain(heading))
	if len(words) == 0 || len(words) > 9 {
		return nil
	}
	best := map[Field]candidate{}
	add := func(c candidate) {
		if old, ok := best[c.field]; !ok || c.sure > old.sure {
			best[c.field] = c
		}
	}
	num, rest := takeNumber(words)
	var meant []string
	for _, w := range rest {
		if !homeWords[w] && !awayWords[w] {
			meant = append(meant, w)
		}
	}
	if c, ok := tripReading(meant, num); ok {
		add(c)
	}
	whole := strings.Join(meant, " ")
	exact := func(text string, sure float64, how string) {
		for _, f := range phrases()[text] {
			c := candidate{field: f, n: num, sure: sure, reason: how}
			if num > 0 && f != FieldBlocker && f != FieldPenalty && f != FieldPenaltyJam && f != FieldTrip {
				c.sure -= 0.15
			}
			add(c)
		}
	}
	shorter := 0.0
	if len(whole) == 1 {
		shorter = 0.35 // a single letter says little
	} else if len(whole) == 2 {
		shorter = 0.1
	}
	exact(whole, 1-shorter, "heading")
	if kept := without(meant, noise); len(kept) > 0 && len(kept) < len(meant) {
		exact(strings.Join(kept, " "), 0.92, "heading")
	}
	parts(meant, exact)
	if len(phrases()[whole]) == 0 {
		for _, w := range meant {
			if len(phrases()[w]) == 0 {
				slips(w, len(meant), add, num)
			}
		}
	}
	single(meant, num, add)
	if whole == "verl" {
		add(candidate{field: FieldInj, n: num, sure: 0.85, reason: "cut heading"}) // verloren or verletzt
	}
	if whole == "jam" || whole == "jams" {
		add(candidate{field: FieldJamTotal, n: num, sure: 0.5, reason: "heading"}) // "Jam | Game" over the totals
	}
	out := make([]candidate, 0, len(best))
	for _, c := range best {
		out = append(out, c)
	}
	sort.Slice(out, func(i, j int) bool {
		if out[i].sure != out[j].sure {
			return out[i].sure > out[j].sure
		}
		return out[i].field < out[j].field
	})
	return out
}

// parts finds phrases inside a longer heading; more words left over, less sure.
func parts(words []string, exact func(string, float64, string)) {
	for n := min(len(words), longest); n >= 1; n-- {
		found := false
		for i := 0; i+n <= len(words); i++ {
			if n == len(words) {
				continue
			}
			text := strings.Join(words[i:i+n], " ")
			if n == 1 && (len(text) < 3 || noise[text]) {
				continue
			}
			if len(phrases()[text]) > 0 {
				exact(text, 0.86-0.07*float64(len(words)-n), "words in the heading")
				found = true
			}
		}
		if found && n > 1 {
			return
		}
	}
}

// slips reads a cut word ("Durat.") or one mistyped letter.
func slips(w string, of int, add func(candidate), num int) {
	if len(w) < 3 {
		return
	}
	for p, fields := range phrases() {
		if strings.Contains(p, " ") || len(p) < 5 {
			continue
		}
		sure, how := 0.0, ""
		switch {
		case p == w:
			continue
		case strings.HasPrefix(p, w):
			sure, how = 0.72, "cut heading"
		case near(p, w):
			sure, how = 0.66, "heading with a slip"
		default:
			continue
		}
		for _, f := range fields {
			add(candidate{field: f, n: num, sure: sure - 0.08*float64(of-1), reason: how})
		}
	}
}

// single reads the one-letter headings of narrow columns and "B1", "T2", "P3".
func single(words []string, num int, add func(candidate)) {
	if len(words) != 1 || len(words[0]) != 1 {
		return
	}
	letter := words[0]
	for _, x := range [...]struct {
		letter string
		field  Field
		number bool
	}{
		{"j", FieldJammer, false},
		{"j", FieldJam, false},
		{"p", FieldPivot, false},
		{"p", FieldPeriod, false},
		{"p", FieldPenalty, true},
		{"f", FieldPenalty, true},
		{"b", FieldBlocker, false},
		{"b", FieldBlocker, true},
		{"d", FieldBlocker, true},
		{"c", FieldCall, false},
		{"i", FieldInj, false},
		{"l", FieldLead, false},
		{"n", FieldSkater, false},
		{"t", FieldTrip, true},
		{"v", FieldTrip, true},
		{"p", FieldTrip, true},
		{"r", FieldTrip, true},
		{"d", FieldTrip, true},
	} {
		if x.letter != letter || x.number != (num > 0) {
			continue
		}
		add(candidate{field: x.field, n: num, sure: 0.6, reason: "letter"})
	}
}

// takeNumber sets the number of a heading aside: "Trip 2", "2nd trip", "2e passage".
func takeNumber(words []string) (int, []string) {
	num := 0
	var rest []string
	for i, w := range words {
		if n, err := strconv.Atoi(w); err == nil && n > 0 && n < 30 && num == 0 {
			num = n
			continue
		}
		if i > 0 && num > 0 && len(rest) == 0 && ordinal[w] {
			continue
		}
		if n, ok := counted[w]; ok && num == 0 {
			num = n
			continue
		}
		rest = append(rest, w)
	}
	return num, rest
}

var ordinal = wordSet(`st nd rd th e er re ere eme nde a o`)

// counted are ordinals written out.
var counted = map[string]int{
	"first": 1, "second": 2, "third": 3, "fourth": 4, "fifth": 5, "sixth": 6,
	"primera": 1, "segunda": 2, "tercera": 3, "cuarta": 4, "quinta": 5, "primer": 1, "segundo": 2, "primero": 1, "tercer": 3,
	"premier": 1, "premiere": 1, "deuxieme": 2, "seconde": 2, "troisieme": 3, "quatrieme": 4, "cinquieme": 5,
	"erste": 1, "zweite": 2, "dritte": 3, "vierte": 4, "funfte": 5, "erster": 1, "zweiter": 2,
}

// tripReading reads the heading of one trip column.
func tripReading(words []string, num int) (candidate, bool) {
	kept := without(words, noise)
	initial := false
	var other, trip int
	for _, w := range kept {
		switch {
		case w == "initial" || w == "inicial" || w == "initiale":
			initial = true
		case tripWords[w]:
			trip++
		default:
			other++
		}
	}
	switch {
	case other > 0:
	case num > 0 && num < 20 && len(kept) == 0:
		return candidate{field: FieldTrip, n: num, sure: 0.6, reason: "number"}, true
	case num > 0 && num < 20 && trip > 0 && !initial:
		return candidate{field: FieldTrip, n: num, sure: 1, reason: "heading"}, true
	case initial && num <= 1:
		return candidate{field: FieldTrip, n: 1, sure: 0.9, reason: "heading"}, true
	}
	return candidate{}, false
}

func without(words []string, drop map[string]bool) []string {
	var out []string
	for _, w := range words {
		if !drop[w] {
			out = append(out, w)
		}
	}
	return out
}

// sideOf reads which side a text names by the trade's words; NoSide if none or both.
func sideOf(text string) timeline.Side {
	home, away := false, false
	words := strings.Fields(plain(text))
	for i, w := range words {
		home = home || homeWords[w]
		away = away || awayWords[w]
		if (w == "team" || w == "equipo" || w == "equipe" || w == "mannschaft") && i+1 < len(words) {
			switch words[i+1] {
			case "a", "1":
				home = true
			case "b", "2":
				away = true
			}
		}
	}
	switch {
	case home && !away:
		return timeline.Home
	case away && !home:
		return timeline.Away
	}
	return timeline.NoSide
}

// periodOf reads a period number from a text such as "Period 2", "P1 Home",
// "2ª parte", "1. Halbzeit", "Deuxième période"; 0 if it names none.
func periodOf(text string) int {
	words := strings.Fields(plain(text))
	for i, w := range words {
		is := periodWord[w] || w == "p" || w == "h" || w == "mi" && i+1 < len(words) && words[i+1] == "temps"
		if !is {
			continue
		}
		for _, j := range [...]int{i + 1, i - 1, i - 2, i + 2} {
			if j < 0 || j >= len(words) {
				continue
			}
			if n, err := strconv.Atoi(words[j]); err == nil && n > 0 && n < 10 {
				return n
			}
			if n, ok := counted[words[j]]; ok {
				return n
			}
		}
	}
	for _, w := range words {
		if w == "overtime" || w == "prorroga" || w == "prolongation" || w == "verlangerung" {
			return overtimePeriod
		}
	}
	return 0
}

// overtimePeriod stands for a table headed "overtime": its jams continue the last period.
const overtimePeriod = 99

var periodWord = wordSet(`mt period periods periodo periode perioden half halbzeit halfte haelfte hz tiempo mitad parte manche prd per`)

// kindOf reads a table's kind from a title; KindNone if it names none.
func kindOf(text string) Kind {
	t := " " + plain(text) + " "
	best, size := KindNone, 0
	for _, kind := range kinds {
		for _, w := range kindWords[kind] {
			if len(w) > size && strings.Contains(t, " "+w+" ") {
				best, size = kind, len(w)
			}
		}
	}
	return best
}

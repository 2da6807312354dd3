package plant

import (
	"fmt"
	"io"
	"sort"
	"strings"

	"whistlecut/timeline"
	"whistlecut/timeline/sheet"
)

// Bout is one faultless sheet with the bout it is of, to plant mistakes in.
type Bout struct {
	Sheet sheet.Sheet
	Bout  timeline.Bout
	Facts timeline.Facts
}

// Measure is what a series of plantings showed.
type Measure struct {
	Sheets  int // with mistakes
	Planted int
	Found   int // with any finding at their place
	// Wrong counts found mistakes whose finding names another cause.
	Wrong int
	// Spurious counts findings on planted sheets that belong to no mistake.
	Spurious int
	// Clean counts sheets checked without mistakes, CleanFindings what was found there.
	Clean, CleanFindings int
	// Unaccounted counts sides whose difference the findings do not add up to.
	Unaccounted int
	Confusion   map[sheet.Cause]map[sheet.Cause]int // planted, found as ("" for not found)
	// Missed and Confused describe up to twenty cases each.
	Missed, Confused, Extra []string
}

// FoundShare is the share of planted mistakes that were found, 0..1.
func (m Measure) FoundShare() float64 { return share(m.Found, m.Planted) }

// WrongShare is the share of found mistakes with another cause, 0..1.
func (m Measure) WrongShare() float64 { return share(m.Wrong, m.Found) }

func share(a, b int) float64 {
	if b == 0 {
		return 0
	}
	return float64(a) / float64(b)
}

// Judge plants one to eight mistakes in the sheet of each seed's bout and counts
// what Check finds; each sheet is first checked without mistakes. get returns
// the bout of a seed (several seeds may share one).
func Judge(from, seeds uint64, get func(seed uint64) (Bout, error)) (Measure, error) {
	m := Measure{Confusion: map[sheet.Cause]map[sheet.Cause]int{}}
	for seed := from; seed < from+seeds; seed++ {
		b, err := get(seed)
		if err != nil {
			return m, fmt.Errorf("judge the cross-check, seed %d: %w", seed, err)
		}
		m.clean(b)
		m.one(b, seed)
	}
	return m, nil
}

func (m *Measure) clean(b Bout) {
	r := sheet.Check(b.Sheet, b.Bout, b.Facts)
	m.Clean++
	m.CleanFindings += len(r.Findings)
	for _, f := range r.Findings {
		m.Extra = note(m.Extra, "clean: %s: %s: %s", f.Cause, f.Where(), f.Text)
	}
}

func note(list []string, format string, args ...any) []string {
	if len(list) < 20 {
		list = append(list, fmt.Sprintf(format, args...))
	}
	return list
}

// one plants and checks one sheet.
func (m *Measure) one(b Bout, seed uint64) {
	s, planted := Plant(b.Sheet, seed, 1+int(seed%8))
	r := sheet.Check(s, b.Bout, b.Facts)
	m.Sheets++
	m.Planted += len(planted)
	for i, a := range r.Score {
		if a.Difference != a.Explained+a.Unchecked {
			m.Unaccounted++
			m.Extra = note(m.Extra, "seed %d: %s: difference %d, explained %d, unchecked %d", seed, timeline.Sides[i], a.Difference, a.Explained, a.Unchecked)
		}
	}
	taken := make([]bool, len(r.Findings))
	match := make([]int, len(planted))
	for i := range match {
		match[i] = -1
	}
	for _, same := range [...]bool{true, false} {
		for i, p := range planted {
			if match[i] >= 0 {
				continue
			}
			for j, f := range r.Findings {
				if !taken[j] && (f.Cause == p.Cause || !same) && p.at(f, b.Bout) {
					match[i], taken[j] = j, true
					break
				}
			}
		}
	}
	for i, p := range planted {
		row := m.Confusion[p.Cause]
		if row == nil {
			row = map[sheet.Cause]int{}
			m.Confusion[p.Cause] = row
		}
		if match[i] < 0 {
			row[""]++
			m.Missed = note(m.Missed, "seed %d: %s", seed, p)
			continue
		}
		f := r.Findings[match[i]]
		row[f.Cause]++
		m.Found++
		if f.Cause != p.Cause {
			m.Wrong++
			m.Confused = note(m.Confused, "seed %d: %s; found as %s: %s", seed, p, f.Cause, f.Text)
		}
	}
	for j, f := range r.Findings {
		if !taken[j] {
			m.Spurious++
			m.Extra = note(m.Extra, "seed %d: %s: %s: %s (planted: %v)", seed, f.Cause, f.Where(), f.Text, planted)
		}
	}
}

// at reports that a finding is about the place of a mistake.
func (p Planted) at(f sheet.Finding, b timeline.Bout) bool {
	if f.Table != p.Table {
		return false
	}
	if f.Side != p.Side && f.Side != timeline.NoSide && p.Side != timeline.NoSide && f.Cause != sheet.CauseLead {
		return false
	}
	if p.Table == sheet.KindPenalties && (f.Skater != p.Skater || f.Cause == sheet.CauseOut) {
		return false
	}
	// Where lines are missing or doubled the paper's numbers are off; the jam is not.
	for i := range b.Jams {
		j := &b.Jams[i]
		if j.ID == f.JamID {
			if j.Period == p.Period && j.Number == p.Jam {
				return true
			}
			break
		}
	}
	return p.Table == sheet.KindPenalties && f.Period == p.Period && f.Jam == p.Jam
}

// Print writes the figures and the confusion table.
func (m Measure) Print(w io.Writer) {
	fmt.Fprintf(w, "sheets with mistakes %d, mistakes planted %d\n", m.Sheets, m.Planted)                                             //nolint:errcheck // a report
	fmt.Fprintf(w, "found %d (%.2f %%), with another cause %d (%.2f %%)\n", m.Found, 100*m.FoundShare(), m.Wrong, 100*m.WrongShare()) //nolint:errcheck // a report
	fmt.Fprintf(w, "findings that belong to no mistake %d; on %d clean sheets %d\n", m.Spurious, m.Clean, m.CleanFindings)            //nolint:errcheck // a report
	fmt.Fprintf(w, "sides whose difference is not fully accounted for %d\n", m.Unaccounted)                                           //nolint:errcheck // a report
	causes := make([]sheet.Cause, 0, len(m.Confusion))
	for c := range m.Confusion {
		causes = append(causes, c)
	}
	sort.Slice(causes, func(i, j int) bool { return causes[i] < causes[j] })
	for _, c := range causes {
		row := m.Confusion[c]
		total, parts := 0, []string{}
		as := make([]sheet.Cause, 0, len(row))
		for f := range row {
			as = append(as, f)
		}
		sort.Slice(as, func(i, j int) bool { return row[as[i]] > row[as[j]] || row[as[i]] == row[as[j]] && as[i] < as[j] })
		for _, f := range as {
			total += row[f]
			name := string(f)
			if f == "" {
				name = "not found"
			}
			if f == c {
				name = "right"
			}
			parts = append(parts, fmt.Sprintf("%s %d", name, row[f]))
		}
		fmt.Fprintf(w, "  %-34s %4d: %s\n", c, total, strings.Join(parts, ", ")) //nolint:errcheck // a report
	}
	for _, list := range []struct {
		name  string
		lines []string
	}{{"not found", m.Missed}, {"another cause", m.Confused}, {"belongs to no mistake", m.Extra}} {
		for _, l := range list.lines {
			fmt.Fprintf(w, "%s: %s\n", list.name, l) //nolint:errcheck // a report
		}
	}
}

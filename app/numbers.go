package app

import (
	"fmt"

	"whistlecut/timeline"
	"whistlecut/timeline/numbers"
)

// Source is the open bout as package numbers counts it.
func (s *Session) Source() numbers.Source {
	src := numbers.Source{Title: s.Facts.Info.Title, Date: s.Facts.Info.Date, Facts: &s.Facts, Bout: &s.Bout}
	if src.Title == "" && s.Bout.Teams[0].Name != "" && s.Bout.Teams[1].Name != "" {
		src.Title = s.Bout.Teams[0].Name + " : " + s.Bout.Teams[1].Name
	}
	return src
}

// SkaterPage is one skater's numbers with the sessions they come from.
type SkaterPage struct {
	numbers.Page
	// Own and Coach are what she and the coach wrote on it, bout by bout.
	Own, Coach string
	// films names the files, by bout of the page and footage ID.
	films []map[timeline.ID]string
}

// FilmName is the file that a place of the page's bout is on.
func (p SkaterPage) FilmName(bout int, id timeline.ID) string {
	if bout < 0 || bout >= len(p.films) {
		return string(id)
	}
	return p.films[bout][id]
}

// PageOf makes the page of one skater over the open bouts, first to last. who is
// "home 052", a team's name and a number, or the skater's own name.
func PageOf(sessions []*Session, who string) (SkaterPage, error) {
	var src []numbers.Source
	for _, s := range sessions {
		src = append(src, s.Source())
	}
	name, err := numbers.ParseName(who, src)
	if err != nil {
		return SkaterPage{}, err
	}
	p, err := numbers.PageOf(src, name)
	if err != nil {
		return SkaterPage{}, err
	}
	out := SkaterPage{Page: p}
	for _, s := range sessions {
		if !knows(s, name) {
			continue
		}
		who := p.Bouts[len(out.films)].Skater
		out.Own = joined(out.Own, s.Facts.Remark(who, timeline.BySkater))
		out.Coach = joined(out.Coach, s.Facts.Remark(who, timeline.ByCoach))
		films := map[timeline.ID]string{}
		for id, f := range s.Facts.Footage {
			films[id] = f.Path
		}
		out.films = append(out.films, films)
	}
	if len(out.films) != len(p.Bouts) {
		return out, fmt.Errorf("the films of %d bouts were found for %d on the page", len(out.films), len(p.Bouts))
	}
	return out, nil
}

// joined is two texts one below the other.
func joined(a, b string) string {
	if a == "" || b == "" {
		return a + b
	}
	return a + "\n" + b
}

// knows reports whether a bout is one of those on the page.
func knows(s *Session, who numbers.Name) bool {
	_, err := numbers.PageOf([]numbers.Source{s.Source()}, who)
	return err == nil
}

// ConsentNote goes with every page about one skater.
const ConsentNote = "This page is about one person. Ask her before you share it; for minors the league's safeguarding policy and local law decide."

// Report makes the coach's numbers of the bout.
func (s *Session) Report() numbers.Report { return numbers.ReportOf(s.Source()) }

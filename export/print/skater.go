package print

import (
	"fmt"
	"io"
	"path"
	"strings"
	"time"

	"whistlecut/timeline"
	"whistlecut/timeline/numbers"
)

// Skater is what a skater's page is made of.
type Skater struct {
	Page numbers.Page
	// FilmName names the file of a place, by bout of the page; nil prints no files.
	FilmName func(bout int, id timeline.ID) string
	// Own and Coach are what she and the coach wrote; where there is nothing the page
	// has lines to write on.
	Own, Coach string
}

const (
	consentText  = "This page is about one person. Ask her before you share it; for minors the league's safeguarding policy and local law decide."
	decisionText = "Calls and points are as tagged from film; the head referee's decision is final."
)

// WriteSkater writes a skater's page as PDF.
func WriteSkater(w io.Writer, in Skater, o Options) error {
	pg := in.Page
	p := newPaper(o.words().t("Skater's page")+": "+pg.Name.String(), o)
	var under []string
	for _, b := range pg.Bouts {
		under = append(under, strings.TrimSpace(fmt.Sprintf("%s  %s  ·  %s : %s", b.Date, b.Title, p.rng(b.Score[0]), p.rng(b.Score[1]))))
	}
	p.title(pg.Name.String(), strings.Join(under, "\n"))
	if pg.Minor {
		p.boxed(p.t("A minor: not to be shared without what the safeguarding policy and the law ask for."))
	}
	if pg.NoConsent {
		p.boxed(p.t("She does not want to be shared."))
	}
	p.boxed(p.t(consentText))
	p.skaterJams(pg)
	p.skaterPenalties(in)
	p.skaterTeam(pg)
	if len(pg.Notes) > 0 {
		p.heading(p.t("What to keep in mind"), 8)
		for _, n := range pg.Notes {
			p.text("– " + p.note(n))
		}
	}
	p.room(p.t("In her own words"), in.Own)
	p.room(p.t("From the coach"), in.Coach)
	p.gap(1)
	p.text(p.t(decisionText))
	return p.write(w)
}

// room is a heading with what was written, or with lines to write on.
func (p *paper) room(title, text string) {
	if text != "" {
		p.heading(title, 8)
		for _, l := range strings.Split(text, "\n") {
			p.text(l)
		}
		p.gap(2)
		return
	}
	p.heading(title, ruledLines*ruledGap+2)
	y := p.pdf.GetY()
	p.ruled(margin, y-2)
	p.pdf.SetXY(margin, y+ruledLines*ruledGap)
}

func (p *paper) skaterJams(pg numbers.Page) {
	r := pg.Record
	p.heading(p.t("Jams"), 20)
	rows := [][]string{}
	add := func(name string, s numbers.Stint) {
		if s.Jams > 0 {
			rows = append(rows, []string{p.t(name), fmt.Sprint(s.Jams), p.rng(s.For), p.rng(s.Against), p.mean(s.PerJam)})
		}
	}
	add("all", r.All)
	add("jammer", r.Jammer)
	add("pivot", r.Pivot)
	add("blocker", r.Blocker)
	add("jammer after a star pass", r.StarPass)
	p.grid([]column{{title: p.t("as"), wrap: true}, {title: p.t("jams"), right: true}, {title: p.t("for"), right: true}, {title: p.t("against"), right: true}, {title: p.t("plus-minus per jam, 95 %"), right: true}}, rows)
	list := [][2]string{{p.t("points while on the track"), p.points(r.OnTrackFor) + " : " + p.points(r.OnTrackAgainst)}}
	if m := r.Jamming; m.Jams+m.StarPass > 0 {
		list = append(list,
			[2]string{p.t("lead as jammer"), p.share(m.Lead, m.LeadKnown)},
			[2]string{p.t("scoring trips"), fmt.Sprintf("%d (%s %d)", m.Trips, p.t("completed"), m.Completed)},
			[2]string{p.t("points as jammer"), p.rng(m.Points)},
			[2]string{p.t("points per scoring trip"), p.perTrip(m)},
		)
	}
	p.pairs(list)
	if len(pg.Bouts) > 1 {
		rows = nil
		for _, b := range pg.Bouts {
			x := b.Record
			rows = append(rows, []string{
				strings.TrimSpace(b.Date + " " + b.Title), fmt.Sprint(x.All.Jams), p.rng(x.All.For), p.rng(x.All.Against),
				p.mean(x.All.PerJam), fmt.Sprint(x.Penalties), clock(x.BoxTime),
			})
		}
		p.gap(1)
		p.grid([]column{
			{title: p.t("bout"), wrap: true},
			{title: p.t("jams"), right: true},
			{title: p.t("for"), right: true},
			{title: p.t("against"), right: true},
			{title: p.t("plus-minus per jam, 95 %"), right: true},
			{title: p.t("penalties"), right: true},
			{title: p.t("in the box"), right: true},
		}, rows)
	}
}

func (p *paper) skaterPenalties(in Skater) {
	pg := in.Page
	r := pg.Record
	p.heading(fmt.Sprintf("%s: %d", p.t("Penalties"), r.Penalties), 12)
	p.pairs([][2]string{
		{p.t("jam time in the box"), clock(r.BoxTime)},
		{p.t("conceded while sitting"), fmt.Sprintf("%s (%s)", p.points(r.Conceded), p.basis(r.Conceded.Basis))},
	})
	if len(pg.Penalties) == 0 {
		return
	}
	rows := [][]string{}
	for i, x := range pg.Penalties {
		code := x.Code
		if code == "" {
			code = "?"
		}
		if x.Name != "" {
			code += " " + p.t(x.Name)
		}
		cl := "–"
		if x.ClockKnown {
			cl = clock(x.Clock)
		}
		cost := p.points(x.Conceded)
		if x.Shared {
			cost += " †"
		}
		where := jam(x.Period, x.Number)
		if len(pg.Bouts) > 1 {
			where = fmt.Sprintf("%d: %s", x.Bout+1, where)
		}
		rows = append(rows, []string{
			fmt.Sprint(i + 1), where, code, p.t(x.Role.String()), cl, p.rng(x.Score[0]) + " : " + p.rng(x.Score[1]),
			in.film(x.Bout, x.Act), in.film(x.Bout, x.Call), p.sat(pg, x), cost,
		})
	}
	p.grid([]column{
		{title: "", right: true},
		{title: p.t("jam")},
		{title: p.t("code"), wrap: true},
		{title: p.t("as")},
		{title: p.t("clock"), right: true},
		{title: p.t("score"), right: true},
		{title: p.t("act on film"), wrap: true},
		{title: p.t("call on film"), wrap: true},
		{title: p.t("sat in"), wrap: true},
		{title: p.t("conceded"), right: true},
	}, rows)
	for _, x := range pg.Penalties {
		if x.Shared {
			p.text("† " + p.t("served together with another; the points are those of the whole stay"))
			break
		}
	}
	for _, b := range pg.Bouts {
		f := b.FoulOut
		if f.Nearest < 0 {
			continue
		}
		x := pg.Penalties[f.Nearest]
		at := p.t("jam") + " " + jam(x.Period, x.Number)
		if x.ClockKnown {
			at += ", " + p.t("clock") + " " + clock(x.Clock)
		}
		text := fmt.Sprintf(p.t("%d of %d that foul out, the last in %s"), f.Penalties, f.Limit, at)
		if f.FouledOut {
			text = fmt.Sprintf(p.t("Fouled out in %s"), at)
		}
		if f.Expelled {
			text += "; " + p.t("expelled")
		}
		if len(pg.Bouts) > 1 {
			text = b.Title + ": " + text
		}
		p.text(text)
	}
	if len(pg.Patterns) == 0 {
		return
	}
	p.heading(p.t("What repeats"), 12)
	rows = nil
	for _, x := range pg.Patterns {
		key := x.Key
		if x.Kind == numbers.PatternCode {
			for _, c := range pg.Codes {
				if c.Code == key && c.Name != "" {
					key += " " + p.t(c.Name)
				}
			}
		} else {
			key = p.t(key)
		}
		base := "–"
		if x.Fielded > 0 {
			base = fmt.Sprintf("%d / %d", x.Jams, x.Fielded)
		}
		rows = append(rows, []string{p.t(x.Kind), key, fmt.Sprintf("%d / %d", len(x.Penalties), x.Of), base})
	}
	p.grid([]column{{title: ""}, {title: "", wrap: true}, {title: p.t("penalties"), right: true}, {title: p.t("of her jams"), right: true}}, rows)
}

// film names where a moment is on film.
func (in Skater) film(bout int, list []timeline.FilmSpot) string {
	if len(list) == 0 {
		return "–"
	}
	at := list[0].Film.Round(100 * time.Millisecond)
	text := fmt.Sprintf("%s.%d", clock(at.Truncate(time.Second)), at%time.Second/(100*time.Millisecond))
	if in.FilmName != nil {
		text = path.Base(strings.ReplaceAll(in.FilmName(bout, list[0].Footage), "\\", "/")) + " " + text
	}
	return text
}

// sat says in which jams a penalty was served, and how long.
func (w words) sat(pg numbers.Page, x numbers.Penalty) string {
	var parts []string
	for _, i := range x.Sittings {
		s := pg.Sittings[i]
		text := ""
		for n, y := range s.Parts {
			if n > 0 {
				text += ", "
			}
			text += jam(y.Period, y.Number)
			if y.Timed && !y.Whole {
				text += fmt.Sprintf(" %s–%s", clock(y.From), clock(y.To))
			}
		}
		if s.BoxTimeKnown {
			text += fmt.Sprintf(" (%.0f\u00a0s)", s.BoxTime.Seconds())
		}
		if s.Skater != pg.Bouts[x.Bout].Skater {
			text = string(s.Skater.Number) + ": " + text
		}
		parts = append(parts, text)
	}
	if len(parts) == 0 {
		return "–"
	}
	return strings.Join(parts, "; ")
}

func (p *paper) skaterTeam(pg numbers.Page) {
	rows := [][]string{}
	add := func(name string, c numbers.Compared, digits int) {
		if !c.Known {
			return
		}
		d := fmt.Sprintf("%+.*f", digits, c.Difference)
		if c.Small {
			d += " *"
		}
		rows = append(rows, []string{p.t(name), fmt.Sprintf("%.*f", digits, c.Hers), fmt.Sprintf("%.*f", digits, c.Team), d, fmt.Sprint(c.N)})
	}
	add("plus-minus per jam", pg.Against.PlusMinus, 1)
	add("penalties per jam", pg.Against.Penalties, 2)
	add("box seconds per jam", pg.Against.BoxPerJam, 1)
	add("lead rate", pg.Against.LeadRate, 2)
	add("points per scoring trip", pg.Against.PerTrip, 2)
	if len(rows) == 0 {
		return
	}
	p.heading(p.t("Beside the team's average"), 20)
	p.grid([]column{{title: "", wrap: true}, {title: p.t("hers"), right: true}, {title: p.t("team"), right: true}, {title: p.t("difference"), right: true}, {title: p.t("jams or trips"), right: true}}, rows)
	p.text(p.smallNote())
}

// smallNote explains the star.
func (w words) smallNote() string {
	return fmt.Sprintf(w.t("* small sample: under %d; the difference is then mostly chance."), numbers.SmallSample)
}

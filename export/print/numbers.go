package print

import (
	"fmt"
	"io"
	"strings"

	"whistlecut/timeline"
	"whistlecut/timeline/numbers"
)

// shown is how many rows of line-ups and of pairs a page prints; the workbook has all.
const shown = 15

// WriteNumbers writes a bout's numbers with charts as PDF.
func WriteNumbers(w io.Writer, r numbers.Report, o Options) error {
	p := newPaper(o.words().t("The bout in numbers")+": "+r.Title, o)
	home, away := p.team(r.Sides[0].Name, timeline.Home), p.team(r.Sides[1].Name, timeline.Away)
	p.title(home+" : "+away, strings.TrimSpace(fmt.Sprintf("%s  %s : %s  ·  %s: %d", r.Date, p.rng(r.Score[0]), p.rng(r.Score[1]), p.t("jams"), r.Jams)))
	for i, u := range r.Unlogged {
		if u > 0 {
			p.boxed(fmt.Sprintf(p.t("Nobody logged the points of %s in so many jams: %d. They are left out."), []string{home, away}[i], u))
		}
	}
	p.heading(p.t("Margin along the bout"), 70)
	p.legend(home, away)
	p.along(r)
	p.heading(p.t("Points per jam"), 65)
	p.legend(home, away)
	p.bars(r)
	p.scoreStory(r)
	for _, t := range r.Sides {
		p.teamNumbers(t, r)
	}
	p.gap(1)
	p.font(8, false)
	p.text(p.smallNote() + " " + p.t("Intervals hold the true mean in 95 of 100 cases (Student's t); jams are taken for independent."))
	p.text(p.t(decisionText))
	return p.write(w)
}

func (p *paper) scoreStory(r numbers.Report) {
	p.heading(fmt.Sprintf("%s: %d", p.t("Lead changes in the score"), len(r.LeadChanges)), 8)
	rows := [][]string{}
	for _, x := range r.LeadChanges {
		at := "–"
		if x.Timed {
			at = clock(x.At)
		}
		rows = append(rows, []string{jam(x.Period, x.Number), at, p.team(r.Sides[x.To.Index()].Name, x.To)})
	}
	if len(rows) > 0 {
		p.grid([]column{{title: p.t("jam")}, {title: p.t("jam time"), right: true}, {title: p.t("leads from then on"), wrap: true}}, rows)
	}
	if len(r.Runs) == 0 {
		return
	}
	p.heading(p.t("Longest runs of points"), 16)
	rows = nil
	for _, x := range longest(r.Runs, 5) {
		pts := p.rng(x.Points)
		if !x.Sure {
			pts = fmt.Sprintf(p.t("%s at least"), pts)
		}
		rows = append(rows, []string{pts, p.team(r.Sides[x.Side.Index()].Name, x.Side), jam(x.First.Period, x.First.Number) + " – " + jam(x.Last.Period, x.Last.Number)})
	}
	p.grid([]column{{title: p.t("points"), right: true}, {title: p.t("team"), wrap: true}, {title: p.t("jams")}}, rows)
}

func (p *paper) teamNumbers(t numbers.TeamReport, r numbers.Report) {
	name := p.team(t.Name, t.Side)
	p.heading(name+": "+p.t("jammers"), 20)
	rows := [][]string{}
	for _, j := range t.Jammers {
		rows = append(rows, []string{
			strings.TrimSpace(string(j.Skater.Number) + " " + j.Name), fmt.Sprint(j.Jamming.Jams), fmt.Sprint(j.Jamming.StarPass),
			p.share(j.Jamming.Lead, t.Jamming.LeadKnown), p.rng(j.Jamming.Points), fmt.Sprint(j.Jamming.Trips), p.perTrip(j.Jamming), p.mean(j.Stint.PerJam),
		})
	}
	p.grid([]column{
		{title: p.t("jammer"), wrap: true},
		{title: p.t("jams"), right: true},
		{title: p.t("star pass"), right: true},
		{title: p.t("lead"), right: true},
		{title: p.t("points"), right: true},
		{title: p.t("trips"), right: true},
		{title: p.t("per trip"), right: true},
		{title: p.t("plus-minus per jam, 95 %"), right: true},
	}, rows)
	p.groupsTable(name+": "+p.t("four blockers together"), t.Groups)
	p.groupsTable(name+": "+p.t("pairs of blockers"), t.Pairs)
	if t.GroupsUnknown > 0 {
		p.font(9, false)
		p.text(fmt.Sprintf(p.t("Jams whose four blockers are not all known: %d."), t.GroupsUnknown))
	}
	against := r.Sides[t.Side.Other().Index()].PowerJams
	p.heading(name+": "+p.t("power jams and star passes"), 24)
	p.grid([]column{{title: "", wrap: true}, {title: p.t("number"), right: true}, {title: p.t("time"), right: true}, {title: p.t("for"), right: true}, {title: p.t("against"), right: true}, {title: p.t("counted")}}, [][]string{
		p.powerRow(p.t("power jams"), t.PowerJams, t.PowerJams.Scored, t.PowerJams.Conceded),
		p.powerRow(p.t("power jams against"), against, against.Conceded, against.Scored),
		{p.t("star passes completed"), fmt.Sprint(t.StarPass.Completed), "–", p.rng(t.StarPass.Jams.For), p.rng(t.StarPass.Jams.Against), p.t("by whole jams")},
		{p.t("star passes not completed"), fmt.Sprint(t.StarPass.Failed), "–", "–", "–", ""},
	})
	p.penaltyGrid(name, t)
}

func (p *paper) powerRow(name string, x numbers.PowerJams, scored, conceded numbers.Points) []string {
	length := clock(x.Time)
	if !x.TimeKnown {
		length = "≈ " + length
	}
	return []string{name, fmt.Sprint(x.N), length, p.points(scored), p.points(conceded), p.basis(scored.Plus(conceded).Basis)}
}

func (p *paper) groupsTable(title string, list []numbers.Group) {
	if len(list) == 0 {
		return
	}
	p.heading(title, 16)
	rows := [][]string{}
	for _, g := range longest(list, shown) {
		rows = append(rows, []string{g.Key(), fmt.Sprint(g.Stint.Jams), p.rng(g.Stint.For), p.rng(g.Stint.Against), p.mean(g.Stint.PerJam)})
	}
	p.grid([]column{{title: p.t("numbers"), wrap: true}, {title: p.t("jams"), right: true}, {title: p.t("for"), right: true}, {title: p.t("against"), right: true}, {title: p.t("plus-minus per jam, 95 %"), right: true}}, rows)
	if n := len(list) - shown; n > 0 {
		p.text(fmt.Sprintf(p.t("and %d more that skated no more jams together"), n))
	}
}

func (p *paper) penaltyGrid(name string, t numbers.TeamReport) {
	p.heading(fmt.Sprintf("%s: %s, %d", name, p.t("penalties"), t.Penalties.Total), 14)
	cols := []column{{title: p.t("code"), wrap: true}}
	for _, n := range t.Penalties.Periods {
		cols = append(cols, column{title: fmt.Sprintf("%s %d", p.t("period"), n), right: true})
	}
	rows := [][]string{}
	for _, l := range t.Penalties.ByCode {
		code := strings.TrimSpace(l.Code + " " + p.t(l.Name))
		if l.Code == "" {
			code = p.t("not seen")
		}
		row := []string{code}
		for _, n := range l.ByPeriod {
			row = append(row, fmt.Sprint(n))
		}
		rows = append(rows, append(row, fmt.Sprint(l.N)))
	}
	p.grid(append(cols, column{title: p.t("all"), right: true}), rows)
	box := clock(t.BoxTime)
	if !t.BoxKnown {
		box = fmt.Sprintf(p.t("%s at least"), box)
	}
	list := [][2]string{{p.t("jam time in the box"), box}}
	if len(t.Penalties.FouledOut) > 0 {
		var who []string
		for _, n := range t.Penalties.FouledOut {
			who = append(who, string(n))
		}
		list = append(list, [2]string{p.t("fouled out"), strings.Join(who, ", ")})
	}
	p.pairs(list)
}

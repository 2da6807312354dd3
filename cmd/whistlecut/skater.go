package main

import (
	"fmt"
	"path/filepath"
	"strings"
	"time"

	"whistlecut/app"
	"whistlecut/timeline"
	"whistlecut/timeline/numbers"
)

type skaterCmd struct {
	Bouts    []string `arg:"" help:"One bout file, or several of them."`
	Who      string   `required:"" help:"The skater: side and number as \"home 052\" (of the first bout), team and number, or her name." placeholder:"WHO"`
	PDF      string   `name:"pdf" help:"Print the page into this file, too." placeholder:"FILE"`
	Language string   `default:"en" enum:"en,es,fr,de" help:"Language of the printed page: en, es, fr or de."`
}

func (skaterCmd) Help() string {
	return `Shows her jams by role, points for and against, and of each penalty where film
shows it, where she sat and what it cost. Ranges stand where something was not
seen. Fewer than 10 jams are marked as a small sample. Times in JSON are
nanoseconds. Ask her before you share her page; for minors the league's
safeguarding policy and local law decide.

Examples:
  whistlecut skater final.bout --who "home 052"
  whistlecut skater may.bout june.bout --who "Home Team 052" --pdf 052.pdf
  whistlecut skater season/*.bout --who "Ada Lace" --json`
}

func (c *skaterCmd) Run(e *env) (err error) {
	if err := wantEnding("--pdf", c.PDF, ".pdf"); err != nil {
		return err
	}
	sessions, closeAll, err := openAll(e, c.Bouts)
	if err != nil {
		return err
	}
	defer closeAll()
	p, err := app.PageOf(sessions, c.Who)
	if err != nil {
		return usage("%w", err)
	}
	if c.PDF != "" {
		if err := app.PrintSkater(c.PDF, p, app.PrintOptions(c.Language)); err != nil {
			return err
		}
	}
	if e.asJSON {
		return e.printJSON(map[string]any{"page": p.Page, "films": filmNames(sessions), "caution": app.ConsentNote})
	}
	c.print(e, p)
	e.wrote(c.PDF)
	return nil
}

// openAll opens bouts to be read. A bout named twice would count twice.
func openAll(e *env, paths []string) (list []*app.Session, closeAll func(), err error) {
	closeAll = func() {
		for _, s := range list {
			_ = s.Close() // nothing was written
		}
	}
	seen := map[string]bool{}
	for _, path := range paths {
		if full, err := filepath.Abs(path); err == nil {
			if seen[full] {
				closeAll()
				return nil, nil, usage("%s is named twice; it would count twice", path)
			}
			seen[full] = true
		}
		s, err := e.app.Open(path, true)
		if err != nil {
			closeAll()
			return nil, nil, err
		}
		list = append(list, s)
	}
	return list, closeAll, nil
}

func filmNames(sessions []*app.Session) map[timeline.ID]string {
	out := map[timeline.ID]string{}
	for _, s := range sessions {
		for id, f := range s.Facts.Footage {
			out[id] = f.Path
		}
	}
	return out
}

// wrote says which files were written, where any were.
func (e *env) wrote(paths ...string) {
	for _, p := range paths {
		if p != "" {
			e.printf("wrote %s\n", p)
		}
	}
}

// wantEnding refuses a file name that says another kind of file.
func wantEnding(flag, path, ending string) error {
	if path != "" && !strings.EqualFold(filepath.Ext(path), ending) {
		return usage("%s writes a %s file, and %s is named otherwise", flag, ending, path)
	}
	return nil
}

func (c *skaterCmd) print(e *env, p app.SkaterPage) {
	e.printf("%s\n", p.Name)
	if p.Minor {
		e.printf("a minor: not to be shared without what the safeguarding policy and the law ask for\n")
	}
	if p.NoConsent {
		e.printf("does not want to be shared\n")
	}
	for _, b := range p.Bouts {
		e.printf("%s  %s : %s  as %s\n", strings.TrimSpace(b.Date+" "+b.Title), b.Score[0], b.Score[1], b.Skater)
	}
	r := p.Record
	rows := [][]string{{"", "jams", "for", "against", "per jam (95 %)"}}
	for _, x := range []struct {
		name string
		s    numbers.Stint
	}{{"all", r.All}, {"jammer", r.Jammer}, {"pivot", r.Pivot}, {"blocker", r.Blocker}, {"jammer after a star pass", r.StarPass}} {
		if x.s.Jams > 0 || x.name == "all" {
			rows = append(rows, []string{x.name, fmt.Sprint(x.s.Jams), x.s.For.String(), x.s.Against.String(), app.MeanText(x.s.PerJam)})
		}
	}
	e.printf("\n")
	e.table(rows)
	e.printf("on the track  %s : %s\n", app.PointsText(r.OnTrackFor), app.PointsText(r.OnTrackAgainst))
	if m := r.Jamming; m.Jams+m.StarPass > 0 {
		lead := app.ShareText(m.Lead)
		if !m.LeadKnown {
			lead = "not known"
		}
		e.printf("as jammer     lead %s; %s, %s on %s, %s per trip\n", lead,
			count(m.Jams, "jam"), count2(m.Points, "point"), count(m.Trips, "scoring trip"), app.PerTripText(m))
	}
	printPenalties(e, p)
	rows = [][]string{{"", "hers", "team", "difference", "rests on"}}
	for _, x := range []struct {
		name string
		c    numbers.Compared
		unit string
	}{
		{"plus-minus per jam", p.Against.PlusMinus, "jam"},
		{"penalties per jam", p.Against.Penalties, "jam"},
		{"box seconds per jam", p.Against.BoxPerJam, "jam"},
		{"lead rate", p.Against.LeadRate, "jam"},
		{"points per scoring trip", p.Against.PerTrip, "trip"},
	} {
		if !x.c.Known {
			continue
		}
		on := count(x.c.N, x.unit)
		if x.c.Small {
			on += ", small sample"
		}
		rows = append(rows, []string{x.name, fmt.Sprintf("%.2f", x.c.Hers), fmt.Sprintf("%.2f", x.c.Team), fmt.Sprintf("%+.2f", x.c.Difference), on})
	}
	if len(rows) > 1 {
		e.printf("\n")
		e.table(rows)
	}
	e.printf("\n")
	for _, n := range p.Notes {
		e.printf("%s\n", app.NoteText(n))
	}
	e.printf("%s\n", app.ConsentNote)
}

// count2 is a range with its noun.
func count2(r timeline.Range, noun string) string {
	if r == timeline.Exactly(1) {
		return "1 " + noun
	}
	return r.String() + " " + noun + "s"
}

func printPenalties(e *env, p app.SkaterPage) {
	n := "1 penalty"
	if p.Record.Penalties != 1 {
		n = fmt.Sprintf("%d penalties", p.Record.Penalties)
	}
	e.printf("\n%s, %s in the box, %s conceded while sitting (by %s)\n", n, app.GameClock(p.Record.BoxTime, true), app.PointsText(p.Record.Conceded), p.Record.Conceded.Basis)
	if len(p.Penalties) == 0 {
		return
	}
	rows := [][]string{{"jam", "code", "as", "clock", "home : away", "act", "call", "sat", "conceded"}}
	for _, x := range p.Penalties {
		jam := fmt.Sprintf("%d.%d", x.Period, x.Number)
		if len(p.Bouts) > 1 {
			jam = fmt.Sprintf("%s (bout %d)", jam, x.Bout+1)
		}
		code := x.Code
		if code == "" {
			code = "?"
		}
		cost := app.PointsText(x.Conceded)
		if x.Shared {
			cost += " (with another)"
		}
		rows = append(rows, []string{
			jam, code, x.Role.String(), app.GameClock(x.Clock, x.ClockKnown), x.Score[0].String() + " : " + x.Score[1].String(),
			filmSpot(p, x.Bout, x.Act), filmSpot(p, x.Bout, x.Call), satText(p, x), cost,
		})
	}
	e.table(rows)
	for _, b := range p.Bouts {
		f := b.FoulOut
		switch {
		case f.FouledOut:
			x := p.Penalties[f.Nearest]
			e.printf("fouled out in jam %d.%d of %s, clock %s\n", x.Period, x.Number, b.Title, app.GameClock(x.Clock, x.ClockKnown))
		case f.Nearest >= 0:
			x := p.Penalties[f.Nearest]
			e.printf("%d of %d that foul out in %s, the last in jam %d.%d, clock %s\n", f.Penalties, f.Limit, b.Title, x.Period, x.Number, app.GameClock(x.Clock, x.ClockKnown))
		}
		if f.Expelled {
			e.printf("expelled in %s\n", b.Title)
		}
	}
	for _, x := range p.Patterns {
		base := ""
		if x.Fielded > 0 {
			base = fmt.Sprintf("; so it was in %d of her %d jams", x.Jams, x.Fielded)
		}
		e.printf("repeats: %s %s, %d of %d%s\n", x.Kind, x.Key, len(x.Penalties), x.Of, base)
	}
}

func filmSpot(p app.SkaterPage, bout int, list []timeline.FilmSpot) string {
	if len(list) == 0 {
		return "-"
	}
	return fmt.Sprintf("%s %s", filepath.Base(p.FilmName(bout, list[0].Footage)), app.Clock(list[0].Film))
}

// satText says where and when a penalty was served.
func satText(p app.SkaterPage, x numbers.Penalty) string {
	var parts []string
	for _, i := range x.Sittings {
		s := p.Sittings[i]
		who := ""
		if s.Skater != p.Bouts[x.Bout].Skater {
			who = string(s.Skater.Number) + ": "
		}
		var jams []string
		for _, y := range s.Parts {
			jams = append(jams, fmt.Sprintf("%d.%d", y.Period, y.Number))
		}
		text := who + strings.Join(jams, "+")
		if s.BoxTimeKnown {
			text += " " + s.BoxTime.Round(time.Second).String()
		}
		if s.ToTheEnd {
			text += " to the end"
		}
		parts = append(parts, text)
	}
	if len(parts) == 0 {
		return "-"
	}
	return strings.Join(parts, ", ")
}

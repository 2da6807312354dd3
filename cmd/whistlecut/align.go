package main

import (
	"errors"
	"fmt"
	"strconv"
	"strings"
	"time"

	"whistlecut/app"
	"whistlecut/timeline"
)

type alignCmd struct {
	Bout      string   `arg:"" help:"The bout file."`
	DryRun    bool     `help:"Say where the jams are, change nothing." name:"dry-run"`
	Deaf      bool     `help:"Do not listen: list the jams as they are placed now."`
	Penalties bool     `help:"List the sheet's penalties instead, each with the long blasts that may be its call."`
	Set       []string `help:"A jam's start by hand: period.jam=FILE@TIME, as 1.3=film.mp4@12:30.5; repeat for several." placeholder:"P.J=FILE@TIME" sep:"none"`
}

func (alignCmd) Help() string {
	return `Listens to the bout's film, places its jams on it by the whistles and by what the
sheet and the tags tell, and lists where each jam starts and how sure that is.
Without jams it proposes and numbers them: a jam that is not heard shifts the numbers
behind it until the next period, so check them. A jam set by hand is a hard fact: the
others follow from it.

With --penalties each penalty of the sheet is listed with the long blasts heard in its
jam, likeliest first; with --dry-run, too, by the places the jams have now.

Examples:
  whistlecut align final.bout --penalties
  whistlecut align final.bout --dry-run
  whistlecut align final.bout --set 1.1=GH010042.MP4@3:12.4`
}

// alignedJam is one jam as placed on film; the JSON names are documented.
type alignedJam struct {
	Period     int      `json:"period"`
	Jam        int      `json:"jam"`
	Footage    string   `json:"footage"` // "" when not on film
	Start      *float64 `json:"start_s"`
	End        *float64 `json:"end_s"`
	Confidence float64  `json:"confidence"`
}

func (c *alignCmd) Run(e *env) (err error) {
	if c.DryRun && len(c.Set) > 0 {
		return usage("--set changes the bout and --dry-run changes nothing; leave one of them out")
	}
	if c.Penalties && c.Deaf {
		return usage("--penalties has to listen and --deaf forbids it; leave one of them out")
	}
	s, err := e.app.Open(c.Bout, c.DryRun || c.Deaf && len(c.Set) == 0)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, s.Close()) }()
	for _, set := range c.Set {
		period, number, file, at, err := parseSet(set)
		if err != nil {
			return err
		}
		if err := s.SetByHand(period, number, file, at); err != nil {
			return err
		}
	}
	jams, notes := placedJams(s), []string{}
	if !c.Deaf && len(s.Facts.Footage) > 0 && !(c.Penalties && c.DryRun) {
		rep, err := e.app.Align(e.ctx, s, app.AlignOptions{DryRun: c.DryRun})
		if err != nil {
			return err
		}
		jams, notes = jamsOf(s, rep), append(notes, rep.Notes...)
	}
	if c.Penalties {
		return c.penalties(e, s, jams, notes)
	}
	for _, n := range notes {
		fmt.Fprintln(e.err, n)
	}
	if e.asJSON {
		return e.printJSON(map[string]any{"jams": jams, "notes": notes})
	}
	rows := [][]string{{"jam", "film", "start", "end", "confidence"}}
	for _, j := range jams {
		row := []string{fmt.Sprintf("%d.%d", j.Period, j.Jam), "not on film", "", "", ""}
		if j.Start != nil {
			row[1], row[2], row[4] = j.Footage, film(*j.Start), fmt.Sprintf("%.0f %%", 100*j.Confidence)
			if j.End != nil {
				row[3] = film(*j.End)
			}
		}
		rows = append(rows, row)
	}
	e.table(rows)
	return nil
}

// jamsOf lists a placing in film times inside each file.
func jamsOf(s *app.Session, rep app.AlignReport) []alignedJam {
	out := []alignedJam{}
	for _, p := range rep.Jams {
		x := alignedJam{Period: p.Period, Jam: p.Number}
		if p.Footage != "" {
			start, end := p.Start.Seconds(), p.End.Seconds()
			x.Footage, x.Start, x.Confidence = s.Facts.Footage[p.Footage].Path, &start, p.Confidence
			if p.EndFootage == p.Footage {
				x.End = &end
			}
		}
		out = append(out, x)
	}
	return out
}

func film(s float64) string { return app.Clock(time.Duration(s * float64(time.Second))) }

func placedJams(s *app.Session) []alignedJam {
	out := []alignedJam{}
	for _, j := range s.Bout.Jams {
		x := alignedJam{Period: j.Period, Jam: j.Number}
		if id, at, ok := s.Bout.Alignment.FilmOf(timeline.InJam(j.ID, 0)); ok {
			start := at.Seconds()
			x.Footage, x.Start, x.Confidence = s.Facts.Footage[id].Path, &start, j.Confidence
			if j.Duration > 0 {
				if eid, end, ok := s.Bout.Alignment.FilmOf(timeline.InJam(j.ID, j.Duration)); ok && eid == id {
					v := end.Seconds()
					x.End = &v
				}
			}
		}
		out = append(out, x)
	}
	return out
}

// parseSet reads "1.3=film.mp4@12:30.5".
func parseSet(text string) (period, jam int, file string, at time.Duration, err error) {
	bad := usage("%q does not place a jam; write period.jam=FILE@TIME, as 1.3=film.mp4@12:30.5", text)
	left, right, ok := strings.Cut(text, "=")
	i := strings.LastIndex(right, "@")
	p, j, dot := strings.Cut(left, ".")
	if !ok || i <= 0 || !dot {
		return 0, 0, "", 0, bad
	}
	if period, err = strconv.Atoi(p); err != nil || period < 1 {
		return 0, 0, "", 0, bad
	}
	if jam, err = strconv.Atoi(j); err != nil || jam < 1 {
		return 0, 0, "", 0, bad
	}
	if at, err = app.ParseClock(right[i+1:]); err != nil {
		return 0, 0, "", 0, usage("%w", err)
	}
	return period, jam, right[:i], at, nil
}

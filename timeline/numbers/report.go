package numbers

import (
	"cmp"
	"slices"
	"time"

	"whistlecut/timeline"
)

// Report is the coach's numbers of one bout.
type Report struct {
	Title string `json:"title"`
	Date  string `json:"date,omitempty"`
	// Jams counts all jams, Logged those that both sides are logged in.
	Jams   int               `json:"jams"`
	Logged int               `json:"logged"`
	Score  [2]timeline.Range `json:"score"`
	// Unlogged counts, per side, the jams whose points nobody logged; Score and every
	// number of points leave them out.
	Unlogged [2]int        `json:"unlogged"`
	Sides    [2]TeamReport `json:"sides"` // by Side.Index
	// Steps are the score along the bout, PerJam the points of each jam.
	Steps       []Step       `json:"steps"`
	PerJam      []JamPoints  `json:"per_jam"`
	LeadChanges []LeadChange `json:"lead_changes"`
	Runs        []Run        `json:"runs"` // longest first
}

// TeamReport is one team's part of a report.
type TeamReport struct {
	Side    timeline.Side `json:"side"`
	Name    string        `json:"name"`
	All     Stint         `json:"all"`
	Jamming Jamming       `json:"jamming"` // of the jammer's position, whoever had it
	Jammers []JammerLine  `json:"jammers"`
	// Groups are the four blockers (pivot among them) that skated together, Pairs any
	// two of them. GroupsUnknown counts jams whose four are not all known.
	Groups        []Group `json:"groups"`
	Pairs         []Group `json:"pairs"`
	GroupsUnknown int     `json:"groups_unknown,omitempty"`
	// PowerJams are those this team had; those against it are the other team's.
	PowerJams PowerJams      `json:"power_jams"`
	StarPass  StarPasses     `json:"star_passes"`
	Penalties PenaltyTable   `json:"penalties"`
	Skaters   []SkaterLine   `json:"skaters"`
	BoxTime   time.Duration  `json:"box_time"`
	BoxKnown  bool           `json:"box_time_known"`
	Lineups   int            `json:"line_ups_tagged"` // jams
	Points    timeline.Range `json:"points"`
}

// JammerLine is one jammer's bout.
type JammerLine struct {
	Skater  timeline.SkaterRef `json:"skater"`
	Name    string             `json:"name,omitempty"`
	Jamming Jamming            `json:"jamming"`
	// Stint is over the jams she started as jammer or got the star in.
	Stint Stint `json:"stint"`
}

// SkaterLine is one skater's line in the table of all.
type SkaterLine struct {
	Skater timeline.SkaterRef `json:"skater"`
	Name   string             `json:"name,omitempty"`
	Record Record             `json:"record"`
}

// ReportOf makes the coach's numbers of one bout.
func ReportOf(src Source) Report {
	b := src.Bout
	r := Report{Title: src.Title, Date: src.Date, Jams: len(b.Jams), Score: b.Score, Unlogged: b.Unlogged}
	for i := range b.Jams {
		if b.Jams[i].Sides[0].Logged && b.Jams[i].Sides[1].Logged {
			r.Logged++
		}
	}
	for _, side := range timeline.Sides {
		r.Sides[side.Index()] = teamReport(src, side)
	}
	r.Steps = steps(b)
	r.PerJam = perJam(b)
	r.LeadChanges = leadChanges(b)
	r.Runs = runs(b)
	return r
}

func teamReport(src Source, side timeline.Side) TeamReport {
	b := src.Bout
	t := TeamReport{
		Side: side, Name: b.Teams[side.Index()].Name, BoxKnown: true, Points: b.Score[side.Index()],
		Jammers: []JammerLine{}, Groups: []Group{}, Pairs: []Group{}, Skaters: []SkaterLine{},
	}
	for i := range b.Jams {
		t.All.add(&b.Jams[i], side)
		t.Jamming.addJam(&b.Jams[i], side, "")
		if b.Jams[i].Sides[side.Index()].LineupTagged {
			t.Lineups++
		}
	}
	t.All.settle()
	t.Jamming.settle()
	t.Jamming.LeadKnown = leadTagged(src)
	for _, n := range skatersOf(src, side) {
		ref := timeline.SkaterRef{Side: side, Number: n}
		rec := recordOf(src, ref)
		name := personOf(b.Teams[side.Index()], n)
		if rec.All.Jams > 0 || rec.Penalties > 0 {
			t.Skaters = append(t.Skaters, SkaterLine{ref, name, rec})
		}
		if rec.Jamming.Jams+rec.Jamming.StarPass > 0 {
			l := JammerLine{Skater: ref, Name: name, Jamming: rec.Jamming}
			for i := range b.Jams {
				s := &b.Jams[i].Sides[side.Index()]
				if s.Jammer.Number == n || s.StarPass && s.NewJammer == n {
					l.Stint.add(&b.Jams[i], side)
				}
			}
			l.Stint.settle()
			t.Jammers = append(t.Jammers, l)
		}
	}
	slices.SortStableFunc(t.Jammers, func(x, y JammerLine) int {
		return cmp.Or(cmp.Compare(y.Jamming.Jams+y.Jamming.StarPass, x.Jamming.Jams+x.Jamming.StarPass), cmp.Compare(x.Skater.Number, y.Skater.Number))
	})
	for _, v := range b.Visits {
		if v.Skater.Side != side {
			continue
		}
		s := sitting(src, 0, v)
		t.BoxTime += s.BoxTime
		t.BoxKnown = t.BoxKnown && s.BoxTimeKnown
	}
	t.groups(b)
	t.PowerJams = powerJams(b, side)
	t.StarPass = starPasses(src, side)
	t.Penalties = penaltyTable(src, side)
	return t
}

// skatersOf lists everybody of a side by number: roster, line-ups, penalties.
func skatersOf(src Source, side timeline.Side) []timeline.Number {
	seen := map[timeline.Number]bool{}
	for _, k := range src.Bout.Teams[side.Index()].Roster {
		seen[k.Number] = true
	}
	for i := range src.Bout.Jams {
		s := &src.Bout.Jams[i].Sides[side.Index()]
		for n := range s.Lineup {
			seen[n] = true
		}
		if s.StarPass {
			seen[s.NewJammer] = true
		}
	}
	for _, f := range src.Bout.Fouls {
		if f.Skater.Side == side {
			seen[f.Skater.Number] = true
		}
	}
	delete(seen, "")
	out := make([]timeline.Number, 0, len(seen))
	for n := range seen {
		out = append(out, n)
	}
	slices.Sort(out)
	return out
}

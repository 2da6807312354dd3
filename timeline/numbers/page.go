package numbers

import (
	"errors"
	"fmt"

	"whistlecut/timeline"
)

// Page is one skater's page, of one bout or of several.
type Page struct {
	Name Name `json:"name"`
	// Minor and NoConsent are as any roster has them: the page is then not to be
	// shared as it is.
	Minor     bool       `json:"minor,omitempty"`
	NoConsent bool       `json:"no_consent,omitempty"`
	Bouts     []PageBout `json:"bouts"`
	Record    Record     `json:"record"` // over all bouts
	Penalties []Penalty  `json:"penalties"`
	Sittings  []Sitting  `json:"sittings"`
	Codes     []Count    `json:"codes"`
	Patterns  []Pattern  `json:"patterns"`
	// Against compares her with her team over the same bouts.
	Against Comparison `json:"team"`
	// Notes say what the numbers leave out or rest on.
	Notes []Note `json:"notes,omitempty"`
}

// PageBout is one bout of a page.
type PageBout struct {
	Title   string             `json:"title"`
	Date    string             `json:"date,omitempty"`
	Skater  timeline.SkaterRef `json:"skater"`
	Teams   [2]string          `json:"teams"`
	Score   [2]timeline.Range  `json:"score"`
	Record  Record             `json:"record"`
	FoulOut FoulOut            `json:"foul_out"`
}

// Count is how often a penalty's letter was given.
type Count struct {
	Code string `json:"code"` // empty: not seen
	Name string `json:"name,omitempty"`
	N    int    `json:"n"`
}

// Comparison is a skater beside her team's average.
type Comparison struct {
	// PlusMinus is per jam; Difference is hers minus the team's (versus team average).
	PlusMinus  Compared `json:"plus_minus_per_jam"`
	Penalties  Compared `json:"penalties_per_jam"`
	LeadRate   Compared `json:"lead_rate"`
	PerTrip    Compared `json:"points_per_scoring_trip"`
	BoxPerJam  Compared `json:"box_seconds_per_jam"`
	TeamJams   int      `json:"team_jams"`
	SkaterJams int      `json:"team_skater_jams"` // jams fielded, summed over the team's skaters
}

// Compared is one number of a skater, of her team, and the difference.
type Compared struct {
	Hers       float64 `json:"hers"`
	Team       float64 `json:"team"`
	Difference float64 `json:"difference"`
	// N is what hers rests on: jams, jams as jammer, or scoring trips. Known is false
	// when there is none, or the team has none.
	N     int  `json:"n"`
	Known bool `json:"known"`
	// Small: N is below SmallSample; the difference is then mostly chance.
	Small bool `json:"small_sample"`
}

func compared(hers, team float64, n int, known bool) Compared {
	if !known {
		return Compared{N: n, Small: true}
	}
	return Compared{hers, team, hers - team, n, true, n < SmallSample}
}

// Note is a caution about a page or report, by its key and a number.
type Note struct {
	Key NoteKey `json:"key"`
	N   int     `json:"n,omitempty"`
}

// NoteKey names a caution.
type NoteKey string

// The cautions. N is the number they are about.
const (
	NoteSmall     NoteKey = "small sample"           // N jams fielded, under SmallSample
	NoteUnlogged  NoteKey = "jams not logged"        // N jams fielded whose points nobody logged
	NoteNoLineups NoteKey = "line-ups not tagged"    // N jams of her team without a line-up
	NoteNoTimes   NoteKey = "trips not timed"        // points while sitting cannot be told
	NoteTripEnds  NoteKey = "points at trip ends"    // they are counted by the trips' ends
	NoteRanges    NoteKey = "points not all seen"    // a number of points is a range
	NoteMissing   NoteKey = "not in every bout"      // N bouts do not know her
	NoteBox       NoteKey = "box time not all known" // N stays
	NoteCopies    NoteKey = "copies of a bout"       // N bouts look like copies of another
)

// ErrNobody: no bout knows the skater.
var ErrNobody = errors.New("no skater of that name or number is in these bouts")

// PageOf makes the page of one skater over one or more bouts. It is an error when
// none of them knows her.
func PageOf(bouts []Source, who Name) (Page, error) {
	p := Page{Name: who, Penalties: []Penalty{}, Sittings: []Sitting{}, Patterns: []Pattern{}, Codes: []Count{}}
	held, roles, missing, noLineups := map[string]int{}, map[string]int{}, 0, 0
	var team teamSum
	copies, counted := 0, []Source(nil)
	for _, src := range bouts {
		ref, ok := who.find(src)
		if !ok {
			missing++
			continue
		}
		nth := len(p.Bouts)
		for _, o := range counted {
			if alike(o, src) {
				copies++
				break
			}
		}
		counted = append(counted, src)
		k, _ := src.Bout.Teams[ref.Side.Index()].Find(ref.Number)
		p.Minor, p.NoConsent = p.Minor || k.Minor, p.NoConsent || k.NoConsent
		if p.Name.Person == "" {
			p.Name.Person = k.Name
		}
		if p.Name.Number == "" && len(p.Bouts) == 0 {
			p.Name.Team, p.Name.Number = src.Bout.Teams[ref.Side.Index()].Name, ref.Number
		}
		rec := recordOf(src, ref)
		if nth == 0 {
			p.Record = rec
			p.Record.settle()
		} else {
			p.Record.plus(rec)
		}
		pens := penaltiesOf(src, nth, ref)
		p.addSittings(src, nth, ref, pens)
		p.Bouts = append(p.Bouts, PageBout{
			Title: titleOf(src, nth), Date: src.Date, Skater: ref, Record: rec, Score: src.Bout.Score,
			Teams:   [2]string{src.Bout.Teams[0].Name, src.Bout.Teams[1].Name},
			FoulOut: foulOut(src, nth, pens, len(p.Penalties)-len(pens)),
		})
		for i := range src.Bout.Jams {
			side := &src.Bout.Jams[i].Sides[ref.Side.Index()]
			if len(side.Lineup) == 0 {
				noLineups++
			}
			role := roleIn(side, ref.Number)
			if role == timeline.NoRole {
				continue
			}
			roles[role.String()]++
			if role == timeline.Pivot && side.StarPass && side.NewJammer == ref.Number {
				roles[timeline.Jammer.String()]++
			}
			for _, s := range situationsOfJam(src, ref, i) {
				held[s]++
			}
		}
		team.add(src, ref.Side)
	}
	if len(p.Bouts) == 0 {
		return Page{}, fmt.Errorf("%s: %w", who, ErrNobody)
	}
	p.Codes = countCodes(p.Penalties)
	p.Patterns = append(p.Patterns, patterns(p.Penalties, held, roles, p.Record.All.Jams)...)
	p.Against = team.compare(p.Record)
	p.notes(missing, noLineups)
	if copies > 0 {
		p.Notes = append(p.Notes, Note{NoteCopies, copies})
	}
	return p, nil
}

// alike reports whether two bouts look like copies of one, which would count twice:
// the same names, day, jams and score. Two people's copies of a bout may differ a
// little, so it is a caution and no refusal (common practice, no source).
func alike(x, y Source) bool {
	if len(x.Bout.Jams) == 0 || len(x.Bout.Jams) != len(y.Bout.Jams) || x.Date != y.Date || x.Bout.Score != y.Bout.Score {
		return false
	}
	for i := range x.Bout.Teams {
		if x.Bout.Teams[i].Name != y.Bout.Teams[i].Name {
			return false
		}
	}
	return true
}

// addSittings adds one bout's penalties and the stays they were served in.
func (p *Page) addSittings(src Source, nth int, ref timeline.SkaterRef, pens []Penalty) {
	first := len(p.Sittings)
	mine := map[timeline.ID]bool{}
	for _, x := range pens {
		mine[x.ID] = true
	}
	for _, v := range src.Bout.Visits {
		forHer := v.Skater == ref
		for _, id := range v.Penalties {
			forHer = forHer || mine[id]
		}
		if forHer {
			p.Sittings = append(p.Sittings, sitting(src, nth, v))
		}
	}
	for i := range pens {
		pen := &pens[i]
		var sum Points
		for k := first; k < len(p.Sittings); k++ {
			s := &p.Sittings[k]
			has := false
			for _, id := range s.Penalties {
				has = has || id == pen.ID
			}
			if !has {
				continue
			}
			pen.Sittings = append(pen.Sittings, k)
			pen.Shared = pen.Shared || len(s.Penalties) > 1
			sum = sum.Plus(s.Conceded)
		}
		if len(pen.Sittings) > 0 {
			pen.Conceded = sum
		}
	}
	p.Penalties = append(p.Penalties, pens...)
}

// foulOut says how near she came, and by which of her penalties.
func foulOut(src Source, nth int, pens []Penalty, before int) FoulOut {
	f := FoulOut{Bout: nth, Penalties: len(pens), Limit: src.Bout.Rules.FoulOut, Nearest: -1}
	f.Left = max(f.Limit-len(pens), 0)
	if len(pens) > 0 {
		f.Nearest = before + len(pens) - 1
	}
	for i, p := range pens {
		if p.FouledOut {
			f.FouledOut, f.Nearest = true, before+i
		}
		f.Expelled = f.Expelled || p.Expelled
	}
	return f
}

// countCodes counts penalties by letter, most frequent first.
func countCodes(pens []Penalty) []Count {
	out := []Count{}
	for _, p := range pens {
		i := 0
		for i < len(out) && out[i].Code != p.Code {
			i++
		}
		if i == len(out) {
			out = append(out, Count{Code: p.Code, Name: p.Name})
		}
		out[i].N++
	}
	sortCounts(out)
	return out
}

func (p *Page) notes(missing, noLineups int) {
	note := func(k NoteKey, n int) { p.Notes = append(p.Notes, Note{k, n}) }
	r := &p.Record
	if missing > 0 {
		note(NoteMissing, missing)
	}
	if r.All.Jams < SmallSample {
		note(NoteSmall, r.All.Jams)
	}
	if n := r.All.Jams - r.All.Counted; n > 0 {
		note(NoteUnlogged, n)
	}
	if noLineups > 0 {
		note(NoteNoLineups, noLineups)
	}
	switch worst := r.Conceded.Plus(r.OnTrackAgainst).Plus(r.OnTrackFor).Basis; worst {
	case NotKnown:
		note(NoteNoTimes, 0)
	case ByTrips:
		note(NoteTripEnds, 0)
	}
	if !r.All.For.Sure() || !r.All.Against.Sure() {
		note(NoteRanges, 0)
	}
	if r.BoxUnknown > 0 {
		note(NoteBox, r.BoxUnknown)
	}
}

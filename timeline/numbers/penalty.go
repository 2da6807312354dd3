package numbers

import (
	"time"

	"whistlecut/timeline"
)

// Penalty is one penalty of a skater, with what it cost.
type Penalty struct {
	Bout int         `json:"bout"` // index into the page's bouts
	ID   timeline.ID `json:"id"`
	// Nth is her count in that bout with this one, from 1.
	Nth    int           `json:"nth"`
	Jam    timeline.ID   `json:"jam_id"`
	Period int           `json:"period"`
	Number int           `json:"number"` // of the jam
	Role   timeline.Role `json:"role"`
	// Code is the letter, Name what it stands for in the bout's edition; empty when
	// not seen.
	Code  string `json:"code"`
	Name  string `json:"name,omitempty"`
	Words string `json:"words,omitempty"`
	Note  string `json:"note,omitempty"`
	// At is the jam time of the call when Timed; negative in the line-up before.
	At    time.Duration `json:"at"`
	Timed bool          `json:"timed"`
	// Clock is the period clock (time left) at the call.
	Clock      time.Duration     `json:"clock"`
	ClockKnown bool              `json:"clock_known"`
	Score      [2]timeline.Range `json:"score"` // at the call, home and away
	// Act and Call are where film shows them, the best camera first.
	Act  []timeline.FilmSpot `json:"act,omitempty"`
	Call []timeline.FilmSpot `json:"call,omitempty"`
	// State says whether the call can be shown.
	State timeline.FilmState `json:"film_state"`
	// FouledOut and Expelled: her bout was over with it (4.5).
	FouledOut bool `json:"fouled_out,omitempty"`
	Expelled  bool `json:"expelled,omitempty"`
	// Sittings are the stays in the box for it, as indices into the page's; a
	// substitute's stay is among them. Shared: a stay served another penalty, too.
	Sittings []int `json:"sittings,omitempty"`
	Shared   bool  `json:"shared,omitempty"`
	// Conceded are the other team's points during its stays; with Shared they cannot
	// be told from those of the other penalty.
	Conceded Points `json:"conceded"`
	// Situations that held at the call, see Pattern.
	Situations []string `json:"situations,omitempty"`
}

// penaltyAt is where a penalty lies: its tag, jam and jam time.
func penaltyAt(src Source, id timeline.ID) (t timeline.Tag, jam int, at time.Duration, timed bool) {
	t = src.Facts.Tags[id]
	for i := range src.Bout.Jams {
		for _, s := range src.Bout.Jams[i].Sides {
			for _, x := range s.Penalties {
				if x != id {
					continue
				}
				at, timed = jamTimeOf(src.Bout, src.Bout.Jams[i].ID, t.Place)
				return t, i, at, timed
			}
		}
	}
	return t, -1, 0, false
}

// jamTimeOf is the jam time of a place in one jam.
func jamTimeOf(b *timeline.Bout, jam timeline.ID, p timeline.Place) (time.Duration, bool) {
	switch {
	case p.Footage != "":
		return b.Alignment.OffsetIn(jam, p.Footage, p.Film)
	case p.InJam && p.Jam == jam:
		return p.Offset, true
	}
	return 0, false
}

// penaltiesOf lists a skater's penalties of one bout, first to last.
func penaltiesOf(src Source, nth int, who timeline.SkaterRef) []Penalty {
	b := src.Bout
	var ids []timeline.ID
	var foul timeline.FoulCount
	for _, f := range b.Fouls {
		if f.Skater == who {
			ids, foul = f.Penalties, f
		}
	}
	if len(ids) == 0 {
		return nil
	}
	found := map[timeline.ID]timeline.Moment{}
	for _, m := range timeline.Find(*b, *src.Facts, timeline.Selection{Kinds: []timeline.Kind{timeline.KindPenalty}, Tags: ids}) {
		for _, id := range m.Tags {
			found[id] = m
		}
	}
	var out []Penalty
	for i, id := range ids {
		t, jam, at, timed := penaltyAt(src, id)
		m := found[id]
		p := Penalty{
			Bout: nth, ID: id, Nth: i + 1, At: at, Timed: timed, Note: t.Note, State: m.State,
			FouledOut: foul.FouledOut == id, Expelled: foul.Expelled == id,
			Conceded: Points{Basis: NotKnown},
		}
		if jam >= 0 {
			j := &b.Jams[jam]
			p.Jam, p.Period, p.Number = j.ID, j.Period, j.Number
			p.Clock, p.ClockKnown = clockAt(b, j, at, timed)
			p.Score = [2]timeline.Range{j.Sides[0].GameBefore, j.Sides[1].GameBefore}
			if timed {
				p.Score, _ = j.ScoreAt(at)
			}
			side := &j.Sides[who.Side.Index()]
			p.Role = roleIn(side, who.Number)
			if r := side.RoleAt(who.Number, at); timed && r != timeline.NoRole {
				p.Role = r
			}
			place := t.Place
			if timed {
				place = timeline.InJam(j.ID, at)
			}
			p.Call = b.Alignment.Films(place)
		}
		if t.Penalty != nil {
			p.Words = t.Penalty.Words
			if t.Penalty.Seen != timeline.NotSeen {
				p.Code = t.Penalty.Code
				c, _ := b.Rules.Code(p.Code)
				p.Name = c.Name
			}
			p.Act = b.Alignment.Films(t.Penalty.Act)
		}
		p.Situations = situationsAt(src, who, p, jam)
		out = append(out, p)
	}
	return out
}

// clockAt is the period clock at a jam time; after the jam a timeout may stand in
// the way, and overtime has none.
func clockAt(b *timeline.Bout, j *timeline.Jam, at time.Duration, timed bool) (time.Duration, bool) {
	if !timed || !j.ClockKnown || j.Overtime || j.Duration > 0 && at > j.Duration {
		return 0, false
	}
	return min(max(j.ClockAtStart-at, 0), b.Rules.PeriodLength), true
}

// FoulOut says how near a skater came to fouling out in one bout (4.5).
type FoulOut struct {
	Bout      int `json:"bout"`
	Penalties int `json:"penalties"`
	Limit     int `json:"limit"` // so many foul a skater out
	// Left is how many more would have done it; 0 when she fouled out.
	Left int `json:"left"`
	// Nearest is the penalty that brought her there, as an index into the page's
	// penalties; -1 without one.
	Nearest   int  `json:"nearest"`
	FouledOut bool `json:"fouled_out,omitempty"`
	Expelled  bool `json:"expelled,omitempty"`
}

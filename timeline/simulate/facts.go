package simulate

import (
	"fmt"
	"time"

	"whistlecut/timeline"
)

// Facts is the bout as a perfect observer would have tagged it: places are jam
// offsets, IDs the same each time. With Options.PassEvents every physical event
// is a tag, too.
func (g *Game) Facts() timeline.Facts {
	f := timeline.Facts{
		Info:  timeline.Info{Title: g.Teams[0].Name + " : " + g.Teams[1].Name, Venue: "simulated"},
		Rules: g.Options.Rules, Teams: g.Teams, Tags: map[timeline.ID]timeline.Tag{},
	}
	// The rules as played: a shortened game has a shorter clock.
	f.Rules.Periods, f.Rules.PeriodLength = g.Options.Periods, g.Options.PeriodLength
	w := tagger{f.Tags}
	for _, j := range g.Truth.Jams {
		w.jam(j, g.Options.PassEvents)
		for side := range j.Sides {
			w.side(j, side)
		}
		if g.Options.PassEvents {
			w.events(j)
		}
	}
	w.penalties(g)
	w.visits(g)
	w.stoppages(g)
	for i, x := range g.Truth.Injuries {
		w.add(timeline.Tag{
			ID: timeline.ID(fmt.Sprintf("injury-%d", i+1)), Kind: timeline.KindInjury, Place: timeline.InJam(x.Jam, x.At),
			Side: x.Side, Who: who(x.Number),
		})
	}
	return f
}

type tagger struct{ tags map[timeline.ID]timeline.Tag }

func who(n timeline.Number) timeline.Who { return timeline.Who{Number: n} }

func (w tagger) add(t timeline.Tag) {
	t.Source = "simulator"
	if t.Jam == "" {
		t.Jam = t.Place.Jam
	}
	w.tags[t.ID] = t
}

func (w tagger) jam(j *Jam, field bool) {
	info := &timeline.JamInfo{
		Period: j.Period, Order: float64(j.Number), Overtime: j.Overtime,
		End: timeline.InJam(j.ID, j.Duration()), Ended: j.Ended,
	}
	if field {
		info.Field = &j.Field
	}
	w.add(timeline.Tag{ID: j.ID, Kind: timeline.KindJam, Place: timeline.InJam(j.ID, 0), JamInfo: info})
}

func (w tagger) side(j *Jam, side int) {
	s := &j.Sides[side]
	name := timeline.Sides[side]
	id := func(what string, n int) timeline.ID {
		if n == 0 {
			return timeline.ID(fmt.Sprintf("%s-%s-%s", j.ID, name, what))
		}
		return timeline.ID(fmt.Sprintf("%s-%s-%s-%d", j.ID, name, what, n))
	}
	add := func(t timeline.Tag, at time.Duration) {
		t.Side, t.Place = name, timeline.InJam(j.ID, at)
		w.add(t)
	}
	lu := &timeline.LineupInfo{Jammer: who(s.Jammer), Pivot: who(s.Pivot)}
	for _, b := range s.Blockers {
		lu.Blockers = append(lu.Blockers, who(b))
	}
	add(timeline.Tag{ID: id("line-up", 0), Kind: timeline.KindLineup, Lineup: lu}, 0)
	if s.Lead {
		add(timeline.Tag{ID: id("lead", 0), Kind: timeline.KindLead, Who: who(s.Jammer)}, s.LeadAt)
	}
	if s.Lost {
		add(timeline.Tag{ID: id("lost", 0), Kind: timeline.KindLost, Who: who(s.Jammer)}, s.LostAt)
	}
	if s.Called && j.Ended == timeline.EndCalled {
		add(timeline.Tag{ID: id("call", 0), Kind: timeline.KindCall, Who: who(s.Jammer)}, s.CalledAt)
	}
	for i, p := range s.StarPasses {
		add(timeline.Tag{
			ID: id("star-pass", i+1), Kind: timeline.KindStarPass, Who: who(p.From), Note: p.Why,
			StarPass: &timeline.StarPassInfo{To: who(p.To), Complete: p.Complete},
		}, p.At)
	}
	for _, t := range s.Trips {
		add(timeline.Tag{
			ID: id("trip", t.Number), Kind: timeline.KindTrip, Who: who(t.Jammer),
			Trip: &timeline.TripInfo{
				Number: t.Number, Points: len(t.Points), Open: t.Open, Start: timeline.InJam(j.ID, t.Start),
			},
		}, t.End)
	}
}

func (w tagger) events(j *Jam) {
	for i, e := range j.Events {
		w.add(timeline.Tag{
			ID: timeline.ID(fmt.Sprintf("%s-event-%04d", j.ID, i+1)), Kind: timeline.KindEvent,
			Place: timeline.InJam(j.ID, e.At), Side: e.Who.Side, Who: who(e.Who.Number), Event: &e,
		})
	}
}

func penaltyID(i int) timeline.ID { return timeline.ID(fmt.Sprintf("penalty-%03d", i+1)) }

func (w tagger) penalties(g *Game) {
	for i, p := range g.Truth.Penalties {
		w.add(timeline.Tag{
			ID: penaltyID(i), Kind: timeline.KindPenalty, Place: timeline.InJam(p.Jam, p.Call),
			Side: p.Side, Who: who(p.Number),
			Penalty: &timeline.PenaltyInfo{Code: p.Code, Act: timeline.InJam(p.Jam, p.Act)},
		})
	}
}

func (w tagger) visits(g *Game) {
	for i, v := range g.Truth.Visits {
		t := timeline.Tag{
			ID: timeline.ID(fmt.Sprintf("box-%03d", i+1)), Kind: timeline.KindBox, Place: timeline.InJam(v.InJam, v.In),
			Side: v.Side, Who: who(v.Number), Box: &timeline.BoxInfo{Role: v.Role},
		}
		for _, p := range v.Penalties {
			t.Box.Penal = append(t.Box.Penal, penaltyID(p))
		}
		if v.Stood {
			t.Box.Stand = timeline.InJam(v.StandJam, v.Stand)
		}
		if v.OutJam != "" {
			t.Box.Out = timeline.InJam(v.OutJam, v.Out)
		}
		w.add(t)
	}
}

func (w tagger) stoppages(g *Game) {
	for i, s := range g.Truth.Stoppages {
		after := g.jam(s.AfterJam)
		t := timeline.Tag{
			ID: timeline.ID(fmt.Sprintf("stoppage-%02d", i+1)), Kind: s.Kind, Side: s.Side,
			Place: timeline.InJam(s.AfterJam, s.Start-after.Start),
		}
		end := timeline.InJam(s.AfterJam, s.End-after.Start)
		if s.Kind == timeline.KindReview {
			t.Review = &timeline.ReviewInfo{End: end, Clock: s.Clock, AfterJam: s.AfterJam, Retained: s.Retained, Subject: s.Subject}
		} else {
			t.Timeout = &timeline.TimeoutInfo{End: end, Clock: s.Clock, AfterJam: s.AfterJam}
		}
		w.add(t)
	}
}

func (g *Game) jam(id timeline.ID) *Jam {
	for _, j := range g.Truth.Jams {
		if j.ID == id {
			return j
		}
	}
	return &Jam{}
}

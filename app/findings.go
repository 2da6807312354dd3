package app

import (
	"maps"
	"slices"
	"strconv"

	"whistlecut/timeline"
	"whistlecut/timeline/sheet"
)

// Correction is the change of tags that makes them agree with the sheet in one
// finding, where only one follows: another number of points, a mark set or taken
// away, another code or skater. It is tried out first: ok is false when the
// finding would stay, when tags and sheet would differ elsewhere, or when the
// sheet does not say what to change, as for a row that is missing. What the sheet
// contradicts itself in may show then, where the finding explained it before. A
// mark that the tags lack is set in its jam without a moment.
func (s *Session) Correction(paper sheet.Sheet, f sheet.Finding) (changes []timeline.Change, ok bool) {
	if f.State != sheet.StateDiffers {
		return nil, false
	}
	set, drop := s.correct(f)
	if len(set)+len(drop) == 0 {
		return nil, false
	}
	facts := s.Facts
	facts.Tags = maps.Clone(facts.Tags)
	for _, t := range set {
		if timeline.CheckTag(t) != nil {
			return nil, false
		}
		facts.Tags[t.ID] = t
		changes = append(changes, timeline.SetTag(t))
	}
	for _, id := range drop {
		delete(facts.Tags, id)
		changes = append(changes, timeline.DeleteTag(id))
	}
	before := map[string]bool{}
	for _, x := range sheet.Check(paper, s.Bout, s.Facts).Findings {
		before[x.Key] = true
	}
	for _, x := range sheet.Check(paper, timeline.Derive(facts), facts).Findings {
		inSheet := x.State == sheet.StateImpossible || x.Cause == sheet.CauseJamTotal || x.Cause == sheet.CauseRunning
		if x.Key == f.Key || !before[x.Key] && !inSheet {
			return nil, false
		}
	}
	return changes, true
}

// correct is the change that a finding suggests, untried.
func (s *Session) correct(f sheet.Finding) (set []timeline.Tag, drop []timeline.ID) {
	one := func() (timeline.Tag, bool) {
		if len(f.TagID) != 1 {
			return timeline.Tag{}, false
		}
		t, ok := s.Facts.Tags[f.TagID[0]]
		return t, ok
	}
	switch f.Cause {
	case sheet.CauseTripDigit:
		points := 0
		if f.Sheet != "blank" {
			var err error
			if points, err = strconv.Atoi(f.Sheet); err != nil {
				return nil, nil
			}
		}
		if t, ok := one(); ok && t.Trip != nil && t.Trip.Number == f.N {
			trip := *t.Trip
			trip.Points = points
			t.Trip, t.Seen = &trip, timeline.Sure
			set = append(set, t)
		}
	case sheet.CauseLead, sheet.CauseLost, sheet.CauseCall:
		return s.correctMark(f)
	case sheet.CauseWrongJammer:
		if t, ok := s.lineupOf(f); ok {
			l := *t.Lineup
			l.Jammer = timeline.Who{Number: timeline.Number(f.Sheet)}
			t.Lineup = &l
			set = append(set, t)
		}
	case sheet.CausePenCode:
		if t, ok := one(); ok && t.Penalty != nil {
			p := *t.Penalty
			p.Code, p.Seen = f.Sheet, timeline.Sure
			t.Penalty = &p
			set = append(set, t)
		}
	case sheet.CausePenSkater:
		if t, ok := one(); ok && t.Penalty != nil {
			t.Who = timeline.Who{Number: timeline.Number(f.Sheet)}
			set = append(set, t)
		}
	case sheet.CausePenMissing: // the tags have one more
		if t, ok := one(); ok && t.Penalty != nil {
			drop = append(drop, t.ID)
		}
	}
	return set, drop
}

// correctMark sets or takes away lead, lost or call. A mark that the paper has on
// the other team's line moves there.
func (s *Session) correctMark(f sheet.Finding) (set []timeline.Tag, drop []timeline.ID) {
	kind := map[sheet.Cause]timeline.Kind{
		sheet.CauseLead: timeline.KindLead, sheet.CauseLost: timeline.KindLost, sheet.CauseCall: timeline.KindCall,
	}[f.Cause]
	j, ok := s.Bout.Jam(f.JamID)
	if !ok || f.Side == timeline.NoSide {
		return nil, nil
	}
	mine, other := []timeline.Tag{}, []timeline.Tag{}
	for _, id := range j.Tags {
		t, ok := s.Facts.Tags[id]
		if !ok || t.Kind != kind {
			continue
		}
		if t.Side == f.Side {
			mine = append(mine, t)
		} else {
			other = append(other, t)
		}
	}
	moved := len(f.Also) > 0 // the same mark differs on the other line, too
	switch {
	case f.Sheet != "marked" && moved && len(mine) == 1 && len(other) == 0:
		t := mine[0]
		t.Side = f.Side.Other()
		t.Who = timeline.Who{}
		return []timeline.Tag{t}, nil
	case f.Sheet == "marked" && moved && len(other) == 1 && len(mine) == 0:
		t := other[0]
		t.Side = f.Side
		t.Who = timeline.Who{}
		return []timeline.Tag{t}, nil
	case f.Sheet != "marked":
		for _, t := range mine {
			drop = append(drop, t.ID)
		}
		return nil, drop
	case len(mine) == 0:
		return []timeline.Tag{{
			ID: timeline.ImportID("corrected", string(j.ID), string(kind), f.Side.String()), Kind: kind,
			Place: timeline.JamAlone(j.ID), Side: f.Side,
		}}, nil
	}
	return nil, nil
}

// lineupOf is the line-up tag of a finding's jam and side, when there is one only.
func (s *Session) lineupOf(f sheet.Finding) (timeline.Tag, bool) {
	j, ok := s.Bout.Jam(f.JamID)
	if !ok {
		return timeline.Tag{}, false
	}
	var found []timeline.Tag
	for _, id := range j.Tags {
		if t, ok := s.Facts.Tags[id]; ok && t.Lineup != nil && t.Side == f.Side {
			found = append(found, t)
		}
	}
	if len(found) != 1 {
		return timeline.Tag{}, false
	}
	return found[0], true
}

// Unsettled reports whether a finding still waits: nobody decided about it, or
// the tag was said to be wrong and is not corrected yet.
func Unsettled(f sheet.Finding) bool {
	return f.Resolution == nil || f.Resolution.Verdict == timeline.VerdictTagWrong
}

// UnsettledOf lists the findings of a report that still wait, in its order.
func UnsettledOf(r *sheet.Report) []sheet.Finding {
	if r == nil {
		return nil
	}
	return slices.DeleteFunc(slices.Clone(r.Findings), func(f sheet.Finding) bool { return !Unsettled(f) })
}

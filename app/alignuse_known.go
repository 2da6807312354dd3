package app

import (
	"whistlecut/timeline"
	"whistlecut/timeline/align"
	"whistlecut/timeline/sheet"
)

// jamKey names a jam as paperwork does.
type jamKey struct{ period, number int }

// knownJams gathers what the sheet and the tags tell of each jam. None are
// returned when the bout has no jams but proposed ones.
func (s *Session) knownJams() ([]align.Known, []string, error) {
	if s.onlyProposed() {
		return nil, nil, nil
	}
	var notes []string
	paper, have, err := s.StoredSheet()
	if err != nil {
		notes = append(notes, "the sheet was not used: "+err.Error())
		have = false
	}
	out := make([]align.Known, 0, len(s.Bout.Jams))
	at := map[jamKey]int{}
	for _, j := range s.Bout.Jams {
		at[jamKey{j.Period, j.Number}] = len(out)
		k := align.Known{ID: j.ID, Period: j.Period, Number: j.Number, Overtime: j.Overtime, Penalties: -1, Timeouts: -1}
		if t, ok := s.Facts.Tags[j.ID]; ok && t.JamInfo != nil {
			k.Ended = t.JamInfo.Ended
		}
		for _, side := range j.Sides {
			if side.Lead {
				k.Lead = align.Yes
			}
		}
		out = append(out, k)
	}
	if have {
		fromPaper(paper.Sheet, out, at)
	}
	return out, notes, nil
}

// fromPaper adds what the official sheet tells.
func fromPaper(p sheet.Sheet, jams []align.Known, at map[jamKey]int) {
	each := func(period, number int, f func(k *align.Known)) {
		if i, ok := at[jamKey{max(period, 1), number}]; ok {
			f(&jams[i])
		}
	}
	answered := map[jamKey]int{}
	for _, r := range p.Rows {
		each(r.Period, r.Jam, func(k *align.Known) {
			if r.Lead.State == timeline.CellKnown && r.Lead.Value {
				k.Lead = align.Yes
			} else if r.Lead.State != timeline.CellAbsent && r.Lead.State != timeline.CellUnread {
				answered[jamKey{k.Period, k.Number}]++
			}
			if r.Call.State == timeline.CellKnown && r.Call.Value {
				k.Ended = timeline.EndCalled
			} else if r.Inj.State == timeline.CellKnown && r.Inj.Value {
				k.Ended = timeline.EndInjury
			}
		})
	}
	for key, n := range answered {
		// Both sides' rows say that nobody was lead.
		if k := &jams[at[key]]; n >= 2 && k.Lead == align.Unknown {
			k.Lead = align.No
		}
	}
	for _, c := range p.Clock {
		each(c.Period, c.Jam, func(k *align.Known) {
			if c.Duration.State == timeline.CellKnown {
				k.Duration = c.Duration.Value
			}
			if c.Start.State == timeline.CellKnown {
				k.Clock, k.ClockKnown = c.Start.Value, true
			}
		})
	}
	if len(p.Penalties) > 0 {
		for i := range jams {
			jams[i].Penalties = 0
		}
		for _, x := range p.Penalties {
			each(x.Period.Value, x.Jam.Value, func(k *align.Known) { k.Penalties++ })
		}
	}
	if len(p.Timeouts) > 0 {
		for i := range jams {
			jams[i].Timeouts = 0
		}
		for _, x := range p.Timeouts {
			each(x.Period.Value, x.AfterJam.Value, func(k *align.Known) { k.Timeouts++ })
		}
	}
}

// onlyProposed reports whether every jam was proposed by the listener and nobody
// has worked on them since.
func (s *Session) onlyProposed() bool {
	if s.Facts.Sheet != nil && len(s.Bout.Jams) > 0 {
		return false
	}
	for _, t := range s.Facts.Tags {
		if t.Source != fromListener {
			return false
		}
	}
	for _, m := range s.Facts.Marks {
		if m.Hand {
			return false
		}
	}
	return true
}

// fromListener is the source of tags that were proposed by ear.
const fromListener = "listener"

// pins are the edges of jams that people set: marks by hand and jam tags placed
// on film.
func (s *Session) pins() []align.Pin {
	var out []align.Pin
	for _, j := range s.Bout.Jams {
		t, ok := s.Facts.Tags[j.ID]
		if !ok || t.Source == fromListener {
			continue
		}
		if t.Place.Footage != "" {
			out = append(out, align.Pin{Jam: j.ID, Edge: timeline.EdgeStart, Footage: t.Place.Footage, Film: t.Place.Film})
		}
		if t.JamInfo != nil && t.JamInfo.End.Footage != "" {
			out = append(out, align.Pin{Jam: j.ID, Edge: timeline.EdgeEnd, Footage: t.JamInfo.End.Footage, Film: t.JamInfo.End.Film})
		}
	}
	// Marks count for more than tags: the last pin of an edge is the one taken.
	for _, m := range s.Facts.Marks {
		if m.Hand {
			out = append(out, align.Pin{Jam: m.Jam, Edge: m.Edge, Footage: m.Footage, Film: m.Film})
		}
	}
	return out
}

// placingChanges are the edits that store a placing: heard marks, and jam tags
// where jams were proposed. Earlier heard marks on the same cameras go.
func (s *Session) placingChanges(placed []align.Placed, cameras []camera, proposed bool) []timeline.Change {
	var changes []timeline.Change
	heardOn := map[timeline.ID]bool{}
	for _, c := range cameras {
		for _, f := range c.films {
			heardOn[f.Footage] = true
		}
	}
	keep := map[timeline.ID]bool{}
	if proposed {
		changes = append(changes, s.proposedTags(placed)...)
	}
	for _, p := range placed {
		if p.Footage == "" || !p.Hand && (p.Confidence < leastWritten || s.refused(p.Jam, p.Footage, p.Start)) {
			continue
		}
		set := func(edge timeline.Edge, footage timeline.ID, m timeline.SyncMark) {
			m.ID = timeline.ImportID("heard", string(p.Jam), string(edge), string(footage))
			m.Jam, m.Edge, m.Footage = p.Jam, edge, footage
			keep[m.ID] = true
			if old, ok := s.Facts.Marks[m.ID]; !ok || old != m {
				changes = append(changes, timeline.SetMark(m))
			}
		}
		if !p.Hand { // a start set by hand stays as it is; the end that was heard is still its end
			set(timeline.EdgeStart, p.Footage, timeline.SyncMark{Film: p.Start, Confidence: p.Confidence})
		}
		if p.EndFootage != "" && p.EndHeard {
			set(timeline.EdgeEnd, p.EndFootage, timeline.SyncMark{Film: p.End, Confidence: p.Confidence})
		}
	}
	for id, m := range s.Facts.Marks {
		if !m.Hand && heardOn[m.Footage] && !keep[id] {
			changes = append(changes, timeline.DeleteMark(id))
		}
	}
	return changes
}

// leastWritten is the confidence below which a placing is not worth a mark.
const leastWritten = 0.25

// proposedTags makes the proposed jams and removes those of an earlier proposal.
func (s *Session) proposedTags(placed []align.Placed) []timeline.Change {
	var changes []timeline.Change
	keep := map[timeline.ID]bool{}
	for _, p := range placed {
		if p.Footage == "" || keep[p.Jam] || p.Confidence < leastWritten {
			continue
		}
		keep[p.Jam] = true
		t := timeline.Tag{
			ID: p.Jam, Kind: timeline.KindJam, Place: timeline.OnFilm(p.Footage, p.Start),
			Source: fromListener, Confidence: p.Confidence,
			JamInfo: &timeline.JamInfo{Period: p.Period, Order: float64(p.Number)},
		}
		if p.EndFootage != "" {
			t.JamInfo.End = timeline.OnFilm(p.EndFootage, p.End)
		}
		changes = append(changes, timeline.SetTag(t))
	}
	for id, t := range s.Facts.Tags {
		if t.Kind == timeline.KindJam && t.Source == fromListener && !keep[id] {
			changes = append(changes, timeline.DeleteTag(id))
		}
	}
	return changes
}

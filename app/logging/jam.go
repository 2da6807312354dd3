package logging

import (
	"fmt"
	"time"

	"whistlecut/timeline"
)

// enter is the key of jam starts and ends, and the one that closes a number.
func (m *Machine) enter(v View) Outcome {
	if m.typed != "" {
		return m.closeNumber(v)
	}
	s := v.Standing()
	if s.State != Running {
		return m.start(v, false)
	}
	j := v.Bout.Jams[s.Jam]
	if s.Offset < edgeNear {
		return Outcome{Say: Say{What: TooSoon, Jam: j.Number}}
	}
	t, ok := v.tag(j.ID)
	if !ok || t.JamInfo == nil {
		return refuse(NoJam)
	}
	info := *t.JamInfo
	info.End = v.here()
	t.JamInfo = &info
	return v.set(JamEnd, t)
}

// start makes the next jam start here. Where the bout knows the next jam already
// (from the sheet or by hand) and nothing places it on film, that jam is placed.
func (m *Machine) start(v View, period bool) Outcome {
	s := v.Standing()
	if s.Unknown {
		return refuse(OtherCamera)
	}
	if s.State == Running && s.Offset < edgeNear {
		return Outcome{Say: Say{What: TooSoon, Jam: v.Bout.Jams[s.Jam].Number}}
	}
	if id, in, ok := v.Bout.Alignment.NextJam(v.Now.Footage, v.Now.Film); ok && in < edgeNear {
		return Outcome{Say: Say{What: StartsSoon, Jam: v.Bout.Jams[v.index(id)].Number}}
	}
	next := s.After + 1
	if period && s.After >= 0 {
		for next < len(v.Bout.Jams) && v.Bout.Jams[next].Period == v.Bout.Jams[s.After].Period {
			next++
		}
	}
	if next < len(v.Bout.Jams) {
		j := v.Bout.Jams[next]
		if len(v.Bout.Alignment.Jams[j.ID]) == 0 {
			return m.placeJam(v, j)
		}
	}
	t := v.nextJam(s.After, next, period)
	t.Place = v.here()
	if _, taken := v.Facts.Tags[t.ID]; taken {
		t.ID = m.newID()
	}
	o := v.set(JamStart, t)
	o.Did.Period, o.Did.Jam = t.JamInfo.Period, v.numberIn(t.JamInfo.Period, s.After)
	return o
}

// placeJam pins the start of a known jam to this place, as Align does by hand:
// one hand mark per jam, edge and file.
func (m *Machine) placeJam(v View, j timeline.Jam) Outcome {
	t, _ := v.tag(j.ID)
	return Outcome{
		Changes: []timeline.Change{timeline.SetMark(timeline.SyncMark{
			ID: timeline.ImportID("hand", string(j.ID), string(timeline.EdgeStart), string(v.Now.Footage)), Jam: j.ID,
			Edge: timeline.EdgeStart, Footage: v.Now.Footage, Film: v.Now.Film, Hand: true,
		})},
		Did: Did{What: JamStart, Tag: t, Jam: j.Number, Period: j.Period},
	}
}

// nextJam is the tag of a jam between two others. Its ID follows from its
// numbers, so that two people who log the same jam make one record.
func (v View) nextJam(after, next int, period bool) timeline.Tag {
	info := &timeline.JamInfo{Period: 1, Order: 1}
	var before, behind *timeline.JamInfo
	if after >= 0 {
		before = v.Facts.Tags[v.Bout.Jams[after].ID].JamInfo
	}
	if next < len(v.Bout.Jams) {
		behind = v.Facts.Tags[v.Bout.Jams[next].ID].JamInfo
	}
	if before != nil {
		info.Period, info.Order = before.Period, before.Order+1
		if period {
			if v.Bout.Rules.Periods > 0 && before.Period >= v.Bout.Rules.Periods {
				info.Overtime = true
			} else {
				info.Period, info.Order = before.Period+1, 1
			}
		}
		info.Overtime = info.Overtime || before.Overtime && before.Period == info.Period
	}
	if behind != nil && (before == nil || behind.Period == info.Period) {
		info.Period = behind.Period
		if before != nil && before.Period == info.Period {
			info.Order = (before.Order + behind.Order) / 2
		} else {
			info.Order = behind.Order - 1
		}
	}
	n := v.numberIn(info.Period, after)
	return timeline.Tag{
		ID:   timeline.ImportID("jam", fmt.Sprint(info.Period), fmt.Sprint(n)),
		Kind: timeline.KindJam, JamInfo: info,
	}
}

// numberIn is the number that a jam of a period gets behind jam after.
func (v View) numberIn(period, after int) int {
	n := 1
	for i := 0; i <= after && i < len(v.Bout.Jams); i++ {
		if v.Bout.Jams[i].Period == period {
			n++
		}
	}
	return n
}

// howEnded goes through what ended the jam, where no tag says so: a call-off, an
// injury and the full two minutes are found by Derive.
func (m *Machine) howEnded(v View) Outcome {
	s := v.Standing()
	if s.Jam < 0 {
		return refuse(NoJam)
	}
	t, ok := v.tag(v.Bout.Jams[s.Jam].ID)
	if !ok || t.JamInfo == nil {
		return refuse(NoJam)
	}
	info := *t.JamInfo
	switch info.Ended {
	case timeline.EndUnknown:
		info.Ended = timeline.EndOfficial
	case timeline.EndOfficial:
		info.Ended = timeline.EndNoJammer
	case timeline.EndNoJammer:
		info.Ended = timeline.EndTime
	default:
		info.Ended = timeline.EndUnknown
	}
	t.JamInfo = &info
	return v.set(Changed, t)
}

// recent reports whether a place is a moment ago on the film that is shown.
func (v View) recent(p timeline.Place) bool {
	if p.Footage == "" && p.InJam {
		if f, at, ok := v.Bout.Alignment.FilmOf(p); ok {
			p = timeline.OnFilm(f, at)
		}
	}
	d := v.Now.Film - p.Film
	return p.Footage == v.Now.Footage && d >= -justNow && d <= justNow+time.Second
}

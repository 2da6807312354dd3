package numbers

import (
	"time"

	"whistlecut/timeline"
)

// Stint is what happened in a number of jams, seen from one team.
type Stint struct {
	Jams int `json:"jams"`
	// Counted are the jams that both sides are logged in; the points are of these.
	Counted int            `json:"counted"`
	For     timeline.Range `json:"for"`
	Against timeline.Range `json:"against"`
	// PerJam is the plus-minus per jam, over the jams whose points are known exactly.
	PerJam Mean `json:"per_jam"`

	diffs []float64
}

// add takes one jam in.
func (s *Stint) add(j *timeline.Jam, mine timeline.Side) {
	s.Jams++
	own, other := &j.Sides[mine.Index()], &j.Sides[mine.Other().Index()]
	if !own.Logged || !other.Logged {
		return
	}
	s.Counted++
	s.For, s.Against = s.For.Add(own.Points), s.Against.Add(other.Points)
	if own.Points.Sure() && other.Points.Sure() {
		s.diffs = append(s.diffs, float64(own.Points.Low-other.Points.Low))
	}
}

// plus takes another stint's jams in, of another bout.
func (s *Stint) plus(o Stint) {
	s.Jams += o.Jams
	s.Counted += o.Counted
	s.For, s.Against = s.For.Add(o.For), s.Against.Add(o.Against)
	s.diffs = append(s.diffs, o.diffs...)
}

func (s *Stint) settle() { s.PerJam = meanOf(s.diffs) }

// Jamming is what a jammer did with the star.
type Jamming struct {
	// Jams started as jammer, and jams in which she got the star by a star pass.
	Jams     int `json:"jams"`
	StarPass int `json:"after_star_pass"`
	// Lead is out of the jams she started in which there was lead to gain. LeadKnown
	// is false when lead is tagged nowhere in a bout.
	Lead      Share `json:"lead"`
	LeadKnown bool  `json:"lead_known"`
	Lost      int   `json:"lost"` // lead gained and lost, or the right to it
	Called    int   `json:"called"`
	NoInitial int   `json:"no_initial"` // jams whose initial trip she did not complete
	Given     int   `json:"stars_given"`
	// Trips are scoring trips, Completed those of them not closed by the jam's end.
	Trips     int            `json:"scoring_trips"`
	Completed int            `json:"completed_trips"`
	Points    timeline.Range `json:"points"`
}

// PerTrip is points per scoring trip, low and high; ok is false without a trip.
func (m Jamming) PerTrip() (low, high float64, ok bool) {
	if m.Trips == 0 {
		return 0, 0, false
	}
	return ratio(float64(m.Points.Low), m.Trips), ratio(float64(m.Points.High), m.Trips), true
}

func (m *Jamming) plus(o Jamming) {
	m.Jams += o.Jams
	m.StarPass += o.StarPass
	m.Lead = m.Lead.Plus(o.Lead)
	m.LeadKnown = m.LeadKnown && o.LeadKnown
	m.Lost += o.Lost
	m.Called += o.Called
	m.NoInitial += o.NoInitial
	m.Given += o.Given
	m.Trips += o.Trips
	m.Completed += o.Completed
	m.Points = m.Points.Add(o.Points)
}

// addJam takes in what a skater did in one jam of her side. who "" is the whole
// jammer position, whoever had it.
func (m *Jamming) addJam(j *timeline.Jam, side timeline.Side, who timeline.Number) {
	s := &j.Sides[side.Index()]
	all := who == ""
	first := all || s.Jammer.Number == who
	second := s.StarPass && (all || s.NewJammer == who)
	if first {
		m.Jams++
	}
	if second {
		m.StarPass++
	}
	if !s.Logged {
		return
	}
	if first {
		if !j.Overtime {
			low, high := 0, 0
			if s.Lead {
				low, high = 1, 1
			} else if s.LeadUnknown {
				high = 1
			}
			m.Lead.Low, m.Lead.High, m.Lead.Of = m.Lead.Low+low, m.Lead.High+high, m.Lead.Of+1
		}
		if s.Lost {
			m.Lost++
		}
		if s.Called {
			m.Called++
		}
		if s.StarPass {
			m.Given++
		}
		if s.NI[0].State == timeline.CellKnown && s.NI[0].Value {
			m.NoInitial++
		}
	}
	if second && !first && s.NI[1].State == timeline.CellKnown && s.NI[1].Value {
		m.NoInitial++
	}
	for _, t := range s.Trips {
		mine := all || t.Jammer == who && (t.NewStar && second || !t.NewStar && first)
		if !mine {
			continue
		}
		m.Points = m.Points.Add(t.Points)
		if t.Number > 1 || j.Overtime {
			m.Trips++
			if !t.Open {
				m.Completed++
			}
		}
	}
}

func (m *Jamming) settle() { m.Lead = shareOf(m.Lead.Low, m.Lead.High, m.Lead.Of) }

// Record is a skater's bout in numbers, or several bouts added up.
type Record struct {
	All     Stint `json:"all"`
	Jammer  Stint `json:"jammer"`
	Pivot   Stint `json:"pivot"`
	Blocker Stint `json:"blocker"`
	// StarPass are the jams in which she became jammer by a star pass; they are among
	// those as pivot.
	StarPass Stint   `json:"after_star_pass"`
	Jamming  Jamming `json:"jamming"`
	// OnTrack are the points in her jams while she was not away for a penalty; see
	// the package's doc.
	OnTrackFor     Points `json:"on_track_for"`
	OnTrackAgainst Points `json:"on_track_against"`
	Penalties      int    `json:"penalties"`
	// BoxTime is jam time in the box over the stays it is known of; BoxUnknown counts
	// the others.
	BoxTime    time.Duration `json:"box_time"`
	BoxUnknown int           `json:"box_unknown,omitempty"`
	// Conceded are the other team's points over all her stays, counted once where
	// stays overlap; Scored her own team's.
	Conceded Points `json:"conceded_sitting"`
	Scored   Points `json:"scored_sitting"`
}

// recordOf is the record of one skater in one bout.
func recordOf(src Source, who timeline.SkaterRef) Record {
	b := src.Bout
	r := Record{
		OnTrackFor: Points{Basis: ByJams}, OnTrackAgainst: Points{Basis: ByJams},
		Conceded: Points{Basis: ByJams}, Scored: Points{Basis: ByJams},
	}
	n := who.Side.Index()
	away := map[int][]stretch{}
	for _, s := range awayStretches(src, who) {
		away[s.jam] = append(away[s.jam], s)
	}
	for i := range b.Jams {
		j := &b.Jams[i]
		role := roleIn(&j.Sides[n], who.Number)
		if role == timeline.NoRole {
			continue
		}
		r.All.add(j, who.Side)
		switch role {
		case timeline.Jammer:
			r.Jammer.add(j, who.Side)
		case timeline.Pivot:
			r.Pivot.add(j, who.Side)
		case timeline.Blocker:
			r.Blocker.add(j, who.Side)
		}
		if j.Sides[n].StarPass && j.Sides[n].NewJammer == who.Number {
			r.StarPass.add(j, who.Side)
		}
		r.Jamming.addJam(j, who.Side, who.Number)
		if j.Sides[0].Logged && j.Sides[1].Logged {
			r.OnTrackFor = r.OnTrackFor.Plus(onTrack(b, i, away[i], who.Side))
			r.OnTrackAgainst = r.OnTrackAgainst.Plus(onTrack(b, i, away[i], who.Side.Other()))
		}
	}
	r.Jamming.LeadKnown = leadTagged(src)
	for _, f := range b.Fouls {
		if f.Skater == who {
			r.Penalties = len(f.Penalties)
		}
	}
	var sat []stretch
	for _, v := range b.Visits {
		if v.Skater != who {
			continue
		}
		s := sitting(src, 0, v)
		if s.BoxTimeKnown {
			r.BoxTime += s.BoxTime
		} else {
			r.BoxUnknown++
		}
		list, _ := boxStretches(b, ownEnd(b, v))
		sat = append(sat, list...)
	}
	sat = union(sat)
	r.Conceded = pointsInAll(b, sat, who.Side.Other())
	r.Scored = pointsInAll(b, sat, who.Side)
	r.settle()
	return r
}

// onTrack is what a side scored in a jam outside some stretches of it.
func onTrack(b *timeline.Bout, jam int, away []stretch, side timeline.Side) Points {
	return pointsInAll(b, outside(jam, away), side)
}

// leadTagged reports whether anybody tagged lead in the bout, or logged the
// passes it follows from.
func leadTagged(src Source) bool {
	for i := range src.Bout.Jams {
		for _, s := range src.Bout.Jams[i].Sides {
			if s.Lead || s.LeadUnknown || s.PassLevel {
				return true
			}
		}
	}
	return false
}

func (r *Record) settle() {
	for _, s := range []*Stint{&r.All, &r.Jammer, &r.Pivot, &r.Blocker, &r.StarPass} {
		s.settle()
	}
	r.Jamming.settle()
}

// plus adds another bout's record.
func (r *Record) plus(o Record) {
	r.All.plus(o.All)
	r.Jammer.plus(o.Jammer)
	r.Pivot.plus(o.Pivot)
	r.Blocker.plus(o.Blocker)
	r.StarPass.plus(o.StarPass)
	r.Jamming.plus(o.Jamming)
	r.OnTrackFor = r.OnTrackFor.Plus(o.OnTrackFor)
	r.OnTrackAgainst = r.OnTrackAgainst.Plus(o.OnTrackAgainst)
	r.Penalties += o.Penalties
	r.BoxTime += o.BoxTime
	r.BoxUnknown += o.BoxUnknown
	r.Conceded = r.Conceded.Plus(o.Conceded)
	r.Scored = r.Scored.Plus(o.Scored)
	r.settle()
}

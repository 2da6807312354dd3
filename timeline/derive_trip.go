package timeline

import (
	"cmp"
	"fmt"
	"slices"
	"time"
)

// tripMost is the most that one trip can score (Rules 3.1; with the opposing
// jammer before 2019).
func (d *deriver) tripMost() int { return d.rules.PointsPerTrip }

// trips counts one side's trips as tagged. A trip that was not seen counts from
// nothing to the most a trip can score; an unsure one as tagged, one either way
// (our convention, no source).
func (d *deriver) trips(j *Jam, s Side, side *JamSide, t *sideTags) {
	byNumber := map[int][]placed{}
	most := 0
	for _, p := range t.trip {
		if p.Trip == nil {
			d.problem(Problem{Kind: ProblemEmpty, Jam: j.ID, Side: s, Tags: []ID{p.ID}, Text: fmt.Sprintf("a trip tag of %s in jam %s says no trip number and is left out", s, j.Name())})
			continue
		}
		n := p.Trip.Number
		if n < 1 || n > tripLimit {
			d.problem(Problem{Kind: ProblemEmpty, Jam: j.ID, Side: s, Tags: []ID{p.ID}, Text: fmt.Sprintf("trip %d of %s in jam %s is left out: trips count from 1 (the initial trip)", n, s, j.Name())})
			continue
		}
		byNumber[n] = append(byNumber[n], p)
		most = max(most, n)
	}
	from := time.Duration(0)
	known := true // from is known
	for n := 1; n <= most; n++ {
		tags := byNumber[n]
		if len(tags) == 0 {
			if n == 1 {
				known = false // the initial trip is often not tagged; its end is then not known
				continue
			}
			side.Trips = append(side.Trips, Trip{
				Number: n, Jammer: side.Jammer.Number, Points: Range{0, d.tripMost()},
				Why: []Reason{{Text: fmt.Sprintf("not tagged, though a later trip is: it counts 0 to %d", d.tripMost()), Section: "3.1"}},
			})
			d.problem(Problem{Kind: ProblemGap, Jam: j.ID, Side: s, Text: fmt.Sprintf("trip %d of %s in jam %s is not tagged, though trip %d is", n, s, j.Name(), most)})
			known = false
			continue
		}
		tr := d.oneTrip(j, s, n, tags)
		p := tags[0]
		if p.timed {
			tr.End, tr.Timed = p.at, true
			tr.Start = tr.End
			if at, ok := d.timeIn(d.jamIndex[j.ID], p.Trip.Start); ok {
				tr.Start = at
			} else if known {
				tr.Start = from
			}
			if tr.Start > tr.End {
				d.problem(Problem{Kind: ProblemContradict, Jam: j.ID, Side: s, Tags: []ID{p.ID}, Text: fmt.Sprintf("trip %d of %s in jam %s ends before it starts", n, s, j.Name())})
				tr.Start = tr.End
			}
		}
		from, known = tr.End, tr.Timed
		d.credit(j, s, side, &tr, p)
		side.Trips = append(side.Trips, tr)
	}
	for i := 1; i < len(side.Trips); i++ {
		x, y := side.Trips[i-1], side.Trips[i]
		if x.NewStar && !y.NewStar && len(y.Tags) == 0 {
			side.Trips[i].NewStar, side.Trips[i].Jammer = true, side.NewJammer
		}
		if x.Open && len(y.Tags) > 0 && len(x.Tags) > 0 {
			d.problem(Problem{
				Kind: ProblemContradict, Jam: j.ID, Side: s, Tags: []ID{x.Tags[0], y.Tags[0]}, Section: "3.2",
				Text: fmt.Sprintf("trip %d of %s in jam %s is tagged as not completed, but trip %d follows", x.Number, s, j.Name(), y.Number),
			})
		}
	}
	for i := range side.Trips {
		side.Points = side.Points.Add(side.Trips[i].Points)
	}
}

// tripLimit bounds the trips of one jam: more than one every two seconds is a
// slip of the hand, and must not make the recount grow without end.
const tripLimit = 60

// oneTrip counts all tags that claim to be trip n.
func (d *deriver) oneTrip(j *Jam, s Side, n int, tags []placed) Trip {
	tr := Trip{Number: n, Open: tags[0].Trip.Open}
	for i, p := range tags {
		tr.Tags = append(tr.Tags, p.ID)
		r, why := d.tagged(j, s, n, p)
		if i == 0 {
			tr.Points = r
			tr.Why = append(tr.Why, why)
			continue
		}
		first := tags[0]
		switch {
		case first.Seen == p.Seen && first.Trip.Points == p.Trip.Points, first.Seen == NotSeen && p.Seen == NotSeen:
			d.problem(Problem{Kind: ProblemDuplicate, Jam: j.ID, Side: s, Tags: []ID{first.ID, p.ID}, Text: fmt.Sprintf("trip %d of %s in jam %s is tagged twice alike; it counts once", n, s, j.Name())})
		default:
			tr.Points = Range{min(tr.Points.Low, r.Low), max(tr.Points.High, r.High)}
			tr.Why = append(tr.Why, why)
			d.problem(Problem{
				Kind: ProblemContradict, Jam: j.ID, Side: s, Tags: []ID{first.ID, p.ID},
				Text: fmt.Sprintf("trip %d of %s in jam %s is tagged twice and differently; it counts %s", n, s, j.Name(), tr.Points),
			})
		}
	}
	return tr
}

// tagged is what one trip tag counts, and why.
func (d *deriver) tagged(j *Jam, s Side, n int, p placed) (Range, Reason) {
	most := d.tripMost()
	initial := n == 1 && !j.Overtime && !d.rules.LapJammerInitial
	why := Reason{Section: "3.1", Tags: []ID{p.ID}}
	pts := p.Trip.Points
	switch {
	case initial && p.Seen == Sure && pts == 0, initial && p.Seen != Sure:
		why.Text, why.Section = "the initial trip scores nothing", "3.2"
		return Exactly(0), why
	case p.Seen == NotSeen:
		why.Text = fmt.Sprintf("not seen: 0 to %d", most)
		return Range{0, most}, why
	case pts < 0 || pts > most:
		d.problem(Problem{Kind: ProblemRule, Jam: j.ID, Side: s, Tags: []ID{p.ID}, Section: "3.1", Text: fmt.Sprintf("trip %d of %s in jam %s is tagged with %d points; a trip scores 0 to %d, so it counts as not seen", n, s, j.Name(), pts, most)})
		why.Text = fmt.Sprintf("%d points are not possible on a trip: 0 to %d", pts, most)
		return Range{0, most}, why
	case initial:
		d.problem(Problem{Kind: ProblemRule, Jam: j.ID, Side: s, Tags: []ID{p.ID}, Section: "3.2", Text: fmt.Sprintf("trip 1 of %s in jam %s is tagged with %d points; the initial trip scores nothing, unless the number is wrong, so it counts 0 to %d", s, j.Name(), pts, pts)})
		why.Text, why.Section = fmt.Sprintf("tagged with %d, but the initial trip scores nothing: 0 to %d", pts, pts), "3.2"
		return Range{0, pts}, why
	case p.Seen == Unsure:
		r := Range{max(pts-1, 0), min(pts+1, most)}
		why.Text = fmt.Sprintf("unsure: %d, one either way", pts)
		return r, why
	}
	why.Text = fmt.Sprintf("%d as tagged", pts)
	return Exactly(pts), why
}

// credit says which jammer completed the trip: the new one once she has the
// star (a trip belongs to whoever completes it).
func (d *deriver) credit(j *Jam, s Side, side *JamSide, tr *Trip, p placed) {
	tr.Jammer = side.Jammer.Number
	if !side.StarPass {
		if w := p.Who.Number; w != "" && tr.Jammer != "" && w != tr.Jammer {
			d.problem(Problem{Kind: ProblemContradict, Jam: j.ID, Side: s, Tags: []ID{p.ID}, Text: fmt.Sprintf("trip %d of %s in jam %s is tagged for %s, but %s is the jammer", tr.Number, s, j.Name(), w, tr.Jammer)})
		}
		return
	}
	switch {
	case p.Who.Number != "" && p.Who.Number == side.NewJammer && side.NewJammer != side.Jammer.Number:
		tr.NewStar = true
	case p.Who.Number != "" && p.Who.Number == side.Jammer.Number:
	case side.StarPassTimed && tr.Timed:
		tr.NewStar = tr.End > side.StarPassAt
	default:
		if n := len(side.Trips); n > 0 && side.Trips[n-1].NewStar {
			tr.NewStar = true
			break
		}
		if tr.Open && tr.Number > 0 {
			tr.NewStar = true // the jam's end closed it, so the star had passed by then
			break
		}
		d.problem(Problem{Kind: ProblemAmbiguous, Jam: j.ID, Side: s, Tags: []ID{p.ID}, Text: fmt.Sprintf("nothing tells whether trip %d of %s in jam %s was completed before or after the star pass; it stands on the first jammer's row", tr.Number, s, j.Name())})
	}
	if tr.NewStar {
		tr.Jammer = side.NewJammer
	}
}

// score adds the jams up, makes the rows, and keeps the running totals.
func (d *deriver) score() {
	known := [2]bool{true, true}
	for i := range d.bout.Jams {
		j := &d.bout.Jams[i]
		for _, s := range Sides {
			n := s.Index()
			side := &j.Sides[n]
			side.GameBefore = d.bout.Score[n]
			d.bout.Score[n] = d.bout.Score[n].Add(side.Points)
			if !side.Logged {
				known[n] = false
				d.bout.Unlogged[n]++
			}
			side.GameKnown = known[n]
			d.rows(j, s, side)
		}
	}
}

// settle lists the trips that keep the score a range, widest first.
func (d *deriver) settle() {
	for i := range d.bout.Jams {
		j := &d.bout.Jams[i]
		for _, s := range Sides {
			for _, tr := range j.Sides[s.Index()].Trips {
				if tr.Points.Sure() {
					continue
				}
				gain := tr.Points.High - tr.Points.Low
				at := Settle{Jam: j.ID, Side: s, Gain: gain, Text: fmt.Sprintf("trip %d of %s in jam %s: %s", tr.Number, s, j.Name(), tr.Points)}
				if len(tr.Tags) == 0 {
					at.Text += ", not tagged"
					d.bout.Settle = append(d.bout.Settle, at)
				}
				for _, id := range tr.Tags {
					at.Tag = id
					d.bout.Settle = append(d.bout.Settle, at)
				}
			}
		}
	}
	slices.SortStableFunc(d.bout.Settle, func(x, y Settle) int { return cmp.Compare(y.Gain, x.Gain) })
}

// String writes a sure value as one number and a range as "3 to 7".
func (r Range) String() string {
	if r.Sure() {
		return fmt.Sprint(r.Low)
	}
	return fmt.Sprintf("%d to %d", r.Low, r.High)
}

package timeline

import "fmt"

// swap is the two-jammer rule (4.4.2), tried whenever a jammer sits down or is
// given a penalty while seated. Both jammers serve as little as possible but
// equal time for each penalty, and one of them is free whenever that can be: so
// a penalty the arriving jammer has not begun is paired with one the other is
// serving. The other is done with hers at once; the arriving jammer serves as
// long as the other had. A paired penalty is settled: it neither shrinks nor
// frees anybody again (C4.4.2.A).
func (b *boxKeeper) swap(arriving *boxSkater) {
	other := b.seatedJammer(arriving.ref.Side.Other())
	if other == nil {
		return
	}
	for {
		mine := arriving.unbegun()
		if mine == nil {
			break
		}
		if theirs := other.unbegun(); theirs != nil && b.rules.CancelEachPenalty && theirs != other.current() {
			// Unequal numbers owed: one of each is cancelled. Not in every source, so it
			// can be switched off.
			b.pair(arriving, mine, other, theirs)
			continue
		}
		theirs := other.unpaired()
		if theirs == nil {
			break
		}
		b.pair(arriving, mine, other, theirs)
	}
	b.releaseIfDone(other)
	b.releaseIfDone(arriving)
}

// pair sets two penalties to the same time: what the one of the jammer who sat
// first has been served.
func (b *boxKeeper) pair(arriving *boxSkater, mine *boxPenalty, other *boxSkater, theirs *boxPenalty) {
	each, begun, cancel := theirs.served, theirs.served > 0, theirs != other.current()
	if !begun && !cancel {
		each = min(b.rules.BothSeatedServe, theirs.time, mine.time)
	}
	for _, x := range []struct {
		s *boxSkater
		p *boxPenalty
	}{{arriving, mine}, {other, theirs}} {
		x.s.stay.Forgiven += x.p.time - each
		x.p.time, x.p.paired = each, true
	}
	switch {
	case cancel:
		arriving.why("the opposing jammer owes more than one: one penalty of each is cancelled", "4.4.2")
		other.why("the opposing jammer sat down: one penalty of each is cancelled", "4.4.2")
	case !begun:
		arriving.why(fmt.Sprintf("both jammers seated at the same moment: each serves %v", each), "4.4.2")
		other.why(fmt.Sprintf("both jammers seated at the same moment: each serves %v", each), "4.4.2")
	default:
		arriving.why(fmt.Sprintf("the opposing jammer had served %v: she serves as long for this penalty", each), "4.4.2")
		other.why(fmt.Sprintf("the opposing jammer sat down: done with this penalty after %v", each), "4.4.2")
	}
}

// seatedJammer is the side's jammer in the box, or nil.
func (b *boxKeeper) seatedJammer(side Side) *boxSkater {
	for _, s := range b.order {
		if s.ref.Side == side && s.stay != nil && s.role == Jammer {
			return s
		}
	}
	return nil
}

// unbegun is the latest penalty she has not begun to serve, not paired yet.
func (s *boxSkater) unbegun() *boxPenalty {
	for i := len(s.owes) - 1; i >= 0; i-- {
		if p := s.owes[i]; !p.paired && p.served == 0 && p.left() > 0 {
			return p
		}
	}
	return nil
}

// unpaired is the penalty she is serving, if it can still be paired.
func (s *boxSkater) unpaired() *boxPenalty {
	for _, p := range s.owes {
		if !p.paired && p.left() > 0 {
			return p
		}
	}
	return nil
}

// endsJam: a penalised jammer sits and there is no opposing jammer, the jam ends
// (4.4.2).
func (b *boxKeeper) endsJam(s *boxSkater, e BoxEvent) {
	if e.At < 0 || e.Jam != b.now.jam || !b.jams[e.Jam].NoJammer[s.ref.Side.Other().Index()] {
		return
	}
	why := Reason{Text: "a penalised jammer sat and there was no opposing jammer: the jam ends", Section: "4.4.2"}
	b.count.JamEnds = append(b.count.JamEnds, BoxJamEnd{Jam: e.Jam, At: e.At, Why: why})
	s.stay.Why = append(s.stay.Why, why)
}

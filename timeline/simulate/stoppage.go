package simulate

import (
	"time"

	"whistlecut/timeline"
)

var reviewSubjects = []string{
	"points of the last trip", "lead awarded to the wrong jammer", "penalty on the wrong skater",
	"cut called on a blocker who was down", "time served in the box",
}

// stoppages plays the timeouts and reviews after a jam, if any, and reports
// whether there were some: then the period clock has stood still, and even a jam
// that ended with under 30 s left is not the last.
func (h *hall) stoppages() bool {
	r := h.rng
	last := h.g.Truth.Jams[len(h.g.Truth.Jams)-1]
	any := false
	left := h.g.clock.left(h.now())
	if last.Ended == timeline.EndInjury && left > 0 {
		h.stop(timeline.KindTimeout, timeline.NoSide, 40+50*r.Float64(), "")
		any = true
	} else if left > 0 && r.Float64() < 0.035*rate(h.opt.Rates.Timeouts) {
		h.stop(timeline.KindTimeout, timeline.NoSide, 20+40*r.Float64(), "")
		any = true
	}
	for t := range h.timeouts {
		p := 0.045 * rate(h.opt.Rates.Timeouts)
		if left < h.opt.Rules.LineupTime && h.score[t] < h.score[1-t] {
			p *= 8
		}
		if left > 0 && h.timeouts[t] > 0 && r.Float64() < p {
			h.timeouts[t]--
			h.stop(timeline.KindTimeout, timeline.Sides[t], h.opt.Rules.TimeoutLength.Seconds(), "")
			any = true
		}
	}
	for t := range h.reviews {
		if h.reviews[t] > 0 && r.Float64() < 0.03*rate(h.opt.Rates.Reviews) {
			h.reviews[t]--
			h.stop(timeline.KindReview, timeline.Sides[t], 45+70*r.Float64(), reviewSubjects[r.IntN(len(reviewSubjects))])
			s := &h.g.Truth.Stoppages[len(h.g.Truth.Stoppages)-1]
			if r.Float64() < 0.35 {
				// An officiating error was found: kept, at most once a period (1.3.2).
				s.Retained = true
				if kept := h.keptReview(s); !kept {
					h.reviews[t]++
				}
			}
			any = true
		}
	}
	return any && h.g.clock.left(h.now()) > 0
}

// keptReview reports whether the side had already kept its review in the period.
func (h *hall) keptReview(now *Stoppage) bool {
	for i := range h.g.Truth.Stoppages {
		s := &h.g.Truth.Stoppages[i]
		if s != now && s.Kind == timeline.KindReview && s.Side == now.Side && s.Retained && h.jamOf(s.AfterJam).Period == h.period {
			now.Retained = false
			return true
		}
	}
	return false
}

func (h *hall) jamOf(id timeline.ID) *Jam {
	for _, j := range h.g.Truth.Jams {
		if j.ID == id {
			return j
		}
	}
	return &Jam{}
}

// stop is one stoppage: four blasts, the clock stands from the fourth on, a
// rolling whistle at its end (Rules 1.3).
func (h *hall) stop(kind timeline.Kind, side timeline.Side, length float64, subject string) {
	h.wait(seconds(3 + 5*h.rng.Float64()))
	phase := PhaseTimeout
	if kind == timeline.KindReview {
		phase = PhaseReview
	}
	h.clearBenches()
	w := h.blow(WhistleTimeout, JamTimer, false)
	h.mark(phase)
	h.waitTill(w.End())
	h.g.clock.stop(h.now())
	s := Stoppage{
		Kind: kind, Side: side, AfterJam: h.g.Truth.Jams[len(h.g.Truth.Jams)-1].ID,
		Start: w.At(), Clock: h.g.clock.left(h.now()), Subject: subject,
	}
	h.waitTill(w.At() + time.Duration(length*float64(time.Second)))
	w = h.blow(WhistleTimeoutEnd, JamTimer, false)
	s.End = w.At()
	h.g.Truth.Stoppages = append(h.g.Truth.Stoppages, s)
	h.mark(PhaseLineup)
}

// clearBenches sends everybody who has no penalty to serve to the bench.
func (h *hall) clearBenches() {
	for _, k := range h.skaters {
		if k.mode == lining {
			k.mode = benched
		}
	}
}

// afterJam frees those who were on their way back from the box, and counts the
// jams that the hurt sit out.
func (h *hall) afterJam(m *jam) {
	for _, k := range h.skaters {
		k.star, k.stripe, k.holds, k.lead = false, false, false, false
		k.penal.called = false
		if k.mode == returning || k.mode == gone {
			k.mode = benched
		}
		if k.sitOut > 0 {
			k.sitOut--
		}
		if !k.serving() {
			k.fielded = false
		}
	}
}

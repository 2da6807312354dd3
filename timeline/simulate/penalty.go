package simulate

import (
	"slices"

	"whistlecut/timeline"
)

// codeWeights are how often each code is called, one against another (made up; letters
// of 2017 and later from memory). X comes of cutting alone.
var codeWeights = []struct {
	letter string
	weight float64
}{
	{"B", 13},
	{"A", 11},
	{"L", 13},
	{"H", 4},
	{"F", 15},
	{"E", 4},
	{"C", 16},
	{"D", 6},
	{"M", 7},
	{"P", 8},
	{"N", 1},
	{"I", 1},
	{"G", 1},
}

// drawCode draws one of the codes that the edition has.
func (h *hall) drawCode() string {
	total := 0.0
	has := func(letter string) bool {
		return len(h.opt.Rules.Codes) == 0 ||
			slices.ContainsFunc(h.opt.Rules.Codes, func(c timeline.PenaltyCode) bool { return c.Letter == letter })
	}
	for _, c := range codeWeights {
		if has(c.letter) {
			total += c.weight
		}
	}
	p, last := total*h.rng.Float64(), ""
	for _, c := range codeWeights {
		if !has(c.letter) {
			continue
		}
		last = c.letter
		if p -= c.weight; p < 0 {
			break
		}
	}
	return last
}

// foulRate is a skater's penalties per second.
func (m *jam) foulRate(k *skater, busy bool) float64 {
	x := 0.0012
	if busy {
		x = 0.0044
	}
	if k.role == timeline.Jammer {
		x *= 1.9 // she is in the thick of it
	}
	return x * k.rash * rate(m.h.opt.Rates.Penalties)
}

// foul has a skater commit a penalty now; the whistle comes a moment later. The
// last blocker of a team in play is spared: she could not leave (Rules 5.4), and
// a jam without her is no jam.
func (m *jam) foul(k *skater, code string) {
	r := m.h.rng
	if k.mode != playing || k.penal.called || m.over || k.downTill > 1e6 || !m.h.mayFoul(k) {
		return
	}
	if k.role != timeline.Jammer {
		left := 0
		for _, o := range m.teams[k.team] {
			if o.role != timeline.Jammer && o.mode == playing && !o.penal.called {
				left++
			}
		}
		if left < 2 {
			return
		}
	}
	if code == "" {
		code = m.h.drawCode()
	}
	act := m.time()
	k.penal.called = true
	m.after(0.6+1.5*r.Float64(), func() {
		k.penal.called = false
		if k.mode != playing || k.downTill > 1e6 || m.over && m.endAt > 0 {
			return // gone, hurt, or the jam is being whistled off
		}
		m.h.blow(WhistlePenalty, m.h.callerFor(k), false)
		m.penalise(k, code, Penalty{Act: act, Call: m.time()})
		if k.role != timeline.Jammer && r.Float64() < 0.05 {
			second := m.h.drawCode()
			for second == code {
				second = m.h.drawCode()
			}
			m.penalise(k, second, Penalty{Act: act, Call: m.time()})
		}
	})
}

// penalise books a penalty and sends the skater to the box.
func (m *jam) penalise(k *skater, code string, p Penalty) {
	m.h.book(k, code, m.truth, p)
	if !k.up {
		m.emit(timeline.Event{What: timeline.EvUp, Who: k.SkaterRef})
	}
	m.emit(timeline.Event{What: timeline.EvPenalised, Who: k.SkaterRef, Code: code})
	m.dropStarTry(k)
	k.mode, k.outTill, k.recycle, k.up = leaving, 0, 0, true
	if k.role == timeline.Jammer {
		if !m.tallies[k.team].second {
			m.loseLead(k)
		}
		m.newApproach(k)
	}
}

// book writes a penalty down; the seventh fouls the skater out (Rules 4.5).
func (h *hall) book(k *skater, code string, in *Jam, p Penalty) {
	p.SkaterRef, p.Role, p.Code, p.Jam = k.SkaterRef, k.role, code, in.ID
	k.fouls++
	if k.fouls == h.opt.Rules.FoulOut {
		p.FoulOut, k.fouled = true, true
		h.g.Truth.FouledOut = append(h.g.Truth.FouledOut, k.SkaterRef)
	}
	k.penal.owed += h.opt.Rules.PenaltyTime
	k.penal.list = append(k.penal.list, len(h.g.Truth.Penalties))
	h.g.Truth.Penalties = append(h.g.Truth.Penalties, p)
}

package simulate

import (
	"math"

	"whistlecut/timeline"
)

// hips is how far (ft along the inside line) a blocker's hips must be past another
// blocker's for the order to count as changed, so that two side by side do not
// pass each other at every tremble. Jammers' passes are told to the inch.
const hips = 0.3

// tracked reports whether a skater's hips count in the order: in play, or sent
// off and still in bounds.
func tracked(k *skater) bool { return k.mode == playing || k.mode == leaving && k.in }

// leads reports whether a is ahead of b and not about to come on her from behind
// the other way round.
func (m *jam) leads(a, b *skater) bool {
	return m.ahead[a.index][b.index] && Gap(b.s, a.s) < InsideLap/3
}

// resetOrder takes the order with everybody else from where she is.
func (m *jam) resetOrder(k *skater) {
	for _, o := range m.on {
		if o != k {
			a := Gap(o.s, k.s) > 0
			m.ahead[k.index][o.index], m.ahead[o.index][k.index] = a, !a
		}
	}
}

// findPasses compares the order of hips with the order before and tells every
// change. Half a lap round the track the order turns over without a pass.
func (m *jam) findPasses() {
	for i, a := range m.on {
		if !tracked(a) {
			continue
		}
		for _, b := range m.on[i+1:] {
			if !tracked(b) {
				continue
			}
			g := Gap(b.s, a.s) // a ahead of b when positive
			was := m.ahead[a.index][b.index]
			if math.Abs(g) > InsideLap/3 {
				m.ahead[a.index][b.index], m.ahead[b.index][a.index] = g > 0, g < 0
				continue
			}
			past := hips
			if (a.role == timeline.Jammer) != (b.role == timeline.Jammer) {
				past = 0
			}
			switch {
			case !was && g > past:
				m.pass(a, b)
			case was && g < -past:
				m.pass(b, a)
			}
		}
	}
}

// pass: who's hips went from behind to ahead of whom's.
func (m *jam) pass(who, whom *skater) {
	m.ahead[who.index][whom.index], m.ahead[whom.index][who.index] = true, false
	e := timeline.Event{What: timeline.EvPass, Who: who.SkaterRef, Whom: whom.SkaterRef}
	if whom.v < -0.3 && who.v+whom.v < 0 {
		e.Moved = timeline.MovedPassed
	}
	m.emit(e)
	m.tallyPass(who, whom, e.Moved)
}

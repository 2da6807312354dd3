package find

import "whistlecut/timeline"

// Select makes a selection the one that holds; nothing is left out.
func (t *Task) Select(sel timeline.Selection) {
	t.open, t.without, t.chosen = noField, map[string]bool{}, ""
	t.choose(sel)
}

// About is the skater of the chosen moment; in a power jam the one in the box.
func (t *Task) About() (timeline.SkaterRef, bool) {
	i := t.index()
	if i < 0 {
		return timeline.SkaterRef{}, false
	}
	m := t.moments[i]
	who := m.Skater
	if who.Number == "" {
		who = timeline.SkaterRef{Side: m.Side, Number: m.Who}
	}
	return who, who.Number != "" && who.Side != timeline.NoSide
}

package find

import "whistlecut/timeline"

// Select makes a selection the one that holds; nothing is left out.
func (t *Task) Select(sel timeline.Selection) {
	t.open, t.without, t.chosen = noField, map[string]bool{}, ""
	t.choose(sel)
}

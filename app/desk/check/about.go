package check

import "whistlecut/timeline"

// About is the skater whom the chosen finding is about.
func (t *Task) About() (timeline.SkaterRef, bool) {
	i, ok := t.current()
	if !ok || i.finding == nil {
		return timeline.SkaterRef{}, false
	}
	who := timeline.SkaterRef{Side: i.finding.Side, Number: i.finding.Skater}
	return who, who.Number != "" && who.Side != timeline.NoSide
}

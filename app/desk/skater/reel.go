package skater

import (
	"whistlecut/app/desk/task"
	"whistlecut/app/desk/words"
	"whistlecut/app/reels"
	"whistlecut/timeline"
)

// reel makes a new reel of her moments in all bouts of the page and brings it.
func (t *Task) reel() {
	if !t.ready() {
		return
	}
	var list []task.Batch
	n := 0
	for i, b := range t.pg.Bouts {
		batch := task.Batch{Moments: shown(reels.PackMoments(t.of[i], b.Skater))}
		if !t.here(i) {
			batch.Of = t.of[i]
		}
		n += len(batch.Moments)
		list = append(list, batch)
	}
	if n == 0 {
		t.desk.Say(words.T("Nothing of her is on film: no penalty and no jam as jammer."))
		return
	}
	t.desk.NewReel(t.name(), list...)
}

// shown are the moments that film shows.
func shown(list []timeline.Moment) []timeline.Moment {
	var out []timeline.Moment
	for _, m := range list {
		if len(m.Film) > 0 {
			out = append(out, m)
		}
	}
	return out
}

package reel

import (
	"slices"
	"strings"

	"whistlecut/app"
	"whistlecut/app/desk/task"
	"whistlecut/app/desk/words"
	"whistlecut/app/reels"
	"whistlecut/timeline"
)

// NewOf makes a new reel of moments, of this bout and of others, and works on it.
// It may be called while another task is shown; it reports whether it went well.
func (t *Task) NewOf(name string, batches []task.Batch) bool {
	s := t.desk.Session()
	if s == nil {
		return false
	}
	r, made := reels.New(s, t.freeName(name), words.Code())
	changes := []timeline.Change{made}
	first, n := timeline.ID(""), 0
	order := 0.0
	for _, b := range batches {
		of := b.Of
		if of == nil {
			of = s
		}
		got := reels.CollectFrom(s, of, r, b.Moments, reels.CollectOptions{Margins: app.MarginsOf(t.desk.Settings()), Captions: true})
		for _, p := range got.Parts {
			// The reel is not stored yet: parts of all bouts are numbered here.
			order++
			p.Order = order
			changes = append(changes, timeline.SetPart(p))
			if first == "" {
				first = p.ID
			}
			n++
		}
	}
	if n == 0 {
		t.desk.Say(words.T("No film shows these moments."))
		return false
	}
	if !t.apply(words.N(n, "new reel {.reel} of {.n} moment", "new reel {.reel} of {.n} moments", "reel", r.Name), changes...) {
		return false
	}
	t.work(r.ID)
	t.chosen, t.fresh = first, !t.shown
	t.desk.Say(words.N(n, "The reel {.reel} has {.n} clip.", "The reel {.reel} has {.n} clips.", "reel", r.Name))
	t.refresh()
	return true
}

// freeName is a name that no reel of the bout has yet.
func (t *Task) freeName(name string) string {
	all := t.facts().ReelsInOrder()
	for n, free := 2, name; ; n++ {
		if !slices.ContainsFunc(all, func(r timeline.Reel) bool { return strings.EqualFold(r.Name, free) }) {
			return free
		}
		free = words.T("{.name} ({.n})", "name", name, "n", n)
	}
}

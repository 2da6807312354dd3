package desk

import (
	"slices"

	"whistlecut/app/desk/find"
	"whistlecut/app/desk/numbers"
	"whistlecut/app/desk/skater"
	"whistlecut/app/desk/task"
	"whistlecut/app/play"
	"whistlecut/timeline"
)

// links are what leads from one task to another.
type links struct {
	pages  []task.Task // shown in a task's place, without a name in the bar
	skater *skater.Task
	before string      // the task shown before a page
	guests []play.Film // films shown that are not of the bout
}

// newPages makes the pages.
func (d *Desk) newPages() {
	d.links.skater = skater.New(d)
	d.links.pages = []task.Task{numbers.New(d), d.links.skater}
	d.links.guests = nil
}

// all are the tasks and the pages.
func (d *Desk) all() []task.Task { return append(slices.Clone(d.tasks), d.links.pages...) }

func (d *Desk) isPage(id string) bool {
	return slices.ContainsFunc(d.links.pages, func(t task.Task) bool { return t.ID() == id })
}

// wide reports whether what is shown needs a wide panel.
func (d *Desk) wide() bool {
	w, ok := d.current().(task.Wide)
	return ok && w.Wide()
}

// showNumbers brings the bout in numbers, or what was there before it.
func (d *Desk) showNumbers() { d.turn(task.Numbers) }

// showSkater brings a skater's page, that of the row chosen in the task where one
// names a skater; or what was there before it.
func (d *Desk) showSkater() {
	if a, ok := d.current().(task.About); ok && d.session != nil {
		if who, ok := a.About(); ok {
			d.links.skater.Of(who)
		}
	}
	d.turn(task.Skater)
}

func (d *Desk) turn(page string) {
	if d.session == nil {
		return
	}
	if d.full {
		d.fullScreen()
	}
	if d.shown == page {
		d.Back()
		return
	}
	d.Show(page)
}

// Back brings the task that was shown before a page.
func (d *Desk) Back() {
	if d.links.before == "" {
		d.links.before = task.Log
	}
	d.Show(d.links.before)
}

// Select brings Find with a selection.
func (d *Desk) Select(sel timeline.Selection) {
	for _, t := range d.tasks {
		if f, ok := t.(*find.Task); ok {
			f.Select(sel)
			d.Show(task.Find)
		}
	}
}

// Skater brings the page of a skater.
func (d *Desk) Skater(who timeline.SkaterRef) {
	if d.session != nil {
		d.links.skater.Of(who)
		d.Show(task.Skater)
	}
}

// NewReel makes a reel of moments and brings it.
func (d *Desk) NewReel(name string, batches ...task.Batch) {
	if d.reeler.NewOf(name, batches) {
		d.Show(task.Reel)
	}
}

// Guests makes films that are not of the bout known to the player.
func (d *Desk) Guests(paths ...string) {
	var list []play.Film
	for _, p := range paths {
		list = append(list, play.Film{ID: task.GuestID(p), Path: p})
	}
	if d.session != nil && !slices.Equal(list, d.links.guests) {
		d.links.guests = list
		d.loadFilm()
	}
}

func (d *Desk) isGuest(f timeline.ID) bool {
	return slices.ContainsFunc(d.links.guests, func(g play.Film) bool { return g.ID == f })
}

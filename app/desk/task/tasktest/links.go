package tasktest

import (
	"whistlecut/app/desk/task"
	"whistlecut/timeline"
)

// Linked is where a task led.
type Linked struct {
	Selected []timeline.Selection
	Skaters  []timeline.SkaterRef
	Reels    []ReelAsked
	Backs    int
	Guests   []string // last Guests
}

// ReelAsked is a call of NewReel.
type ReelAsked struct {
	Name    string
	Batches []task.Batch
}

func (d *Desk) Select(sel timeline.Selection) { d.Linked.Selected = append(d.Linked.Selected, sel) }
func (d *Desk) Skater(who timeline.SkaterRef) { d.Linked.Skaters = append(d.Linked.Skaters, who) }
func (d *Desk) Back()                         { d.Linked.Backs++ }
func (d *Desk) Guests(paths ...string)        { d.Linked.Guests = paths }
func (d *Desk) NewReel(n string, b ...task.Batch) {
	d.Linked.Reels = append(d.Linked.Reels, ReelAsked{n, b})
}

package task

import (
	"whistlecut/app"
	"whistlecut/timeline"
)

// IDs of the pages that are shown in a task's place and have no name in the bar.
const (
	Numbers = "numbers"
	Skater  = "skater"
)

// Links lead from one task to another.
type Links interface {
	// Select brings Find with a selection.
	Select(sel timeline.Selection)
	// Skater brings the page of a skater; nobody leaves the choice to the person.
	Skater(who timeline.SkaterRef)
	// NewReel makes a reel of moments, of this bout and of others, and brings it.
	NewReel(name string, batches ...Batch)
	// Back brings the task that was shown before a page.
	Back()
	// Guests makes films that are not of the bout known to GoFilm, Loop and Now, each
	// under its GuestID, until it is called without them.
	Guests(paths ...string)
}

// GuestID is under which footage ID the desk shows a film that is not of the bout.
func GuestID(path string) timeline.ID { return timeline.ID("guest:" + path) }

// Batch are moments of one bout.
type Batch struct {
	// Of is the bout; nil is the one that is open.
	Of      *app.Session
	Moments []timeline.Moment
}

// Wide is met by a task whose panel needs more room than a list.
type Wide interface{ Wide() bool }

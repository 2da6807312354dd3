package task

import "whistlecut/timeline"

// About is met by a task that knows whom its chosen row is about, for her page.
type About interface {
	// About is the skater; ok is false where the row names none.
	About() (who timeline.SkaterRef, ok bool)
}

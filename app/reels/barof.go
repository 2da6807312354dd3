package reels

import (
	"whistlecut/app"
	"whistlecut/export/clip"
	"whistlecut/export/overlay"
	"whistlecut/timeline"
)

// BarOf is what the bar under a clip says in the film made of its reel, for a
// screen that shows the reel without making it.
func BarOf(s *app.Session, c timeline.Clip) overlay.Caption {
	return clip.CaptionOf(clip.Moment{Labels: labels(s, moments(s), c)})
}

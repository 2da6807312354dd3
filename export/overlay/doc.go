// Package overlay paints what lies over the film: the caption bar under a clip.
// Pictures are painted here once and laid over the film as they are, so that
// the screen and the exported clip show the same.
package overlay

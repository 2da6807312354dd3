package task

import (
	"image"
	"time"

	"fyne.io/fyne/v2"

	"whistlecut/app/desk/keys"
	"whistlecut/timeline"
)

// Stage is what the desk lends a task that shows more than the film as it is:
// something over the picture, another speed, another camera beside it, the whole
// screen. What a task took is given back when another one is shown (Leaver).
type Stage interface {
	// Cover lays an object over the first picture, as large as the screen is; nil
	// takes it away. It sees the pointer before the screen does.
	Cover(o fyne.CanvasObject)
	// Frame is the size of the picture shown, in pixels; zero when there is none.
	// The picture stands in the middle of the screen, as large as it fits.
	Frame() image.Point
	// SetRate sets the film's speed, 0.1 to 4.
	SetRate(rate float64)
	// Beside shows the camera of a footage file beside the first, in step by bout
	// time; "" shows the first alone.
	Beside(footage timeline.ID)
	// Mute silences the film until it is called with false.
	Mute(on bool)
	// Alone shows the film and what covers it in full screen, or the desk again.
	Alone(on bool)
	// Grab hands every press to take first, but for those that a dialog or a text
	// field has; take reports whether it used it. nil gives the keys back.
	Grab(take func(keys.Press) bool)
	// Collect puts moments into the reel that is worked on; one is made where there
	// is none.
	Collect(moments []timeline.Moment)
	// Exemplify makes moments examples for officials to learn from.
	Exemplify(moments []timeline.Moment)
	// Visit opens another bout and goes to an example in it (tag), or to a stretch of
	// its film.
	Visit(bout string, tag, footage timeline.ID, from, to time.Duration)
}

// Leaver is met by a task that wants to know when another one is shown.
type Leaver interface{ Leave() }

package strip

import "time"

// SetView says where the zoomed part is: its left edge and width in pixels, and
// how many pixels there are for one at scale 1. The left end of the window stays.
func (a *Axis) SetView(left, width, scale float64) {
	a.left, a.width, a.scale = left, max(width, 1), max(scale, 0.1)
	a.clamp()
}

// Window is the strip time shown, from and to.
func (a *Axis) Window() (from, to time.Duration) {
	return time.Duration(a.from), time.Duration(a.from + a.span)
}

// perPixel is the strip time of one pixel, in ns; 0 for an empty axis.
func (a *Axis) perPixel() float64 { return a.span / a.width }

// ShowAll shows the whole bout.
func (a *Axis) ShowAll() { a.from, a.span = 0, a.total }

// Show shows a stretch of strip time, as far as the limits of the zoom allow.
func (a *Axis) Show(from, to time.Duration) {
	a.from, a.span = float64(from), float64(to-from)
	short := a.shortest() - a.span
	if short > 0 { // keep the middle
		a.from -= short / 2
	}
	a.clamp()
}

// Zoom magnifies by a factor (2: half as much is shown); what is at pixel x
// stays there unless the window would leave the bout.
func (a *Axis) Zoom(factor, x float64) {
	if !(factor > 0) || a.Empty() {
		return
	}
	x = min(max(x, a.left), a.left+a.width)
	anchor := a.ns(x)
	a.span = min(max(a.span/factor, a.shortest()), a.total)
	a.from = anchor - (x-a.left)/a.width*a.span
	a.clamp()
}

// Pan moves the window along by so many pixels: a positive number shows later film.
func (a *Axis) Pan(pixels float64) {
	a.from += pixels * a.perPixel()
	a.clamp()
}

// MoveTo moves the window so that its middle is at a strip time.
func (a *Axis) MoveTo(middle time.Duration) {
	a.from = float64(middle) - a.span/2
	a.clamp()
}

// Reveal turns the page when a strip time is outside the first seven eighths of
// the window, so that what comes next is seen as well. It reports whether the
// window moved.
func (a *Axis) Reveal(t time.Duration) bool {
	if in := float64(t) - a.from; in >= 0 && in <= a.span*7/8 {
		return false
	}
	before := a.from
	a.from = float64(t) - a.span/8
	a.clamp()
	return a.from != before
}

// shortest is the smallest span: frames as wide as frameWidth.
func (a *Axis) shortest() float64 {
	if a.Empty() {
		return 0
	}
	frame := a.pieces[0].frame()
	for _, p := range a.pieces {
		frame = min(frame, p.frame())
	}
	return a.width / (frameWidth * a.scale) * float64(frame)
}

func (a *Axis) clamp() {
	a.span = min(max(a.span, a.shortest()), a.total)
	a.from = min(max(a.from, 0), a.total-a.span)
}

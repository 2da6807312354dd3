package chart

import (
	"whistlecut/timeline"
	"whistlecut/timeline/numbers"
)

// Margin is the margin along the bout: home's lead above nought, away's below.
// Steps lie where in their jam they happened, where that is known, else at its
// end. Where points are not sure there are two lines, and what is between nought
// and the nearer one is filled.
func Margin(r numbers.Report) Chart {
	c := Chart{Jams: len(r.PerJam), Low: -4, High: 4}
	if c.Jams == 0 {
		c.Low, c.High = c.Low-1, c.High+1
		return c
	}
	type point struct {
		at float64
		m  timeline.Range
	}
	var pts []point
	for _, s := range r.Steps {
		c.Low, c.High = min(c.Low, float64(s.Margin.Low)), max(c.High, float64(s.Margin.High))
		at := float64(s.Index + 1)
		if d := r.PerJam[s.Index].Duration; s.Timed && d > 0 {
			at = float64(s.Index) + min(max(s.At.Seconds()/d.Seconds(), 0), 1)
		}
		pts = append(pts, point{at, s.Margin})
	}
	c.Low, c.High = c.Low-1, c.High+1
	before := point{}
	for i, q := range append(pts, point{at: float64(c.Jams)}) {
		low, high := float64(before.m.Low), float64(before.m.High)
		if q.at > before.at {
			switch {
			case low > 0:
				c.Boxes = append(c.Boxes, Box{before.at, q.at, 0, low, timeline.Home, true})
			case high < 0:
				c.Boxes = append(c.Boxes, Box{before.at, q.at, high, 0, timeline.Away, true})
			}
			c.Lines = append(c.Lines, Line{before.at, low, q.at, low})
			if !before.m.Sure() {
				c.Lines = append(c.Lines, Line{before.at, high, q.at, high})
			}
		}
		if i < len(pts) {
			c.Lines = append(c.Lines, Line{q.at, low, q.at, float64(q.m.Low)})
			if !before.m.Sure() || !q.m.Sure() {
				c.Lines = append(c.Lines, Line{q.at, high, q.at, float64(q.m.High)})
			}
		}
		before = q
	}
	return c
}

package chart

import (
	"whistlecut/timeline"
	"whistlecut/timeline/numbers"
)

// PerJam is the points of each jam: home upwards, away downwards.
func PerJam(r numbers.Report) Chart {
	high, low := 4.0, 4.0
	c := Chart{Jams: len(r.PerJam)}
	for i, j := range r.PerJam {
		high, low = max(high, float64(j.Points[0].High)), max(low, float64(j.Points[1].High))
		for n, side := range timeline.Sides {
			pts, sign := j.Points[n], 1-2*float64(n)
			add := func(from, to int, sure bool) {
				a, b := sign*float64(from), sign*float64(to)
				c.Boxes = append(c.Boxes, Box{float64(i) + 0.15, float64(i) + 0.85, min(a, b), max(a, b), side, sure})
			}
			if pts.Low > 0 {
				add(0, pts.Low, true)
			}
			if pts.High > pts.Low {
				add(pts.Low, pts.High, false)
			}
			if !j.Logged[n] {
				c.Unknown = append(c.Unknown, Spot{float64(i) + 0.5, sign * 1.2})
			}
		}
	}
	c.Low, c.High = -low-1, high+1
	return c
}

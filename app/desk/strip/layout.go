package strip

import "image"

// Layout is where the lanes lie in a picture, in its pixels.
type Layout struct {
	Lanes  [laneCount]image.Rectangle
	Zoomed image.Rectangle // all lanes but the overview, right of the names
	Scale  float64
}

// bands are the lanes' tops and heights at scale 1 in a strip as high as
// NormalHeight, and the share of any further height that each gets.
var bands = [laneCount]struct{ top, height, share float64 }{
	LaneOverview:   {4, 16, 0},
	LaneRuler:      {22, 12, 0},
	LaneHomePoints: {35, 13, 0},
	LaneHomeTrips:  {49, 16, 0.3},
	LaneHomeBox:    {67, 11, 0.1},
	LaneJams:       {79, 20, 0.2},
	LaneAwayBox:    {100, 11, 0.1},
	LaneAwayTrips:  {113, 16, 0.3},
	LaneAwayPoints: {130, 13, 0},
	LaneHeard:      {144, 12, 0},
}

// NormalHeight is the height the strip is drawn for, at scale 1. A lower strip
// is squeezed, a higher one gets higher bars.
const NormalHeight = 158

// edgeSpace is what stays free left and right of the overview, at scale 1.
const edgeSpace = 8

// NewLayout divides a picture of w by h pixels. names is the width of the
// longest lane name in pixels.
func NewLayout(w, h int, scale, names float64) Layout {
	l := Layout{Scale: scale}
	left := int(names + 2.5*edgeSpace*scale)
	extra := max(float64(h)/scale-NormalHeight, 0)
	squeeze := min(float64(h)/(scale*NormalHeight), 1)
	down := 0.0
	for n, b := range bands {
		top := (b.top + down) * squeeze
		down += extra * b.share
		bottom := (b.top + b.height + down) * squeeze
		l.Lanes[n] = image.Rect(left, int(top*scale+0.5), w, int(bottom*scale+0.5))
	}
	side := int(edgeSpace * scale)
	l.Lanes[LaneOverview].Min.X = side
	l.Lanes[LaneOverview].Max.X = max(w-side, side+1)
	l.Zoomed = image.Rect(left, l.Lanes[LaneRuler].Min.Y, w, h)
	return l
}

// LaneAt is the lane at a height; between two lanes the nearer one.
func (l *Layout) LaneAt(y int) Lane {
	best, dist := LaneOverview, 1<<30
	for n, r := range l.Lanes {
		d := max(r.Min.Y-y, y-r.Max.Y+1, 0)
		if d < dist {
			best, dist = Lane(n), d
		}
	}
	return best
}

package strip

import (
	"time"

	"whistlecut/timeline"
)

// Kind is what an item of the strip shows.
type Kind uint8

// The kinds of item, the least urgent first: where several points fall on one
// spot, the last of these is drawn.
const (
	KindEvent Kind = iota // one physical event of a pass-level log
	KindTrip
	KindBox
	KindJam
	KindTimeout
	KindReview
	KindSeries // whistles heard
	KindCall
	KindLost
	KindLead
	KindNote // note, drawing, example
	KindPenalty
	KindStarPass
	KindMark
	KindInjury
	KindFinding
)

// State is how a finding stands. Each state has a shape and a colour.
type State uint8

// The states of a finding.
const (
	Agrees       State = iota // tick
	NotCheckable              // ring
	Unsure                    // triangle
	Differs                   // diamond
)

// Edge is the part of an item that can be dragged.
type Edge uint8

// The edges. A point has only a Moment.
const (
	NoEdge Edge = iota
	Begin
	End
	Moment
)

// Edges is a set of edges.
type Edges uint8

func edges(list ...Edge) Edges {
	s := Edges(0)
	for _, e := range list {
		s |= 1 << e
	}
	return s
}

// Has reports whether the edge is in the set.
func (s Edges) Has(e Edge) bool { return s&(1<<e) != 0 }

// Item is one thing on the strip, in strip time. A point has From equal to To.
type Item struct {
	// ID is that of the tag behind it, the finding's key, or "" for what is only derived.
	ID   timeline.ID
	Kind Kind
	Side timeline.Side
	From time.Duration
	To   time.Duration
	// Label is drawn on or beside it where there is room, Short where there is little.
	Label, Short string
	// Note stands at the end of a jam where there is room: the score.
	Note string
	// Tip is what hovering says.
	Tip   string
	State State
	// Open: not sure or not seen, drawn as an outline.
	Open bool
	// Faint: drawn quieter (an initial trip, a series that is likely none).
	Faint bool
	// Drag are the edges a person may move.
	Drag Edges
	// Row and Rows stack box visits at the same time: row of rows.
	Row, Rows uint8
	// series of whistles
	sound  sound
	blasts []timeline.TimeRange
}

// Lane is one row of the strip.
type Lane uint8

// The lanes from top to bottom.
const (
	LaneOverview Lane = iota
	LaneRuler
	LaneHomePoints
	LaneHomeTrips
	LaneHomeBox
	LaneJams
	LaneAwayBox
	LaneAwayTrips
	LaneAwayPoints
	LaneHeard
	laneCount
)

// lane is where an item is drawn. What belongs to no side stands above.
func (i Item) lane() Lane {
	away := i.Side == timeline.Away
	switch i.Kind {
	case KindJam, KindTimeout, KindReview:
		return LaneJams
	case KindSeries:
		return LaneHeard
	case KindTrip, KindEvent:
		if away {
			return LaneAwayTrips
		}
		return LaneHomeTrips
	case KindBox:
		if away {
			return LaneAwayBox
		}
		return LaneHomeBox
	}
	if away {
		return LaneAwayPoints
	}
	return LaneHomePoints
}

package timeline

import "time"

// JamCount is one jam counted from physical events: what each side scored and
// which status its jammer had, each with the rule it follows from.
type JamCount struct {
	Edition string
	Sides   [2]SideCount // by Side.Index
	// Passes judges every pass event of the jam, in order: earned or not, and why.
	Passes []PassCount
	// Ended says what ended the jam as far as the events tell, at jam time EndAt.
	// EndKnown is false when the events stop before the jam does; open trips then
	// stand as they were at the last event.
	Ended    Ended
	EndAt    time.Duration
	EndKnown bool
	EndWhy   Reason
	// Problems are events that can't have happened as told. Each is left out of the
	// count, except where its text says otherwise.
	Problems []EventProblem
}

// SideCount is one team's part of a JamCount.
type SideCount struct {
	Points int         // sum of the trips' points
	Trips  []TripCount // the initial trip first; at least one when a jammer was fielded
	// Laps are points on the opposing jammer that belong to no trip (2013).
	Laps []PointCount

	Jammer    Number // at the start whistle; empty when none was fielded
	NewJammer Number // the pivot after a completed star pass
	// StarPasses are all attempts, completed or not.
	StarPasses []StarPassCount
	StarPassAt time.Duration // jam time of the completed one

	Lead   bool // gained lead at LeadAt, lost later or not
	LeadBy Number
	LeadAt time.Duration
	// LeadWhy answers why she is lead; without lead, why not.
	LeadWhy Reason
	// Lost: eligibility or lead was lost (the sheet's "lost" column).
	Lost    bool
	LostAt  time.Duration
	LostWhy Reason
	Called  bool // called the jam off, validly
	CallAt  time.Duration
	CallWhy Reason

	// NoInitial: this jammer did not complete the initial trip; [0] the jammer at the
	// start, [1] the new jammer after a star pass (false without one).
	NoInitial [2]bool
	// InitialAt is the jam time the initial trip was completed, when it was.
	InitialAt time.Duration

	// Status lists each change of status with its reason, by time.
	Status []StatusChange
}

// TripCount is one trip of one side's jammer position. Number 1 is the initial trip.
type TripCount struct {
	Number int
	Start  time.Duration // jam time
	End    time.Duration
	// Jammer is who completed the trip, or had it when the jam ended.
	Jammer  Number
	NewStar bool // completed after the star pass
	// Open: closed by the jam's end, not by the jammer's exit.
	Open   bool
	Points []PointCount
	// Unscored says why each opponent not scored on did not count.
	Unscored []UnscoredCount
	EndWhy   Reason
}

// PointCount is one point with its why.
type PointCount struct {
	On   SkaterRef
	At   time.Duration
	Kind PointKind
	Why  Reason
}

// PointKind is what a point was earned by.
type PointKind string

// How points come (Rules 2.5, 3.1, 3.3).
const (
	PointPass          PointKind = "pass"
	PointNOTT          PointKind = "not on the track"
	PointNoOpportunity PointKind = "no opportunity"
	PointLap           PointKind = "jammer lap" // to January 2019
)

// UnscoredCount is an opponent who gave no point in a trip, and why.
type UnscoredCount struct {
	On  SkaterRef
	Why Reason
}

// PassCount is one pass event as judged.
type PassCount struct {
	Event  int // index into the events given
	At     time.Duration
	Who    SkaterRef
	Whom   SkaterRef
	Earned bool
	Why    Reason
}

// StarPassCount is one attempt to hand over the star.
type StarPassCount struct {
	At       time.Duration // jam time of the release, or of the loss
	From, To Number
	Complete bool
	Why      Reason
}

// StatusChange is one change of a jammer's status.
type StatusChange struct {
	At     time.Duration
	Who    Number
	Status Status
	Why    Reason
}

// Status is what a jammer became.
type Status string

// The changes of status that a count reports.
const (
	StatusLead       Status = "lead"
	StatusIneligible Status = "not eligible for lead"
	StatusLeadLost   Status = "lead lost"
	StatusInitial    Status = "initial trip completed"
	StatusTrip       Status = "trip completed"
	StatusBackOn     Status = "back on the trip before"
	StatusNewJammer  Status = "jammer after star pass"
	StatusNoStarPass Status = "star pass not completed"
	StatusCalled     Status = "called off"
	StatusNoCall     Status = "call without lead"
	StatusPenalised  Status = "penalised"
	StatusReleased   Status = "back from the box"
	StatusStarOff    Status = "without the star"
	StatusStarOn     Status = "star on"
)

// EventProblem is one event that can't have happened as told.
type EventProblem struct {
	Event int // index into the events given; -1 for the jam's start
	At    time.Duration
	Text  string
	Tags  []ID
}

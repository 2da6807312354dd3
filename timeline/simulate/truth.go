package simulate

import (
	"time"

	"whistlecut/timeline"
)

// Truth is what happened in a game, as the simulator kept it for itself.
type Truth struct {
	Jams      []*Jam
	Penalties []Penalty
	Visits    []Visit
	Stoppages []Stoppage
	Injuries  []Injury
	FouledOut []timeline.SkaterRef
	Score     [2]int // by Side.Index
}

// Jam is one jam.
type Jam struct {
	ID       timeline.ID
	Period   int
	Number   int // restarts at 1 each period
	Overtime bool
	// Start is the onset of the jam-start blast and End the end of the fourth blast
	// of the first set, both since the game's start.
	Start, End time.Duration
	// BoutTime is Start since the period's first jam start.
	BoutTime     time.Duration
	ClockAtStart time.Duration // period clock, time left
	ClockAtEnd   time.Duration
	Ended        timeline.Ended
	EndedBy      timeline.Side // who called it, with EndCalled
	Field        timeline.JamStart
	Events       []timeline.Event // physical events, At in jam time
	Sides        [2]JamSide
}

// Duration is the jam's length, start blast to end of the fourth blast.
func (j *Jam) Duration() time.Duration { return j.End - j.Start }

// JamSide is one team's part of a jam.
type JamSide struct {
	Jammer, Pivot timeline.Number // as lined up; Pivot may be empty
	Blockers      []timeline.Number
	StarPasses    []StarPass
	NewJammer     timeline.Number // empty without a completed star pass
	Lead          bool
	LeadAt        time.Duration // jam time
	// Lost: lead, or the right to become it, was lost by a penalty or by taking off
	// the star.
	Lost     bool
	LostAt   time.Duration
	Called   bool
	CalledAt time.Duration
	// NI says of the first jammer and, after a star pass, of the new one that the
	// initial trip was not completed while she was the jammer.
	NI     [2]bool
	Trips  []Trip // Trips[0] is the initial trip
	Points int
	Before int // game score before the jam
}

// StarPass is one attempt to pass the star.
type StarPass struct {
	From, To timeline.Number
	At       time.Duration // jam time of the release, or of the failure
	Complete bool
	Why      string // why it failed
}

// Trip is one trip of one side's jammer through the pack.
type Trip struct {
	Number     int             // 1 is the initial trip
	Jammer     timeline.Number // who completed it, or was on it at the jam's end
	NewStar    bool            // she got the star by a star pass
	Start, End time.Duration   // jam time
	Open       bool            // closed by the jam's end
	Points     []Scored
}

// Scored is one point a trip earned.
type Scored struct {
	At   time.Duration // jam time
	Whom timeline.Number
	How  string // "passed", "not on the track", "no opportunity"
}

// Penalty is one penalty.
type Penalty struct {
	timeline.SkaterRef
	Role      timeline.Role
	Code      string
	Jam       timeline.ID
	Act, Call time.Duration // jam time; the call is the long whistle's onset
	Lineup    bool          // in the line-up before the jam: Act and Call are negative
	FoulOut   bool          // fouled her out
}

// Visit is one stay in the penalty box.
type Visit struct {
	timeline.SkaterRef
	Role timeline.Role
	// Penalties index into Truth.Penalties. A substitute serves those of another.
	Penalties []int
	// InJam and OutJam name the jams in, or before, which she sat down and was
	// freed; OutJam is empty when the game ended first. The times are jam time; a
	// negative In is between jams, before InJam's start whistle; an In beyond the
	// jam's length is after the last jam.
	SatAt          time.Duration // since the game's start
	InJam, OutJam  timeline.ID
	In, Stand, Out time.Duration
	Stood          bool
	StandJam       timeline.ID
	Owed, Served   time.Duration
	Swapped        bool // shortened by the two-jammer rule (4.4.2)
	Queued         bool // had to wait for a seat (4.4.1)
	// Substituted: another skater served the rest (fouled out).
	Substituted bool
}

// Stoppage is a timeout or review after a jam.
type Stoppage struct {
	Kind     timeline.Kind // KindTimeout or KindReview
	Side     timeline.Side // NoSide: official timeout
	AfterJam timeline.ID
	// Start is the first blast, End the rolling whistle, since the game's start.
	Start, End time.Duration
	Clock      time.Duration // period clock shown, time left
	Retained   bool
	Subject    string
}

// Injury is a skater hurt so that a jam was stopped.
type Injury struct {
	timeline.SkaterRef
	Jam timeline.ID
	At  time.Duration // jam time
}

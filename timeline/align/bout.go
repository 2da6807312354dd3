package align

import (
	"time"

	"whistlecut/timeline"
	"whistlecut/timeline/whistle"
)

// Film is one stretch of sound: a file, or a part of one.
type Film struct {
	Footage timeline.ID
	From    time.Duration // film time at which the stretch begins; series times are film times
	Length  time.Duration
	Series  []whistle.Series
	Blasts  []whistle.Blast
	// Follows: the stretch goes on where the one before ended, without a hole.
	Follows bool
}

// Known is what is known of one jam before listening. The zero value of each
// field means nothing is known.
type Known struct {
	ID       timeline.ID
	Period   int
	Number   int
	Overtime bool
	Duration time.Duration
	Lead     Answer // some jammer was lead
	Ended    timeline.Ended
	// Penalties called in the jam; -1 when no penalty sheet tells.
	Penalties int
	// Timeouts and reviews between this jam and the next; -1 when not known.
	Timeouts int
	// Clock is the period clock (time left) at the start.
	Clock      time.Duration
	ClockKnown bool
}

// Answer is yes, no or not known.
type Answer uint8

// Answers.
const (
	Unknown Answer = iota
	No
	Yes
)

// Pin is an edge of a jam that a person set: a hard fact.
type Pin struct {
	Jam     timeline.ID
	Edge    timeline.Edge
	Footage timeline.ID
	Film    time.Duration
}

// Input is all there is to go by. Films are those of one camera in order. With
// no Jams, jams are proposed and numbered.
type Input struct {
	Films []Film
	Jams  []Known
	Pins  []Pin
	Rules timeline.RuleSet
}

// Placed is one jam on the film.
type Placed struct {
	Jam     timeline.ID // empty for a proposed jam
	Period  int
	Number  int
	Footage timeline.ID // empty: not on this film
	Start   time.Duration
	End     time.Duration
	// EndFootage is the film that shows the end, which may be the next one; empty
	// when none does: End is then where the film with the start ends.
	EndFootage timeline.ID
	// StartHeard and EndHeard: a series was heard there; else the time is inferred.
	StartHeard, EndHeard bool
	Hand                 bool
	// Confidence that Start is right to within a second: 0..1.
	Confidence float64
	// StartSeries and EndSeries are indices into the film's Series, -1 unheard.
	StartSeries, EndSeries int
}

// Signal is what a series means in the bout.
type Signal string

// The signals of officials' whistles.
const (
	SigStart   Signal = "start"
	SigLead    Signal = "lead"
	SigEnd     Signal = "end"
	SigPenalty Signal = "penalty"
	SigTimeout Signal = "timeout"
	SigGoOn    Signal = "timeout over" // or the period's end: a rolling whistle
	SigNone    Signal = "none"
)

// Heard is one series with its meaning.
type Heard struct {
	Footage timeline.ID
	Series  int // index into the film's Series
	Signal  Signal
	Jam     timeline.ID // in which, or after which
}

// Result is the placing.
type Result struct {
	Jams    []Placed
	Signals []Heard
	Notes   []string
}

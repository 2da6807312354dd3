package simulate

import (
	"time"

	"whistlecut/timeline"
)

// Scene is everybody at one moment, for drawing.
type Scene struct {
	At      time.Duration // since the game's start
	Period  int           // 1..; 0 before the first jam
	Jam     int           // number of the running or the last jam, 0 before the first
	Running bool          // a jam runs
	JamTime time.Duration // since the jam-start whistle, when Running
	// Clock is the period clock (time left); ClockRuns whether it counts.
	Clock     time.Duration
	ClockRuns bool
	Phase     Phase
	Score     [2]int // as the board shows it: points of trips ended so far
	Skaters   []Figure
	Officials []Official
}

// Phase is what goes on at a moment.
type Phase string

// The phases of a game.
const (
	PhaseBefore   Phase = "before"
	PhaseJam      Phase = "jam"
	PhaseLineup   Phase = "line-up"
	PhaseTimeout  Phase = "timeout"
	PhaseReview   Phase = "review"
	PhaseHalftime Phase = "half-time"
	PhaseAfter    Phase = "after"
)

// Figure is one skater in a scene.
type Figure struct {
	timeline.SkaterRef
	Name    string
	Role    timeline.Role // in the running jam, or the one that is lined up; NoRole on the bench
	Pos     Point         // feet
	Spot    Spot          // the same place by the track
	Heading float64       // direction she faces, radians from +x
	Speed   float64       // ft/s over the floor
	Star    bool          // wears the jammer's cover
	Stripe  bool          // wears the pivot's cover
	// Holds: has a star cover in hand.
	Holds  bool
	Stance Stance
	Where  Where
	Lead   bool // her referee points at her as lead
}

// Stance is how a skater holds herself.
type Stance uint8

// Stances. Down: on the floor with more than her skates (Glossary: down).
const (
	Upright Stance = iota
	Down
	Sitting
)

// Where says what part of the hall a skater is in.
type Where uint8

// Parts of the hall.
const (
	OnTrack Where = iota
	OutOfBounds
	ToBox   // on the way to the box, or queued before it
	InBox   // at her seat, sitting or standing
	FromBox // released, on the way back to the track
	OnBench
	Walking // between the bench and the track, between jams
)

// Official is one official in a scene.
type Official struct {
	Role    OfficialRole
	Pos     Point
	Heading float64
	// Signal is true while the official blows the whistle.
	Signal bool
}

// OfficialRole names an official's position.
type OfficialRole string

// The officials on and round the track: two referees who follow the jammers
// from the infield, front and rear pack referees, three on the outside, the jam
// timer, and two in the penalty box.
const (
	HomeJammerReferee OfficialRole = "jammer referee, home"
	AwayJammerReferee OfficialRole = "jammer referee, away"
	FrontPackReferee  OfficialRole = "front pack referee"
	RearPackReferee   OfficialRole = "rear pack referee"
	OutsideReferee1   OfficialRole = "outside pack referee 1"
	OutsideReferee2   OfficialRole = "outside pack referee 2"
	OutsideReferee3   OfficialRole = "outside pack referee 3"
	JamTimer          OfficialRole = "jam timer"
	HomeBoxTimer      OfficialRole = "penalty box timer, home"
	AwayBoxTimer      OfficialRole = "penalty box timer, away"
)

// Crew lists all officials in the order scenes have them.
var Crew = []OfficialRole{
	HomeJammerReferee, AwayJammerReferee, FrontPackReferee, RearPackReferee,
	OutsideReferee1, OutsideReferee2, OutsideReferee3, JamTimer, HomeBoxTimer, AwayBoxTimer,
}

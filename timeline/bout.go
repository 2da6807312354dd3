package timeline

import "time"

// Bout is everything that follows from Facts: periods and numbered jams with
// their places, rows, points, box time, situations and problems. It is computed
// anew by Derive and never stored.
type Bout struct {
	Rules    RuleSet
	Teams    [2]Team
	Periods  []Period
	Jams     []Jam // all jams in order; Periods index into it
	Score    [2]Range
	Visits   []Visit // box visits over the bout
	Fouls    []FoulCount
	Timeouts []Tag // timeouts and reviews in order
	// Loose are tags that no jam could be found for, with why.
	Loose []Loose
	// Settle lists, most useful first, the tags whose missing values keep the score a range.
	Settle []Settle
}

// Period is one period's jams.
type Period struct {
	Number int
	Jams   []int // indices into Bout.Jams
}

// Jam is one jam as derived.
type Jam struct {
	ID       ID
	Period   int
	Number   int
	Overtime bool
	Start    Place // start whistle
	End      Place
	Duration time.Duration // 0 when not known
	// BoutTime is the jam's start since the period's first jam start; ClockAtStart the
	// period clock (time left) then. Known reports whether they could be computed.
	BoutTime     time.Duration
	ClockAtStart time.Duration
	ClockKnown   bool
	Ended        Ended
	Sides        [2]JamSide
	Tags         []ID // all tags of the jam, by time
	Situations   []Situation
}

// JamSide is one team's part of a jam.
type JamSide struct {
	Jammer   Who
	Pivot    Who
	Blockers []Who
	// NewJammer is the pivot who got the star; empty without a completed star pass.
	NewJammer   Number
	StarPassAt  time.Duration // jam time, when known
	Lead        bool
	LeadAt      time.Duration
	Lost        bool
	Called      bool
	NoInitial   bool // initial trip not completed
	Trips       []Trip
	Points      Range
	GameBefore  Range // score before the jam
	Penalties   []ID
	Rows        []JamRow // one, or two with a star pass (or a spacer row)
	Lineup      map[Number]Role
	BoxedAtStar map[Number]bool // skaters serving when the jam started
	Why         []Reason
	PassLevel   bool // points come from physical events
}

// Trip is one trip of one side's jammer position. Number 1 is the initial trip.
type Trip struct {
	Number  int
	Jammer  Number // who completed it
	Start   time.Duration
	End     time.Duration // jam time; equal to Start when not known
	Timed   bool
	Points  Range
	Open    bool // closed by the jam's end
	Tags    []ID
	Why     []Reason // one per point at pass level
	NewStar bool     // completed after the star pass
}

// Visit is one stay in the box.
type Visit struct {
	Skater    SkaterRef
	Role      Role
	Penalties []ID
	Tag       ID
	InJam     int           // index into Bout.Jams, -1 unknown
	OutJam    int           // -1: still in at the end or unknown
	In        time.Duration // jam time within InJam; negative: before it started
	Out       time.Duration // jam time within OutJam
	Served    time.Duration // jam time served
	Owed      time.Duration
	Known     bool // In and Out are known
	Why       []Reason
}

// FoulCount is one skater's penalties and whether she fouled out or was expelled.
type FoulCount struct {
	Skater    SkaterRef
	Penalties []ID
	FouledOut ID // the tag that fouled her out
	Expelled  ID
}

// Situation is a stretch of a jam that something holds for.
type Situation struct {
	Kind SituationKind
	Side Side // the side it is about (the one with the power jam, the short one...)
	// Range is jam time; Whole when it holds for the jam without a known time.
	Range TimeRange
	Whole bool
	N     int // short-handed by N
	Who   Number
	Why   []Reason
}

// SituationKind names a situation in the trade's words.
type SituationKind string

// The situations that Derive finds.
const (
	SitPowerJam    SituationKind = "power jam" // exactly one jammer able to score, the other penalised
	SitShort       SituationKind = "short-handed"
	SitNoLead      SituationKind = "no lead"
	SitLeadLost    SituationKind = "lead lost"
	SitStarPass    SituationKind = "star pass"
	SitFullTime    SituationKind = "full two minutes"
	SitCalled      SituationKind = "called off"
	SitLastJam     SituationKind = "last jam"
	SitNearFoulOut SituationKind = "one from fouling out"
	SitLeadChange  SituationKind = "lead change" // in the score
	SitTied        SituationKind = "tied"
	SitNoPivot     SituationKind = "no pivot"
	SitInjury      SituationKind = "injury"
	SitOvertime    SituationKind = "overtime"
	SitScoreless   SituationKind = "scoreless"
	SitBigJam      SituationKind = "ten points or more"
)

// Loose is a tag that has no jam, and why.
type Loose struct {
	Tag ID
	Why string
}

// Settle is a tag whose value would narrow the score range, by how much.
type Settle struct {
	Tag  ID
	Jam  ID
	Side Side
	Gain int // width of the range it would settle
	Text string
}

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
	// Problems are contradictions in the facts, in bout order.
	Problems []Problem
	// Breaks are the timeouts and reviews with the jam they follow.
	Breaks []Break
	// Alignment carries places between film, jam time and bout time.
	Alignment Alignment
	// Unlogged counts, per side, the jams nobody logged trips of: Score leaves them out.
	Unlogged [2]int
}

// Break is one timeout or official review, between jams or ending one.
type Break struct {
	Tag      ID
	Kind     Kind
	Side     Side // NoSide: official timeout
	AfterJam int  // index into Bout.Jams; -1: before the first
	// Ends: it was called during the jam and ended it.
	Ends bool
	// Clock is the time left on the period clock when it stopped, as written down
	// (ClockGiven) or computed from the film.
	Clock      time.Duration
	ClockKnown bool
	ClockGiven bool
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
	// Confidence is that of the start's place on film: 1 set by hand, 0 not on film.
	Confidence float64
	// Logged: somebody logged trips or status in this jam.
	Logged bool
	// BoutTime is the jam's start since the period's first jam start; ClockAtStart the
	// period clock (time left) then. Known reports whether they could be computed.
	BoutTime      time.Duration
	BoutTimeKnown bool
	ClockAtStart  time.Duration
	ClockKnown    bool
	ClockWhy      Reason
	Ended         Ended
	EndedWhy      Reason
	Sides         [2]JamSide
	Tags          []ID // all tags of the jam, by time
	Situations    []Situation
}

// JamSide is one team's part of a jam.
type JamSide struct {
	// LineupTagged: a line-up tag says who was fielded.
	LineupTagged bool
	Jammer       Who
	Pivot        Who
	Blockers     []Who
	// NewJammer is the pivot who got the star; empty without a completed star pass.
	NewJammer Number
	// StarPass: a star pass was completed, even if the new jammer's number is not known.
	StarPass      bool
	StarPassAt    time.Duration // jam time, when StarPassTimed
	StarPassTimed bool
	Lead          bool
	LeadUnknown   bool // a lead tag stands as not seen
	LeadAt        time.Duration
	LeadTimed     bool
	Lost          bool // lead was gained and lost, or tagged as lost
	LostAt        time.Duration
	LostTimed     bool
	Called        bool
	CalledAt      time.Duration
	CalledTimed   bool
	// NoInitial: the initial trip was not completed by this side's jammer position.
	NoInitial        bool
	NoInitialUnknown bool
	// NI is the no-initial mark of the first row and of the SP row.
	NI     [2]Cell[bool]
	Trips  []Trip
	Points Range
	// Logged: trips and status of this side are logged for this jam; otherwise Points
	// is 0 for want of tags, not because nothing was scored.
	Logged bool
	// GameKnown: no jam up to and with this one is unlogged for the side.
	GameKnown   bool
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
	Number int
	Jammer Number // who completed it
	Start  time.Duration
	End    time.Duration // jam time; equal to Start when not known
	Timed  bool
	Points Range
	Open   bool // closed by the jam's end
	Tags   []ID
	Why    []Reason // one per point at pass level
	// PointAt is the jam time of each point at pass level, parallel to Why.
	PointAt []time.Duration
	NewStar bool // completed after the star pass
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
	InTimed   bool          // In is known, not only InJam
	OutTimed  bool          // Out is known, not only OutJam
	// Computed: nobody tagged when she was released; Out follows from the rules.
	Computed bool
	Served   time.Duration // jam time served
	Owed     time.Duration
	Known    bool // In and Out are known, and so is every jam length between: Served counts
	Why      []Reason
}

// FoulCount is one skater's penalties and whether she fouled out or was expelled.
type FoulCount struct {
	Skater    SkaterRef
	Penalties []ID
	FouledOut ID // the tag that fouled her out
	Expelled  ID
	Why       []Reason
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

// Skater is who the situation is about: of its side, except in a power jam, which
// is named for the side that has it and about the other side's penalised jammer.
func (s Situation) Skater() SkaterRef {
	if s.Kind == SitPowerJam {
		return SkaterRef{s.Side.Other(), s.Who}
	}
	return SkaterRef{s.Side, s.Who}
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

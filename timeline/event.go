package timeline

import "time"

// Event is one physical thing that happened in a jam, as a camera shows it: who
// passed whom, who went down, out of bounds, to the box, what became of the
// star. No official's judgement is an input: earned or not, lead, trips, NOTT
// and points follow from events by the rules (Recount at pass level).
//
// Events of one jam are ordered by At; equal times keep their listed order.
type Event struct {
	At   time.Duration `json:"at"` // jam time; negative before the start whistle (the line-up)
	What EventKind     `json:"what"`
	Who  SkaterRef     `json:"who,omitzero"`  // the skater it is about
	Whom SkaterRef     `json:"whom,omitzero"` // the skater passed, or who receives the star
	By   Agent         `json:"by,omitempty"`  // who caused it, where that matters (star off, out of bounds, fall)
	Code string        `json:"code,omitempty"`
	Zone Zone          `json:"zone,omitempty"`
	// Moved says, on a pass, who made the hips change order: the passer skating
	// on (zero value), or the passed one going clockwise.
	Moved Moved `json:"moved,omitempty"`
	// Behind and AheadOf say, on a return (from the box, from out of bounds, onto the
	// track), whom she comes in behind and whom she comes in ahead of, where that is not
	// what the rules expect. Unnamed: a blocker comes in behind a jammer who is within
	// the engagement zone and ahead of one who is not; a jammer comes in behind every
	// blocker except those out of play behind the pack.
	Behind  []SkaterRef `json:"behind,omitempty"`
	AheadOf []SkaterRef `json:"ahead_of,omitempty"`
	// Pack says, on EvPack, who is in the pack, where that is known. It matters when the
	// jam ends: who is the rearmost pack skater (Rules 3.3).
	Pack []SkaterRef `json:"pack,omitempty"`
	Tags []ID        `json:"tags,omitempty"`
	Note string      `json:"note,omitempty"`
}

// EventKind is what happened. Each kind says which fields it uses.
type EventKind string

// The physical events. The skaters' starting state comes from JamStart.
const (
	// Pass: Who's hips go from behind to ahead of Whom's; Moved says by whose doing.
	// Any skater may pass any opponent or teammate; jammer laps, re-passes by
	// blockers and a jammer dropping back are all passes.
	EvPass EventKind = "pass"
	// Enters/leaves a zone relative to the engagement zone: Zone is where Who is now.
	EvZone EventKind = "zone"
	// NoPack and PackForms: there is no pack / there is one again.
	EvNoPack EventKind = "no pack"
	EvPack   EventKind = "pack"
	// Down and Up: Who is no longer upright / is upright again.
	EvDown EventKind = "down"
	EvUp   EventKind = "up"
	// OutOfBounds and InBounds: straddling counts as out (Glossary).
	EvOut EventKind = "out of bounds"
	EvIn  EventKind = "in bounds"
	// TakesOff and Lands: airborne between; the status before take-off holds when
	// the first touchdown is in bounds on a skate (Rules 2.5).
	EvTakesOff EventKind = "takes off"
	EvLands    EventKind = "lands" // Zone/EvOut/EvDown at the same At say where and how
	// StarOff and StarOn: the cover leaves / is back on the helmet of Who, stars
	// showing; By says who took it off (self, teammate, opponent, play).
	EvStarOff EventKind = "star off"
	EvStarOn  EventKind = "star on"
	// StripeOff and StripeOn: the same for the pivot's cover.
	EvStripeOff EventKind = "stripe off"
	EvStripeOn  EventKind = "stripe on"
	// StarGrip: Whom also has hold of the star that Who holds.
	EvStarGrip EventKind = "star grip"
	// StarRelease: Who lets go of the star, Whom alone holds it (hand to hand).
	EvStarRelease EventKind = "star release"
	// StarLost: the star Who held is dropped or thrown, nobody holds it.
	EvStarLost EventKind = "star lost"
	// StarTaken: Who picks up or is found holding the star (from ground, from an opponent).
	EvStarTaken EventKind = "star taken"
	// Penalised: an official signals a penalty on Who with Code; from here she is
	// off to the box and out of play.
	EvPenalised EventKind = "penalised"
	// Sits, Stands, Freed, Returns: the box visit. Sits: takes a seat; Stands: last
	// ten seconds; Freed: told done; Returns: back on the track (with Zone).
	EvSits    EventKind = "sits"
	EvStands  EventKind = "stands"
	EvFreed   EventKind = "freed"
	EvReturns EventKind = "returns"
	// LeavesBox: Who leaves the box before being freed (early).
	EvLeavesBox EventKind = "leaves box"
	// Off: Who leaves the track for gear or injury, or never came onto it; On: back on.
	EvOff EventKind = "off track"
	EvOn  EventKind = "on track"
	// Calls: Who repeatedly taps her hips to call the jam off.
	EvCalls EventKind = "calls"
	// JamEnds: the end of the fourth blast of the first set of four.
	EvJamEnds EventKind = "jam ends"
)

// Agent is whose doing an event was.
type Agent string

// Agents. The zero value is the skater herself.
const (
	BySelf     Agent = ""
	ByTeammate Agent = "teammate"
	ByOpponent Agent = "opponent"
	ByPlay     Agent = "play" // fell off, knocked loose, nobody meant it
	ByOfficial Agent = "official"
)

// Moved says who changed the order of hips in a pass.
type Moved string

// The passer skating past (zero value), or the passed one dropping clockwise behind.
const (
	MovedPasser Moved = ""
	MovedPassed Moved = "passed"
)

// Zone is where a skater is relative to the engagement zone (Rules 2.3). During
// a no pack it is relative to the last pack: "ahead" means over 20 ft ahead of
// the foremost on-track skater of the last pack.
//
// The order of a jammer's zones tells where she goes. Within to ahead is an exit
// at the front and completes a trip. Ahead to behind is the way round. Ahead to
// within is a return from the front (back on the trip before). Behind to ahead
// without within is the way round clockwise, no trip. A jammer behind or ahead
// who passes a blocker on the track who is not ahead is taken to be within.
type Zone string

// Zones, rear to front. The zero value means unchanged or unknown.
const (
	ZoneUnknown Zone = ""
	ZoneBehind  Zone = "behind"
	ZoneWithin  Zone = "within"
	ZoneAhead   Zone = "ahead"
)

// JamStart is the state at the jam-start whistle from which events go on.
type JamStart struct {
	Skaters  []Fielded `json:"skaters"`
	Overtime bool      `json:"overtime,omitempty"`
	// NotFielded counts, by Side.Index, the blockers a side did not send out at all.
	// They are among those not on the track (Rules 2.5). Leave it 0 when it is only the
	// line-up that is not fully known.
	NotFielded [2]int `json:"not_fielded,omitzero"`
}

// Fielded is one skater as she stands at the start whistle.
type Fielded struct {
	SkaterRef
	Role Role `json:"role"`
	// InBox: serving a penalty at the whistle (seated unless Queued).
	InBox  bool          `json:"in_box,omitempty"`
	Queued bool          `json:"queued,omitempty"`
	Served time.Duration `json:"served,omitempty"` // box time already served of Owed
	Owed   time.Duration `json:"owed,omitempty"`
	// Order is her place on the track from rear (0) to front; jammers usually
	// lowest. Skaters who are InBox or Absent have none.
	Order  int  `json:"order,omitempty"`
	Absent bool `json:"absent,omitempty"` // fielded too late or off the track at the whistle: not in the jam (C2.2.6.C)
	// PenalisedInLineup: a penalty in the line-up before this jam: not eligible for lead (Rules 2.2.2).
	PenalisedInLineup bool `json:"penalised_in_lineup,omitempty"`
	NoStar            bool `json:"no_star,omitempty"`   // jammer without a visible star
	NoStripe          bool `json:"no_stripe,omitempty"` // pivot without a visible stripe
}

package timeline

import "time"

// Kind is what a tag says happened.
type Kind string

// The kinds of tag.
const (
	KindJam      Kind = "jam"
	KindLineup   Kind = "line-up"
	KindLead     Kind = "lead"
	KindLost     Kind = "lost"
	KindCall     Kind = "call"
	KindStarPass Kind = "star pass"
	KindTrip     Kind = "trip"
	KindEvent    Kind = "event" // one physical event, for a pass-level recount
	KindPenalty  Kind = "penalty"
	KindBox      Kind = "box"
	KindTimeout  Kind = "timeout"
	KindReview   Kind = "review"
	KindInjury   Kind = "injury"
	KindNote     Kind = "note"
	KindMark     Kind = "mark"
	KindDrawing  Kind = "drawing"
	KindExample  Kind = "example"
)

// Tag is what a person (or the listener, marked as such) says happened.
//
// Place is the moment: of a jam its start whistle, of a trip its end (the exit
// at the front, or the jam's end), of a penalty the call, of a box visit the
// sitting down, of a star pass the release. Jam names the jam by ID where the
// place does not (a place on film can be resolved to a jam by Derive).
// Exactly the payload of its Kind is set; kinds without a payload carry none.
type Tag struct {
	ID    ID     `json:"id"`
	Kind  Kind   `json:"kind"`
	Place Place  `json:"place"`
	Jam   ID     `json:"jam_id,omitempty"`
	Side  Side   `json:"side,omitempty"`
	Who   Who    `json:"who,omitzero"`
	Seen  Seen   `json:"seen,omitempty"` // of the tag as a whole
	Note  string `json:"note,omitempty"`
	// Source: "" a person, "listener", "sheet", "simulator".
	Source     string  `json:"source,omitempty"`
	Confidence float64 `json:"confidence,omitempty"` // 0..1, for heard or proposed tags

	JamInfo  *JamInfo      `json:"jam,omitempty"`
	Lineup   *LineupInfo   `json:"line_up,omitempty"`
	Trip     *TripInfo     `json:"trip,omitempty"`
	Event    *Event        `json:"event,omitempty"`
	StarPass *StarPassInfo `json:"star_pass,omitempty"`
	Penalty  *PenaltyInfo  `json:"penalty,omitempty"`
	Box      *BoxInfo      `json:"box,omitempty"`
	Timeout  *TimeoutInfo  `json:"timeout,omitempty"`
	Review   *ReviewInfo   `json:"review,omitempty"`
	Drawing  *Drawing      `json:"drawing,omitempty"`
	Example  *Example      `json:"example,omitempty"`
}

// JamInfo is the payload of a jam. Its number follows from its order in the
// period, it is never stored.
type JamInfo struct {
	Period   int     `json:"period"` // 1, 2, ...
	Order    float64 `json:"order"`  // sorts the jams of a period; fractions insert between
	Overtime bool    `json:"overtime,omitempty"`
	End      Place   `json:"end,omitzero"` // end of the fourth blast
	Ended    Ended   `json:"ended,omitempty"`
	// Field is how the skaters stood at the start whistle, where someone noted it for
	// a pass-level recount; line-ups and box visits tell the rest.
	Field *JamStart `json:"field,omitempty"`
}

// Ended is what ended a jam (Rules 1.1, 2.2.2, 5.2).
type Ended string

// How jams end. The zero value is not known.
const (
	EndUnknown  Ended = ""
	EndTime     Ended = "time"      // the full two minutes
	EndCalled   Ended = "called"    // lead jammer called it off
	EndInjury   Ended = "injury"    // officials, for an injury
	EndOfficial Ended = "officials" // officials, other
	EndNoJammer Ended = "no jammer" // a penalised jammer sat with no opposing jammer (4.4.2)
)

// LineupInfo is the payload of a line-up: who one side fielded in a jam.
type LineupInfo struct {
	Jammer   Who   `json:"jammer"`
	Pivot    Who   `json:"pivot,omitzero"` // empty number and Sure: no pivot fielded
	Blockers []Who `json:"blockers,omitempty"`
}

// TripInfo is the payload of a trip. Number 1 is the initial trip; the first
// scoring trip is 2, as the score sheet counts.
type TripInfo struct {
	Number int `json:"number"`
	Points int `json:"points"` // 0..4 (5 before 2019); unused when Seen is NotSeen
	// Open: the trip was not completed (closed by the jam's end).
	Open bool `json:"open,omitempty"`
	// Start is when the trip began, if tagged; else the end of the one before.
	Start Place `json:"start,omitzero"`
}

// StarPassInfo is the payload of a star pass. Who of the tag is the jammer who
// gave it.
type StarPassInfo struct {
	To       Who  `json:"to"`
	Complete bool `json:"complete"` // the pivot became jammer
}

// PenaltyInfo is the payload of a penalty; the tag's Place is the call.
type PenaltyInfo struct {
	Code  string `json:"code"` // letter code of the rule set's edition
	Seen  Seen   `json:"code_seen,omitempty"`
	Act   Place  `json:"act,omitzero"` // when the act happened
	Words string `json:"words,omitempty"`
	// Expelled: the head referee expelled the skater for it (Rules 4.5).
	Expelled bool `json:"expelled,omitempty"`
	// Served names who serves it when someone else does (captain, substitute).
	Served Who `json:"served,omitzero"`
}

// BoxInfo is the payload of a box visit; the tag's Place is the sitting down.
type BoxInfo struct {
	Stand Place `json:"stand,omitzero"`
	Out   Place `json:"out,omitzero"` // freed or left
	Penal []ID  `json:"penalties,omitempty"`
	Role  Role  `json:"role,omitempty"`
}

// TimeoutInfo is the payload of a timeout: Side NoSide is an official timeout.
type TimeoutInfo struct {
	End   Place         `json:"end,omitzero"`
	Clock time.Duration `json:"clock,omitempty"` // period clock shown, time left
	// AfterJam is the jam it follows, where the place does not tell.
	AfterJam ID `json:"after_jam,omitempty"`
}

// ReviewInfo is the payload of an official review.
type ReviewInfo struct {
	End      Place         `json:"end,omitzero"`
	Clock    time.Duration `json:"clock,omitempty"`
	AfterJam ID            `json:"after_jam,omitempty"`
	Retained bool          `json:"retained,omitempty"`
	Subject  string        `json:"subject,omitempty"`
	Outcome  string        `json:"outcome,omitempty"`
}

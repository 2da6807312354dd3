package sheet

import (
	"time"

	"whistlecut/timeline"
)

// Sheet is the official paperwork of one bout as data. Every table is optional:
// score rows alone are a sheet. Each value is a timeline.Cell that knows where
// it stood ("Score P1!C7"), so that any finding can point at the paper.
type Sheet struct {
	Title string `json:"title,omitempty"`
	// Teams are the names and rosters, by Side.Index.
	Teams [2]Team `json:"teams"`
	// Rows are the score rows: of each side in the order of the paper, star-pass
	// and spacer rows included. Rows of the two sides may be mixed.
	Rows      []timeline.JamRow `json:"rows,omitempty"`
	Totals    []Total           `json:"totals,omitempty"`
	Penalties []Penalty         `json:"penalties,omitempty"`
	Outs      []Out             `json:"outs,omitempty"`
	Lineups   []Lineup          `json:"lineups,omitempty"`
	Clock     []JamClock        `json:"clock,omitempty"`
	Timeouts  []Timeout         `json:"timeouts,omitempty"`
	Box       []BoxVisit        `json:"box,omitempty"`
	// Kept are cells of recognised tables that have no place above, as they stood.
	Kept []Kept `json:"kept,omitempty"`
	// Raw is the text of every CellUnread value, by its From.
	Raw map[string]string `json:"raw,omitempty"`
}

// Team is one side's name and roster as the paper has them.
type Team struct {
	Name   timeline.Cell[string] `json:"name"`
	Roster []RosterLine          `json:"roster,omitempty"`
}

// RosterLine is one skater of a roster.
type RosterLine struct {
	Number timeline.Cell[timeline.Number] `json:"number"`
	Name   timeline.Cell[string]          `json:"name"`
}

// Total is a displayed score: of one period, or of the whole game (Period 0).
type Total struct {
	Period int                `json:"period"`
	Side   timeline.Side      `json:"side"`
	Points timeline.Cell[int] `json:"points"`
}

// Penalty is one recorded penalty: the jam is the one it was assessed in.
type Penalty struct {
	Side   timeline.Side                  `json:"side"`
	Skater timeline.Cell[timeline.Number] `json:"skater"`
	Code   timeline.Cell[string]          `json:"code"`
	Period timeline.Cell[int]             `json:"period"`
	Jam    timeline.Cell[int]             `json:"jam"`
}

// Out is a foul-out or an expulsion noted on the penalty sheet.
type Out struct {
	Side   timeline.Side                  `json:"side"`
	Skater timeline.Cell[timeline.Number] `json:"skater"`
	Kind   timeline.Cell[string]          `json:"kind"` // OutFoul or OutExpelled
	Period timeline.Cell[int]             `json:"period"`
	Jam    timeline.Cell[int]             `json:"jam"`
}

// The two ways out of a game (Rules 4.5), as the penalty sheet writes them.
const (
	OutFoul     = "FO"
	OutExpelled = "EXP"
)

// Lineup is one line of the line-up sheet: whom a side fielded in a jam.
type Lineup struct {
	Period   int                 `json:"period"`
	Jam      int                 `json:"jam"`
	Side     timeline.Side       `json:"side"`
	StarPass bool                `json:"star_pass,omitempty"` // the row after a star pass: roles swapped
	NoPivot  timeline.Cell[bool] `json:"no_pivot"`
	Jammer   Slot                `json:"jammer"`
	Pivot    Slot                `json:"pivot"`
	Blockers []Slot              `json:"blockers,omitempty"`
}

// Slot is one place of a line-up with its box marks.
type Slot struct {
	Skater timeline.Cell[timeline.Number] `json:"skater"`
	Box    []timeline.Cell[BoxMark]       `json:"box,omitempty"`
}

// BoxMark is a line-up sheet's symbol for a box visit in a jam.
type BoxMark string

// Box marks (from memory; box symbols by jam of entry and exit).
const (
	BoxEntered   BoxMark = "-" // sat down in this jam, still in at its end
	BoxBoth      BoxMark = "+" // sat down and left in this jam
	BoxStill     BoxMark = "S" // sat down before the jam or between jams, still in at its end
	BoxStillLeft BoxMark = "$" // sat down before the jam or between jams, left in it
)

// StaysIn reports whether the skater is still in the box when the jam ends.
func (m BoxMark) StaysIn() bool { return m == BoxEntered || m == BoxStill }

// WasIn reports whether the skater was in the box when the jam started.
func (m BoxMark) WasIn() bool { return m == BoxStill || m == BoxStillLeft }

// JamClock is one line of the clock sheet.
type JamClock struct {
	Period   int                          `json:"period"`
	Jam      int                          `json:"jam"`
	Duration timeline.Cell[time.Duration] `json:"duration"`
	Start    timeline.Cell[time.Duration] `json:"start"` // period clock (time left) at the jam's start
	End      timeline.Cell[time.Duration] `json:"end"`   // period clock at its end
}

// Timeout is one timeout or review. Side NoSide is an official timeout.
type Timeout struct {
	Period   timeline.Cell[int]           `json:"period"`
	AfterJam timeline.Cell[int]           `json:"after_jam"`
	Side     timeline.Side                `json:"side"`
	Kind     timeline.Cell[string]        `json:"kind"`   // KindTimeout, KindReview or as written
	Clock    timeline.Cell[time.Duration] `json:"clock"`  // period clock, time left
	Length   timeline.Cell[time.Duration] `json:"length"` // how long it took
	Retained timeline.Cell[bool]          `json:"retained"`
}

// Kinds of Timeout.
const (
	KindTimeout = "timeout"
	KindReview  = "review"
)

// BoxVisit is one line of the box sheet. Times are as the box timer wrote them
// (stopwatch or clock).
type BoxVisit struct {
	Side    timeline.Side                  `json:"side"`
	Skater  timeline.Cell[timeline.Number] `json:"skater"`
	Role    timeline.Cell[timeline.Role]   `json:"role"`
	Period  timeline.Cell[int]             `json:"period"`
	Jam     timeline.Cell[int]             `json:"jam"`     // of sitting down
	OutJam  timeline.Cell[int]             `json:"out_jam"` // of leaving, where noted
	Between timeline.Cell[bool]            `json:"between"` // sat down between jams
	In      timeline.Cell[time.Duration]   `json:"in"`
	Stand   timeline.Cell[time.Duration]   `json:"stand"`
	Done    timeline.Cell[time.Duration]   `json:"done"`
}

// Kept is a cell that the sheet's tables have no place for.
type Kept struct {
	Heading string `json:"heading"`
	Text    string `json:"text"`
	From    string `json:"from"`
}

// Empty reports whether the sheet holds no table at all.
func (s Sheet) Empty() bool {
	return len(s.Rows) == 0 && len(s.Penalties) == 0 && len(s.Lineups) == 0 && len(s.Clock) == 0 &&
		len(s.Timeouts) == 0 && len(s.Box) == 0 && len(s.Totals) == 0 && len(s.Outs) == 0 &&
		len(s.Teams[0].Roster) == 0 && len(s.Teams[1].Roster) == 0
}

// HasRoster reports whether the sheet has that side's roster.
func (s Sheet) HasRoster(side timeline.Side) bool { return len(s.Teams[side.Index()].Roster) > 0 }

package sheet

import (
	"fmt"
	"strings"

	"whistlecut/timeline"
)

// State says what kind of finding it is.
type State string

// States of a finding. What can't be checked is no finding (see Unchecked).
const (
	StateDiffers    State = "tags differ from sheet"
	StateImpossible State = "sheet contradicts itself"
)

// Finding is one disagreement between sheet and tags, or one entry that can't be
// so by the sheet itself. One mistake is one finding: what follows from it is in
// Also. It takes no side: the head referee's decision is final.
type Finding struct {
	// Key is stable as long as both values are: resolutions are stored by it.
	Key    string          `json:"key"`
	Cause  Cause           `json:"cause"`
	State  State           `json:"state"`
	Table  Kind            `json:"table"`
	Period int             `json:"period,omitempty"`
	Jam    int             `json:"jam,omitempty"` // as the sheet numbers it, where it has the row
	Side   timeline.Side   `json:"side,omitempty"`
	Column Field           `json:"column,omitempty"`
	N      int             `json:"n,omitempty"` // trip or blocker number
	Skater timeline.Number `json:"skater,omitempty"`
	Sheet  string          `json:"sheet"` // value on the sheet; "" for nothing there
	Tags   string          `json:"tags"`  // value by the tags, or what the sheet itself asks for
	From   []string        `json:"from,omitempty"`
	// Stake is sheet minus tags in each side's final score, by Side.Index.
	Stake [2]int `json:"stake"`

	Film  timeline.Place `json:"film,omitzero"` // where to look
	JamID timeline.ID    `json:"jam_id,omitempty"`
	TagID []timeline.ID  `json:"tag_ids,omitempty"`
	Text  string         `json:"text"`
	Also  []string       `json:"also,omitempty"` // what follows from the same cause
	// Resolution is what a person decided, if anything.
	Resolution *timeline.Resolution `json:"resolution,omitempty"`

	touches []string // places it explains, for folding
}

// Points is the finding's weight in the score, whichever side it is on.
func (f Finding) Points() int { return max(abs(f.Stake[0]), abs(f.Stake[1])) }

func abs(n int) int {
	if n < 0 {
		return -n
	}
	return n
}

// Where names the place in words: "period 1, jam 7, home, trip 3".
func (f Finding) Where() string {
	var parts []string
	if f.Period > 0 {
		parts = append(parts, fmt.Sprintf("period %d", f.Period))
	}
	if f.Jam > 0 {
		parts = append(parts, fmt.Sprintf("jam %d", f.Jam))
	}
	if f.Side != timeline.NoSide {
		parts = append(parts, f.Side.String())
	}
	if f.Skater != "" {
		parts = append(parts, "skater "+string(f.Skater))
	}
	switch {
	case f.N > 0:
		parts = append(parts, fmt.Sprintf("%s %d", f.Column, f.N))
	case f.Column != "":
		parts = append(parts, string(f.Column))
	}
	return strings.Join(parts, ", ")
}

// key makes the stable key from the place and both values.
func (f Finding) key() string {
	k := fmt.Sprintf("%s/p%d/j%d/%s", f.Table, f.Period, f.Jam, f.Side)
	if f.Skater != "" {
		k += "/" + string(f.Skater)
	}
	if f.Column != "" {
		k += "/" + string(f.Column)
	}
	if f.N > 0 {
		k += fmt.Sprintf(" %d", f.N)
	}
	return k + "/" + f.Sheet + ">" + f.Tags
}

// Unchecked is something on the sheet that the tags can't confirm or deny. It
// never counts as agreement.
type Unchecked struct {
	Table   Kind          `json:"table"`
	Period  int           `json:"period,omitempty"`
	Jam     int           `json:"jam,omitempty"`
	Side    timeline.Side `json:"side,omitempty"`
	Columns []string      `json:"columns,omitempty"` // empty: the whole row or table
	Why     string        `json:"why"`
	// Points are those of the sheet that nothing was compared with, by Side.Index.
	Points [2]int         `json:"points"`
	JamID  timeline.ID    `json:"jam_id,omitempty"`
	Film   timeline.Place `json:"film,omitzero"`
}

// Account is one side's score as the sheet and the tags have it. The difference
// is the sum of the findings' stakes and the unchecked points.
type Account struct {
	Sheet      int            `json:"sheet"`
	SheetKnown bool           `json:"sheet_known"`
	Tags       timeline.Range `json:"tags"`       // of jams that are logged
	Difference int            `json:"difference"` // sheet minus the nearest score the tags allow
	Explained  int            `json:"explained"`  // by findings
	Unchecked  int            `json:"unchecked"`  // points of rows without logged tags
}

// Report is the outcome of a check.
type Report struct {
	Findings  []Finding   `json:"findings"`
	Unchecked []Unchecked `json:"unchecked,omitempty"`
	// Compared counts the cells that were compared with tags and Agreed those that
	// agree; neither counts unchecked cells.
	Compared int        `json:"compared"`
	Agreed   int        `json:"agreed"`
	Score    [2]Account `json:"score"`
	Notes    []string   `json:"notes,omitempty"`
}

// Open lists the findings nobody has resolved.
func (r Report) Open() []Finding {
	var out []Finding
	for _, f := range r.Findings {
		if f.Resolution == nil {
			out = append(out, f)
		}
	}
	return out
}

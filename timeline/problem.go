package timeline

// Problem is something in the facts that contradicts itself or the rules:
// reported, never silently resolved. Text says what was taken instead.
type Problem struct {
	Kind    ProblemKind `json:"kind"`
	Jam     ID          `json:"jam,omitempty"`
	Side    Side        `json:"side,omitempty"`
	Tags    []ID        `json:"tags,omitempty"`
	Text    string      `json:"text"`
	Section string      `json:"section,omitempty"` // rule section it offends, if any
}

// ProblemKind groups problems by what is wrong.
type ProblemKind string

// The kinds of problem.
const (
	ProblemDangling   ProblemKind = "dangling reference"   // names a record that is not there
	ProblemEmpty      ProblemKind = "incomplete tag"       // the payload of its kind is missing
	ProblemDuplicate  ProblemKind = "duplicate"            // says the same twice
	ProblemContradict ProblemKind = "contradiction"        // two tags cannot both hold
	ProblemRule       ProblemKind = "against the rules"    // cannot happen by the rules
	ProblemGap        ProblemKind = "missing"              // something must be there and is not tagged
	ProblemRoster     ProblemKind = "not on the roster"    // unknown skater number
	ProblemAlignment  ProblemKind = "alignment"            // marks that do not fit each other
	ProblemClock      ProblemKind = "clock"                // the period clock cannot be right
	ProblemLevels     ProblemKind = "levels differ"        // trip level and pass level disagree
	ProblemBox        ProblemKind = "box time"             // served time does not fit what is owed
	ProblemAmbiguous  ProblemKind = "cannot be told apart" // more than one reading is possible
)

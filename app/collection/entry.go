package collection

import (
	"time"

	"whistlecut/timeline"
)

// Entry is one thing found: a tag or a stretch of a situation, with what a list
// needs. It stands for what the bout said when it was indexed.
type Entry struct {
	Bout  string      `json:"bout"` // full path of the bout file
	Title string      `json:"title,omitempty"`
	Date  string      `json:"date,omitempty"` // of the bout, YYYY-MM-DD
	State State       `json:"state"`          // of the bout file
	Key   string      `json:"key"`            // timeline.Moment.Key: unique in the bout
	Tag   timeline.ID `json:"tag,omitempty"`  // empty for a situation

	Kind      timeline.Kind          `json:"kind,omitempty"`
	Situation timeline.SituationKind `json:"situation,omitempty"`
	// During are the situations a tag lies in.
	During []timeline.SituationKind `json:"during,omitempty"`

	Period int  `json:"period,omitempty"`
	Jam    int  `json:"jam,omitempty"` // number of the jam; 0 for none
	Timed  bool `json:"timed,omitempty"`
	// From and To are jam time, From == To for an instant, where Timed.
	From time.Duration `json:"from,omitempty"`
	To   time.Duration `json:"to,omitempty"`

	Side   timeline.Side   `json:"side,omitempty"`
	Number timeline.Number `json:"number,omitempty"`
	Name   string          `json:"name,omitempty"` // of the skater
	Team   string          `json:"team,omitempty"` // of the skater, or of the side

	// Code and CodeName are those of the penalty; of an example those called, else
	// those of the preferred verdict.
	Code     string   `json:"code,omitempty"`
	CodeName string   `json:"code_name,omitempty"`
	Rules    []string `json:"rules,omitempty"` // sections it rests on
	Note     string   `json:"note,omitempty"`  // of the tag
	Words    string   `json:"words,omitempty"` // of the penalty, the reasoning of an example
	Edition  string   `json:"edition,omitempty"`

	// The following are of examples.
	Ask        timeline.Question `json:"ask,omitempty"`
	Asked      timeline.Words    `json:"asked,omitempty"` // the trainer's own question, by language
	Called     timeline.Answer   `json:"called,omitzero"`
	Verdicts   []timeline.Answer `json:"verdicts,omitempty"`
	Impact     timeline.Impact   `json:"impact,omitempty"`
	Difficulty int               `json:"difficulty,omitempty"`
	Differing  bool              `json:"differing,omitempty"` // no verdict accepts what was called
	Source     timeline.ID       `json:"source,omitempty"`    // the tag it was made of
	Opinions   int               `json:"opinions,omitempty"`  // of other trainers

	// Examples is how many examples were made of this tag.
	Examples  int  `json:"examples,omitempty"`
	Sensitive bool `json:"sensitive,omitempty"`

	// Footage, Film and Start, End are the best film that shows it, by ID and by last
	// known path, in film time; empty where none does.
	Footage timeline.ID   `json:"footage,omitempty"`
	Film    string        `json:"film,omitempty"`
	Start   time.Duration `json:"start,omitempty"`
	End     time.Duration `json:"end,omitempty"`
	// Still and Preview are files beside the index that show an example, empty where
	// there are none (yet).
	Still   string `json:"still,omitempty"`
	Preview string `json:"preview,omitempty"`
}

// IsExample reports whether the entry is an example.
func (e Entry) IsExample() bool { return e.Kind == timeline.KindExample }

// State is how a bout file was found when it was last looked for.
type State string

// The states of a bout file.
const (
	Here       State = "here"
	Away       State = "away"       // the file is gone, or its disk is not connected; what was indexed stays
	Unreadable State = "unreadable" // Reason says why; what was indexed before stays
)

// Bout is one bout of the index.
type Bout struct {
	Path     string    `json:"path"` // full, symbolic links resolved
	Title    string    `json:"title,omitempty"`
	Date     string    `json:"date,omitempty"`
	Venue    string    `json:"venue,omitempty"`
	Teams    [2]string `json:"teams"` // home, away
	Edition  string    `json:"edition,omitempty"`
	State    State     `json:"state"`
	Reason   string    `json:"reason,omitempty"` // a sentence, where it could not be read
	Indexed  time.Time `json:"indexed,omitzero"` // zero: never
	Edits    int       `json:"edits,omitempty"`
	Entries  int       `json:"entries"`
	Examples int       `json:"examples"`
	// CopyOf is the path of another bout of the index that began as the same file.
	CopyOf string `json:"copy_of,omitempty"`
}

// Report is what an update did.
type Report struct {
	Indexed   []string `json:"indexed,omitempty"` // paths read anew
	Unchanged int      `json:"unchanged"`         // bouts as they were
	Away      []string `json:"away,omitempty"`    // files that are gone
	Faults    []Fault  `json:"faults,omitempty"`  // bouts that could not be read
	Notices   []string `json:"notices,omitempty"` // sentences: what else a person should know
}

// Fault is a bout that could not be read, and why, as a sentence.
type Fault struct {
	Path   string `json:"path"`
	Reason string `json:"reason"`
}

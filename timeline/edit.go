package timeline

import (
	"encoding/json"
	"time"
)

// Edit is one confirmed change of one record. A bout's state is the fold of a
// set of edits, the same whatever order they arrive in: for each record the
// latest edits nobody has built on are its heads; one head is the value, several
// heads with different values are a conflict, of which the one that sorts last
// (Seq, then ID) stands until a person decides.
type Edit struct {
	ID      ID     `json:"id"`      // session + "-" + Seq
	Author  string `json:"author"`  // shown to people
	Session string `json:"session"` // unique to one opening of one file for writing
	Seq     int64  `json:"seq"`     // 1 + the highest Seq the author had seen
	Parents []ID   `json:"parents,omitempty"`
	Group   ID     `json:"group"` // edits that one action made; undone together
	// Undoes names the group this edit is the inverse of; Redoes the undo it takes back.
	Undoes ID        `json:"undoes,omitempty"`
	Redoes ID        `json:"redoes,omitempty"`
	At     time.Time `json:"at"`
	Label  string    `json:"label,omitempty"` // for the history: "trip 3: 4 points"

	Record Record          `json:"record"`
	Value  json.RawMessage `json:"value,omitempty"` // nil deletes the record
}

// Record names one stored record: a collection and a key in it.
type Record struct {
	Collection Collection `json:"collection"`
	Key        ID         `json:"key"`
}

// Collection is a kind of stored record.
type Collection string

// The collections of Facts. Single-record collections use the key "it".
const (
	ColInfo       Collection = "info"
	ColRules      Collection = "rules"
	ColTeam       Collection = "team" // keys "home", "away"
	ColFootage    Collection = "footage"
	ColMark       Collection = "mark"
	ColSheet      Collection = "sheet"
	ColTag        Collection = "tag"
	ColResolution Collection = "resolution"
	ColReel       Collection = "film reel" // "reel" stands in recorded files of before for a collection nobody knew
	ColPart       Collection = "reel part"
	ColOpinion    Collection = "example opinion"
	ColRemark     Collection = "remark"
)

// Change is what an edit is asked to do, before it has an ID and an author.
type Change struct {
	Record Record
	Value  json.RawMessage // nil deletes
}

package timeline

import (
	"encoding/json"
	"time"
)

// Facts is everything that is stored of a bout; the rest is derived. Facts are
// the fold of the edits (Log), and one record of them (a tag, a footage file)
// is what an edit sets or deletes.
type Facts struct {
	Info        Info              `json:"info"`
	Rules       RuleSet           `json:"rules"`
	Teams       [2]Team           `json:"teams"` // by Side.Index
	Footage     map[ID]Footage    `json:"footage,omitempty"`
	Marks       map[ID]SyncMark   `json:"marks,omitempty"`
	Sheet       *StoredSheet      `json:"sheet,omitempty"`
	Tags        map[ID]Tag        `json:"tags,omitempty"`
	Resolutions map[ID]Resolution `json:"resolutions,omitempty"`
	Reels       map[ID]Reel       `json:"reels,omitempty"`
	Parts       map[ID]Part       `json:"reel_parts,omitempty"` // of all reels
	Opinions    map[ID]Opinion    `json:"opinions,omitempty"`   // of all examples
	Remarks     map[ID]Remark     `json:"remarks,omitempty"`    // on skaters' pages
	// Extra keeps records of collections this version does not know, so that a
	// newer copy's work survives a round trip.
	Extra map[string]json.RawMessage `json:"extra,omitempty"`
}

// Info names the bout.
type Info struct {
	Title string `json:"title,omitempty"`
	Date  string `json:"date,omitempty"` // YYYY-MM-DD
	Venue string `json:"venue,omitempty"`
}

// Footage is one video file of a camera, or a range of one.
type Footage struct {
	ID          ID      `json:"id"`
	Path        string  `json:"path"` // last known place; Fingerprint finds a moved file
	Fingerprint string  `json:"fingerprint,omitempty"`
	Camera      string  `json:"camera"` // files of one camera share it
	Order       float64 `json:"order"`  // sorts the files of a camera
	// Joined: the recording goes on without a gap from the camera's file before
	// (chapter files); false when there is a gap or nobody knows.
	Joined bool `json:"joined,omitempty"`
	// Range limits the bout to a part of the file (film time); zero is the whole file.
	Range    TimeRange     `json:"range,omitzero"`
	Duration time.Duration `json:"duration,omitempty"`
	// SoundOffset is added to the sound's time to put it in step with the picture.
	SoundOffset time.Duration `json:"sound_offset,omitempty"`
}

// SyncMark pins one edge of a jam to a film time. Hand marks are hard facts;
// heard ones carry a confidence.
type SyncMark struct {
	ID         ID            `json:"id"`
	Jam        ID            `json:"jam"`
	Edge       Edge          `json:"edge"`
	Footage    ID            `json:"footage"`
	Film       time.Duration `json:"film"`
	Hand       bool          `json:"hand,omitempty"`
	Confidence float64       `json:"confidence,omitempty"` // 0..1 for heard marks
}

// Edge is the start or the end of a jam.
type Edge string

// Start is the onset of the jam-start blast; End the end of the fourth blast.
const (
	EdgeStart Edge = "start"
	EdgeEnd   Edge = "end"
)

// StoredSheet is the official sheet as imported: the bytes of the file and the
// column mapping a person confirmed (package sheet reads both).
type StoredSheet struct {
	Name    string          `json:"name"`
	Data    []byte          `json:"data"`
	Mapping json.RawMessage `json:"mapping,omitempty"`
}

// Resolution is what a person decided about one finding, by the finding's stable key.
type Resolution struct {
	ID      ID     `json:"id"` // the finding's key
	Verdict string `json:"verdict"`
	Note    string `json:"note,omitempty"`
}

// Verdicts on a finding.
const (
	VerdictTagWrong     = "tag was wrong"
	VerdictSheetDiffers = "sheet differs"
	VerdictUnclear      = "unclear"
)

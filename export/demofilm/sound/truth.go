package sound

import (
	"time"

	"whistlecut/timeline/simulate"
)

// Truth is what a perfect listener would hear. Times are film time: from the
// stream's first sample; what began before it has a negative onset.
type Truth struct {
	Blasts []Blast `json:"blasts"` // officials' blasts by onset
	// Missing are series that were blown and left out of the sound.
	Missing []Series `json:"missing,omitempty"`
	// Decoys are sounds of the same kind that no official of this bout made.
	Decoys []Decoy `json:"decoys,omitempty"`
}

// Blast is one whistle sound as it reaches the microphone straight from the
// whistle. Reverberation goes on after Offset.
type Blast struct {
	Onset  time.Duration `json:"onset_ns"`  // first sound
	Offset time.Duration `json:"offset_ns"` // the whistle is silent
	// Blown is when it left the whistle: earlier than Onset by the sound's way.
	Blown    time.Duration         `json:"blown_ns"`
	Hz       float64               `json:"hz"` // strongest tone while steady
	Official simulate.OfficialRole `json:"official"`
	Kind     simulate.WhistleKind  `json:"kind"` // of its series
	Model    Model                 `json:"model"`
	LevelDB  float64               `json:"level_db"` // direct sound over the mean blast's
	Series   int                   `json:"series"`   // blasts of one series share it
	InSeries int                   `json:"in_series"`
	Echo     bool                  `json:"echo,omitempty"` // repeats another's series
	Period   int                   `json:"period"`
	Jam      int                   `json:"jam"`
}

// Series is one official's series that was left out.
type Series struct {
	At       time.Duration         `json:"at_ns"`
	Official simulate.OfficialRole `json:"official"`
	Kind     simulate.WhistleKind  `json:"kind"`
	Period   int                   `json:"period"`
	Jam      int                   `json:"jam"`
}

// Decoy is one sound that may be taken for a blast.
type Decoy struct {
	Onset  time.Duration `json:"onset_ns"`
	Offset time.Duration `json:"offset_ns"`
	Hz     float64       `json:"hz"`
	What   string        `json:"what"` // "fingers", "squeak", "neighbour"
}

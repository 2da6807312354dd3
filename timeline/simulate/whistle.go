package simulate

import (
	"time"

	"whistlecut/timeline"
)

// Whistle is one series of blasts by one official.
type Whistle struct {
	Kind WhistleKind
	By   OfficialRole
	// Pos is where the official stands, for loudness and stereo.
	Pos Point
	// Blasts are the single blasts in order, from the game's start. Sounds start
	// at Start and have died away at End.
	Blasts []timeline.TimeRange
	// Echo: the official repeats a series that another began.
	Echo bool
	// Period and Jam number the jam it belongs to (for a timeout: the jam before).
	Period, Jam int
}

// At is the onset of the first blast.
func (w Whistle) At() time.Duration { return w.Blasts[0].Start }

// End is the end of the last blast.
func (w Whistle) End() time.Duration { return w.Blasts[len(w.Blasts)-1].End }

// WhistleKind is what a series means. The sound alone tells less: four blasts
// end a jam or open a timeout.
type WhistleKind string

// The signals (Rules 1.1, 1.3, 2.2.2; officials' cues).
const (
	WhistleJamStart   WhistleKind = "jam start"   // one short
	WhistleLead       WhistleKind = "lead"        // two short
	WhistleJamEnd     WhistleKind = "jam end"     // four short, echoed
	WhistlePenalty    WhistleKind = "penalty"     // one long
	WhistleTimeout    WhistleKind = "timeout"     // four short
	WhistleTimeoutEnd WhistleKind = "timeout end" // one rolling
	WhistlePeriodEnd  WhistleKind = "period end"  // one rolling
)

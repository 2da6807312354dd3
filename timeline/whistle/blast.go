package whistle

import "time"

// Rate is the sample rate the Listener works at, in samples a second. Sound of
// any other rate is converted before (package footage does it in the decoder).
const Rate = 16000

// Blast is one whistle sound. Times count from the first sample.
type Blast struct {
	Start time.Duration // first rise
	End   time.Duration // end of the blowing, without the hall's tail
	Hz    float64       // pitch of the strongest partial in the steady part
	Level float64       // dB relative to full scale, of the whistle's band
	// Contrast is how far the whistle stands out of the sound around it in its band, dB.
	Contrast float64
	// Confidence that an official blew a whistle here: 0..1, calibrated on
	// recordings unlike those the judge was trained on.
	Confidence float64
}

// Duration is the length of the blast.
func (b Blast) Duration() time.Duration { return b.End - b.Start }

// Kind is the sound pattern of a series.
type Kind string

// The kinds of series by their sound alone.
const (
	Short   Kind = "short"   // one short blast
	Pair    Kind = "pair"    // two short blasts
	Four    Kind = "four"    // four short blasts, echoes by other officials included
	Long    Kind = "long"    // one long blast
	Rolling Kind = "rolling" // long, swelling and falling, or much longer than a long one
	Unclear Kind = "unsure"
)

// Series is a group of blasts of one kind of sound.
type Series struct {
	Kind       Kind
	Start, End time.Duration
	// Confidence that the series is there and of this kind, 0..1.
	Confidence float64
	Blasts     []int // indices into Result.Blasts
	// Likely is the probability of each kind given that blasts are there; sums to 1.
	Likely map[Kind]float64
}

// Result is what was heard.
type Result struct {
	Length time.Duration
	Blasts []Blast
	Series []Series
	// Silent: no sample was ever above the noise of 16-bit silence.
	Silent bool
	// Clipped is the share of samples at full scale, 0..1.
	Clipped float64
}

package sound

import (
	"fmt"
	"math"
	"time"

	"whistlecut/timeline"
)

// Options say how a bout sounds at one camera and how hard it is to hear. The
// zero value is an easy recording: whistles 20 dB over the crowd, a dry hall.
type Options struct {
	Seed   uint64 // of everything random; equal seeds and options give equal sound
	Family Family // whose whistles and which kind of room

	Rate     int // samples a second, 8000 to 96000; 0 is 48000
	Channels int // 1 or 2; 0 is 1
	// DeadRight leaves the right of two channels silent.
	DeadRight bool

	// Start is the game time of the first sample, Length how long the stream is
	// in game time; 0 goes on to the end of the schedule.
	Start, Length time.Duration
	// Mic is where the camera stands; nil is on the stand by the start straight.
	Mic *Mic

	// Signal is the signal-to-background ratio in the whistle band in dB: the mean
	// power of an official's blast, from onset to offset and with its
	// reverberation, averaged in dB over the officials' blasts, against the mean
	// power of everything else but decoys. 0 stands for 20; for a ratio of 0 dB
	// set Level.
	Signal float64
	// Level makes Signal count even when it is 0.
	Level bool
	// Spread is the standard deviation of the officials' loudness in dB, besides
	// what their distance does.
	Spread float64

	// Reverb is the time in which the hall's sound falls by 60 dB in the whistle
	// band; 0 is a dry hall, others 0.2 to 5 s.
	Reverb time.Duration

	// Music, Announcer and Skates are their shares of the background's power in
	// the whistle band, 0..1, together at most 1; the crowd makes up the rest.
	Music, Announcer, Skates float64

	// Fingers, Squeaks and Neighbour are decoys a minute: finger-whistles from the
	// stand, wheels and shoes, whistles of a bout on a track next door.
	Fingers, Squeaks, Neighbour float64

	// Echoes is the chance (0..1) that one more official repeats a series of four;
	// each official is asked.
	Echoes float64
	// Missing is the chance that a series is not heard at all; MissingStarts the
	// chance for jam starts, where it is larger.
	Missing, MissingStarts float64

	// AutoGain is by how many dB a recorder lifts quiet sound, 0 to 40; it pulls
	// loud sound down within 10 ms and lets go over a second or two.
	AutoGain float64
	// Clip is by how many dB the peaks of a mean blast exceed what the recorder
	// can hold; 0 leaves headroom.
	Clip float64

	// Drift is how much faster than the hall's the camera's clock runs, in
	// millionths: film time = (game time - Start) * (1 + Drift/1e6).
	Drift float64
	// Dropouts are stretches of film time in which the recorder wrote silence.
	Dropouts []timeline.TimeRange

	// Part leaves everything else out, for measuring; levels stay as they are.
	// Automatic gain then works on what is left.
	Part Part
}

// Mic is a microphone's place in feet, Z above the floor, and which way its left
// and right lie: Facing is an azimuth clockwise from +y, in radians.
type Mic struct{ X, Y, Z, Facing float64 }

// Part of the sound.
type Part string

// Parts. The zero value is all of it.
const (
	All        Part = ""
	Whistles   Part = "whistles"   // the officials' blasts with their reverberation
	Background Part = "background" // crowd, music, announcer, skates
	Decoys     Part = "decoys"
)

func (o Options) withDefaults(s Schedule) Options {
	if o.Rate == 0 {
		o.Rate = 48000
	}
	if o.Channels == 0 {
		o.Channels = 1
	}
	if o.Signal == 0 && !o.Level {
		o.Signal = 20
	}
	if o.Mic == nil {
		o.Mic = &Mic{X: -3, Y: -66, Z: 17}
	}
	if o.Length == 0 {
		o.Length = s.Length - o.Start
	}
	o.MissingStarts = max(o.MissingStarts, o.Missing)
	return o
}

// check says which option is out of its range.
func (o Options) check() error {
	type limit struct {
		name    string
		v       float64
		lo, hi  float64
		meaning string
	}
	for _, l := range []limit{
		{"Rate", float64(o.Rate), 8000, 96000, "samples a second"},
		{"Channels", float64(o.Channels), 1, 2, "channels"},
		{"Signal", o.Signal, -40, 80, "dB"},
		{"Spread", o.Spread, 0, 20, "dB"},
		{"Music", o.Music, 0, 1, "share"},
		{"Announcer", o.Announcer, 0, 1, "share"},
		{"Skates", o.Skates, 0, 1, "share"},
		{"Music, Announcer and Skates together", o.Music + o.Announcer + o.Skates, 0, 1 + 1e-9, "share"},
		{"Fingers", o.Fingers, 0, 600, "a minute"},
		{"Squeaks", o.Squeaks, 0, 600, "a minute"},
		{"Neighbour", o.Neighbour, 0, 600, "a minute"},
		{"Echoes", o.Echoes, 0, 1, "chance"},
		{"Missing", o.Missing, 0, 1, "chance"},
		{"MissingStarts", o.MissingStarts, 0, 1, "chance"},
		{"AutoGain", o.AutoGain, 0, 40, "dB"},
		{"Clip", o.Clip, 0, 40, "dB"},
		{"Drift", o.Drift, -5000, 5000, "millionths"},
	} {
		if math.IsNaN(l.v) || l.v < l.lo || l.v > l.hi {
			return fmt.Errorf("cannot make the sound of a demo film: %s is %g %s; choose %g to %g", l.name, l.v, l.meaning, l.lo, l.hi)
		}
	}
	if o.Reverb != 0 && (o.Reverb < 200*time.Millisecond || o.Reverb > 5*time.Second) {
		return fmt.Errorf("cannot make the sound of a demo film: a reverberation of %v is out of range; choose 0 (dry) or 0.2 to 5 s", o.Reverb)
	}
	if o.Start < 0 || o.Length <= 0 {
		return fmt.Errorf("cannot make the sound of a demo film: a stretch of %v from %v is empty; start at 0 or later and inside the bout", o.Length, o.Start)
	}
	if o.Family != Tuning && o.Family != Outer && o.Family != Evaluation {
		return fmt.Errorf("cannot make the sound of a demo film: unknown family %q; choose %q, %q or %q", o.Family, "", Outer, Evaluation)
	}
	return nil
}

// Tier is one of the graded conditions that listening is measured at.
type Tier string

// The tiers, from a good recording to a hopeless one.
const (
	Easy     Tier = "easy"
	Middle   Tier = "middle"
	Hard     Tier = "hard"
	Hopeless Tier = "hopeless"
)

// Tiers lists them in order.
var Tiers = []Tier{Easy, Middle, Hard, Hopeless}

// Graded returns a tier's options. Hard is 5 to 0 dB: the seed's parity decides
// between the two.
func Graded(t Tier, f Family, seed uint64) Options {
	o := Options{Seed: seed, Family: f, Level: true}
	switch t {
	case Easy:
		o.Signal, o.Skates = 20, 0.1
	case Middle:
		o.Signal, o.Reverb, o.Spread, o.Echoes = 10, time.Second, 3, 0.3
		o.Music, o.Announcer, o.Skates = 0.4, 0.15, 0.1
		o.Fingers, o.Squeaks = 1, 3
	case Hard:
		o.Signal, o.Reverb, o.Spread, o.Echoes = 5*float64(seed%2), 2*time.Second, 4, 0.4
		o.Music, o.Announcer, o.Skates = 0.4, 0.2, 0.1
		o.Fingers, o.Squeaks, o.Neighbour = 3, 6, 1
		o.Missing, o.MissingStarts, o.AutoGain = 0.02, 0.08, 20
	default:
		o.Signal, o.Reverb, o.Spread, o.Echoes = -5, 3*time.Second, 5, 0.5
		o.Music, o.Announcer, o.Skates = 0.4, 0.25, 0.1
		o.Fingers, o.Squeaks, o.Neighbour = 5, 10, 3
		o.Missing, o.MissingStarts, o.AutoGain, o.Clip = 0.05, 0.15, 25, 6
	}
	return o
}

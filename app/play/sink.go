package play

import (
	"io"
	"time"
)

// The form of all sound: 16-bit little-endian stereo.
const (
	soundRate   = 48000
	sampleBytes = 4
)

// Sink is a sound device.
type Sink interface {
	// Start begins to play 16-bit little-endian stereo at 48 kHz from r, whose
	// Read waits when there is nothing yet.
	Start(r io.Reader, volume float64) (Voice, error)
	// Err says in words why the device plays nothing (any more), nil when it
	// does. It is asked all the time and must be quick.
	Err() error
	// Latency is how long after it was read a sample is heard at the earliest.
	Latency() time.Duration
}

// Voice is sound being played.
type Voice interface {
	// Heard is how much of it was heard: real time. It may be negative while
	// the first sample is on its way to the loudspeaker.
	Heard() time.Duration
	SetVolume(v float64)
	// Stop ends it at once. It does not wait for a Read that is under way.
	Stop()
}

// soundTime is the time that some bytes of sound take.
func soundTime(bytes int64) time.Duration {
	return time.Duration(bytes/sampleBytes) * time.Second / soundRate
}

// soundBytes is its inverse, rounded down to whole samples.
func soundBytes(d time.Duration) int64 {
	return int64(d) * soundRate / int64(time.Second) * sampleBytes
}

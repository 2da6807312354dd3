package play

import (
	"image"
	"time"

	"whistlecut/timeline"
	"whistlecut/timeline/footage/ffmpeg"
)

// Film is one file of a camera. From and To are the part of it that is the
// bout, film time; a To of 0 is the end. SoundOffset is added to the sound's
// time to put it in step with the picture.
type Film struct {
	ID          timeline.ID
	Path        string
	From, To    time.Duration
	SoundOffset time.Duration
}

// State is what the player is doing.
type State string

// The states of a player.
const (
	Empty   State = "empty"   // no film is loaded
	Loading State = "loading" // the film is being opened
	Paused  State = "paused"  // a frame stands
	Playing State = "playing"
	Ended   State = "ended"   // played to the last frame of the last file
	Missing State = "missing" // the file is not where it was; the last frame stays
	Broken  State = "broken"  // the film cannot be decoded here; the last frame stays
)

// Shown is what the screen shows.
type Shown struct {
	Footage timeline.ID
	Film    time.Duration // when the frame appears in its file; exact
	Index   int           // the frame's number in its file; -1 when there is none
	Image   *image.RGBA   // not written to until four other frames were shown; nil when there is none
	State   State
	Rate    float64
	Note    string // a sentence, or nothing
	Notice  Notice // the same in parts, for whoever words it in another language
}

// Options are for New. The zero value plays without sound.
type Options struct {
	Runner *ffmpeg.Runner // nil: ffmpeg.Default()

	// OnShown is called from the player's goroutine whenever what is shown
	// changes. It must return fast and must not wait for the player.
	OnShown func(Shown)

	Sound bool // play sound; without, the picture goes by the wall clock
	Sink  Sink // where sound goes; nil: the system's sound device

	// CacheDir is where light copies and rewrapped films are kept, "" is
	// whistlecut/screen in the user's cache folder. CacheBytes bounds what
	// they take on the disk; 0 is DefaultCacheBytes.
	CacheDir   string
	CacheBytes int64

	// Proxies are light copies shared with whoever prepares them; nil: the
	// player reads those in CacheDir.
	Proxies *Proxies

	// FrameBytes bounds the memory of decoded frames; 0 is DefaultFrameBytes.
	FrameBytes int64
}

// DefaultCacheBytes bounds light copies on the disk: about two hours at the
// usual size.
const DefaultCacheBytes = 12 << 30

// DefaultFrameBytes is 2 s at 960x540 and 60 frames a second.
const DefaultFrameBytes = 256 << 20

// Spot is a place to be decoded ahead.
type Spot struct {
	Footage timeline.ID
	Film    time.Duration
}

// The rates a player accepts, and those at which there is sound.
const (
	MinRate, MaxRate           = 0.1, 4.0
	MinSoundRate, MaxSoundRate = 0.5, 2.0
	// everyFrame is the fastest rate at which every frame is wanted.
	everyFrame = 2.0
)

package reel

import (
	"image"
	"time"

	"whistlecut/timeline/footage"
)

// Reel is what is to be made.
type Reel struct {
	Out      string // the file to be written; an older one is replaced
	Title    string // written into the file, for players
	Sections []Section

	// Format of the pictures. What is left out is chosen: see [Reel.Format].
	Width, Height int
	Rate          footage.Rational // frames a second

	// Resume keeps finished sections after an error or a cancel, and uses those
	// of an earlier try where the wish is the same.
	Resume bool
	// Reencode encodes all frames even where they could be copied.
	Reencode bool
	// Files are films opened before, by path; others are opened.
	Files map[string]*footage.File
	// Progress may be nil. It is told by one goroutine at a time and must not
	// block for long.
	Progress func(Progress)
}

// Section is one part of a reel: exactly one of Card and Film is set.
type Section struct {
	// Chapter begins a chapter of that title; a section without one belongs to
	// the chapter before it.
	Chapter string
	Card    *Card
	Film    *Film
}

// Card is a picture shown for a while, in silence.
type Card struct {
	Image  image.Image // fitted into the reel's picture if it has another size; on black where transparent
	Length time.Duration
}

// Film is a stretch of film. Times are film times: from the first frame shown.
type Film struct {
	Path string
	// The first frame is the one shown at From, the last one the last that begins
	// before To. Ends outside the film are taken as its own.
	From, To time.Duration
	Layers   []Layer
	Speeds   []Speed  // in order; they do not overlap
	Freezes  []Freeze // in order
	Mute     bool
	// Quiet is the film time from which there is silence, after a fade of a quarter of
	// a second; 0 is never. Nothing that sounds later is heard, not even its rise.
	Quiet  time.Duration
	Beside *Beside // shown on the right half, this film on the left
}

// Layer is a picture drawn over a section, in pixels of the reel. Later ones lie
// over earlier ones.
type Layer struct {
	Image image.Image // transparent where the film shows
	X, Y  int         // of its top left corner
	// From and To are film times: it is drawn over frames shown from the one at
	// From to the last that begins before To, and while one of them is held. Both
	// 0 means the whole section.
	From, To time.Duration
	// Freeze draws it over that freeze alone, counted from 1; From and To are then
	// not used.
	Freeze int
}

// Speed is a stretch shown slower or faster. The sound keeps its pitch from half
// the speed on; slower than that it is silent.
type Speed struct {
	From, To time.Duration // film times, taken at the frames shown there
	Rate     float64       // 0.1 to 4; 0.5 is half as fast
}

// Freeze holds the frame shown at a film time for a while longer, in silence.
type Freeze struct {
	At     time.Duration // film time
	Length time.Duration // besides the frame's own
}

// Beside is a second film, shown on the right at the same speeds and held by the
// same freezes. Its sound is not heard.
type Beside struct {
	Path string
	From time.Duration // its film time at the section's beginning; before its start or behind its end a frame is held
}

// Method is how a section was made.
type Method string

const (
	Copied  Method = "copy"   // all coded frames are the film's own
	Edges   Method = "edges"  // a few frames at its ends were encoded
	Encoded Method = "encode" // all frames were encoded
)

// Result says what was made.
type Result struct {
	Out      string
	Format   Format
	Length   time.Duration
	Frames   int
	Sections []SectionResult
}

// SectionResult says what a section became.
type SectionResult struct {
	Method  Method
	Why     string        // why not copied, for sections of film
	Frames  int           // of the reel
	Start   time.Duration // in the reel
	Length  time.Duration
	Encoded int      // frames encoded
	Kept    bool     // made by an earlier try
	Notes   []string // what else is to be said, in sentences without a full stop
}

// Progress is how far the making is.
type Progress struct {
	Section  int           // that moved on, from 0; the number of sections while the reel is written
	Of       int           // sections in all
	Finished int           // sections finished or kept
	Fraction float64       // of the whole, 0..1
	Left     time.Duration // estimate; 0 while there is none
}

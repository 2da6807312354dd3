package demofilm

import (
	"fmt"
	"time"

	"whistlecut/export/demofilm/picture"
	"whistlecut/export/demofilm/sound"
	"whistlecut/timeline/simulate"
)

// Options say what the camera files of a bout are like. The zero value is
// 1280x720 at 30 frames a second with an easy sound.
type Options struct {
	// Width and Height of the picture: even, 64 to 8192; 0 is 1280x720.
	Width, Height int
	// FrameRate of the first camera as a fraction; the zero value is 30/1.
	FrameRate Fraction
	// Sound is how the bout sounds and how hard it is to hear. Start, Length, Mic,
	// Drift, Rate and Part are set by Stage; Seed 0 is the game's.
	Sound sound.Options
	// OneFile keeps the first camera in a single file of constant frame rate.
	OneFile bool
	// Second adds a camera at the end of the hall when it is not nil.
	Second *Second
	// Code draws the number of each frame into a corner; see picture.ReadCode.
	Code bool
	// Workers is how many frames are drawn at once; 0 is 2.
	Workers int
	// Progress is called about ten times a second of work, from one goroutine.
	Progress func(Progress)
}

// Second is another person's camera, started and stopped by herself.
type Second struct {
	// After is how much later than the first camera it starts, in the hall's time;
	// it may be negative down to the bout's start.
	After time.Duration
	// Drift is how much faster than the hall's clock it runs, in millionths: its
	// frames come so much closer together.
	Drift float64
	// FrameRate; the zero value is 25/1.
	FrameRate Fraction
}

// Fraction is a frame rate.
type Fraction struct {
	Num int `json:"num"`
	Den int `json:"den"`
}

// Float is the rate in frames a second.
func (f Fraction) Float() float64 { return float64(f.Num) / float64(f.Den) }

// at is the film time of frame n, rounded to a nanosecond.
func (f Fraction) at(n int) time.Duration {
	return time.Duration((int64(n)*int64(f.Den)*int64(time.Second) + int64(f.Num)/2) / int64(f.Num))
}

func (f Fraction) String() string { return fmt.Sprintf("%d/%d", f.Num, f.Den) }

// Progress is how far staging has come.
type Progress struct {
	File     string  // name of the file being made
	Index    int     // of the file, from 0
	Of       int     // number of files
	Fraction float64 // of all the work, 0..1
}

func (o Options) withDefaults(g *simulate.Game) Options {
	if o.Width == 0 && o.Height == 0 {
		o.Width, o.Height = 1280, 720
	}
	if o.FrameRate == (Fraction{}) {
		o.FrameRate = Fraction{30, 1}
	}
	if o.Sound.Seed == 0 {
		o.Sound.Seed = g.Seed
	}
	if o.Workers <= 0 {
		o.Workers = 2
	}
	if o.Second != nil {
		second := *o.Second
		if second.FrameRate == (Fraction{}) {
			second.FrameRate = Fraction{25, 1}
		}
		o.Second = &second
	}
	return o
}

func (o Options) check() error {
	if _, err := picture.NewFrame(o.Width, o.Height); err != nil {
		return err
	}
	rates := []Fraction{o.FrameRate}
	if o.Second != nil {
		rates = append(rates, o.Second.FrameRate)
		if d := o.Second.Drift; !(d >= -5000 && d <= 5000) {
			return fmt.Errorf("cannot stage a second camera that drifts by %g millionths: choose -5000 to 5000", d)
		}
	}
	for _, r := range rates {
		if r.Den <= 0 || r.Num <= 0 || r.Float() < 5 || r.Float() > 120 {
			return fmt.Errorf("cannot stage a film at %s frames a second: choose 5 to 120", r)
		}
	}
	return nil
}

package reel

import (
	"context"
	"fmt"
	"image"
	"math"
	"time"

	"whistlecut/timeline/footage"
	"whistlecut/timeline/footage/ffmpeg"
)

// Format is the form of a reel's pictures.
type Format struct {
	Width, Height int // even
	Rate          footage.Rational
}

// usual rates of frames a second, as cameras and displays have them (common
// practice: SMPTE and EBU rates).
var usual = []footage.Rational{
	{Num: 24000, Den: 1001},
	{Num: 24, Den: 1},
	{Num: 25, Den: 1},
	{Num: 30000, Den: 1001},
	{Num: 30, Den: 1},
	{Num: 48, Den: 1},
	{Num: 50, Den: 1},
	{Num: 60000, Den: 1001},
	{Num: 60, Den: 1},
}

// Format of a reel of cards alone whose size nobody gave.
var plain = Format{1920, 1080, footage.Rational{Num: 30, Den: 1}}

// Format chooses the form of the pictures: what the reel asks for, and else the
// shown size and the rate of the film that most of the length comes from, sides
// rounded up to even numbers, the rate to a usual one of at most 60 frames a
// second. Painters of cards and layers need to know it before.
func (r Reel) Format(ctx context.Context, runner *ffmpeg.Runner) (Format, error) {
	if runner == nil {
		runner = ffmpeg.Default()
	}
	if err := r.check(); err != nil {
		return Format{}, err
	}
	length := map[string]time.Duration{}
	most := ""
	for _, s := range r.Sections {
		if s.Film == nil {
			continue
		}
		p := s.Film.Path
		length[p] += s.Film.To - s.Film.From
		if most == "" || length[p] > length[most] {
			most = p
		}
	}
	f := plain
	if most != "" {
		file := r.Files[most]
		if file == nil {
			var err error
			if file, err = footage.Open(ctx, runner, most); err != nil {
				return f, err
			}
		}
		f = formatOf(file)
	} else if b := r.Sections[0].Card.Image.Bounds(); b.Dx() >= smallest && b.Dy() >= smallest {
		f.Width, f.Height = b.Dx(), b.Dy()
	}
	if r.Width > 0 {
		f.Width, f.Height = r.Width, r.Height
	}
	if r.Rate.Known() {
		f.Rate = r.Rate
	}
	f.Width, f.Height = f.Width+f.Width%2, f.Height+f.Height%2
	return f, nil
}

func formatOf(f *footage.File) Format {
	return Format{f.Info.Video.Width, f.Info.Video.Height, rateOf(f)}
}

// rateOf is the usual rate nearest to a film's: to its mean where its frames
// come evenly, else to the distance that most have.
func rateOf(f *footage.File) footage.Rational {
	x := f.Index
	rate := 0.0
	if n := x.Len(); n > 1 && !x.Variable() {
		rate = float64(n-1) / (x.Time(n-1) - x.Time(0)).Seconds()
	} else if d := x.Interval(); d > 0 {
		rate = 1 / d.Seconds()
	}
	for rate > 61 {
		rate /= 2
	}
	best := plain.Rate
	for _, u := range usual {
		if math.Abs(u.Float()-rate) < math.Abs(best.Float()-rate) {
			best = u
		}
	}
	if rate >= 5 && math.Abs(best.Float()-rate) > 0.03*rate {
		return footage.Rational{Num: int64(math.Round(rate)), Den: 1}
	}
	return best
}

// time is when frame n begins.
func (f Format) time(n int) time.Duration {
	return footage.Rational{Num: f.Rate.Den, Den: f.Rate.Num}.Duration(int64(n))
}

// Samples of sound a second of every reel.
const soundRate = 48000

// samples is the number of samples of sound before frame n.
func (f Format) samples(n int) int64 {
	return (int64(n)*f.Rate.Den*soundRate + f.Rate.Num/2) / f.Rate.Num
}

// Halves are the parts of the picture that two films beside each other get.
func (f Format) Halves() (left, right image.Rectangle) {
	w := f.Width / 4 * 2
	return image.Rect(0, 0, w, f.Height), image.Rect(w, 0, f.Width, f.Height)
}

// Whole is the whole picture.
func (f Format) Whole() image.Rectangle { return image.Rect(0, 0, f.Width, f.Height) }

// Fit is where a picture of that size goes in a part of the reel's picture: as
// large as it can be, in the middle, on even pixels.
func Fit(width, height int, in image.Rectangle) image.Rectangle {
	if width <= 0 || height <= 0 {
		return in
	}
	w, h := in.Dx(), in.Dy()
	if width*h > height*w {
		h = even(float64(w)*float64(height)/float64(width), h)
	} else if width*h < height*w {
		w = even(float64(h)*float64(width)/float64(height), w)
	}
	x, y := in.Min.X+(in.Dx()-w)/4*2, in.Min.Y+(in.Dy()-h)/4*2
	return image.Rect(x, y, x+w, y+h)
}

// even is the nearest even number, 2 to most.
func even(v float64, most int) int { return min(max(2*int(math.Round(v/2)), 2), most) }

// Bounds of what is made; they keep out mistakes and what encoders refuse.
const (
	smallest = 16
	largest  = 8192
	slowest  = 0.1
	fastest  = 4.0
	longest  = 4 * time.Hour // of a section
)

// check refuses a reel that can't be made.
func (r Reel) check() error {
	if len(r.Sections) == 0 {
		return fmt.Errorf("cannot make the reel: it has no sections")
	}
	if (r.Width != 0 || r.Height != 0) && (r.Width < smallest || r.Height < smallest || r.Width > largest || r.Height > largest) {
		return fmt.Errorf("cannot make the reel: a picture of %dx%d was asked for; sides are %d to %d", r.Width, r.Height, smallest, largest)
	}
	if r.Rate != (footage.Rational{}) && (!r.Rate.Known() || r.Rate.Float() < 1 || r.Rate.Float() > 240 || r.Rate.Num > 1e6) {
		return fmt.Errorf("cannot make the reel: %v frames a second were asked for; 1 to 240 can be had", r.Rate)
	}
	for i, s := range r.Sections {
		if err := s.check(); err != nil {
			return sectionError(i, err)
		}
	}
	return nil
}

func sectionError(i int, err error) error {
	return fmt.Errorf("cannot make part %d of the reel: %w", i+1, err)
}

func (s Section) check() error {
	switch {
	case (s.Card == nil) == (s.Film == nil):
		return fmt.Errorf("it is either a card or a film")
	case s.Card != nil && (s.Card.Image == nil || s.Card.Image.Bounds().Empty()):
		return fmt.Errorf("its card has no picture")
	case s.Card != nil && (s.Card.Length <= 0 || s.Card.Length > longest):
		return fmt.Errorf("its card is shown for %v; give it a length of up to %v", s.Card.Length, longest)
	case s.Card != nil:
		return nil
	}
	f := s.Film
	if f.To <= f.From || f.To-f.From > longest {
		return fmt.Errorf("it goes from %v to %v of the film; that has to be more than nothing and at most %v", f.From, f.To, longest)
	}
	for j, v := range f.Speeds {
		switch {
		case !(v.Rate >= slowest && v.Rate <= fastest):
			return fmt.Errorf("its speed %d is %g; %g to %g can be had", j+1, v.Rate, slowest, fastest)
		case v.To <= v.From:
			return fmt.Errorf("its speed %d ends before it begins", j+1)
		case j > 0 && v.From < f.Speeds[j-1].To:
			return fmt.Errorf("its speed %d begins before the one before it ends", j+1)
		}
	}
	for j, z := range f.Freezes {
		switch {
		case z.Length < 0 || z.Length > longest:
			return fmt.Errorf("its freeze %d lasts %v; 0 to %v can be had", j+1, z.Length, longest)
		case j > 0 && z.At < f.Freezes[j-1].At:
			return fmt.Errorf("its freeze %d lies before the one before", j+1)
		}
	}
	for j, l := range f.Layers {
		switch {
		case l.Image == nil || l.Image.Bounds().Empty():
			return fmt.Errorf("its layer %d has no picture", j+1)
		case l.Freeze < 0 || l.Freeze > len(f.Freezes):
			return fmt.Errorf("its layer %d belongs to freeze %d, and there are %d", j+1, l.Freeze, len(f.Freezes))
		}
	}
	return nil
}

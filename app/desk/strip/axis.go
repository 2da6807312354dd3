package strip

import (
	"math"
	"sort"
	"time"

	"whistlecut/timeline"
)

// Piece is one footage file as the axis lays it out.
type Piece struct {
	Footage timeline.ID
	// Film is the part of the file that belongs to the bout, in film time.
	Film timeline.TimeRange
	// Joined: the recording goes on without a gap from the piece before.
	Joined bool
	// Frames says when the file's frames appear; nil while nobody knows: a
	// thirtieth of a second each, then.
	Frames Frames
}

// Frames are the times at which a file's frames appear, in film time; a
// footage.Index is one. Values are compared, so they are pointers.
type Frames interface {
	Len() int
	Time(i int) time.Duration // of Len(): the end of the last frame
	FrameAt(film time.Duration) int
}

// steady are frames of one length, without end.
type steady time.Duration

func (s steady) Len() int                       { return 1 << 30 }
func (s steady) Time(i int) time.Duration       { return time.Duration(i) * time.Duration(s) }
func (s steady) FrameAt(film time.Duration) int { return int(film / time.Duration(s)) }

// frames are never nil.
func (p Piece) frames() Frames {
	if p.Frames != nil && p.Frames.Len() > 0 {
		return p.Frames
	}
	return steady(time.Second / 30)
}

// frame is the mean length of one frame, never 0.
func (p Piece) frame() time.Duration {
	f := p.frames()
	if s, ok := f.(steady); ok {
		return time.Duration(s)
	}
	return max(time.Microsecond, f.Time(f.Len())/time.Duration(f.Len()))
}

// frameWidth is how wide one frame gets at the deepest zoom, in pixels at scale 1.
const frameWidth = 40

// Axis carries strip time to horizontal pixels and back. Its window is the part
// of the bout that the zoomed part shows; it never leaves the bout. An Axis is
// not safe for use by several goroutines.
type Axis struct {
	pieces []Piece
	at     []float64 // strip time where each piece begins, in ns
	index  map[timeline.ID]int
	total  float64
	// The window, in ns of strip time. Fractions of a nanosecond are kept, so that
	// zooming in and out again ends where it began.
	from, span  float64
	left, width float64 // pixels
	scale       float64 // pixels per pixel at scale 1
}

// NewAxis lays the pieces end to end and shows all of them. Pieces without a
// length are left out, and so is a second piece of the same file.
func NewAxis(pieces []Piece) *Axis {
	a := &Axis{index: map[timeline.ID]int{}, width: 1, scale: 1}
	length := time.Duration(0)
	for _, p := range pieces {
		if _, twice := a.index[p.Footage]; twice || p.Film.Duration() <= 0 {
			continue
		}
		a.index[p.Footage] = len(a.pieces)
		a.pieces = append(a.pieces, p)
		length += p.Film.Duration()
	}
	gap := float64(gapLength(length))
	for i, p := range a.pieces {
		if i > 0 && !p.Joined {
			a.total += gap
		}
		a.at = append(a.at, a.total)
		a.total += float64(p.Film.Duration())
	}
	a.ShowAll()
	return a
}

// gapLength is how much strip time a gap takes: nobody knows how long the camera
// was off, so it is wide enough to be seen and no wider.
func gapLength(length time.Duration) time.Duration {
	return min(max(length/120, 500*time.Millisecond), 30*time.Second)
}

// Empty reports whether there is no film at all.
func (a *Axis) Empty() bool { return len(a.pieces) == 0 }

// Pieces are the pieces in order; the caller does not change them.
func (a *Axis) Pieces() []Piece { return a.pieces }

// Total is the strip time from the first to the last frame.
func (a *Axis) Total() time.Duration { return time.Duration(a.total) }

// Start is the strip time where a piece begins.
func (a *Axis) Start(piece int) time.Duration { return time.Duration(a.at[piece]) }

// Gaps are the gaps between pieces, in strip time.
func (a *Axis) Gaps() []timeline.TimeRange {
	var out []timeline.TimeRange
	for i := 1; i < len(a.pieces); i++ {
		end := a.at[i-1] + float64(a.pieces[i-1].Film.Duration())
		if a.at[i] > end {
			out = append(out, timeline.TimeRange{Start: time.Duration(end), End: time.Duration(a.at[i])})
		}
	}
	return out
}

// Strip is the strip time of a film time. It is not ok for a file that is not on
// the axis and for a film time outside the part that belongs to the bout.
func (a *Axis) Strip(footage timeline.ID, film time.Duration) (t time.Duration, ok bool) {
	i, ok := a.index[footage]
	if !ok {
		return 0, false
	}
	p := a.pieces[i]
	if film < p.Film.Start || film > p.Film.End {
		return 0, false
	}
	return time.Duration(a.at[i]) + film - p.Film.Start, true
}

// Film is the film time at a strip time; in a gap and beyond the ends it is the
// nearest frame's, and ok is false. Where two joined files meet it is the later one.
func (a *Axis) Film(t time.Duration) (footage timeline.ID, film time.Duration, ok bool) {
	if a.Empty() {
		return "", 0, false
	}
	i := a.pieceAt(t)
	p := a.pieces[i]
	in := t - a.Start(i)
	switch {
	case in < 0:
		return p.Footage, p.Film.Start, false
	case in <= p.Film.Duration():
		return p.Footage, p.Film.Start + in, true
	case i+1 < len(a.pieces) && a.Start(i+1)-t < t-a.Start(i)-p.Film.Duration():
		return a.pieces[i+1].Footage, a.pieces[i+1].Film.Start, false
	}
	return p.Footage, p.Film.End, false
}

// pieceAt is the last piece that begins at or before a strip time, or the first.
func (a *Axis) pieceAt(t time.Duration) int {
	i := sort.Search(len(a.at), func(i int) bool { return a.at[i] > float64(t) }) - 1
	return max(i, 0)
}

// within limits a strip time to the piece that another one lies in.
func (a *Axis) within(t, other time.Duration) time.Duration {
	i := a.pieceAt(other)
	return min(max(t, a.Start(i)), a.Start(i)+a.pieces[i].Film.Duration())
}

// X is the pixel of a strip time; the window begins at the left edge of the view.
func (a *Axis) X(t time.Duration) float64 {
	if a.span == 0 {
		return a.left
	}
	return a.left + (float64(t)-a.from)/a.span*a.width
}

// At is the strip time at a pixel, limited to the bout.
func (a *Axis) At(x float64) time.Duration {
	return time.Duration(math.Round(min(max(a.ns(x), 0), a.total)))
}

func (a *Axis) ns(x float64) float64 { return a.from + (x-a.left)/a.width*a.span }

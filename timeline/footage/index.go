package footage

import (
	"math"
	"slices"
	"sort"
	"time"
)

// Index says when every frame of a film is shown. Frames are numbered from 0 in
// the order in which they are shown. An Index is not changed after it was made
// and may be read by several goroutines.
type Index struct {
	base   Rational
	pts    []int64 // container time of each frame, ticks, rising
	decode []int32 // position of each frame in decode order, counted over all packets of the stream
	key    []bool
	end    int64 // container time at which the last frame ends, ticks
	cut    int   // frames before the first whose data is missing from the file
}

// Len is the number of frames shown.
func (x *Index) Len() int { return len(x.pts) }

// Base is the time base of [Index.PTS]: seconds a tick.
func (x *Index) Base() Rational { return x.base }

// PTS is the container time of frame i in ticks of Base, as ffmpeg reports it
// (edit lists applied).
func (x *Index) PTS(i int) int64 { return x.pts[i] }

// Ticks is the film time of frame i in ticks of Base: 0 for frame 0.
func (x *Index) Ticks(i int) int64 { return x.pts[i] - x.pts[0] }

// Time is the film time of frame i: when it appears, counted from frame 0.
// i may be Len(), which gives the end of the last frame.
func (x *Index) Time(i int) time.Duration {
	if i == len(x.pts) {
		return x.Duration()
	}
	return x.base.Duration(x.Ticks(i))
}

// Start is the container time of frame 0, from which film time counts.
func (x *Index) Start() time.Duration {
	if len(x.pts) == 0 {
		return 0
	}
	return x.base.Duration(x.pts[0])
}

// Duration is the film time at which the last frame ends.
func (x *Index) Duration() time.Duration {
	if len(x.pts) == 0 {
		return 0
	}
	return x.base.Duration(x.end - x.pts[0])
}

// IsKey says whether frame i can be decoded by itself. In a film with open
// groups of pictures, frames shown before it and stored after it need the group
// before.
func (x *Index) IsKey(i int) bool { return x.key[i] }

// DecodeOrder is the position of frame i's packet among all packets of the
// stream, counted from 0; hidden packets count, too.
func (x *Index) DecodeOrder(i int) int { return int(x.decode[i]) }

// KeyBefore is the last key frame at or before frame i, or 0 when there is none.
func (x *Index) KeyBefore(i int) int {
	for ; i > 0; i-- {
		if x.key[i] {
			return i
		}
	}
	return 0
}

// KeyAfter is the first key frame at or after frame i, or Len() when there is none.
func (x *Index) KeyAfter(i int) int {
	for ; i < len(x.key); i++ {
		if x.key[i] {
			return i
		}
	}
	return len(x.key)
}

// maxReorder is how far display order and decode order can be apart, in frames:
// the size of the decoded picture buffer (ITU-T H.264, A.3.1; H.265, A.4.2).
const maxReorder = 16

// nearKey says whether a key frame follows frame i so closely that its decode
// time may lie before the frame is shown. ffmpeg seeks by decode times and may
// then begin at that key frame, too late.
func (x *Index) nearKey(i int) bool {
	for k := i + 1; k < len(x.key) && k <= i+maxReorder; k++ {
		if x.key[k] {
			return true
		}
	}
	return false
}

// FrameAt is the number of the frame shown at a film time: the last one that
// appeared at or before it. Times before the film give 0, times after it the
// last frame. It returns -1 when there are no frames.
// FrameAt(Time(i)) is i.
func (x *Index) FrameAt(film time.Duration) int {
	i := sort.Search(len(x.pts), func(i int) bool { return x.Time(i) > film })
	if i == 0 && len(x.pts) > 0 {
		return 0
	}
	return i - 1
}

// Nearest is the number of the frame whose appearance is nearest to a film
// time, the earlier one at equal distance; -1 when there are no frames.
func (x *Index) Nearest(film time.Duration) int {
	i := x.FrameAt(film)
	if i >= 0 && i+1 < len(x.pts) && x.Time(i+1)-film < film-x.Time(i) {
		return i + 1
	}
	return i
}

// Playable is the number of frames before the first whose data is missing:
// Len() for a whole file, less when a recording or a copy broke off.
func (x *Index) Playable() int { return x.cut }

// Variable says whether the distance of frames varies by more than the rounding
// of the time base.
func (x *Index) Variable() bool {
	if len(x.pts) < 3 {
		return false
	}
	step := float64(x.pts[len(x.pts)-1]-x.pts[0]) / float64(len(x.pts)-1)
	for i := 1; i < len(x.pts); i++ {
		if d := float64(x.pts[i] - x.pts[i-1]); math.Abs(d-step) > 1+step/100 {
			return true
		}
	}
	return false
}

// Interval is the median distance of two frames; 0 for less than two frames.
func (x *Index) Interval() time.Duration {
	if len(x.pts) < 2 {
		return 0
	}
	// A sample of the film is enough and keeps this quick for long ones.
	stride := max(1, len(x.pts)/4096)
	var steps []int64
	for i := stride; i < len(x.pts); i += stride {
		steps = append(steps, x.pts[i]-x.pts[i-1])
	}
	slices.Sort(steps)
	return x.base.Duration(steps[len(steps)/2])
}

// frame is one shown frame while an index is being made.
type frame struct {
	pts    int64
	decode int32
	key    bool
}

// newIndex sorts frames by the time they are shown. end is where the last frame
// ends; when that is not after it, the last distance is taken. Frames with
// equal times stay in decode order: the decoder gives both out.
func newIndex(base Rational, frames []frame, end int64) *Index {
	if !slices.IsSortedFunc(frames, byPTS) {
		slices.SortStableFunc(frames, byPTS)
	}
	x := &Index{
		base: base, end: end, cut: len(frames),
		pts: make([]int64, len(frames)), decode: make([]int32, len(frames)), key: make([]bool, len(frames)),
	}
	for i, f := range frames {
		x.pts[i], x.decode[i], x.key[i] = f.pts, f.decode, f.key
	}
	if n := len(frames); n > 0 && x.end <= x.pts[n-1] {
		x.end = x.pts[n-1] + 1
		if n > 1 {
			x.end = x.pts[n-1] + max(1, x.pts[n-1]-x.pts[n-2])
		}
	}
	return x
}

func byPTS(a, b frame) int {
	switch {
	case a.pts < b.pts:
		return -1
	case a.pts > b.pts:
		return 1
	}
	return 0
}

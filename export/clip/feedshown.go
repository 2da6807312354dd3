package clip

import (
	"context"
	"errors"
	"fmt"
	"io"
	"math"
	"os"

	"whistlecut/timeline/footage"
	"whistlecut/timeline/footage/ffmpeg"
	"whistlecut/timeline/footage/mp4"
)

// Shown is a frame of a film and the place, in frames of a steady rate counted
// from 0, at which it begins to be shown.
type Shown struct{ Frame, At int }

// Feed is a small film to be piped into ffmpeg: just the coded frames that some
// pictures need, with times of its own. It is given as a track for each list of
// frames. Every track must pass the filter of Keep first; behind it the times are
// those of the places.
type Feed struct {
	tracks []feedTrack
	unit   int64 // ticks of one frame of the steady rate
	base   int64 // tick of place 0
	rate   footage.Rational
}

type feedTrack struct {
	source *Source
	list   []Shown
	rows   []int   // in decode order
	pts    []int64 // of each row, in ticks
}

// FeedTrack is one film of a feed and what is shown of it: frames and places
// rise.
type FeedTrack struct {
	Source *Source
	Shown  []Shown
}

// NewFeed prepares a feed at a steady rate in frames a second.
func NewFeed(rate footage.Rational, tracks ...FeedTrack) (*Feed, error) {
	if !rate.Known() || rate.Num > math.MaxUint32 {
		return nil, fmt.Errorf("%v is no rate of frames", rate)
	}
	f := &Feed{rate: rate}
	most := 0 // rows of a track
	for i, t := range tracks {
		if len(t.Shown) == 0 {
			return nil, errors.New("nothing is shown")
		}
		for j, s := range t.Shown {
			if s.Frame < 0 || s.Frame >= t.Source.playable || s.At < 0 || j > 0 && (s.Frame <= t.Shown[j-1].Frame || s.At <= t.Shown[j-1].At) {
				return nil, fmt.Errorf("frame %d at place %d of track %d is out of order or outside the film", s.Frame, s.At, i)
			}
		}
		ft := feedTrack{source: t.Source, list: t.Shown}
		fr := t.Source.frames
		from := t.Source.decodeStart(t.Shown[0].Frame)
		to := from
		for k := t.Shown[0].Frame; k <= t.Shown[len(t.Shown)-1].Frame; k++ {
			to = max(to, int(fr.samples[k]))
		}
		for row := from; row <= to; row++ {
			ft.rows = append(ft.rows, row)
		}
		most = max(most, len(ft.rows))
		f.tracks = append(f.tracks, ft)
	}
	// Frames that are only decoded lie between those shown, a tick apart: a
	// place must have more ticks than there are rows.
	k := int64(most)/rate.Den + 2
	f.unit = rate.Den * k
	if rate.Num*k > math.MaxUint32 {
		return nil, fmt.Errorf("a stretch of %d frames at %v a second is too long", most, rate)
	}
	// Decode times may be earlier by as much as there are rows, and the frames
	// before the first shown one come before place 0.
	f.base = f.unit * (2*int64(most)/f.unit + 2)
	for i := range f.tracks {
		f.tracks[i].times(f.base, f.unit)
	}
	return f, nil
}

// times gives the rows their times: those shown at their places, the others
// behind the one shown before them.
func (t *feedTrack) times(base, unit int64) {
	fr := t.source.frames
	first, last := len(fr.pts), -1
	for _, row := range t.rows {
		if k := int(fr.shown[row]); k >= 0 {
			first, last = min(first, k), max(last, k)
		}
	}
	of := make(map[int]int64, last-first+1)
	at := base - unit // of the first one, which nobody sees
	next := 0
	for k := first; k <= last; k++ {
		if next < len(t.list) && t.list[next].Frame == k {
			at = base + int64(t.list[next].At)*unit
			next++
		} else {
			at++
		}
		of[k] = at
	}
	t.pts = make([]int64, len(t.rows))
	for i, row := range t.rows {
		k := int(fr.shown[row])
		if k < 0 { // hidden by an edit list: decoded, never shown
			t.pts[i] = -1
			continue
		}
		t.pts[i] = of[k]
	}
}

// Keep is the filter that lets pass what is shown, from time 0 on.
func (f *Feed) Keep() string {
	return fmt.Sprintf("select='gte(pts,%d)*not(mod(pts,%d))',setpts=PTS-%d", f.base, f.unit, f.base)
}

// Rows is the number of coded frames that are decoded.
func (f *Feed) Rows() int {
	n := 0
	for _, t := range f.tracks {
		n += len(t.rows)
	}
	return n
}

// Run runs ffmpeg with the feed on its standard input, as -f mov -i pipe:0.
// Pictures come turned as the film says.
func (f *Feed) Run(ctx context.Context, r *ffmpeg.Runner, job ffmpeg.Job) error {
	var movie mp4.Movie
	for _, t := range f.tracks {
		file, err := os.Open(t.source.data)
		if err != nil {
			return fmt.Errorf("opening the film: %w", err)
		}
		defer file.Close()
		movie.Tracks = append(movie.Tracks, f.track(t, file))
	}
	fd := &feed{movie: movie}
	return fd.run(ctx, r, job)
}

func (f *Feed) track(t feedTrack, file io.ReaderAt) *mp4.OutTrack {
	v := t.source.video
	table := &v.Samples
	out := &mp4.OutTrack{
		Handler: "vide", Timescale: uint32(f.rate.Num * f.unit / f.rate.Den), Entries: v.Entries,
		Width: v.Width, Height: v.Height, Matrix: v.Matrix,
	}
	// A row is decoded before all that is shown after it, and once a tick at
	// least; that leaves no decode time behind its show time.
	n := len(t.rows)
	soonest := make([]int64, n)
	low := int64(math.MaxInt64)
	for i := n - 1; i >= 0; i-- {
		if t.pts[i] >= 0 {
			low = min(low, t.pts[i])
		}
		soonest[i] = low
	}
	dts := make([]int64, n)
	for i := range dts {
		dts[i] = soonest[i] - int64(n)
		if i > 0 {
			dts[i] = max(dts[i], dts[i-1]+1)
		}
	}
	start := dts[0]
	for i, row := range t.rows {
		d := int64(1)
		if i+1 < n {
			d = dts[i+1] - dts[i]
		}
		if i == 0 { // the track's first decode time is 0
			d += start
		}
		pts := t.pts[i]
		if pts < 0 {
			if pts = dts[i]; pts%f.unit == 0 {
				pts++ // no place
			}
		}
		now := dts[i]
		if i == 0 {
			now = 0
		}
		out.Samples = append(out.Samples, mp4.OutSample{
			Src: file, Offset: table.Offset[row], Size: table.Size[row], Duration: uint32(d),
			CTS: int32(pts - now), Key: table.IsKey(row), Entry: table.EntryOf(row),
		})
	}
	return out
}

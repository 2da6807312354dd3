package clip

import (
	"cmp"
	"fmt"
	"slices"
	"time"

	"whistlecut/timeline/footage"
	"whistlecut/timeline/footage/mp4"
)

// frames lists the shown frames of a picture track in display order.
type frames struct {
	scale   uint32  // units a second
	samples []int32 // frame -> row of the sample table
	shown   []int32 // row -> frame, -1 where the row is not shown
	pts     []int64 // frame -> presentation time in scale, before edits
	end     int64   // when the last frame ends
	start   int64   // presentation of pts 0 on the movie's clock, in scale
	twins   bool    // two frames have the same time
}

// placing is what an edit list of the usual kind says: nothing for a while,
// then one stretch of the media at normal speed.
type placing struct {
	delay uint64 // in the movie's timescale
	from  int64  // first shown media time, in the track's timescale
	to    int64  // end of what is shown; 0: to the end
}

// readEdits understands edit lists of the usual kind.
func readEdits(f *mp4.File, t *mp4.Track) (placing, error) {
	var p placing
	rest := t.Edits
	if len(rest) > 0 && rest[0].MediaTime == -1 {
		p.delay = rest[0].Duration
		rest = rest[1:]
	}
	switch {
	case len(rest) == 0:
		return p, nil
	case len(rest) > 1 || rest[0].Rate != 0x10000 || rest[0].MediaTime < 0:
		return p, fmt.Errorf("the edit list of its track %d has %d parts or another speed", t.ID, len(t.Edits))
	}
	p.from = rest[0].MediaTime
	if rest[0].Duration > 0 {
		p.to = p.from + int64(mp4.Rescale(rest[0].Duration, f.Timescale, t.Timescale))
	}
	return p, nil
}

// listFrames sorts the samples that an edit list shows by presentation time.
func listFrames(f *mp4.File, t *mp4.Track) (*frames, error) {
	p, err := readEdits(f, t)
	if err != nil {
		return nil, err
	}
	s := &t.Samples
	var rows []int32
	for row := range s.Len() {
		if pts := s.PTS(row); pts >= p.from && (p.to == 0 || pts < p.to) {
			rows = append(rows, int32(row))
		}
	}
	slices.SortStableFunc(rows, func(a, b int32) int { return cmp.Compare(s.PTS(int(a)), s.PTS(int(b))) })
	return newFrames(f, t, p, rows)
}

// indexedFrames takes the frames from a film's index, so that both count alike.
func indexedFrames(f *mp4.File, t *mp4.Track, x *footage.Index) (*frames, error) {
	p, err := readEdits(f, t)
	if err != nil {
		return nil, err
	}
	rows := make([]int32, x.Len())
	for k := range rows {
		rows[k] = int32(x.DecodeOrder(k))
		if rows[k] < 0 || int(rows[k]) >= t.Samples.Len() {
			return nil, fmt.Errorf("its index names frame %d in a table of %d", rows[k], t.Samples.Len())
		}
	}
	return newFrames(f, t, p, rows)
}

// newFrames lists rows, which are in display order.
func newFrames(f *mp4.File, t *mp4.Track, p placing, rows []int32) (*frames, error) {
	s := &t.Samples
	fr := &frames{scale: t.Timescale, samples: rows, shown: make([]int32, s.Len()), pts: make([]int64, len(rows))}
	if len(rows) == 0 {
		return nil, fmt.Errorf("its track %d shows no frame", t.ID)
	}
	for row := range fr.shown {
		fr.shown[row] = -1
	}
	for k, row := range rows {
		fr.pts[k] = s.PTS(int(row))
		fr.shown[row] = int32(k)
		fr.twins = fr.twins || k > 0 && fr.pts[k] <= fr.pts[k-1]
		end := fr.pts[k] + s.Duration(int(row))
		if p.to > 0 {
			end = min(end, p.to)
		}
		fr.end = max(fr.end, end)
	}
	if last := len(fr.pts) - 1; fr.end <= fr.pts[last] {
		fr.end = fr.pts[last] + 1
		if last > 0 {
			fr.end = fr.pts[last] + max(1, fr.pts[last]-fr.pts[last-1])
		}
	}
	fr.start = scaleTime(int64(p.delay), f.Timescale, t.Timescale) - p.from
	return fr, nil
}

func (f *frames) len() int { return len(f.pts) }

// endOf is when frame k stops being shown.
func (f *frames) endOf(k int) int64 {
	if k+1 < len(f.pts) {
		return f.pts[k+1]
	}
	return f.end
}

// time is the film time of frame k, from the first shown frame.
func (f *frames) time(k int) time.Duration { return units(f.pts[k]-f.pts[0], f.scale) }

// units turns a time in a timescale into a Duration, rounding to nearest.
func units(v int64, scale uint32) time.Duration {
	if v < 0 {
		return -units(-v, scale)
	}
	return time.Duration(mp4.Rescale(uint64(v), scale, uint32(time.Second)))
}

// slack is what a film time may be off by rounding and still name a frame.
const slack = 10 * time.Microsecond

// at is the frame shown at film time d; before the first frame 0, behind the
// last one the last.
func (f *frames) at(d time.Duration) int {
	k, _ := slices.BinarySearchFunc(f.pts, d+slack, func(p int64, d time.Duration) int {
		return cmp.Compare(units(p-f.pts[0], f.scale), d)
	})
	return min(max(k-1, 0), len(f.pts)-1)
}

// before is the last frame that starts before film time d.
func (f *frames) before(d time.Duration) int {
	k, _ := slices.BinarySearchFunc(f.pts, d-slack, func(p int64, d time.Duration) int {
		return cmp.Compare(units(p-f.pts[0], f.scale), d)
	})
	return min(max(k-1, 0), len(f.pts)-1)
}

// rate is the mean number of frames a second as a fraction.
func (f *frames) rate() string {
	step := max(1, (f.end-f.pts[0])/int64(len(f.pts)))
	return fmt.Sprintf("%d/%d", f.scale, step)
}

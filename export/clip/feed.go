package clip

import (
	"context"
	"io"
	"os"

	"whistlecut/timeline/footage/ffmpeg"
	"whistlecut/timeline/footage/mp4"
)

// feed is a small film holding just the rows needed to decode some stretches,
// in decode order, to be piped into ffmpeg.
type feed struct {
	movie mp4.Movie
	spans []times // what to take out of it, in the feed's times
}

// times is a stretch of presentation times, both ends included.
type times struct{ first, last int64 }

// newFeed lists the rows that the stretches of frames need: from the last key
// frame shown at or before each first frame to the last row in decode order.
// file is the film, opened for this cut alone; ffmpeg turns the picture as the
// matrix says.
func (s *Source) newFeed(file *os.File, matrix mp4.Matrix, stretches ...span) *feed {
	f, table := s.frames, &s.video.Samples
	fd := &feed{}
	t := &mp4.OutTrack{
		Handler: "vide", Timescale: f.scale, Entries: s.video.Entries,
		Width: s.video.Width, Height: s.video.Height, Matrix: matrix,
	}
	now := int64(0) // decode time in the feed
	for _, st := range stretches {
		if st.len() == 0 {
			continue
		}
		from := s.decodeStart(st.first)
		to := from
		for k := st.first; k <= st.last; k++ {
			to = max(to, int(f.samples[k]))
		}
		shift := now - table.DTS[from]
		fd.spans = append(fd.spans, times{f.pts[st.first] + shift, f.pts[st.last] + shift})
		for row := from; row <= to; row++ {
			d := max(table.Duration(row), 1)
			t.Samples = append(t.Samples, mp4.OutSample{
				Src: file, Offset: table.Offset[row], Size: table.Size[row], Duration: uint32(d),
				CTS: int32(table.PTS(row) + shift - now), Key: table.IsKey(row), Entry: table.EntryOf(row),
			})
			now += d
		}
		// The next stretch's pictures must all come later than this one's.
		gap := int64(0)
		for row := from; row <= to; row++ {
			gap = max(gap, table.PTS(row)+shift-now+1)
		}
		now += gap + int64(f.scale)
		t.Samples[len(t.Samples)-1].Duration += uint32(gap + int64(f.scale))
	}
	fd.movie.Tracks = []*mp4.OutTrack{t}
	return fd
}

// decodeStart is the last key row shown at or before frame k. Where that is not
// certain to be a clean start, decoding begins with the group before.
func (s *Source) decodeStart(k int) int {
	f, table := s.frames, &s.video.Samples
	second := false
	for row := int(f.samples[k]); row >= 0; row-- {
		if !table.IsKey(row) || table.PTS(row) > f.pts[k] {
			continue
		}
		if second || s.intra {
			return row
		}
		if s.codec != nil {
			if ok, _, err := s.seam(row); ok && err == nil {
				return row
			}
		}
		second = true
	}
	return 0
}

// run runs ffmpeg with the feed on its standard input.
func (fd *feed) run(ctx context.Context, r *ffmpeg.Runner, job ffmpeg.Job) error {
	pr, pw := io.Pipe()
	done := make(chan struct{})
	go func() {
		defer close(done)
		_, err := fd.movie.WriteTo(pw)
		pw.CloseWithError(err)
	}()
	job.Stdin = pr
	err := r.Run(ctx, job)
	pr.Close() // frees the writer if ffmpeg ended before reading all
	<-done
	return err
}

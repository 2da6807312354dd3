package clip

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"sync"
	"time"

	"whistlecut/timeline/footage/ffmpeg"
	"whistlecut/timeline/footage/mp4"
)

// codec is what joining depends on.
type codec interface {
	name() string
	lengthSize() int
	// seam says whether a copy can start with a sample of these NAL units.
	seam(units [][]byte) (ok bool, why string)
	unjoinable() string
	deep() bool
	encoder() []string
	join(src mp4.SampleEntry, sets paramSets) (entries []mp4.SampleEntry, coded, copied int, err error)
	alone(sets paramSets) (kind, box string, config []byte, err error)
	endOfSequence() []byte
	// parameterSets are repeated where the copy starts.
	parameterSets() [][]byte
}

// Source is a film opened for cutting. Its methods may be called from several
// goroutines at once.
type Source struct {
	Path string // as given to Open

	runner *ffmpeg.Runner
	data   string // the MP4 that is read: Path, or a rewrapped copy
	temp   bool   // data is ours to remove
	note   string // said with every clip
	film   *mp4.File
	video  *mp4.Track
	frames *frames
	codec  codec  // nil: neither H.264 nor HEVC
	intra  bool   // every frame is a key frame
	whole  string // why nothing can be copied, "" if it can

	mu      sync.Mutex
	seams   map[int]seamAnswer
	checked bool   // the seam was compared with the film
	seamBad string // and differed
}

type seamAnswer struct {
	ok  bool
	why string
}

// Options are for Open.
type Options struct {
	// WorkDir is where films that are not plain MP4 or MOV files are rewrapped
	// to; it needs room for one film. "" means the system's temporary folder.
	WorkDir string
}

// Open opens a film for cutting. Films that are not plain MP4 or MOV files
// (transport streams, Matroska, fragmented MP4) are rewrapped into a temporary
// file first, without encoding; Close removes it.
func Open(ctx context.Context, runner *ffmpeg.Runner, path string, o Options) (*Source, error) {
	s := &Source{Path: path, runner: runner, data: path, seams: map[int]seamAnswer{}}
	film, err := mp4.Open(path)
	var bad *mp4.Error
	switch {
	case err == nil && !film.Fragmented && film.Video() != nil:
	case err == nil && film.Fragmented:
		film, err = s.rewrap(ctx, o, "it is a fragmented MP4")
	case err == nil:
		film, err = s.rewrap(ctx, o, "its picture track has no plain table")
	case errors.As(err, &bad) && bad.Kind != mp4.Truncated:
		film, err = s.rewrap(ctx, o, "it is not a plain MP4")
	}
	if err == nil {
		err = s.use(film)
	}
	if err != nil {
		s.Close()
		var child *ffmpeg.Error
		if errors.As(err, &child) {
			return nil, err
		}
		return nil, fmt.Errorf("cannot cut clips from %s: %w", filepath.Base(path), err)
	}
	return s, nil
}

// Close removes what Open made.
func (s *Source) Close() error {
	if s.temp {
		s.temp = false
		return os.Remove(s.data)
	}
	return nil
}

// rewrap copies picture and sound into a MOV file.
func (s *Source) rewrap(ctx context.Context, o Options, why string) (*mp4.File, error) {
	f, err := os.CreateTemp(o.WorkDir, "whistlecut-rewrap-*.mov")
	if err != nil {
		return nil, fmt.Errorf("making room for a rewrapped copy: %w", err)
	}
	s.data, s.temp = f.Name(), true
	if err := f.Close(); err != nil {
		return nil, err
	}
	s.note = why + ": rewrapped"
	args := append([]string{"-y"}, ffmpeg.Input(s.Path)...)
	args = append(args, "-map", "0:v:0", "-map", "0:a?", "-c", "copy", "-f", "mov", ffmpeg.Local(s.data))
	if err := s.runner.Run(ctx, ffmpeg.Job{Args: args, Doing: "rewrap", Subject: s.Path}); err != nil {
		return nil, err
	}
	return mp4.Open(s.data)
}

// use looks at the tracks.
func (s *Source) use(film *mp4.File) error {
	s.film, s.video = film, film.Video()
	if s.video == nil || len(s.video.Entries) == 0 {
		return errors.New("it has no picture")
	}
	var err error
	if s.frames, err = listFrames(film, s.video); err != nil {
		return err
	}
	s.intra = s.video.Samples.Key == nil
	e := s.video.Entries[0]
	switch e.Type {
	case "avc1", "avc2", "avc3", "avc4":
		c, err := newAVC(e)
		if err != nil {
			s.whole = err.Error()
			break
		}
		s.codec = c
	case "hvc1", "hev1", "dvh1", "dvhe":
		c, err := newHEVC(e)
		if err != nil {
			s.whole = err.Error()
			break
		}
		s.codec = c
	}
	return nil
}

// Frames is the number of frames shown.
func (s *Source) Frames() int { return s.frames.len() }

// Time is the film time at which frame k starts, k from 0 to Frames()-1.
func (s *Source) Time(k int) time.Duration { return s.frames.time(k) }

// End is the film time at which frame k ends.
func (s *Source) End(k int) time.Duration {
	return units(s.frames.endOf(k)-s.frames.pts[0], s.frames.scale)
}

// FrameAt is the frame shown at a film time: frame 0 before the start, the last
// frame behind the end.
func (s *Source) FrameAt(t time.Duration) int { return s.frames.at(t) }

// Window gives the frames shown from one film time to another: the one shown
// at from, and the last one that starts before to.
func (s *Source) Window(from, to time.Duration) (first, last int) {
	first = s.frames.at(from)
	return first, max(first, s.frames.before(to))
}

// Size is the picture as shown, in pixels, the turn of its matrix applied.
func (s *Source) Size() (width, height int) {
	e := s.video.Entries[0]
	if deg, _ := s.video.Matrix.Rotation(); deg == 90 || deg == 270 {
		return e.Height, e.Width
	}
	return e.Width, e.Height
}

// seam says whether a copy can start at a key row.
func (s *Source) seam(row int) (ok bool, why string, err error) {
	if s.codec == nil {
		return true, "", nil
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	if a, ok := s.seams[row]; ok {
		return a.ok, a.why, nil
	}
	f, err := os.Open(s.data)
	if err != nil {
		return false, "", fmt.Errorf("opening the film: %w", err)
	}
	defer f.Close()
	sample, err := s.read(f, row)
	if err != nil {
		return false, "", err
	}
	var a seamAnswer
	if list, err := nals(sample, s.codec.lengthSize()); err != nil {
		a.why = err.Error()
	} else {
		a.ok, a.why = s.codec.seam(list)
	}
	s.seams[row] = a
	return a.ok, a.why, nil
}

// read reads the bytes of a row.
func (s *Source) read(f *os.File, row int) ([]byte, error) {
	t := &s.video.Samples
	b := make([]byte, t.Size[row])
	if _, err := f.ReadAt(b, t.Offset[row]); err != nil {
		return nil, fmt.Errorf("reading frame %d of the film: %w; the file may be cut off, copy it from the camera again", s.frames.shown[row], err)
	}
	return b, nil
}

func (s *Source) badSeam() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.seamBad
}

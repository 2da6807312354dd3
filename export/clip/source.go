package clip

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"sync"
	"time"

	"whistlecut/timeline/footage"
	"whistlecut/timeline/footage/ffmpeg"
	"whistlecut/timeline/footage/mp4"
)

// codec is what joining depends on.
type codec interface {
	name() string
	lengthSize() int
	// seam says whether a copy can start with a sample of these NAL units.
	// resets is true if it also ends whatever was before.
	seam(units [][]byte) (ok, resets bool, why string)
	unjoinable() string
	deep() bool
	// encoder gives ffmpeg's arguments to encode so many frames; rate in
	// frames a second, as a fraction.
	encoder(rate string, frames int) []string
	newSplice(key [][]byte, heads int, last [][][]byte) *splice
	join(src mp4.SampleEntry, sets paramSets, sp *splice) (entries []mp4.SampleEntry, coded, copied int, err error)
	alone(sets paramSets) (kind, box string, config []byte, err error)
	endOfSequence() []byte
	// parameterSets are repeated where the copy starts.
	parameterSets() [][]byte
}

// Source is a film opened for cutting. Its methods may be called from several
// goroutines at once.
type Source struct {
	Path string // as given to Open

	runner   *ffmpeg.Runner
	file     *footage.File // of Path
	data     string        // the MP4 that is read: Path, or a rewrapped copy
	temp     string        // folder of the rewrapped copy, "" if there is none
	note     string        // said with every clip
	film     *mp4.File
	video    *mp4.Track
	frames   *frames
	playable int    // frames before the first whose data is missing
	codec    codec  // nil: neither H.264 nor HEVC
	intra    bool   // every frame is a key frame
	whole    string // why nothing can be copied, "" if it can

	mu      sync.Mutex
	seams   map[int]seamAnswer
	checked bool   // the seam was compared with the film
	seamBad string // and differed
}

type seamAnswer struct {
	ok, resets bool
	why        string
}

// Options are for Open.
type Options struct {
	// File is the film as opened before, to save opening it again; may be nil.
	File *footage.File
	// WorkDir is where films that are not plain MP4 or MOV files are rewrapped
	// to; it needs room for one film. "" means the system's temporary folder.
	WorkDir string
}

// Open opens a film for cutting. Films that are not plain MP4 or MOV files
// (transport streams, Matroska, fragmented MP4) are rewrapped into a temporary
// file first, without encoding; Close removes it. A nil runner means
// ffmpeg.Default().
func Open(ctx context.Context, runner *ffmpeg.Runner, path string, o Options) (*Source, error) {
	if runner == nil {
		runner = ffmpeg.Default()
	}
	s := &Source{Path: path, runner: runner, data: path, seams: map[int]seamAnswer{}, file: o.File}
	err := s.open(ctx, o)
	if err == nil {
		return s, nil
	}
	s.Close()
	var child *ffmpeg.Error
	var film *footage.Error
	if errors.As(err, &child) || errors.As(err, &film) {
		return nil, err // already a sentence
	}
	return nil, fmt.Errorf("cannot cut clips from %s: %w", filepath.Base(path), err)
}

func (s *Source) open(ctx context.Context, o Options) (err error) {
	if s.file == nil {
		if s.file, err = footage.Open(ctx, s.runner, s.Path); err != nil {
			return err
		}
	}
	index, picture := s.file.Index, s.file.Info.Video
	film, err := mp4.Open(s.Path)
	if why := needsRewrap(film, err); why != "" {
		copied, x, err := s.rewrap(ctx, o, why)
		if err != nil {
			return err
		}
		if x.Len() != index.Len() {
			return fmt.Errorf("rewrapping it changed the number of frames from %d to %d; convert it to MP4 with another program first", index.Len(), x.Len())
		}
		index, picture = x, copied.Video
		if film, err = mp4.Open(s.data); err != nil {
			return err
		}
	} else if err != nil {
		return err
	}
	return s.use(film, picture.ID, index)
}

// needsRewrap says why a film can't be read as it is, "" if it can or if
// rewrapping would not help.
func needsRewrap(film *mp4.File, err error) string {
	var bad *mp4.Error
	switch {
	case errors.As(err, &bad):
		return "it is not a plain MP4"
	case err != nil:
		return ""
	case film.Fragmented:
		return "it is a fragmented MP4"
	case film.Video() == nil || film.Video().Samples.Unit > 0:
		return "its picture track has no plain table"
	}
	return ""
}

// Close removes what Open made.
func (s *Source) Close() error {
	if s.temp == "" {
		return nil
	}
	dir := s.temp
	s.temp = ""
	return os.RemoveAll(dir)
}

// rewrap copies picture and sound into an MP4.
func (s *Source) rewrap(ctx context.Context, o Options, why string) (footage.Info, *footage.Index, error) {
	dir, err := os.MkdirTemp(o.WorkDir, rewrapPrefix+"*")
	if err != nil {
		return footage.Info{}, nil, fmt.Errorf("making room for a rewrapped copy: %w", err)
	}
	s.temp, s.data, s.note = dir, filepath.Join(dir, "film.mp4"), why+": rewrapped"
	if err := footage.Rewrap(ctx, s.runner, s.Path, s.file.Info, s.data, footage.RewrapOptions{}); err != nil {
		return footage.Info{}, nil, err
	}
	info, err := footage.Probe(ctx, s.runner, s.data)
	if err != nil {
		return footage.Info{}, nil, err
	}
	x, err := footage.ReadIndex(ctx, s.runner, s.data, info)
	return info, x, err
}

// use looks at the tracks; the picture is the track of that ID.
func (s *Source) use(film *mp4.File, picture int, index *footage.Index) error {
	s.film, s.video, s.playable = film, film.Video(), index.Playable()
	for _, t := range film.Tracks {
		if t.Handler == "vide" && int(t.ID) == picture {
			s.video = t
		}
	}
	if s.video == nil || len(s.video.Entries) == 0 {
		return errors.New("it has no picture")
	}
	var err error
	if s.frames, err = indexedFrames(film, s.video, index); err != nil {
		return err
	}
	s.intra = s.video.Samples.Key == nil
	if s.frames.twins {
		s.whole = "two of its frames have the same time"
	}
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

// Frames is the number of frames shown, without those whose data is missing
// from a file that broke off.
func (s *Source) Frames() int { return s.playable }

// File is the film as opened.
func (s *Source) File() *footage.File { return s.file }

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
		a.ok, a.resets, a.why = s.codec.seam(list)
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

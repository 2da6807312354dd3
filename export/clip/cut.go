package clip

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"time"

	"whistlecut/timeline/footage/ffmpeg"
	"whistlecut/timeline/footage/mp4"
)

// Request is one clip to be cut.
type Request struct {
	// First and Last are the first and the last frame to be shown, counted
	// from 0 in display order, both included. Frames beyond the film's ends are
	// taken as the nearest inside, and Result says so.
	First, Last int
	Out         string // the file to be written; an older one is replaced
	Title       string // written into the file, for players
	Overlays    []Overlay
	Progress    func(fraction float64) // 0..1; may be nil; called from one goroutine
	Reencode    bool                   // encode all frames even where they could be copied
	// Part makes the picture alone, as a part that can be joined with others of
	// the same Coding; it can if it was not encoded as a whole.
	Part bool
}

// Result says what a clip holds and how it was made.
type Result struct {
	Out                 string
	FirstFrame          int
	LastFrame           int
	FirstTime, LastTime time.Duration // film times at which these frames start
	End                 time.Duration // film time at which the last frame ends
	Method              Method
	Why                 string   // why not copied
	Encoded             int      // frames encoded
	Clamped             bool     // the window reached beyond the film
	Silent              bool     // the film has sound, and none in this window
	Dropped             []string // tracks left out, such as telemetry
	Note                string   // anything else to be said about the film
}

// Cut writes one clip. The file appears under its name when it is whole;
// after an error or a cancel nothing is left behind.
func (s *Source) Cut(ctx context.Context, q Request) (Result, error) {
	r, err := s.cut(ctx, q)
	if err != nil {
		return Result{}, s.explain(q, err)
	}
	return r, nil
}

func (s *Source) cut(ctx context.Context, q Request) (Result, error) {
	if q.Last < q.First {
		return Result{}, fmt.Errorf("its last frame %d lies before its first frame %d", q.Last, q.First)
	}
	top := s.playable - 1
	if q.First > top || q.Last < 0 {
		return Result{}, fmt.Errorf("frames %d to %d lie outside the film, which has frames 0 to %d", q.First, q.Last, top)
	}
	first, last := max(q.First, 0), min(q.Last, top)
	r := Result{
		Out: q.Out, FirstFrame: first, LastFrame: last, Clamped: first != q.First || last != q.Last,
		FirstTime: s.Time(first), LastTime: s.Time(last), End: s.End(last),
		Dropped: s.dropped(), Note: s.note,
	}
	if same, err := sameFile(q.Out, s.Path); err != nil || same {
		return r, errors.Join(err, errors.New("the clip would replace the film"))
	}
	p, err := s.makePlan(first, last)
	if err != nil {
		return r, err
	}
	if len(q.Overlays) > 0 || q.Reencode {
		why := "a caption is drawn"
		if len(q.Overlays) == 0 {
			why = "asked for"
		}
		p = plan{method: Reencoded, why: why, head: span{first, last}, tail: span{0, -1}, key: -1}
	}
	if p.method == Edges {
		bad, err := s.attempt(ctx, q, p, first, last, &r)
		if err != nil || bad == "" {
			return r, err
		}
		p = plan{method: Reencoded, why: bad, head: span{first, last}, tail: span{0, -1}, key: -1}
	}
	bad, err := s.attempt(ctx, q, p, first, last, &r)
	if err == nil && bad != "" {
		err = errors.New(bad)
	}
	return r, err
}

// attempt makes the clip by a plan. bad says why the result can't be used
// although nothing failed.
func (s *Source) attempt(ctx context.Context, q Request, p plan, first, last int, r *Result) (bad string, err error) {
	r.Method, r.Why, r.Encoded = p.method, p.why, p.head.len()+p.tail.len()
	file, err := os.Open(s.data)
	if err != nil {
		return "", fmt.Errorf("opening the film: %w", err)
	}
	defer file.Close()
	err = whole(q.Out, func(temp *os.File) error {
		e, done, err := s.encode(ctx, q, p, file, temp.Name())
		defer done()
		if err != nil {
			if p.method == Edges && ctx.Err() == nil && !fatal(err) {
				bad = "joining failed: " + err.Error()
				return errBadClip
			}
			return err
		}
		m, err := s.assemble(p, e, file, first, last, len(q.Overlays) > 0)
		if err != nil {
			if p.method == Edges && !fatal(err) {
				bad = "joining failed: " + err.Error()
				return errBadClip
			}
			return err
		}
		m.Title = q.Title
		m.Check = ctx.Err
		if q.Part {
			m.Tracks = m.Tracks[:1]
		}
		r.Silent = len(m.Tracks) == 1 && s.film.Audio() != nil
		if _, err := m.WriteTo(temp); err != nil {
			return err
		}
		if bad = s.check(temp.Name(), p, first, last); bad != "" {
			return errBadClip
		}
		if p.method == Edges {
			if bad, err = s.checkSeam(ctx, temp.Name(), p, first); err != nil {
				return err
			} else if bad != "" {
				return errBadClip
			}
		}
		return ctx.Err()
	})
	if errors.Is(err, errBadClip) {
		return bad, nil
	}
	if err == nil && q.Progress != nil {
		q.Progress(1)
	}
	return "", err
}

var errBadClip = errors.New("the clip is not what it should be")

// fatal errors would meet another attempt, too.
func fatal(err error) bool {
	var child *ffmpeg.Error
	if errors.As(err, &child) {
		return child.Kind == ffmpeg.NotInstalled || child.Kind == ffmpeg.NoSpace || child.Kind == ffmpeg.Cancelled
	}
	var bad *mp4.Error
	return errors.As(err, &bad) || errors.Is(err, syscall.ENOSPC)
}

// encode makes the head and the tail of a plan. done frees what it made.
func (s *Source) encode(ctx context.Context, q Request, p plan, file *os.File, temp string) (e encoded, done func(), err error) {
	done = func() {}
	want := p.head.len() + p.tail.len()
	if want == 0 {
		return e, done, nil
	}
	dir := ""
	var out *os.File
	done = func() {
		if out != nil {
			out.Close()
		}
		if dir != "" {
			_ = os.RemoveAll(dir) // best effort: it is a temporary folder
		}
	}
	// The encoder's frames lie beside the clip until it is written.
	if dir, err = os.MkdirTemp(filepath.Dir(temp), tempPrefix(q.Out)+"*"); err != nil {
		return e, done, err
	}
	if out, err = os.Create(filepath.Join(dir, "frames")); err != nil {
		return e, done, err
	}
	layers, err := saveLayers(dir, q.Overlays, p.head.first, p.head.last)
	if err != nil {
		return e, done, err
	}
	matrix := mp4.Identity
	if len(layers) > 0 {
		matrix = s.video.Matrix // drawn upright
	}
	sp := &spool{out: out, lengthSize: 4}
	encoder := append([]string{"-pix_fmt", "yuv420p"}, x264Args("", max(want, edgeFrames+1))...)
	even, deep := true, false
	if s.codec != nil {
		encoder, even, deep = s.codec.encoder(s.frames.rate(), want), false, s.codec.deep()
		if c, ok := s.codec.(*avc); ok && q.Part {
			encoder = c.partEncoder(want, "")
		}
		sp.hevc = s.codec.name() == "HEVC"
		if p.key >= 0 {
			sp.lengthSize = s.codec.lengthSize()
			if sp.splice, err = s.splice(file, p); err != nil {
				return e, done, err
			}
			if sp.splice != nil {
				sp.splice.part = q.Part
			}
		}
	}
	if q.Progress != nil {
		sp.frame = func(n int) { q.Progress(0.98 * float64(n) / float64(want)) }
	}
	for _, run := range s.runs(p) {
		fd := s.newFeed(file, matrix, run...)
		heads, tails := run[0].len(), 0
		if len(run) > 1 {
			tails = run[1].len()
		}
		job := ffmpeg.Job{
			Args:   encodeArgs(fd, heads, tails, encoder, filterArgs(fd, layers, even, deep)),
			Stdout: sp, Doing: "encode a clip of", Subject: s.Path,
		}
		if err := fd.run(ctx, s.runner, job); err != nil {
			if sp.err != nil {
				err = sp.err
			}
			return e, done, err
		}
		if err := sp.finish(); err != nil {
			return e, done, err
		}
	}
	if len(sp.units) != want {
		return e, done, fmt.Errorf("the encoder gave %d frames instead of %d", len(sp.units), want)
	}
	if end := s.endOfHead(p); end != nil {
		n := len(appendNAL(nil, end, sp.lengthSize))
		// The head's last frame is followed by the end of its sequence; where
		// a tail follows, its frames lie behind it and are moved.
		if err := insertAfter(out, sp, p.head.len()-1, appendNAL(nil, end, sp.lengthSize), n); err != nil {
			return e, done, err
		}
	}
	return encoded{src: out, units: sp.units, sets: sp.sets, splice: sp.splice}, done, nil
}

// followed is how many of the last copied samples are looked at to go on behind
// them: more than are ever decoded between two reference pictures.
const followed = 20

// splice prepares rewriting the encoded parts for a plan; nil if the coding
// needs none or does not allow it.
func (s *Source) splice(file *os.File, p plan) (*splice, error) {
	split := func(row int) ([][]byte, error) {
		sample, err := s.read(file, row)
		if err != nil {
			return nil, err
		}
		return nals(sample, s.codec.lengthSize())
	}
	key, err := split(p.key)
	if err != nil {
		return nil, err
	}
	var last [][][]byte
	if p.tail.len() > 0 {
		for _, row := range p.rows[max(0, len(p.rows)-followed):] {
			units, err := split(row)
			if err != nil {
				return nil, err
			}
			last = append(last, units)
		}
	}
	return s.codec.newSplice(key, p.head.len(), last), nil
}

// runs says which stretches one ffmpeg encodes together. A start in the middle
// of a feed must reset the decoder, which not every key frame does.
func (s *Source) runs(p plan) [][]span {
	switch {
	case p.tail.len() == 0:
		return [][]span{{p.head}}
	case p.head.len() == 0:
		return [][]span{{p.tail}}
	case s.resets(s.decodeStart(p.tail.first)):
		return [][]span{{p.head, p.tail}}
	}
	return [][]span{{p.head}, {p.tail}}
}

// resets says whether a key row starts all anew: an instantaneous refresh.
func (s *Source) resets(row int) bool {
	if s.codec == nil || !s.video.Samples.IsKey(row) {
		return false
	}
	_, _, err := s.seam(row)
	s.mu.Lock()
	defer s.mu.Unlock()
	return err == nil && s.seams[row].resets
}

// endOfHead is what the encoded head must end with. A clean random access point
// needs it to know that the pictures before it are gone; where the copy starts
// with an instantaneous refresh nothing is needed, and ffmpeg would drop
// pictures not yet shown.
func (s *Source) endOfHead(p plan) []byte {
	if s.codec == nil || p.key < 0 || p.head.len() == 0 || s.resets(p.key) {
		return nil
	}
	return s.codec.endOfSequence()
}

// insertAfter rewrites frame i with more bytes at its end, behind all others.
func insertAfter(out *os.File, sp *spool, i int, more []byte, n int) error {
	u := &sp.units[i]
	b := make([]byte, u.size, int(u.size)+n)
	if _, err := out.ReadAt(b, u.offset); err != nil {
		return err
	}
	b = append(b, more...)
	if _, err := out.WriteAt(b, sp.at); err != nil {
		return err
	}
	u.offset, u.size = sp.at, uint32(len(b))
	sp.at += int64(len(b))
	return nil
}

// explain makes one sentence of an error.
func (s *Source) explain(q Request, err error) error {
	var child *ffmpeg.Error
	switch {
	case errors.As(err, &child):
		return err // already a sentence
	case errors.Is(err, syscall.ENOSPC):
		return fmt.Errorf("cannot cut %s from %s: the disk is full; free some space or choose another folder (%w)", filepath.Base(q.Out), filepath.Base(s.Path), err)
	case errors.Is(err, context.Canceled):
		return fmt.Errorf("cutting %s was stopped: %w", filepath.Base(q.Out), err)
	}
	return fmt.Errorf("cannot cut %s from %s: %w", filepath.Base(q.Out), filepath.Base(s.Path), err)
}

func sameFile(a, b string) (bool, error) {
	x, err := os.Stat(a)
	if err != nil {
		if strings.TrimSpace(a) == "" {
			return false, errors.New("the clip has no name")
		}
		return false, nil //nolint:nilerr // it does not exist yet
	}
	y, err := os.Stat(b)
	return err == nil && os.SameFile(x, y), nil
}

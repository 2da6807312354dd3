package reel

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"syscall"

	"whistlecut/export/clip"
	"whistlecut/timeline/footage"
	"whistlecut/timeline/footage/ffmpeg"
)

// workers is how many sections are made at once. One child's decoder, filters
// and encoder fill two cores by themselves: measured there, a second child beside
// it made a reel take 1.3 times what one graph of ffmpeg takes, alone it is 1.1.
const workers = 1

// Make makes the reel. The file appears under its name when it is whole. After
// an error or a cancel nothing is left behind but, where Resume is set, the work
// folder with the finished sections ([WorkFolder]). Two reels of one name must
// not be made at once. A nil runner means ffmpeg.Default().
func (r Reel) Make(ctx context.Context, runner *ffmpeg.Runner) (Result, error) {
	if runner == nil {
		runner = ffmpeg.Default()
	}
	res, err := r.run(ctx, runner)
	if err != nil {
		return Result{}, r.explain(err)
	}
	return res, nil
}

func (r Reel) run(ctx context.Context, runner *ffmpeg.Runner) (res Result, err error) {
	if err := r.check(); err != nil {
		return res, err
	}
	if strings.TrimSpace(r.Out) == "" {
		return res, errors.New("cannot make the reel: it has no name")
	}
	dir, err := openFolder(r.Out, r.Resume)
	if err != nil {
		return res, err
	}
	m := &making{Reel: r, runner: runner, dir: dir, sources: map[string]*clip.Source{}}
	defer func() {
		m.close()
		dir.close(err != nil && r.Resume)
	}()
	if err := m.open(ctx); err != nil {
		return res, err
	}
	if m.form, err = m.Format(ctx, runner); err != nil {
		return res, err
	}
	err = m.all(ctx)
	if errors.Is(err, errMixed) && !m.Reencode {
		m.Reencode = true // then all is coded alike
		err = m.all(ctx)
	}
	if err != nil {
		return res, err
	}
	return m.result(), nil
}

// all makes the sections and from them the reel.
func (m *making) all(ctx context.Context) error {
	if err := m.plan(); err != nil {
		return err
	}
	if err := m.sections(ctx); err != nil {
		return err
	}
	return m.write(ctx)
}

// making is a reel being made.
type making struct {
	Reel
	runner  *ffmpeg.Runner
	dir     folder
	form    Format
	base    *clip.Source // whose coding the reel takes over, nil for none
	look    look
	sources map[string]*clip.Source
	jobs    []*job
	meter   meter
}

// job is a section with all that was decided about it.
type job struct {
	at     int
	wish   Section
	source *clip.Source // nil for a card
	beside *clip.Source
	course *course // nil for a card
	frames int
	start  int // frame of the reel at which it begins
	notes  []string
	coding string // of the film, where it can be copied
	why    string // why a section of film is not copied
	name   string
	made   made
	kept   bool
	ahead  *soundBatch // its sound, if it is decoded with others'
}

func (m *making) close() {
	for _, s := range m.sources {
		_ = s.Close() // temporary copies only
	}
}

// open opens every film once, so that one that is missing is said before any
// work.
func (m *making) open(ctx context.Context) error {
	files := map[string]*footage.File{}
	for i, s := range m.Sections {
		if s.Film == nil {
			continue
		}
		paths := []string{s.Film.Path}
		if s.Film.Beside != nil {
			paths = append(paths, s.Film.Beside.Path)
		}
		for _, p := range paths {
			if m.sources[p] != nil {
				continue
			}
			if same, err := sameFile(m.Out, p); err != nil || same {
				return sectionError(i, errors.Join(err, errors.New("the reel would replace its film")))
			}
			src, err := clip.Open(ctx, m.runner, p, clip.Options{File: m.Files[p], WorkDir: m.dir.dir})
			if err != nil {
				return sectionError(i, err)
			}
			m.sources[p], files[p] = src, src.File()
		}
	}
	m.Files = files
	return nil
}

func sameFile(a, b string) (bool, error) {
	x, err := os.Stat(a)
	if err != nil {
		return false, nil //nolint:nilerr // it does not exist yet
	}
	y, err := os.Stat(b)
	return err == nil && os.SameFile(x, y), nil
}

// plan lays out all sections.
func (m *making) plan() error {
	m.jobs, m.base = nil, nil
	start := 0
	for i, s := range m.Sections {
		j := &job{at: i, wish: s, start: start}
		if s.Card != nil {
			j.frames = max(1, int(s.Card.Length.Seconds()*m.form.Rate.Float()+0.5))
		} else if err := m.planFilm(j); err != nil {
			return sectionError(i, err)
		}
		start += j.frames
		m.jobs = append(m.jobs, j)
	}
	if err := m.chooseCoding(); err != nil {
		return err
	}
	names := map[string]int{}
	for _, j := range m.jobs {
		// The same section twice in a reel: each has files of its own.
		name := m.wish(j).name()
		names[name]++
		j.name = fmt.Sprintf("%s-%d", name, names[name])
	}
	m.meter.begin(m.Progress, m.jobs)
	return nil
}

func (m *making) planFilm(j *job) error {
	f := j.wish.Film
	j.source = m.sources[f.Path]
	file := j.source.File()
	var err error
	if j.course, err = newCourse(j.source, f, m.form, file.Index.Interval()); err != nil {
		return err
	}
	j.frames = j.course.frames
	if f.Beside != nil {
		j.beside = m.sources[f.Beside.Path]
	}
	note := func(format string, args ...any) { j.notes = append(j.notes, fmt.Sprintf(format, args...)) }
	if j.course.clamped {
		note("it reaches beyond the film")
	}
	switch {
	case f.Mute:
	case !file.Info.HasSound():
		note("the film has no sound")
	default:
		for _, l := range j.course.legs {
			if l.rate > 0 && l.rate < slowestHeard {
				note("at %g of its speed it is silent", l.rate)
			}
		}
	}
	if file.Info.Video.HDR || j.beside != nil && j.beside.File().Info.Video.HDR {
		note("its high dynamic range is shown as it is coded, so it may look pale")
	}
	return nil
}

// sections makes them in order.
func (m *making) sections(ctx context.Context) error {
	ctx, cancel := context.WithCancelCause(ctx)
	next := make(chan *job)
	var wg, sound sync.WaitGroup
	m.soundsAhead(ctx, &sound)
	defer sound.Wait()
	defer cancel(nil)
	for range workers {
		wg.Go(func() {
			for j := range next {
				if err := m.section(ctx, j); err != nil {
					cancel(sectionError(j.at, err))
				}
			}
		})
	}
feeding:
	for _, j := range m.jobs {
		select {
		case next <- j:
		case <-ctx.Done():
			break feeding
		}
	}
	close(next)
	wg.Wait()
	return context.Cause(ctx)
}

// section makes one section, or takes it from an earlier try.
func (m *making) section(ctx context.Context, j *job) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	if !j.kept { // it may have been made since, for one that is like it
		j.made, j.kept = m.dir.kept(j.name, m.form, j.frames)
	}
	if j.kept {
		m.meter.finished(j)
		return nil
	}
	var err error
	done := false
	if m.base != nil && j.course != nil && j.why == "" {
		if j.made, done, err = m.cut(ctx, j); err != nil {
			return err
		}
	}
	if !done {
		if j.made, err = m.encode(ctx, j); err != nil {
			return err
		}
	}
	if err := m.sound(ctx, j); err != nil {
		return err
	}
	j.made.Frames = j.frames
	if err := m.dir.finish(j.name, j.made); err != nil {
		return err
	}
	m.meter.finished(j)
	return nil
}

// sound makes a section's sound.
func (m *making) sound(ctx context.Context, j *job) error {
	var file *footage.File
	if j.source != nil {
		file = j.source.File()
	}
	c := j.course
	if c == nil {
		c = &course{frames: j.frames}
	}
	return writeSound(m.dir.sound(j.name), m.form, file, j.wish.Film, c, func(leg int) (io.ReadCloser, error) {
		return m.legReader(ctx, j, leg)
	})
}

func (m *making) wish(j *job) wish {
	w := wish{Version: encoderVersion, Format: m.form, Frames: j.frames}
	if m.base != nil {
		w.Coding, _ = m.base.Coding()
		w.Copy = j.course != nil && j.why == ""
	}
	if j.course == nil {
		w.Card = hashImage(j.wish.Card.Image)
		return w
	}
	f := j.wish.Film
	w.Film, w.First, w.Last, w.Mute, w.Quiet = j.source.File().Fingerprint, j.course.first, j.course.last, f.Mute, f.Quiet
	if j.beside != nil {
		w.Beside, w.Shift = j.beside.File().Fingerprint, int64(f.Beside.From)
	}
	for _, l := range j.course.legs {
		w.Legs = append(w.Legs, [5]float64{float64(l.from), float64(l.to), l.rate, float64(l.a), float64(l.b)})
	}
	for _, l := range f.Layers {
		from, to, ok := j.course.drawn(j.source, l)
		if ok {
			w.Layers = append(w.Layers, fmt.Sprintf("%s at %d,%d over %d-%d", hashImage(l.Image), l.X, l.Y, from, to))
		}
	}
	return w
}

func (m *making) result() Result {
	res := Result{Out: m.Out, Format: m.form}
	for _, j := range m.jobs {
		res.Sections = append(res.Sections, SectionResult{
			Method: j.made.Method, Why: j.made.Why, Frames: j.frames, Encoded: j.made.Encoded, Kept: j.kept,
			Start: m.form.time(j.start), Length: m.form.time(j.start+j.frames) - m.form.time(j.start),
			Notes: slices.Concat(j.notes, j.made.Notes),
		})
		res.Frames += j.frames
	}
	res.Length = m.form.time(res.Frames)
	return res
}

// explain makes one sentence of an error.
func (r Reel) explain(err error) error {
	var child *ffmpeg.Error
	switch {
	case errors.Is(err, context.Canceled):
		return fmt.Errorf("making %s was stopped: %w", filepath.Base(r.Out), err)
	case errors.As(err, &child) && child.Kind == ffmpeg.NoSpace, errors.Is(err, syscall.ENOSPC):
		return fmt.Errorf("cannot make %s: the disk is full; free some space or choose another folder (%w)", filepath.Base(r.Out), err)
	case strings.HasPrefix(err.Error(), "cannot make "):
		return err
	}
	return fmt.Errorf("cannot make %s: %w", filepath.Base(r.Out), err)
}

package clip

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"time"

	"whistlecut/timeline/footage/ffmpeg"
)

// DefaultWorkers is how many clips are made at once: measured on two cores, two
// fill them and more gain nothing.
const DefaultWorkers = 2

// Batch is a list of moments to be cut into clips.
type Batch struct {
	Moments  []Moment
	Margins  Margins
	Dir      string // where the clips go; made if it is missing
	Name     string // template for names, see Name; "" means DefaultName
	Captions bool   // draw a caption bar into each clip
	Reencode bool   // encode all clips as a whole
	Files    Files  // films opened before; others are opened
	Workers  int    // 0 means DefaultWorkers
	Progress func(Progress)
}

// Progress is how far a batch is. It is told by one goroutine at a time.
type Progress struct {
	Clip     int     // number of the clip that moved on, from 0
	Of       int     // clips in all
	Name     string  // of that clip's file
	Done     float64 // of that clip, 0..1
	Finished int     // clips finished or kept
	Fraction float64 // of the whole batch by length of film, 0..1
}

// Clip is one clip of a batch.
type Clip struct {
	Window Window
	Result Result
	Kept   bool  // it was there already from an earlier run
	Err    error // why it could not be made; Result is empty then
}

// Run makes the clips of a batch. A clip that lies there already, made by the
// same request, is kept; so a batch that was stopped goes on where it was when
// it is run again. Files that no batch made are never replaced. After a cancel
// the finished clips stay, and of the others nothing is left. The error joins
// those of single clips; the list of clips is complete even then.
func (b Batch) Run(ctx context.Context, runner *ffmpeg.Runner) ([]Clip, error) {
	if runner == nil {
		runner = ffmpeg.Default()
	}
	if b.Name == "" {
		b.Name = DefaultName
	}
	if b.Workers <= 0 {
		b.Workers = DefaultWorkers
	}
	windows := Windows(b.Moments, b.Margins)
	if len(windows) == 0 {
		return nil, errors.New("cannot cut clips: no moments were given")
	}
	if err := os.MkdirAll(b.Dir, 0o777); err != nil {
		return nil, fmt.Errorf("cannot make the folder for the clips: %w", err)
	}
	sweepRewraps(b.Dir)
	run := &batchRun{Batch: b, clips: make([]Clip, len(windows)), jobs: make([]*job, len(windows)), done: make([]float64, len(windows))}
	for i, w := range windows {
		run.clips[i].Window = w
	}
	defer run.close()
	run.open(ctx, runner)
	if err := run.plan(); err != nil {
		return run.clips, err
	}
	run.work(ctx)
	var errs []error
	for _, c := range run.clips {
		if c.Err != nil {
			errs = append(errs, c.Err)
		}
	}
	if ctx.Err() != nil {
		return run.clips, fmt.Errorf("cutting was stopped after %d of %d clips: %w", run.finished, len(windows), ctx.Err())
	}
	return run.clips, errors.Join(errs...)
}

type batchRun struct {
	Batch
	clips   []Clip
	jobs    []*job // nil where the film could not be opened
	sources []*Source
	byPath  map[string]*Source
	broken  map[string]error

	mu       sync.Mutex
	done     []float64
	finished int
}

type job struct {
	source      *Source
	first, last int
	out         string
	side        Sidecar
	clamped     bool // the window reaches beyond the film
}

func (r *batchRun) close() {
	for _, s := range r.sources {
		_ = s.Close() // temporary copies only
	}
}

// open opens every film once.
func (r *batchRun) open(ctx context.Context, runner *ffmpeg.Runner) {
	r.byPath, r.broken = map[string]*Source{}, map[string]error{}
	for _, c := range r.clips {
		path := c.Window.Footage
		if r.byPath[path] != nil || r.broken[path] != nil {
			continue
		}
		s, err := Open(ctx, runner, path, Options{File: r.Files[path], WorkDir: r.Dir})
		if err != nil {
			r.broken[path] = err
			continue
		}
		r.sources = append(r.sources, s)
		r.byPath[path] = s
	}
}

// plan chooses frames and names.
func (r *batchRun) plan() error {
	taken := map[string]bool{}
	for i := range r.clips {
		c := &r.clips[i]
		w := c.Window
		s := r.byPath[w.Footage]
		if s == nil {
			c.Err = r.broken[w.Footage]
			continue
		}
		if w.To <= 0 || w.From >= s.End(s.Frames()-1) {
			c.Err = fmt.Errorf("cannot cut clip %d: %s to %s lies outside %s, which ends at %s", i+1, clock(w.From), clock(w.To), filepath.Base(w.Footage), clock(s.End(s.Frames()-1)))
			continue
		}
		first, last := s.Window(w.From, w.To)
		name, err := Name(r.Name, w, i+1, len(r.clips))
		if err != nil {
			return err
		}
		// A file that is not ours keeps its name.
		name = unique(name, func(s string) bool {
			return taken[strings.ToLower(s)] || !ours(filepath.Join(r.Dir, s+".mp4"))
		})
		taken[strings.ToLower(name)] = true
		r.jobs[i] = &job{source: s, first: first, last: last, out: filepath.Join(r.Dir, name+".mp4"), side: newSidecar(s, w, first, last, name+".mp4", &r.Batch)}
		r.jobs[i].clamped = w.From < 0 || w.To > s.End(s.Frames()-1)
	}
	return nil
}

func (r *batchRun) work(ctx context.Context) {
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	next := make(chan int)
	var wg sync.WaitGroup
	for range r.Workers {
		wg.Go(func() {
			for i := range next {
				if err := r.make(ctx, i); err != nil {
					r.clips[i].Err = err
					if hopeless(err) {
						cancel()
					}
				}
			}
		})
	}
feeding:
	for i, j := range r.jobs {
		if j == nil {
			r.tell(i, 1, true)
			continue
		}
		select {
		case next <- i:
		case <-ctx.Done():
			break feeding
		}
	}
	close(next)
	wg.Wait()
	for i := range r.clips {
		if c := &r.clips[i]; c.Err == nil && c.Result.Out == "" {
			c.Err = fmt.Errorf("clip %d was not started", i+1)
			if err := ctx.Err(); err != nil {
				c.Err = fmt.Errorf("clip %d was not started: %w", i+1, err)
			}
		}
	}
}

// hopeless errors meet every other clip, too.
func hopeless(err error) bool {
	var child *ffmpeg.Error
	if errors.As(err, &child) && (child.Kind == ffmpeg.NoSpace || child.Kind == ffmpeg.NotInstalled) {
		return true
	}
	return errors.Is(err, syscall.ENOSPC)
}

// make makes one clip.
func (r *batchRun) make(ctx context.Context, i int) error {
	j, c := r.jobs[i], &r.clips[i]
	side, ok := kept(j.out, j.side.Request)
	if ok {
		c.Result, c.Kept = side.result(j.out), true
		r.tell(i, 1, true)
		return nil
	}
	if side.Format != "" && side.Size == 0 {
		sweep(j.out)
	}
	// The sidecar comes first, without a size: whatever lies there after a
	// crash is known to be ours and unfinished.
	if err := j.side.write(j.out); err != nil {
		return fmt.Errorf("cannot cut %s: %w", filepath.Base(j.out), err)
	}
	q := Request{
		First: j.first, Last: j.last, Out: j.out, Title: j.side.Clip[:len(j.side.Clip)-len(".mp4")],
		Reencode: r.Reencode, Progress: func(f float64) { r.tell(i, f, false) },
	}
	if r.Captions {
		q.Overlays = captions(j, c.Window, r.Margins)
	}
	res, err := j.source.Cut(ctx, q)
	if err != nil {
		_ = os.Remove(SidecarPath(j.out)) // best effort: the error already says what failed
		return err
	}
	side, err = j.side.finished(res)
	if err == nil {
		err = side.write(j.out)
	}
	if err != nil {
		return fmt.Errorf("cannot describe %s: %w", filepath.Base(j.out), err)
	}
	res.Clamped = res.Clamped || j.clamped
	c.Result = res
	r.tell(i, 1, true)
	return nil
}

// tell reports progress.
func (r *batchRun) tell(i int, done float64, finished bool) {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.done[i] = max(r.done[i], done)
	if finished {
		r.finished++
	}
	if r.Progress == nil {
		return
	}
	var all, got float64
	for k, c := range r.clips {
		length := (c.Window.To - c.Window.From).Seconds()
		all += length
		got += length * r.done[k]
	}
	p := Progress{Clip: i, Of: len(r.clips), Done: r.done[i], Finished: r.finished}
	if all > 0 {
		p.Fraction = got / all
	}
	if r.jobs[i] != nil {
		p.Name = filepath.Base(r.jobs[i].out)
	}
	r.Progress(p)
}

// clock shows a film time for people.
func clock(d time.Duration) string {
	sign := ""
	if d < 0 {
		sign, d = "-", -d
	}
	return fmt.Sprintf("%s%d:%02d:%06.3f", sign, int(d.Hours()), int(d.Minutes())%60, (d % time.Minute).Seconds())
}

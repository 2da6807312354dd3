package ffmpeg

import (
	"context"
	"io"
	"os"
	"sync"
	"time"
)

// Environment variables that name the binaries; PATH is searched without them.
const (
	EnvFFmpeg  = "WHISTLECUT_FFMPEG"
	EnvFFprobe = "WHISTLECUT_FFPROBE"
)

// DefaultParallel is how many jobs [Runner.Run] lets work at once. Measured on
// two cores: two jobs fill them, more gain nothing.
const DefaultParallel = 2

// DefaultGrace is the time an interrupted child has to end before it is killed.
// ffmpeg takes about 0.2 s to close its output.
const DefaultGrace = 3 * time.Second

// Runner starts ffmpeg and ffprobe. The zero value works and looks the
// binaries up as [Default] does. A Runner may be used by several goroutines at
// once; set its fields before the first use.
type Runner struct {
	FFmpeg   string        // binary; "" means WHISTLECUT_FFMPEG, then PATH
	FFprobe  string        // binary; "" means WHISTLECUT_FFPROBE, then PATH
	Parallel int           // jobs of Run at once; 0 means DefaultParallel
	Grace    time.Duration // between interrupt and kill; 0 means DefaultGrace

	slotsOnce sync.Once
	slots     chan struct{}
}

var defaultRunner Runner

// Default returns the Runner shared by the program, so that the limit of
// parallel jobs counts for all of it.
func Default() *Runner { return &defaultRunner }

// Job is one run of ffmpeg.
type Job struct {
	// Args are ffmpeg's arguments as a person would type them, without the
	// program's name and without -nostdin, -hide_banner, -progress and
	// -stats_period, which the Runner adds.
	Args []string

	// Doing and Subject are used in errors: "cannot <Doing> <Subject>: ...".
	// Doing is a verb phrase such as "cut clip 3 from"; Subject is a file.
	// Without them the error says "cannot run ffmpeg".
	Doing, Subject string

	// Total is the length of the output, so that progress has a fraction.
	// Zero means unknown.
	Total time.Duration

	// Progress is called from one goroutine of the Runner, about three times
	// a second, with the length of output written so far and done/Total in
	// 0..1, or -1 when Total is zero. Stream copies report almost nothing
	// until the end. It must not block for long: ffmpeg waits for it.
	Progress func(done time.Duration, fraction float64)

	Stdin  io.Reader // nil: none, and ffmpeg is told so
	Stdout io.Writer // nil: not used by the job

	// Log receives ffmpeg's log (stderr) as it comes, besides the tail kept
	// for errors. LogLevel is ffmpeg's -loglevel; "" means "error".
	Log      io.Writer
	LogLevel string
}

// Run runs ffmpeg to its end and returns nil only when it exited with 0. When
// ctx ends first, ffmpeg is interrupted, and the error says so (errors.Is with
// context.Canceled or context.DeadlineExceeded); whatever the job wrote under
// its own name is then unfinished, so give outputs by [Runner.WriteFile].
// Run waits for a free slot of the Runner's parallel jobs.
func (r *Runner) Run(ctx context.Context, job Job) error {
	release, err := r.slot(ctx)
	if err != nil {
		return newCancelled(job.Doing, job.Subject, err)
	}
	defer release()
	c, err := r.child(ctx, job)
	if err != nil {
		return err
	}
	return c.run()
}

// Output runs ffmpeg and returns what it wrote to its standard output. It is
// meant for small outputs and, like Start, takes no slot of the parallel jobs.
func (r *Runner) Output(ctx context.Context, job Job) ([]byte, error) {
	var buf limitedBuffer
	job.Stdout = &buf
	c, err := r.child(ctx, job)
	if err != nil {
		return nil, err
	}
	if err := c.run(); err != nil {
		return nil, err
	}
	if buf.over {
		return nil, newError(Failed, job.Doing, job.Subject, "it answered with more than "+maxOutputText+", which is not expected here", nil)
	}
	return buf.Bytes(), nil
}

// slot waits for one of the parallel jobs to be free.
func (r *Runner) slot(ctx context.Context) (release func(), err error) {
	r.slotsOnce.Do(func() {
		n := r.Parallel
		if n <= 0 {
			n = DefaultParallel
		}
		r.slots = make(chan struct{}, n)
	})
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	select {
	case r.slots <- struct{}{}:
		return func() { <-r.slots }, nil
	case <-ctx.Done():
		return nil, ctx.Err()
	}
}

func (r *Runner) grace() time.Duration {
	if r.Grace > 0 {
		return r.Grace
	}
	return DefaultGrace
}

// Path returns the ffmpeg binary that would be started.
func (r *Runner) Path() (string, error) {
	return locate("ffmpeg", r.FFmpeg, os.Getenv(EnvFFmpeg), EnvFFmpeg)
}

// ProbePath returns the ffprobe binary that would be started.
func (r *Runner) ProbePath() (string, error) {
	return locate("ffprobe", r.FFprobe, os.Getenv(EnvFFprobe), EnvFFprobe)
}

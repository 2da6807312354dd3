package bench

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"

	"whistlecut/app"
	"whistlecut/timeline/footage/ffmpeg"
)

// DeskOptions say how the start of the window is measured.
type DeskOptions struct {
	Program string // the program's file, started as "PROGRAM desk BOUT"
	// Ready is the environment variable that names the file in which the program
	// writes when it has painted the first frame, in nanoseconds since 1970.
	Ready   string
	Bout    string        // "" stages a small one
	Runs    int           // 0 means 5
	Limit   time.Duration // for one start; 0 means two minutes
	Display string        // where windows are shown; "" starts a virtual screen
	Runner  *ffmpeg.Runner
}

// DeskReport is how long each start took, from starting the process to the
// first frame of the film on the window.
type DeskReport struct {
	Virtual bool // on a virtual screen, whose painting is done by the processor
	Starts  []time.Duration
}

// Median is the middle of the starts.
func (r DeskReport) Median() time.Duration {
	if len(r.Starts) == 0 {
		return 0
	}
	s := slices.Clone(r.Starts)
	slices.Sort(s)
	return s[len(s)/2]
}

// ErrNoScreen says that there is nowhere to show a window.
var ErrNoScreen = errors.New("the start of the window was not measured: there is no display, and Xvfb is not installed")

// Desk starts the program on a bout several times, each time with settings and
// cache as on its first day, and prints how long it took to the first frame.
func Desk(ctx context.Context, out io.Writer, o DeskOptions) (DeskReport, error) {
	if o.Runs <= 0 {
		o.Runs = 5
	}
	if o.Limit <= 0 {
		o.Limit = 2 * time.Minute
	}
	if o.Runner == nil {
		o.Runner = ffmpeg.Default()
	}
	var rep DeskReport
	dir, done, err := workFolder("", "whistlecut-desk-*")
	if err != nil {
		return rep, err
	}
	defer done()
	if o.Display == "" {
		display, stop, err := VirtualScreen(ctx, o.Runner)
		if err != nil {
			return rep, err
		}
		defer stop()
		o.Display, rep.Virtual = display, true
	}
	if o.Bout == "" {
		fmt.Fprintln(out, "Filming a small bout ...")
		a := app.New("bench")
		a.Runner = o.Runner
		staged, err := a.Stage(ctx, app.StageOptions{Dir: filepath.Join(dir, "bout"), Seed: 1, Jams: 1, Periods: 1, Mistakes: 1})
		if err != nil {
			return rep, err
		}
		o.Bout = staged.Bout
	}
	for n := range o.Runs {
		took, err := deskStart(ctx, o, filepath.Join(dir, strconv.Itoa(n)))
		if err != nil {
			return rep, fmt.Errorf("start %d of the window: %w", n+1, err)
		}
		rep.Starts = append(rep.Starts, took)
	}
	where := "display " + o.Display
	if rep.Virtual {
		where = "a virtual screen, painted by the processor"
	}
	fmt.Fprintf(out, "Start to the first frame of the film on the window, on %s:", where)
	for _, s := range rep.Starts {
		fmt.Fprintf(out, " %.2f", s.Seconds())
	}
	fmt.Fprintf(out, " s; median %.2f s.\n", rep.Median().Seconds())
	return rep, nil
}

// deskStart is one start. The window is closed in order after it.
func deskStart(ctx context.Context, o DeskOptions, dir string) (time.Duration, error) {
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return 0, err
	}
	set := filepath.Join(dir, "settings.json")
	// No tour, and no work in the background that a second start would find done.
	if err := os.WriteFile(set, []byte(`{"tour_seen": true, "language": "en", "proxy_bytes": -1}`), 0o600); err != nil {
		return 0, err
	}
	ready := filepath.Join(dir, "ready")
	undo, err := setEnvironment(map[string]string{
		o.Ready: ready, "DISPLAY": o.Display, "WHISTLECUT_SETTINGS": set, "XDG_CACHE_HOME": filepath.Join(dir, "cache"),
	})
	if err != nil {
		return 0, err
	}
	defer undo()
	own, cancel := context.WithTimeout(ctx, o.Limit)
	defer cancel()
	ended := make(chan error, 1)
	start := time.Now()
	go func() { ended <- o.Runner.Tool(own, o.Program, []string{"desk", o.Bout}, nil, nil) }()
	for {
		at, err := readReady(ready)
		if err == nil {
			cancel()
			<-ended // the interrupt closes the window; that it was interrupted is no failure
			return at.Sub(start), nil
		}
		select {
		case err := <-ended:
			switch {
			case ctx.Err() != nil:
				return 0, ctx.Err()
			case own.Err() != nil:
				return 0, fmt.Errorf("no frame was shown within %v", o.Limit)
			case err == nil:
				err = errors.New("it was closed before a frame was shown")
			}
			return 0, err
		case <-time.After(10 * time.Millisecond):
		}
	}
}

// readReady reads the time the program wrote; half-written it is no time yet.
func readReady(path string) (time.Time, error) {
	data, err := os.ReadFile(path)
	if err != nil {
		return time.Time{}, err
	}
	n, err := strconv.ParseInt(strings.TrimSpace(string(data)), 10, 64)
	if err != nil || len(data) < 19 {
		return time.Time{}, errors.New("not written yet")
	}
	return time.Unix(0, n), nil
}

// setEnvironment sets variables for the programs started from now on; undo puts
// back what was.
func setEnvironment(vars map[string]string) (undo func(), err error) {
	type was struct {
		value string
		set   bool
	}
	before := map[string]was{}
	undo = func() {
		for k, w := range before {
			if w.set {
				_ = os.Setenv(k, w.value) // it held it before
			} else {
				_ = os.Unsetenv(k)
			}
		}
	}
	for k, v := range vars {
		old, ok := os.LookupEnv(k)
		before[k] = was{old, ok}
		if err := os.Setenv(k, v); err != nil {
			undo()
			return func() {}, err
		}
	}
	return undo, nil
}

// VirtualScreen starts Xvfb on a free display; stop ends it. It returns ErrNoScreen
// where there is no Xvfb.
func VirtualScreen(ctx context.Context, r *ffmpeg.Runner) (display string, stop func(), err error) {
	if !ffmpeg.HasTool("Xvfb") {
		return "", nil, ErrNoScreen
	}
	own, cancel := context.WithCancel(ctx)
	read, write := io.Pipe()
	ended := make(chan error, 1)
	go func() {
		err := r.Tool(own, "Xvfb", []string{"-displayfd", "1", "-screen", "0", "1280x720x24", "-nolisten", "tcp"}, nil, write)
		write.CloseWithError(io.EOF)
		ended <- err
	}()
	line, err := bufio.NewReader(read).ReadString('\n')
	if err != nil {
		cancel()
		if e := <-ended; e != nil {
			err = e
		}
		return "", nil, fmt.Errorf("the virtual screen did not start: %w", err)
	}
	go func() { _, _ = io.Copy(io.Discard, read) }() // it says nothing more
	return ":" + strings.TrimSpace(line), func() { cancel(); <-ended }, nil
}

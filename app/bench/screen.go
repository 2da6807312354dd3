package bench

import (
	"context"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"sync"
	"time"

	"whistlecut/app/play"
	"whistlecut/timeline"
	"whistlecut/timeline/footage"
	"whistlecut/timeline/footage/ffmpeg"
)

// ScreenOptions are for Screen.
type ScreenOptions struct {
	Runner *ffmpeg.Runner // nil: ffmpeg.Default()
	Dir    string         // where films are made; "": a temporary folder, removed
	Seed   uint64
	Short  bool // small films, few tries

	// Window paints the frames; nil measures up to where they are handed over.
	// WindowName says what kind of window it is.
	Window     Window
	WindowName string
}

// Window shows frames and tells, from any goroutine, which one was just painted.
type Window interface {
	Show(play.Shown)
	OnPainted(func(play.Shown))
}

// ScreenRow is what was measured on one film. Times are from the request to
// the right frame being painted or, without a window, being handed over.
type ScreenRow struct {
	Name        string
	FPS         int
	Source      Spread // seeks answered by a decoder
	Bare        Spread // the same seeks by ffmpeg alone
	Light       Spread // seeks answered by light copies
	Forward     Spread // steps over decoded frames
	Back        Spread
	Jump        Spread // to the next or previous place of those decoded ahead
	Played      int    // frames shown at normal speed
	Dropped     int
	Late        int
	Painted     int // frames that the window painted meanwhile; 0 without a window
	Wrong       int // frames that were not the one asked for, by the number drawn in them
	Memory      int64
	Children    int64
	LightSpeed  float64 // film time prepared a second
	LightBytes  float64 // bytes of light copies a second of film
	PlayedShare float64 // processor cores used while playing, children included
}

// ScreenReport is the result of Screen.
type ScreenReport struct {
	Rows []ScreenRow
	Took time.Duration
}

// Exact says whether no wrong frame was shown.
func (r ScreenReport) Exact() bool {
	return len(r.Rows) > 0 && !slices.ContainsFunc(r.Rows, func(row ScreenRow) bool { return row.Wrong > 0 })
}

// Spread are the median and the 95th percentile of some times.
type Spread struct {
	N        int
	P50, P95 time.Duration
}

func spreadOf(list []time.Duration) Spread {
	if len(list) == 0 {
		return Spread{}
	}
	slices.Sort(list)
	return Spread{len(list), list[(len(list)-1)/2], list[(len(list)-1)*95/100]}
}

// screenPlan is the size of the measurement.
type screenPlan struct {
	w, h                int
	seconds             float64 // painted
	loops               int     // times it is repeated
	seeks, steps, light int
	jumps               int
	prepared, play      time.Duration
}

func (o ScreenOptions) plan() screenPlan {
	if o.Short {
		return screenPlan{w: 640, h: 360, seconds: 12, loops: 2, seeks: 4, steps: 10, light: 8, jumps: 2, prepared: 20 * time.Second, play: 3 * time.Second}
	}
	return screenPlan{w: 1920, h: 1080, seconds: 20, loops: 180, seeks: 12, steps: 40, light: 40, jumps: 10, prepared: 20 * time.Second, play: 15 * time.Second}
}

// bitrate is that of a camera: 15 Mb/s at 1080p.
func (p screenPlan) bitrate() string { return fmt.Sprint(15_000_000 * p.w * p.h / (1920 * 1080)) }

// Screen measures how quickly frames come to the screen, on film with long
// groups of pictures at 30 and at 60 frames a second, beside ffmpeg doing the
// same in the same run, and prints it.
func Screen(ctx context.Context, out io.Writer, o ScreenOptions) (ScreenReport, error) {
	began := time.Now()
	if o.Runner == nil {
		o.Runner = ffmpeg.Default()
	}
	dir, done, err := workFolder(o.Dir, "whistlecut-screen-*")
	if err != nil {
		return ScreenReport{}, err
	}
	defer done()
	o.Dir = dir
	var report ScreenReport
	if o.Window != nil {
		fmt.Fprintf(out, "Painted by %s.\n", o.WindowName)
	}
	for _, fps := range []int{30, 60} {
		row, err := screenFilm(ctx, out, o, fps)
		if err != nil {
			return report, err
		}
		report.Rows = append(report.Rows, row)
	}
	report.Took = time.Since(began)
	fmt.Fprintf(out, "\n%s.\n", report.Took.Round(time.Second))
	return report, nil
}

// screenFilm makes one film, of about an hour, and measures on it.
func screenFilm(ctx context.Context, out io.Writer, o ScreenOptions, fps int) (ScreenRow, error) {
	p := o.plan()
	if fps == 60 {
		p.loops /= 2 // as many frames
	}
	row := ScreenRow{Name: fmt.Sprintf("%dx%d, %d frames a second, a key frame every 250", p.w, p.h, fps), FPS: fps}
	path := filepath.Join(o.Dir, fmt.Sprintf("screen%d.mp4", fps))
	if err := screenSource(ctx, o.Runner, path, p, fps); err != nil {
		return row, err
	}
	defer os.Remove(path)
	file, err := footage.Open(ctx, o.Runner, path)
	if err != nil {
		return row, err
	}
	fmt.Fprintf(out, "\n%s, %.0f min, %d MB\n", row.Name, file.Index.Duration().Minutes(), file.Info.Size>>20)
	m := &screenMeter{ctx: ctx, o: o, p: p, file: file, painted: int(p.seconds * float64(fps)), r: rand.New(rand.NewPCG(o.Seed, uint64(fps)))}
	m.proxies = play.NewProxies(o.Runner, filepath.Join(o.Dir, "cache"), 0)
	defer m.proxies.Close()
	defer m.proxies.Delete()
	m.out = out
	what := "from the request to the right frame, unpainted"
	if o.Window != nil {
		what = "from the request to the right frame, painted"
	}
	fmt.Fprintf(out, screenLine, what, "median", "95 %", "aim on an idle machine")
	err = m.run(&row)
	fmt.Fprintf(out, "  %-44s %d\n", "wrong frames", row.Wrong)
	return row, err
}

// screenSource paints a film with long groups of pictures and repeats it by
// copying.
func screenSource(ctx context.Context, r *ffmpeg.Runner, path string, p screenPlan, fps int) error {
	once := path + ".once.mp4"
	defer os.Remove(once)
	err := r.Run(ctx, ffmpeg.Job{
		Args: []string{
			"-y", "-f", "rawvideo", "-pix_fmt", "yuv420p", "-s", fmt.Sprintf("%dx%d", p.w, p.h), "-r", fmt.Sprint(fps), "-i", "pipe:0",
			"-f", "lavfi", "-i", fmt.Sprintf("sine=f=440:r=48000:d=%f", p.seconds), "-vf", "noise=c0s=12:c0f=t",
			"-c:v", "libx264", "-preset", "superfast", "-bf", "2", "-b:v", p.bitrate(), "-maxrate", p.bitrate(), "-bufsize", p.bitrate(), "-g", "250", "-keyint_min", "250",
			"-sc_threshold", "0", "-c:a", "aac", "-b:a", "128k", once,
		},
		Stdin: newPainter(p.w, p.h, int(p.seconds*float64(fps))), Doing: "make the film", Subject: path,
	})
	if err != nil {
		return err
	}
	return r.Run(ctx, ffmpeg.Job{
		Args:  []string{"-y", "-stream_loop", fmt.Sprint(p.loops - 1), "-i", once, "-c", "copy", path},
		Doing: "make the film", Subject: path,
	})
}

const screenID = timeline.ID("film")

// screenMeter measures on one film.
type screenMeter struct {
	ctx     context.Context
	o       ScreenOptions
	p       screenPlan
	file    *footage.File
	painted int // frames after which the numbers in the pictures begin anew
	r       *rand.Rand
	proxies *play.Proxies
	player  *play.Player
	out     io.Writer

	mu     sync.Mutex
	news   chan struct{}
	last   play.Shown
	wrong  int
	arrive int // frames that arrived
}

func (m *screenMeter) run(row *ScreenRow) error {
	m.news = make(chan struct{}, 1)
	if m.o.Window != nil {
		m.o.Window.OnPainted(m.arrived)
		defer m.o.Window.OnPainted(func(play.Shown) {})
	}
	// Seeks are measured with hardly any room for decoded frames, so that none
	// of them is answered from memory.
	const little = 1 << 20
	for _, part := range []struct {
		room    int64
		measure []func(*ScreenRow) error
	}{
		{little, []func(*ScreenRow) error{m.seeks}},
		{0, []func(*ScreenRow) error{m.steps, m.jumps, m.play}},
		{little, []func(*ScreenRow) error{m.light}},
	} {
		if err := m.with(part.room, row, part.measure); err != nil {
			return err
		}
	}
	m.mu.Lock()
	row.Wrong = m.wrong
	m.mu.Unlock()
	return nil
}

// with measures with a player of its own.
func (m *screenMeter) with(room int64, row *ScreenRow, measure []func(*ScreenRow) error) error {
	m.mu.Lock()
	m.last = play.Shown{Index: -1}
	m.mu.Unlock()
	m.player = play.New(play.Options{Runner: m.o.Runner, OnShown: m.shown, Proxies: m.proxies, FrameBytes: room})
	defer m.player.Close()
	m.player.Load([]play.Film{{ID: screenID, Path: m.file.Path}})
	if err := m.wait(0); err != nil {
		return err
	}
	for _, f := range measure {
		if err := f(row); err != nil {
			return err
		}
	}
	return nil
}

// shown reads the number in each picture. The code is drawn for full size, so
// blocks shrink with the picture.
func (m *screenMeter) shown(s play.Shown) {
	wrong := false
	if s.Image != nil {
		n, ok := readSmallCode(s.Image, m.p.w)
		wrong = !ok || n != s.Index%m.painted
	}
	m.mu.Lock()
	if wrong {
		m.wrong++
	}
	m.mu.Unlock()
	if m.o.Window != nil {
		m.o.Window.Show(s)
		return
	}
	m.arrived(s)
}

// arrived notes the frame that a person sees now.
func (m *screenMeter) arrived(s play.Shown) {
	m.mu.Lock()
	if s.Index != m.last.Index {
		m.arrive++
	}
	m.last = s
	m.mu.Unlock()
	select {
	case m.news <- struct{}{}:
	default:
	}
}

// screenPatience bounds waiting for a frame that never comes.
const screenPatience = time.Minute

// wait waits for a frame.
func (m *screenMeter) wait(index int) error {
	return m.until(func(s play.Shown) bool { return s.Index == index && s.Image != nil }, fmt.Sprintf("frame %d", index))
}

func (m *screenMeter) until(ok func(play.Shown) bool, what string) error {
	expired := time.After(screenPatience)
	for {
		m.mu.Lock()
		s := m.last
		m.mu.Unlock()
		if ok(s) {
			return nil
		}
		select {
		case <-m.news:
		case <-expired:
			return fmt.Errorf("%s did not come within %v: frame %d, %s, %s", what, screenPatience, s.Index, s.State, s.Note)
		case <-m.ctx.Done():
			return m.ctx.Err()
		}
	}
}

func (m *screenMeter) timed(do func(), index int) (time.Duration, error) {
	start := time.Now()
	do()
	err := m.wait(index)
	return time.Since(start), err
}

// rest gives the player time to decode neighbours or, at a seek, to finish.
func (m *screenMeter) rest(d time.Duration) error {
	select {
	case <-time.After(d):
		return nil
	case <-m.ctx.Done():
		return m.ctx.Err()
	}
}

package play

import (
	"context"
	"fmt"
	"image"
	"io"
	"os"
	"path/filepath"
	"slices"
	"sync"
	"testing"
	"time"

	"whistlecut/timeline"
	"whistlecut/timeline/footage"
	"whistlecut/timeline/footage/ffmpeg"
)

var mediaDir string

func TestMain(m *testing.M) {
	dir, err := os.MkdirTemp("", "whistlecut-play-*")
	if err != nil {
		panic(err)
	}
	// Indexes go to the user's cache folder: keep the tests out of it.
	os.Setenv("XDG_CACHE_HOME", filepath.Join(dir, "cache"))
	mediaDir = dir
	code := m.Run()
	os.RemoveAll(dir)
	os.Exit(code)
}

// Test films show their frame numbers: twelve bits as a grid of six by two
// black and white fields that fill the picture.
const (
	codeCols, codeRows = 6, 2
	filmW, filmH       = 192, 108
)

// numbered gives raw gray frames with rising numbers.
type numbered struct {
	n, end int
	buf    []byte
}

func (p *numbered) Read(b []byte) (int, error) {
	if len(p.buf) == 0 {
		if p.n == p.end {
			return 0, io.EOF
		}
		p.buf = make([]byte, filmW*filmH)
		for i := range p.buf {
			bit := i%filmW*codeCols/filmW + i/filmW*codeRows/filmH*codeCols
			p.buf[i] = byte(40 + 170*(p.n>>bit&1))
		}
		p.n++
	}
	n := copy(b, p.buf)
	p.buf = p.buf[n:]
	return n, nil
}

// readNumber reads the number of a picture that is turned clockwise.
func readNumber(img *image.RGBA, turned int) int {
	w, h := img.Rect.Dx(), img.Rect.Dy()
	n := 0
	for bit := range codeCols * codeRows {
		// The middle of the field, 0..1.
		x, y := (float64(bit%codeCols)+0.5)/codeCols, (float64(bit/codeCols)+0.5)/codeRows
		if turned == 90 {
			x, y = 1-y, x
		}
		if img.RGBAAt(int(x*float64(w)), int(y*float64(h))).G > 128 {
			n |= 1 << bit
		}
	}
	return n
}

type recipe struct {
	file   string
	rate   string
	frames int
	first  int // number of the first frame
	args   []string
	turned int
	silent bool
}

func x264(gop int, more ...string) []string {
	return append([]string{"-c:v", "libx264", "-preset", "veryfast", "-g", fmt.Sprint(gop), "-bf", "2", "-sc_threshold", "0"}, more...)
}

var recipes = map[string]recipe{
	"plain":  {file: "plain.mp4", rate: "30", frames: 150, args: x264(60)},
	"second": {file: "second.mp4", rate: "30", frames: 60, first: 1000, args: x264(30)},
	"fast":   {file: "fast.mp4", rate: "60000/1001", frames: 150, args: x264(120)},
	"variable": {file: "variable.mp4", rate: "30", frames: 120, args: append(x264(45), "-vf", "settb=1/90000,setpts='(N+0.35*sin(N*1.7)+6*floor(N/37))/30/TB'",
		"-fps_mode", "passthrough", "-enc_time_base", "1/90000", "-video_track_timescale", "90000")},
	"hevc":    {file: "hevc.mp4", rate: "30", frames: 90, args: []string{"-c:v", "libx265", "-preset", "ultrafast", "-pix_fmt", "yuv420p10le", "-tag:v", "hvc1", "-x265-params", "keyint=30:bframes=3:open-gop=1:log-level=error"}},
	"rotated": {file: "rotated.mov", rate: "30", frames: 90, args: x264(30), turned: 90},
	"stream":  {file: "stream.ts", rate: "30", frames: 90, args: x264(30)},
	"silent":  {file: "silent.mp4", rate: "30", frames: 60, args: x264(30), silent: true},
}

var made = struct {
	sync.Mutex
	paths map[string]string
}{paths: map[string]string{}}

// film makes a test film, the first time it is asked for.
func film(t testing.TB, name string) string {
	t.Helper()
	made.Lock()
	defer made.Unlock()
	if p := made.paths[name]; p != "" {
		return p
	}
	r := recipes[name]
	path := filepath.Join(mediaDir, r.file)
	args := []string{"-y", "-f", "rawvideo", "-pix_fmt", "gray", "-s", fmt.Sprintf("%dx%d", filmW, filmH), "-r", r.rate, "-i", "pipe:0"}
	if !r.silent {
		args = append(args, "-f", "lavfi", "-i", "sine=f=440:r=48000", "-shortest", "-c:a", "aac")
	}
	args = append(append(args, "-pix_fmt", "yuv420p"), r.args...)
	target := path
	if r.turned != 0 {
		target = path + ".upright.mov"
	}
	run := func(job ffmpeg.Job) {
		t.Helper()
		if err := ffmpeg.Default().Run(context.Background(), job); err != nil {
			t.Fatal(err)
		}
	}
	run(ffmpeg.Job{Args: append(args, "-frames:v", fmt.Sprint(r.frames), target), Stdin: &numbered{n: r.first, end: r.first + r.frames}})
	if r.turned != 0 {
		run(ffmpeg.Job{Args: []string{"-y", "-i", target, "-c", "copy", "-metadata:s:v:0", fmt.Sprintf("rotate=%d", 360-r.turned), path}})
	}
	made.paths[name] = path
	return path
}

// truth is the index of a test film.
func truth(t testing.TB, name string) *footage.Index {
	t.Helper()
	f, err := footage.Open(context.Background(), nil, film(t, name))
	if err != nil {
		t.Fatal(err)
	}
	return f.Index
}

// watched is a player whose every picture is checked as it is shown.
type watched struct {
	*Player
	t      testing.TB
	mu     sync.Mutex
	news   *sync.Cond
	all    []Shown
	number map[timeline.ID]recipe
}

func newWatched(t testing.TB, o Options, names ...string) *watched {
	t.Helper()
	w := &watched{t: t, number: map[timeline.ID]recipe{}}
	w.news = sync.NewCond(&w.mu)
	o.OnShown = w.see
	if o.CacheDir == "" {
		o.CacheDir = filepath.Join(mediaDir, "screen")
	}
	w.Player = New(o)
	t.Cleanup(w.Close)
	var films []Film
	for _, n := range names {
		w.number[timeline.ID(n)] = recipes[n]
		films = append(films, Film{ID: timeline.ID(n), Path: film(t, n)})
	}
	if len(films) > 0 {
		w.Load(films)
	}
	return w
}

func (w *watched) see(s Shown) {
	w.mu.Lock()
	defer w.mu.Unlock()
	if r, ok := w.number[s.Footage]; ok && s.Image != nil {
		if n := readNumber(s.Image, r.turned) - r.first; n != s.Index {
			w.t.Errorf("frame %d of %s is shown as frame %d", n, s.Footage, s.Index)
		}
	}
	w.all = append(w.all, s)
	w.news.Broadcast()
}

// patience is how long a test waits for something that must come; it bounds
// hanging and measures nothing.
const testPatience = 60 * time.Second

// until waits until something is shown, from now on or now, and returns it.
func (w *watched) until(what string, ok func(Shown) bool) Shown {
	w.t.Helper()
	expired := time.AfterFunc(testPatience, func() { w.mu.Lock(); w.news.Broadcast(); w.mu.Unlock() })
	defer expired.Stop()
	end := time.Now().Add(testPatience)
	w.mu.Lock()
	defer w.mu.Unlock()
	for {
		if n := len(w.all); n > 0 && ok(w.all[n-1]) {
			return w.all[n-1]
		}
		if time.Now().After(end) {
			var last Shown
			if n := len(w.all); n > 0 {
				last = w.all[n-1]
			}
			last.Image = nil
			w.t.Fatalf("%s never came; last was %+v", what, last)
		}
		w.news.Wait()
	}
}

func (w *watched) frame(id timeline.ID, index int) Shown {
	w.t.Helper()
	return w.until(fmt.Sprintf("frame %d of %s", index, id), func(s Shown) bool {
		return s.Footage == id && s.Index == index && s.Image != nil && s.State == Paused
	})
}

// since gives what was shown after a mark.
func (w *watched) mark() int {
	w.mu.Lock()
	defer w.mu.Unlock()
	return len(w.all)
}

func (w *watched) since(mark int) []Shown {
	w.mu.Lock()
	defer w.mu.Unlock()
	return slices.Clone(w.all[mark:])
}

// remux copies a film into one that has its index in front.
func remux(t *testing.T, from, to string) {
	t.Helper()
	job := ffmpeg.Job{Args: []string{"-y", "-i", from, "-c", "copy", "-movflags", "+faststart", to}}
	if err := ffmpeg.Default().Run(t.Context(), job); err != nil {
		t.Fatal(err)
	}
}

package bench

import (
	"context"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"time"

	"whistlecut/export/clip"
	"whistlecut/timeline/footage"
	"whistlecut/timeline/footage/ffmpeg"
)

// ExactOptions are for Exact.
type ExactOptions struct {
	Runner  *ffmpeg.Runner // nil: ffmpeg.Default()
	Dir     string         // where films and clips are made; "": a temporary folder, removed
	Only    string         // only kinds whose name contains this
	Windows int            // random windows a kind besides the fixed ones; 0: 10
	Seed    uint64
	Short   bool // fewer kinds, shorter films, fewer windows
}

// ExactRow is what was found on one kind of source.
type ExactRow struct {
	Kind                    string
	Clips                   int
	Copy, Edges, Reencode   int // clips by method
	First, Last, Count      int // clips right in that respect
	Sound                   int // clips whose sound is within 20 ms, or rightly silent
	Clean                   int // clips decoded without a word
	Foreign, ForeignClips   int // clips right by, and given to, the other decoder
	ForeignName, ForeignWhy string
	WorstSound              float64 // seconds, signed
	Failures                []string
	Why                     []string // reasons why clips were encoded as a whole
}

// Exact says whether every clip was right in every respect.
func (r ExactRow) Exact() bool {
	n := r.Clips
	return n > 0 && r.First == n && r.Last == n && r.Count == n && r.Sound == n && r.Clean == n && r.Foreign == r.ForeignClips && len(r.Failures) == 0
}

// ExactReport is the result of Exact.
type ExactReport struct {
	Rows []ExactRow
	Took time.Duration
}

// Exact says whether all rows are.
func (r ExactReport) Exact() bool {
	for _, row := range r.Rows {
		if !row.Exact() {
			return false
		}
	}
	return len(r.Rows) > 0
}

// soundTolerance is how far sound may be from the picture, in seconds.
const soundTolerance = 0.020

// Exact cuts many windows out of many kinds of films and reads back, from the
// numbers in the pictures and the clicks in the sound, whether the clips are
// what was asked for. It prints one table.
func Exact(ctx context.Context, out io.Writer, o ExactOptions) (ExactReport, error) {
	began := time.Now()
	if o.Runner == nil {
		o.Runner = ffmpeg.Default()
	}
	dir, done, err := workFolder(o.Dir, "whistlecut-exact-*")
	if err != nil {
		return ExactReport{}, err
	}
	defer done()
	o.Dir = dir
	if o.Windows == 0 {
		o.Windows = 10
		if o.Short {
			o.Windows = 2
		}
	}
	missing := foreignMissing(ctx, o.Runner)
	var report ExactReport
	printExactHead(out)
	for _, k := range kinds() {
		if o.Short && !k.short || !strings.Contains(k.name, o.Only) {
			continue
		}
		row, err := exactKind(ctx, k, o, missing)
		if err != nil {
			return report, fmt.Errorf("%s: %w", k.name, err)
		}
		report.Rows = append(report.Rows, row)
		printExactRow(out, row)
	}
	report.Took = time.Since(began)
	printExactFoot(out, report)
	return report, nil
}

// window is a wish: frames, both included, possibly beyond the film.
type window struct{ first, last int }

// windows are the fixed and the random windows of a film of n frames.
func windows(n int, keys []int, fps float64, o ExactOptions) []window {
	r := rand.New(rand.NewPCG(o.Seed, uint64(n)))
	list := []window{
		{0, int(2.3 * fps)},
		{n - int(1.7*fps), n - 1 + 40}, // reaches beyond the end
		{n / 3, n / 3},                 // one frame
	}
	if len(keys) > 2 {
		i := len(keys) / 3
		list = append(list, window{keys[i], keys[i+1] - 1})
	}
	for range o.Windows {
		length := int((0.4 + 7*r.Float64()) * fps)
		first := r.IntN(max(1, n-length))
		list = append(list, window{first, min(first+length-1, n-1)})
	}
	return list
}

func exactKind(ctx context.Context, k kind, o ExactOptions, missing map[string]string) (ExactRow, error) {
	row := ExactRow{Kind: k.name}
	if k.foreign != "" {
		row.ForeignName, row.ForeignWhy = foreignName(k.foreign), missing[k.foreign]
	}
	seconds := 21.0
	if o.Short {
		seconds = 11
	}
	path, clicks, err := k.make(ctx, o.Runner, o.Dir, seconds)
	if err != nil {
		return row, err
	}
	defer os.Remove(path)
	truth, _, err := numbers(ctx, o.Runner, path)
	if err != nil {
		return row, err
	}
	s, err := clip.Open(ctx, o.Runner, path, clip.Options{WorkDir: o.Dir})
	if err != nil {
		return row, err
	}
	defer s.Close()
	if s.Frames() != len(truth) {
		row.Failures = append(row.Failures, fmt.Sprintf("the film has %d frames by its index and %d by its decoder", s.Frames(), len(truth)))
		return row, nil
	}
	t := &tried{ctx: ctx, k: k, o: o, s: s, truth: truth, row: &row, other: row.ForeignName != "" && row.ForeignWhy == ""}
	// Film time counts from the first frame shown.
	for _, c := range clicks {
		t.clicks = append(t.clicks, c-float64(truth[0])/k.fps)
	}
	jobs := make(chan window)
	var wg sync.WaitGroup
	for range 2 {
		wg.Go(func() {
			for w := range jobs {
				t.try(w)
			}
		})
	}
	for _, w := range windows(len(truth), keysOf(s.File().Index), k.fps, o) {
		jobs <- w
	}
	close(jobs)
	wg.Wait()
	slices.Sort(row.Failures)
	slices.Sort(row.Why)
	row.Why = slices.Compact(row.Why)
	return row, ctx.Err()
}

func keysOf(x *footage.Index) []int {
	var keys []int
	for i := range x.Len() {
		if x.IsKey(i) {
			keys = append(keys, i)
		}
	}
	return keys
}

// tried gathers what is found on one film.
type tried struct {
	ctx    context.Context
	k      kind
	o      ExactOptions
	s      *clip.Source
	truth  []int
	clicks []float64
	other  bool // judged by another decoder, too

	mu   sync.Mutex
	row  *ExactRow
	made int
}

// try cuts one window and reads it back.
func (t *tried) try(w window) {
	name := fmt.Sprintf("frames %d-%d", w.first, w.last)
	t.mu.Lock()
	t.made++
	path := filepath.Join(t.o.Dir, fmt.Sprintf("clip-%d.mp4", t.made))
	t.mu.Unlock()
	defer os.Remove(path)
	res, err := t.s.Cut(t.ctx, clip.Request{First: w.first, Last: w.last, Out: path})
	if err != nil {
		t.fail(name, err.Error())
		return
	}
	want := t.truth[max(w.first, 0) : min(w.last, len(t.truth)-1)+1]
	list, log, decodeErr := numbers(t.ctx, t.o.Runner, path)
	offset, soundErr := t.sound(path, res)
	var foreign []int
	// openh264 shows nothing of a stream of one frame, whoever made it.
	other := t.other && (t.k.foreign != "h264" || len(want) > 1)
	if other {
		if foreign, err = foreignNumbers(t.ctx, t.o.Runner, path, t.k.foreign); err != nil {
			t.fail(name, err.Error())
		}
	}
	placed := t.placed(path)

	t.mu.Lock()
	defer t.mu.Unlock()
	r := t.row
	r.Clips++
	switch res.Method {
	case clip.Copied:
		r.Copy++
	case clip.Edges:
		r.Edges++
	case clip.Reencoded:
		r.Reencode++
		r.Why = append(r.Why, res.Why)
	}
	say := func(format string, args ...any) {
		text := fmt.Sprintf(format, args...)
		r.Failures = append(r.Failures, fmt.Sprintf("%s (%s): %.200s", name, res.Method, text))
	}
	count := func(ok bool, n *int, format string, args ...any) {
		if ok {
			*n++
		} else {
			say(format, args...)
		}
	}
	if placed != "" {
		say("%s", placed)
	}
	count(len(list) > 0 && list[0] == want[0], &r.First, "starts with %v instead of frame %d", head(list), want[0])
	count(len(list) > 0 && list[len(list)-1] == want[len(want)-1], &r.Last, "ends with %v instead of frame %d", tail(list), want[len(want)-1])
	count(slices.Equal(list, want), &r.Count, "shows %d frames instead of %d, or others", len(list), len(want))
	count(decodeErr == nil && log == "", &r.Clean, "not clean: %v %s", decodeErr, log)
	count(soundErr == nil && offset <= soundTolerance && offset >= -soundTolerance, &r.Sound, "sound: %v, off by %.1f ms", soundErr, 1000*offset)
	if offset*offset > r.WorstSound*r.WorstSound {
		r.WorstSound = offset
	}
	if other {
		r.ForeignClips++
		count(slices.Equal(foreign, want), &r.Foreign, "%s shows %d frames instead of %d, or others (%v ... %v)", r.ForeignName, len(foreign), len(want), head(foreign), tail(foreign))
	}
}

func head(l []int) []int { return l[:min(3, len(l))] }
func tail(l []int) []int { return l[max(0, len(l)-3):] }

func (t *tried) fail(name, what string) {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.row.Failures = append(t.row.Failures, name+": "+what)
}

// sound gives the largest offset of the clip's clicks in seconds.
func (t *tried) sound(path string, res clip.Result) (float64, error) {
	if t.k.silent || res.Silent {
		if !t.k.silent && res.End.Seconds() > t.k.late {
			return 0, fmt.Errorf("no sound where the film has some")
		}
		return 0, nil
	}
	found, err := clicksOf(t.ctx, t.o.Runner, path)
	if err != nil {
		return 0, err
	}
	return soundOffset(found, t.clicks, res.FirstTime.Seconds(), res.End.Seconds())
}

// placed says what is wrong with the clip's start or its turn, "" if nothing.
func (t *tried) placed(path string) string {
	info, err := footage.Probe(t.ctx, t.o.Runner, path)
	if err != nil {
		return err.Error()
	}
	src := t.s.File().Info.Video
	if info.Video.Start != 0 || info.Video.Rotation != src.Rotation {
		return fmt.Sprintf("its picture starts at %v, turned by %d degrees, in the film %d", info.Video.Start, info.Video.Rotation, src.Rotation)
	}
	return ""
}

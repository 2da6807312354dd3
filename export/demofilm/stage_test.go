package demofilm

import (
	"context"
	"encoding/binary"
	"encoding/json"
	"errors"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"whistlecut/export/demofilm/picture"
	"whistlecut/export/demofilm/sound"
	"whistlecut/timeline/footage/ffmpeg"
	"whistlecut/timeline/simulate"
)

// shortGame is a bout of three jams with a timeout between two of them.
func shortGame(t testing.TB) *simulate.Game {
	t.Helper()
	g := findShort()
	if g == nil {
		t.Fatal("no seed gives three jams and one timeout in under five minutes")
	}
	return g
}

var findShort = sync.OnceValue(func() *simulate.Game {
	for seed := uint64(1); seed < 60; seed++ {
		g := simulate.Play(seed, simulate.Options{Periods: 1, Jams: 3, LeadIn: 10 * time.Second, Rates: simulate.Rates{Timeouts: 3, Reviews: -1}})
		if len(g.Truth.Stoppages) == 1 && len(pauses(g)) == 2 && g.Duration() < 5*time.Minute {
			return g
		}
	}
	return nil
})

func small() Options {
	return Options{Width: 320, Height: 180, FrameRate: Fraction{10, 1}, Code: true, Second: &Second{After: 4 * time.Second, Drift: 200, FrameRate: Fraction{10, 1}}}
}

func TestStage(t *testing.T) {
	ctx, runner, dir := t.Context(), ffmpeg.Default(), t.TempDir()
	g := shortGame(t)
	o := small()
	var last Progress
	o.Progress = func(p Progress) {
		if p.Fraction < last.Fraction || p.Index < last.Index {
			t.Errorf("progress goes back from %v to %v", last, p)
		}
		last = p
	}
	st, err := Stage(ctx, runner, filepath.Join(dir, "film"), g, o)
	if err != nil {
		t.Fatal(err)
	}
	t.Logf("%v of film in %v", st.Film, st.Took)
	if last.Fraction != 1 || last.Of != 4 {
		t.Errorf("last progress %+v", last)
	}
	if len(st.Files) != 4 {
		t.Fatalf("files %v", st.Files)
	}
	if first := st.Files[:3]; slices.IsSorted(first) {
		t.Errorf("names %v sort rightly", first)
	}
	truth, err := ReadTruth(st.Truth)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(st.Told, truth); d != "" {
		t.Errorf("the truth's file differs: %s", d)
	}
	for i, f := range truth.Files {
		t.Run(f.Name, func(t *testing.T) { checkFile(ctx, t, runner, st.Files[i], f, truth) })
	}
	checkJams(t, g, truth)
	checkLeftovers(t, st.Dir, 5)
}

// checkFile compares a file with what the truth says of it.
func checkFile(ctx context.Context, t *testing.T, r *ffmpeg.Runner, path string, f FilmFile, truth Truth) {
	out, err := r.Probe(ctx, "-show_entries", "stream=codec_type,duration,start_time,width,height,nb_frames:packet=pts_time,stream_index", "-of", "json", path)
	if err != nil {
		t.Fatal(err)
	}
	var probe struct {
		Streams []struct {
			Type     string `json:"codec_type"`
			Duration string `json:"duration"`
			Start    string `json:"start_time"`
			Frames   string `json:"nb_frames"`
			Width    int    `json:"width"`
			Height   int    `json:"height"`
		} `json:"streams"`
		Packets []struct {
			Stream int    `json:"stream_index"`
			PTS    string `json:"pts_time"`
		} `json:"packets"`
	}
	if err := json.Unmarshal(out, &probe); err != nil {
		t.Fatal(err)
	}
	if len(probe.Streams) != 2 || probe.Streams[0].Type != "video" {
		t.Fatalf("streams %+v", probe.Streams)
	}
	frame := 1 / f.FrameRate.Float()
	for _, s := range probe.Streams {
		if d := number(t, s.Duration); math.Abs(d-f.Duration) > frame+0.05 {
			t.Errorf("%s lasts %.3f s, truth says %.3f", s.Type, d, f.Duration)
		}
		if start := number(t, s.Start); math.Abs(start) > 0.001 {
			t.Errorf("%s starts at %.4f s", s.Type, start)
		}
	}
	if v := probe.Streams[0]; v.Frames != strconv.Itoa(f.Frames) || v.Width != f.Width || v.Height != f.Height {
		t.Errorf("%s frames of %dx%d, truth says %d of %dx%d", v.Frames, v.Width, v.Height, f.Frames, f.Width, f.Height)
	}
	kept := f.Kept
	if !f.Variable {
		for n := range f.Frames {
			kept = append(kept, n)
		}
	}
	n := 0
	for _, p := range probe.Packets {
		if p.Stream != 0 {
			continue
		}
		if n < len(kept) && math.Abs(number(t, p.PTS)-float64(kept[n])*frame) > 1e-4 {
			t.Fatalf("frame %d is at %s s, truth says %.4f", n, p.PTS, float64(kept[n])*frame)
		}
		n++
	}
	if f.Variable && (len(kept) > f.gridFrames()*97/100 || len(kept) < f.gridFrames()/2) {
		t.Errorf("%d of %d frames are kept", len(kept), f.gridFrames())
	}
	checkCodes(ctx, t, r, path, f, kept)
	checkSound(ctx, t, r, path, f, truth)
}

func (f FilmFile) gridFrames() int { return int(math.Round(f.Duration * f.FrameRate.Float())) }

func number(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// checkCodes reads the number drawn into every frame.
func checkCodes(ctx context.Context, t *testing.T, r *ffmpeg.Runner, path string, f FilmFile, kept []int) {
	const w, h = 64, 8 // the code's corner in small films
	args := append(ffmpeg.Input(path), "-fps_mode", "passthrough", "-vf", "crop=64:8:0:"+strconv.Itoa(f.Height-h), "-pix_fmt", "gray", "-f", "rawvideo", "-")
	b, err := r.Output(ctx, ffmpeg.Job{Args: args})
	if err != nil {
		t.Fatal(err)
	}
	if len(b) != w*h*len(kept) {
		t.Fatalf("%d bytes for %d frames", len(b), len(kept))
	}
	for i, want := range kept {
		got, ok := picture.ReadCode(b[i*w*h:(i+1)*w*h], w, w, h)
		if !ok || got != want {
			t.Fatalf("frame %d of the file shows number %d (%v), truth says %d", i, got, ok, want)
		}
	}
}

// checkSound decodes the sound and looks for a rise in the whistle band at the
// onset of every blast that follows a second without one.
func checkSound(ctx context.Context, t *testing.T, r *ffmpeg.Runner, path string, f FilmFile, truth Truth) {
	const rate = 16000
	args := append(ffmpeg.Input(path), "-map", "0:a", "-ar", strconv.Itoa(rate), "-ac", "1", "-f", "s16le", "-")
	s, err := r.Start(ctx, ffmpeg.Job{Args: args})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	var x []float64
	if err := binaryRead(s, &x); err != nil {
		t.Fatal(err)
	}
	checked, end := 0, -10.0
	for _, b := range truth.Blasts {
		if b.File != f.Name || b.Start < 0.1 || b.End > f.Duration {
			continue
		}
		alone := b.Start > end+1
		end = max(end, b.End)
		if !alone {
			continue
		}
		at := int(b.Start * rate)
		before := sound.BandPower(x[at-1600:at-160], rate)
		after := sound.BandPower(x[at+160:at+1760], rate)
		if after < 8*before {
			t.Errorf("at %.3f s (%s) the band rises by only %.1f dB", b.Start, b.Kind, 10*math.Log10(after/before))
		}
		checked++
	}
	if checked < 2 {
		t.Errorf("only %d blasts could be checked", checked)
	}
}

func binaryRead(s *ffmpeg.Stream, x *[]float64) error {
	buf := make([]byte, 1<<16)
	var rest []byte
	for {
		n, err := s.Read(buf)
		rest = append(rest, buf[:n]...)
		for len(rest) >= 2 {
			*x = append(*x, float64(int16(binary.LittleEndian.Uint16(rest)))/32768)
			rest = rest[2:]
		}
		if err != nil {
			if err.Error() == "EOF" {
				return nil
			}
			return err
		}
	}
}

func checkJams(t *testing.T, g *simulate.Game, truth Truth) {
	t.Helper()
	starts := map[string]int{}
	for _, b := range truth.Blasts {
		if b.Kind == simulate.WhistleJamStart {
			starts[b.File]++
		}
	}
	for i, j := range truth.Jams {
		if len(j.On) != 2 {
			t.Errorf("jam %d is on %d files, want one of each camera", j.Jam, len(j.On))
		}
		for _, on := range j.On {
			k := slices.IndexFunc(truth.Files, func(f FilmFile) bool { return f.Name == on.File })
			f := truth.Files[k]
			game := f.GameStart + on.Start/f.Speed
			if want := g.Truth.Jams[i].Start.Seconds(); math.Abs(game-want) > 1e-4 {
				t.Errorf("jam %d in %s starts at game time %.4f, want %.4f", j.Jam, on.File, game, want)
			}
			if d := float64(on.StartFrame)/f.FrameRate.Float() - on.Start; d < -1e-5 || d > 1/f.FrameRate.Float() {
				t.Errorf("jam %d: frame %d for %.4f s", j.Jam, on.StartFrame, on.Start)
			}
			starts[on.File]--
		}
	}
	for f, n := range starts {
		if n != 0 {
			t.Errorf("%s: %d start whistles more than jams", f, n)
		}
	}
}

func checkLeftovers(t *testing.T, dir string, want int) {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var names []string
	for _, e := range entries {
		names = append(names, e.Name())
	}
	if len(names) != want {
		t.Errorf("the folder holds %v, want %d files", names, want)
	}
}

func TestCancelLeavesNothing(t *testing.T) {
	g := shortGame(t)
	for _, when := range []float64{0.01, 0.6} {
		t.Run(strconv.FormatFloat(when, 'g', -1, 64), func(t *testing.T) {
			ctx, cancel := context.WithCancel(t.Context())
			defer cancel()
			o := small()
			o.Second = nil
			o.Progress = func(p Progress) {
				if p.Fraction > when {
					cancel()
				}
			}
			dir := t.TempDir()
			_, err := Stage(ctx, ffmpeg.Default(), dir, g, o)
			if !errors.Is(err, context.Canceled) {
				t.Errorf("error %v", err)
			}
			checkLeftovers(t, dir, 0)
		})
	}
}

func TestStageErrors(t *testing.T) {
	g := shortGame(t)
	dir := t.TempDir()
	file := filepath.Join(dir, "file")
	if err := os.WriteFile(file, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name, dir, says string
		o               Options
	}{
		{"a file for a folder", file, "choose another folder", small()},
		{"odd size", filepath.Join(dir, "a"), "even numbers", Options{Width: 321, Height: 180}},
		{"frame rate", filepath.Join(dir, "b"), "frames a second", Options{FrameRate: Fraction{1, 1}}},
		{"drift", filepath.Join(dir, "c"), "drifts", Options{Second: &Second{Drift: 1e6}}},
		{"sound", filepath.Join(dir, "d"), "Music", Options{Width: 320, Height: 180, Sound: sound.Options{Music: 2}}},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := Stage(t.Context(), ffmpeg.Default(), c.dir, g, c.o)
			if err == nil || !strings.Contains(err.Error(), c.says) {
				t.Errorf("error %v; want one that says %q", err, c.says)
			}
		})
	}
}

// BenchmarkStage720 stages 1280x720 at 30 frames a second, sound, drawing and
// encoding together.
func BenchmarkStage720(b *testing.B) {
	g := simulate.Play(1, simulate.Options{Periods: 1, Jams: 1, LeadIn: 10 * time.Second})
	film := time.Duration(0)
	for b.Loop() {
		st, err := Stage(b.Context(), ffmpeg.Default(), b.TempDir(), g, Options{OneFile: true})
		if err != nil {
			b.Fatal(err)
		}
		film += st.Film
	}
	b.ReportMetric(film.Seconds()/b.Elapsed().Seconds(), "x-real-time")
}

package quiz

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"whistlecut/app"
	"whistlecut/timeline"
	"whistlecut/timeline/footage/ffmpeg"
)

// drawnOn is a bout of a grey film of ten seconds with a white square, over which
// something is hidden, and an arrow beside it. Its examples begin at 2 and 7 s; the
// plan asks the first.
func drawnOn(t *testing.T) (*app.App, *Bouts, Plan) {
	t.Helper()
	if _, err := ffmpeg.Default().Path(); err != nil {
		t.Skip("ffmpeg is not installed: " + err.Error())
	}
	p := newPaper(t, "bout")
	film := filepath.Join(filepath.Dir(p.s.Path), "film.mp4")
	if err := ffmpeg.Default().Run(context.Background(), ffmpeg.Job{Args: []string{
		"-f", "lavfi", "-i", "color=c=gray:size=320x180:rate=10,drawbox=x=32:y=18:w=64:h=36:color=white:t=fill",
		"-f", "lavfi", "-i", "sine=frequency=700", "-t", "10", "-c:v", "libx264", "-preset", "ultrafast", "-pix_fmt", "yuv420p", "-c:a", "aac", "-y", film,
	}}); err != nil {
		t.Fatal(err)
	}
	first := p.add(2*sec, nil)
	p.add(7*sec, nil)
	end := timeline.OnFilm("f", 9*sec)
	for i, d := range []timeline.Drawing{
		{Shape: timeline.ShapeHide, Points: []timeline.Point{{X: 0.05, Y: 0.05}, {X: 0.35, Y: 0.35}}, End: end},
		{Shape: timeline.ShapeArrow, Points: []timeline.Point{{X: 0.5, Y: 0.5}, {X: 0.9, Y: 0.5}}, End: end, Width: 0.1},
	} {
		tag := timeline.Tag{ID: timeline.ID("d" + string(rune('0'+i))), Kind: timeline.KindDrawing, Place: timeline.OnFilm("f", 0), Drawing: &d}
		if err := p.s.Apply("drawing", timeline.SetTag(tag)); err != nil {
			t.Fatal(err)
		}
	}
	b := opened(t, p)
	got, err := Draw(b, Options{Chosen: []timeline.ID{first}, Length: 5 * sec})
	if err != nil {
		t.Fatal(err)
	}
	return app.New("Ada"), b, got.Plan
}

// luma gives the luma of a picture of a film at a time.
func luma(t *testing.T, film string, at time.Duration) func(x, y int) int {
	t.Helper()
	var raw bytes.Buffer
	err := ffmpeg.Default().Run(context.Background(), ffmpeg.Job{
		Args: []string{"-ss", at.String()[:len(at.String())-1], "-i", film, "-frames:v", "1", "-f", "rawvideo", "-pix_fmt", "gray", "pipe:1"}, Stdout: &raw,
	})
	if err != nil || raw.Len() < wide*high {
		t.Fatal(err, raw.Len())
	}
	return func(x, y int) int { return int(raw.Bytes()[y*wide+x]) }
}

// TestFilm: a clip whose film begins too late is as long as the others by holding its
// first picture, is shown again at half speed, then stands while the seconds are
// counted down; what is hidden is hidden in all of it, and an arrow is shown only to
// those who asked, and in the solution.
func TestFilm(t *testing.T) {
	a, b, p := drawnOn(t)
	if p.Items[0].Shown != (timeline.TimeRange{Start: 0, End: 3200 * time.Millisecond}) {
		t.Fatalf("it shows %v", p.Items[0].Shown)
	}
	// A second question of five seconds' film, so that the first is held.
	more := p.Items[0]
	more.Number, more.Example, more.Shown = 2, "bout-002", timeline.TimeRange{Start: 3 * sec, End: 8 * sec}
	p.Items = append(p.Items, more)
	for _, c := range []struct {
		name  string
		o     FilmOptions
		arrow bool
	}{
		{"as is usual", FilmOptions{Think: 3 * sec}, false},
		{"with drawings", FilmOptions{Think: 3 * sec, Once: true, Drawings: true, Mute: true}, true},
	} {
		t.Run(c.name, func(t *testing.T) {
			out := filepath.Join(t.TempDir(), "quiz.mp4")
			res, err := Film(context.Background(), a, b, p, out, c.o)
			if err != nil {
				t.Fatal(err)
			}
			per := 2
			if !c.o.Once {
				per = 3
			}
			if len(res.Sections) != 1+2*per {
				t.Fatalf("%d sections", len(res.Sections))
			}
			for i := 1; i <= per; i++ {
				if x, y := res.Sections[i], res.Sections[i+per]; (x.Length - y.Length).Abs() > 100*time.Millisecond {
					t.Errorf("section %d runs %v for one question, %v for the other", i, x.Length, y.Length)
				}
			}
			want := []time.Duration{questionCard, 5*sec + 3*sec}
			if !c.o.Once {
				want = []time.Duration{questionCard, 5*sec + between, 10*sec + 3*sec}
			}
			for i, d := range want {
				if x := res.Sections[1+i]; (x.Length - d).Abs() > 150*time.Millisecond {
					t.Errorf("section %d runs %v, want %v", 1+i, x.Length, d)
				}
			}
			if !c.o.Once {
				// The line that says half speed gives way to the seconds that are left.
				x := res.Sections[3]
				said, left := luma(t, out, x.Start+5*sec)(222, 10), luma(t, out, x.Start+x.Length-sec)(222, 10)
				if said > 100 || left < 115 {
					t.Errorf("beside the seconds it is %d in the slow clip and %d in the countdown", said, left)
				}
			}
			for i := 2; i <= per; i++ {
				x := res.Sections[i]
				for _, at := range []time.Duration{x.Start + 200*time.Millisecond, x.Start + x.Length/2, x.Start + x.Length - 500*time.Millisecond} {
					y := luma(t, out, at)
					if v := y(64, 36); v > 200 {
						t.Errorf("at %v what is hidden can be seen (%d)", at, v)
					}
					if v := y(200, 90); (v < 115 || v > 140) != c.arrow {
						t.Errorf("at %v the arrow's place is %d", at, v)
					}
				}
			}
		})
	}
	t.Run("solution", func(t *testing.T) {
		dir := t.TempDir()
		out := filepath.Join(dir, "solution.mp4")
		p.Languages = []string{"en", "de"}
		res, err := SolutionFilm(context.Background(), a, b, p, out, FilmOptions{})
		if err != nil {
			t.Fatal(err)
		}
		if len(res.Sections) != 1+3*len(p.Items) {
			t.Fatalf("%d sections", len(res.Sections))
		}
		x := res.Sections[2]
		// From the clip's beginning through the call at 3.5 s.
		if want := 3500*time.Millisecond + throughCall; (x.Length - want).Abs() > 100*time.Millisecond {
			t.Errorf("the clip runs %v, want %v", x.Length, want)
		}
		y := luma(t, out, x.Start+sec)
		if y(64, 36) > 200 || y(200, 90) > 115 && y(200, 90) < 140 {
			t.Errorf("what is hidden is %d, the arrow's place %d", y(64, 36), y(200, 90))
		}
		paper := filepath.Join(dir, "solution.pdf")
		if err := SolutionPaper(context.Background(), a, b, p, res.Sections, paper); err != nil {
			t.Fatal(err)
		}
		if data, err := os.ReadFile(paper); err != nil || !bytes.HasPrefix(data, []byte("%PDF")) {
			t.Errorf("no PDF: %v", err)
		}
	})
}

// TestMakeLeavesNothingHalf: an error, a cancel or a folder in use leave nothing.
func TestMakeLeavesNothingHalf(t *testing.T) {
	a, b, p := drawnOn(t)
	parent := t.TempDir()
	empty := func() {
		t.Helper()
		list, err := os.ReadDir(parent)
		if err != nil || len(list) > 0 {
			t.Errorf("left: %v, %v", list, err)
		}
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := Make(ctx, a, b, p, filepath.Join(parent, "quiz"), MakeOptions{}); err == nil {
		t.Error("a cancelled making was made")
	}
	empty()
	gone := p
	gone.Items = []Item{p.Items[0]}
	gone.Items[0].Example = "nobody"
	if _, err := Make(context.Background(), a, b, gone, filepath.Join(parent, "quiz"), MakeOptions{}); err == nil || !strings.Contains(err.Error(), "question 1") {
		t.Errorf("an example that is gone: %v", err)
	}
	empty()
	early := p
	early.Items = []Item{p.Items[0]}
	early.Items[0].Shown.End = 3500 * time.Millisecond // the signal
	if _, err := Make(context.Background(), a, b, early, filepath.Join(parent, "quiz"), MakeOptions{}); err == nil || !strings.Contains(err.Error(), "would show its signal") {
		t.Errorf("a signal that is shown: %v", err)
	}
	empty()
	for _, o := range []FilmOptions{{Think: time.Hour}, {Think: time.Millisecond}, {Quiet: -sec}} {
		if _, err := Make(context.Background(), a, b, p, filepath.Join(parent, "quiz"), MakeOptions{FilmOptions: o}); err == nil {
			t.Errorf("%+v: no error", o)
		}
	}
	empty()
	full := t.TempDir()
	if err := os.WriteFile(filepath.Join(full, "mine"), nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := Make(context.Background(), a, b, p, full, MakeOptions{}); err == nil || !strings.Contains(err.Error(), "not empty") {
		t.Errorf("into a folder in use: %v", err)
	}
	if _, err := Make(context.Background(), a, b, p, "", MakeOptions{}); err == nil {
		t.Error("into no folder")
	}
}

package clip

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"
)

const s = time.Second

func TestWindowsAreJoined(t *testing.T) {
	margins := Margins{Default: Margin{2 * s, 1 * s}, ByKind: map[string]Margin{"penalty": {5 * s, 3 * s}}}
	at := func(film string, from, to time.Duration, kind string) Moment {
		return Moment{Footage: film, From: from, To: to, Kind: kind}
	}
	type win struct {
		film     string
		from, to time.Duration
		moments  int
	}
	for _, c := range []struct {
		name    string
		moments []Moment
		want    []win
	}{
		{"one instant", []Moment{at("a", 10*s, 0, "")}, []win{{"a", 8 * s, 11 * s, 1}}},
		{"margin of its kind", []Moment{at("a", 10*s, 12*s, "penalty")}, []win{{"a", 5 * s, 15 * s, 1}}},
		{"apart", []Moment{at("a", 10*s, 0, ""), at("a", 14*s, 0, "")}, []win{{"a", 8 * s, 11 * s, 1}, {"a", 12 * s, 15 * s, 1}}},
		{"touching", []Moment{at("a", 10*s, 0, ""), at("a", 13*s, 0, "")}, []win{{"a", 8 * s, 14 * s, 2}}},
		{"overlapping, out of order", []Moment{at("a", 14*s, 0, "penalty"), at("a", 10*s, 0, "")}, []win{{"a", 8 * s, 17 * s, 2}}},
		{"one inside another", []Moment{at("a", 10*s, 40*s, ""), at("a", 20*s, 0, ""), at("a", 41*s, 0, "")}, []win{{"a", 8 * s, 42 * s, 3}}},
		{"other film", []Moment{at("b", 10*s, 0, ""), at("a", 10*s, 0, ""), at("b", 11*s, 0, "")}, []win{{"b", 8 * s, 12 * s, 2}, {"a", 8 * s, 11 * s, 1}}},
		{"before the film", []Moment{at("a", 1*s, 0, "")}, []win{{"a", -1 * s, 2 * s, 1}}},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := Windows(c.moments, margins)
			if len(got) != len(c.want) {
				t.Fatalf("%d windows, want %d: %+v", len(got), len(c.want), got)
			}
			for i, w := range c.want {
				g := win{got[i].Footage, got[i].From, got[i].To, len(got[i].Moments)}
				if g != w {
					t.Errorf("window %d: %+v, want %+v", i, g, w)
				}
			}
		})
	}
}

func TestNames(t *testing.T) {
	w := Window{Footage: "/films/GX010042.MP4", Moments: []Moment{{Kind: "penalty", Labels: map[string]string{"period": "1", "jam": "7", "skater": "404 A/C: Dizzy?"}}}}
	two := Window{Footage: "x.mov", Moments: []Moment{{Labels: map[string]string{"jam": "7"}}, {Labels: map[string]string{"jam": "8"}}, {Labels: map[string]string{"jam": "7"}}}}
	for _, c := range []struct {
		name, template string
		w              Window
		n, of          int
		want, err      string
	}{
		{"usual", DefaultName, w, 3, 12, "03 P1 J7 penalty 404 A-C- Dizzy-", ""},
		{"labels missing", DefaultName, Window{Footage: "a"}, 3, 12, "03", ""},
		{"joined", "{n}[ J{jam}]", two, 1, 1, "1 J7+8", ""},
		{"film", "{film} {n}", w, 1, 1, "GX010042 1", ""},
		{"nothing left", "[{nothing}]", w, 2, 9, "clip 2", ""},
		{"path out of the folder", "../../{n}", w, 1, 1, "-..-1", ""},
		{"device", "con", w, 1, 1, "_con", ""},
		{"device with ending", "LPT1.x", w, 1, 1, "_LPT1.x", ""},
		{"control characters", "a\x00b\nc\u202e", w, 1, 1, "ab c", ""},
		{"too long", strings.Repeat("ü", 100), w, 1, 1, strings.Repeat("ü", 60), ""},
		{"brace alone", "{n", w, 1, 1, "", "brace"},
		{"bracket alone", "[ {n}", w, 1, 1, "", "bracket"},
		{"closing alone", "a]", w, 1, 1, "", "partner"},
		{"brackets nested", "[a[b]]", w, 1, 1, "", "partner"},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, err := Name(c.template, c.w, c.n, c.of)
			if c.err != "" {
				if err == nil || !strings.Contains(err.Error(), c.err) {
					t.Errorf("got %q, %v", got, err)
				}
				return
			}
			if err != nil || got != c.want {
				t.Errorf("got %q, %v, want %q", got, err, c.want)
			}
		})
	}
}

// bout is a batch of three clips, the second joined of two moments.
func bout(t *testing.T) Batch {
	film := phone(t)
	at := func(from time.Duration, kind, jam string) Moment {
		return Moment{Footage: film, From: from, Kind: kind, Labels: map[string]string{"period": "1", "jam": jam, "score": "4–0"}}
	}
	return Batch{
		Moments: []Moment{at(1500*time.Millisecond, "lead", "1"), at(4*s, "penalty", "2"), at(4500*time.Millisecond, "penalty", "3"), at(7*s, "call", "4")},
		Margins: Margins{Default: Margin{500 * time.Millisecond, 700 * time.Millisecond}},
		Dir:     filepath.Join(t.TempDir(), "clips"),
	}
}

func TestBatch(t *testing.T) {
	b := bout(t)
	var last Progress
	var seen []float64
	b.Progress = func(p Progress) { last = p; seen = append(seen, p.Fraction) }
	clips, err := b.Run(context.Background(), runner(t))
	if err != nil {
		t.Fatal(err)
	}
	if len(clips) != 3 || last.Finished != 3 || last.Fraction < 0.999 {
		t.Fatalf("%d clips, last progress %+v", len(clips), last)
	}
	for i := 1; i < len(seen); i++ {
		if seen[i] < seen[i-1] {
			t.Errorf("progress went back: %v", seen)
		}
	}
	for i, c := range clips {
		side, err := ReadSidecar(c.Result.Out)
		if err != nil {
			t.Fatal(err)
		}
		n := c.Result.LastFrame - c.Result.FirstFrame + 1
		if got := len(hashesOf(t, c.Result.Out)); got != n || side.First != c.Result.FirstFrame || side.Last != c.Result.LastFrame {
			t.Errorf("clip %d: %d frames, sidecar %d to %d, result %+v", i, got, side.First, side.Last, c.Result)
		}
		if side.Source.Fingerprint == "" || side.Method != c.Result.Method || len(side.Moments) != len(c.Window.Moments) || side.Moments[0].Labels["score"] != "4–0" {
			t.Errorf("sidecar %+v", side)
		}
	}
	if got, want := left(t, b.Dir), "[1 P1 J1 lead.json 1 P1 J1 lead.mp4 2 P1 J2+3 penalty.json 2 P1 J2+3 penalty.mp4 3 P1 J4 call.json 3 P1 J4 call.mp4]"; got != want {
		t.Errorf("folder: %s\nwant    %s", got, want)
	}
	// 1.5 s less 0.5 s is frame 25; 1.5 s and 0.7 s end before frame 55.
	if r := clips[0].Result; r.FirstFrame != 25 || r.LastFrame != 54 || r.FirstTime != s || r.End != 2200*time.Millisecond {
		t.Errorf("first clip: %+v", r)
	}
}

func TestBatchGoesOn(t *testing.T) {
	b := bout(t)
	clips, err := b.Run(context.Background(), runner(t))
	if err != nil {
		t.Fatal(err)
	}
	stamp := func(i int) time.Time {
		st, err := os.Stat(clips[i].Result.Out)
		if err != nil {
			t.Fatal(err)
		}
		return st.ModTime()
	}
	first := stamp(0)
	// As after a crash: the second was being made, the third is cut off.
	side, _ := ReadSidecar(clips[1].Result.Out)
	side.Size = 0
	if err := side.write(clips[1].Result.Out); err != nil {
		t.Fatal(err)
	}
	crumb := filepath.Join(b.Dir, ".2 P1 J2+3 penalty.part-123")
	if err := os.MkdirAll(filepath.Join(crumb, "frames"), 0o777); err != nil {
		t.Fatal(err)
	}
	if err := os.Truncate(clips[2].Result.Out, 1000); err != nil {
		t.Fatal(err)
	}
	again, err := b.Run(context.Background(), runner(t))
	if err != nil {
		t.Fatal(err)
	}
	if !again[0].Kept || again[1].Kept || again[2].Kept || !stamp(0).Equal(first) {
		t.Errorf("kept: %v %v %v", again[0].Kept, again[1].Kept, again[2].Kept)
	}
	if _, err := os.Stat(crumb); err == nil {
		t.Error("what the crash left is still there")
	}
	for i := range again {
		x, y := again[i].Result, clips[i].Result
		if x.Out != y.Out || x.FirstFrame != y.FirstFrame || x.FirstTime != y.FirstTime || x.End != y.End || x.Method != y.Method {
			t.Errorf("clip %d: %+v, before %+v", i, x, y)
		}
		if got := len(hashesOf(t, x.Out)); got != x.LastFrame-x.FirstFrame+1 {
			t.Errorf("clip %d has %d frames", i, got)
		}
	}
	// Another request under the same names replaces what is ours.
	b.Margins.Default.After = s
	third, err := b.Run(context.Background(), runner(t))
	if err != nil || third[0].Kept || third[0].Result.Out != clips[0].Result.Out || third[0].Result.LastFrame == clips[0].Result.LastFrame {
		t.Errorf("%v %+v", err, third[0])
	}
}

func TestBatchLeavesOtherFilesAlone(t *testing.T) {
	b := bout(t)
	if err := os.MkdirAll(b.Dir, 0o777); err != nil {
		t.Fatal(err)
	}
	mine := filepath.Join(b.Dir, "1 P1 J1 lead.mp4")
	if err := os.WriteFile(mine, []byte("my own film"), 0o666); err != nil {
		t.Fatal(err)
	}
	clips, err := b.Run(context.Background(), runner(t))
	if err != nil {
		t.Fatal(err)
	}
	if got := filepath.Base(clips[0].Result.Out); got != "1 P1 J1 lead (2).mp4" {
		t.Errorf("named %q", got)
	}
	if got, _ := os.ReadFile(mine); string(got) != "my own film" {
		t.Error("another file was replaced")
	}
}

func TestBatchCancelled(t *testing.T) {
	b := bout(t)
	b.Reencode = true
	b.Workers = 1
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	var once sync.Once
	b.Progress = func(p Progress) {
		if p.Finished == 1 && p.Clip == 1 && p.Done > 0 {
			once.Do(cancel)
		}
	}
	clips, err := b.Run(ctx, runner(t))
	if !errors.Is(err, context.Canceled) {
		t.Fatalf("got %v", err)
	}
	if clips[0].Err != nil || clips[1].Err == nil || clips[2].Err == nil {
		t.Errorf("errors: %v, %v, %v", clips[0].Err, clips[1].Err, clips[2].Err)
	}
	if got := left(t, b.Dir); got != "[1 P1 J1 lead.json 1 P1 J1 lead.mp4]" {
		t.Errorf("left behind: %s", got)
	}
}

func TestBatchTellsWhatIsWrong(t *testing.T) {
	b := bout(t)
	bad := filepath.Join(t.TempDir(), "notes.mp4")
	if err := os.WriteFile(bad, []byte("jam 1: lead 12"), 0o666); err != nil {
		t.Fatal(err)
	}
	b.Moments = append(b.Moments, Moment{Footage: bad, From: s}, Moment{Footage: b.Moments[0].Footage, From: time.Hour}, Moment{Footage: filepath.Join(b.Dir, "gone.mp4"), From: s})
	clips, err := b.Run(context.Background(), runner(t))
	if err == nil || len(clips) != 6 {
		t.Fatalf("%d clips, %v", len(clips), err)
	}
	good := 0
	for _, c := range clips {
		if c.Err == nil {
			good++
		}
	}
	if good != 3 {
		t.Errorf("%d good clips of 3: %v", good, err)
	}
	for _, want := range []string{"notes.mp4", "outside phone.mp4, which ends at 0:00:08.000", "gone.mp4"} {
		if !strings.Contains(err.Error(), want) {
			t.Errorf("the error does not name %q: %v", want, err)
		}
	}
}

func TestBatchWithCaptions(t *testing.T) {
	b := bout(t)
	b.Captions = true
	clips, err := b.Run(context.Background(), runner(t))
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range clips {
		if c.Result.Method != Reencoded || c.Result.Why != "a caption is drawn" {
			t.Errorf("made by %s: %s", c.Result.Method, c.Result.Why)
		}
		if got := len(hashesOf(t, c.Result.Out)); got != c.Result.LastFrame-c.Result.FirstFrame+1 {
			t.Errorf("%d frames", got)
		}
	}
}

package bench

import (
	"context"
	"os"
	"strings"
	"testing"

	"whistlecut/timeline/footage/ffmpeg"
)

func needFFmpeg(t *testing.T) {
	t.Helper()
	if _, err := ffmpeg.Default().Path(); err != nil {
		t.Skip("ffmpeg is not installed: " + err.Error())
	}
}

// TestExactSmoke runs the measurement on a few kinds of small films; all of
// them with WHISTLECUT_SOAK=1.
func TestExactSmoke(t *testing.T) {
	needFFmpeg(t)
	o := ExactOptions{Dir: t.TempDir(), Short: true, Windows: 1}
	only := []string{"H.264, closed groups", "MPEG-TS", "sound starts"}
	if os.Getenv("WHISTLECUT_SOAK") == "1" {
		o = ExactOptions{Dir: o.Dir, Seed: 1}
		only = []string{""}
	}
	for _, o.Only = range only {
		var out strings.Builder
		r, err := Exact(context.Background(), &out, o)
		if err != nil {
			t.Fatal(err)
		}
		if !r.Exact() {
			t.Errorf("not exact:\n%s", out.String())
		}
	}
}

func TestCutSmoke(t *testing.T) {
	needFFmpeg(t)
	var out strings.Builder
	r, err := Cut(context.Background(), &out, CutOptions{Dir: t.TempDir(), Short: true})
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range r.Rows {
		if row.Exact.Clips == 0 || row.Copy.Film != row.Exact.Film || row.AlignedGo.Film != row.AlignedCopy.Film || row.Encode.Film >= row.Copy.Film {
			t.Errorf("%+v", row)
		}
	}
	if len(r.Rows) != 2 || r.IndexRows < 1000 || !strings.Contains(out.String(), "CPU-seconds") {
		t.Errorf("%d films, index of %d:\n%s", len(r.Rows), r.IndexRows, out.String())
	}
}

func TestCodeIsReadBack(t *testing.T) {
	const stride = codeWide + 13
	for _, n := range []int{0, 1, 2, 599, 1 << 10, 108_000, 1<<codeBits - 1} {
		y := make([]byte, stride*codeHigh)
		drawCode(y, stride, n)
		if got, ok := readCode(y, stride); !ok || got != n {
			t.Errorf("%d was read as %d, %v", n, got, ok)
		}
		// A blotch over one block must not give another number.
		for row := range block {
			for x := range block {
				y[row*stride+3*block+x] ^= 0xff
			}
		}
		if got, ok := readCode(y, stride); ok {
			t.Errorf("%d with a blotch was read as %d", n, got)
		}
	}
}

func TestSoundOffset(t *testing.T) {
	expected := []float64{1, 1.7, 2.5, 3.1}
	for _, c := range []struct {
		name     string
		found    []float64
		from, to float64
		worst    float64
		says     string
	}{
		{"in step", []float64{0.5, 1.2, 2.0}, 0.5, 3, 0, ""},
		{"late", []float64{0.54, 1.22, 2.0}, 0.5, 3, 0.04, ""},
		{"early", []float64{0.5, 1.17, 2.0}, 0.5, 3, -0.03, ""},
		{"one missing", []float64{0.5, 2.0}, 0.5, 3, 0, "1.700 s is missing"},
		{"one too many", []float64{0.5, 0.8, 1.2, 2.0}, 0.5, 3, 0, "not in the film"},
		{"another stretch", []float64{0.2, 0.9, 1.6}, 0.5, 3, 0, "missing"},
		{"cut by the end", []float64{0.5, 1.2}, 0.5, 2.51, 0, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			worst, err := soundOffset(c.found, expected, c.from, c.to)
			if c.says != "" {
				if err == nil || !strings.Contains(err.Error(), c.says) {
					t.Errorf("got %v", err)
				}
				return
			}
			if err != nil || worst-c.worst > 1e-9 || c.worst-worst > 1e-9 {
				t.Errorf("off by %.4f, %v; want %.4f", worst, err, c.worst)
			}
		})
	}
}

func TestClicksAreFound(t *testing.T) {
	path := t.TempDir() + "/clicks.wav"
	times := clickTimes(5)
	if err := writeClicks(path, 5, times); err != nil {
		t.Fatal(err)
	}
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	found := findClicks(data[44:])
	if len(found) != len(times) {
		t.Fatalf("%d clicks, want %d", len(found), len(times))
	}
	if worst, err := soundOffset(found, times, 0, 5); err != nil || worst > 0.001 || worst < -0.001 {
		t.Errorf("off by %.4f, %v", worst, err)
	}
}

package interchange

import (
	"bytes"
	"context"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"whistlecut/timeline/footage/ffmpeg"
)

// TestFFmpegReadsChapters puts chapters into a film with ffmpeg and lets ffprobe
// list them.
func TestFFmpegReadsChapters(t *testing.T) {
	ctx, r := context.Background(), ffmpeg.Default()
	if _, err := r.Path(); err != nil || !ffmpeg.HasTool("ffprobe") {
		t.Skip("ffmpeg is not installed")
	}
	dir := t.TempDir()
	list := []Chapter{{"P1 J1", 0, 1500e6}, {"a = b; #c \\ d", 1500e6, 2 * s}}
	var b bytes.Buffer
	if err := WriteChapters(&b, "T", list); err != nil {
		t.Fatal(err)
	}
	meta, film := filepath.Join(dir, "c.txt"), filepath.Join(dir, "f.mp4")
	if err := os.WriteFile(meta, b.Bytes(), 0o666); err != nil {
		t.Fatal(err)
	}
	if err := r.Run(ctx, ffmpeg.Job{Args: []string{
		"-f", "lavfi", "-i", "color=s=32x32:r=5:d=2", "-i", meta, "-map", "0:v", "-map_chapters", "1", "-c:v", "libx264", "-preset", "ultrafast", film,
	}}); err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	if err := r.Tool(ctx, "ffprobe", []string{"-v", "error", "-show_chapters", "-of", "json", film}, nil, &out); err != nil {
		t.Fatal(err)
	}
	var got struct {
		Chapters []struct {
			Start string `json:"start_time"`
			End   string `json:"end_time"`
			Tags  struct{ Title string }
		}
	}
	if err := json.Unmarshal(out.Bytes(), &got); err != nil || len(got.Chapters) != len(list) {
		t.Fatalf("%v: %s", err, out.Bytes())
	}
	for i, c := range got.Chapters {
		from, _ := strconv.ParseFloat(c.Start, 64)
		to, _ := strconv.ParseFloat(c.End, 64)
		if w := list[i]; c.Tags.Title != w.Title || math.Abs(from-w.From.Seconds()) > 0.002 || math.Abs(to-w.To.Seconds()) > 0.002 {
			t.Errorf("chapter %d: %+v, written %+v", i+1, c, w)
		}
	}
}

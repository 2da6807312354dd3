package caption

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"whistlecut/timeline/footage/ffmpeg"
)

// everyday is a track with what captions of a reel may hold.
var everyday = Track{Language: "en", Title: "Power jams & more", Cues: []Cue{
	{0, 2345 * ms, "Lead, and out"},
	{2345 * ms, 4 * time.Second, "Back in:\n28.3 multiplayer"},
	{4 * time.Second, 4001 * ms, "short"},
	{61 * time.Second, 62500 * ms, "שלום, רולר 12"},
	{3600 * time.Second, 3601 * time.Second, "Ünverhofft → 88–91"},
}}

// sharp is a track with all that means something in one of the formats.
var sharp = Track{Cues: []Cue{
	{time.Second, 2 * time.Second, "5 < 6 & 7 > 4 --> &amp; <i>no</i>"},
	{2 * time.Second, 3 * time.Second, "WEBVTT\n1\nNOTE"},
	{3 * time.Second, 4 * time.Second, "مرحبا <b>"},
}}

func save(t *testing.T, name string, write func(*bytes.Buffer) error) string {
	t.Helper()
	var b bytes.Buffer
	if err := write(&b); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, b.Bytes(), 0o666); err != nil {
		t.Fatal(err)
	}
	return path
}

// TestFFmpegReadsCaptions lets ffmpeg turn each format into the other and reads
// times and words in what it made.
func TestFFmpegReadsCaptions(t *testing.T) {
	r := ffmpeg.Default()
	if _, err := r.Path(); err != nil {
		t.Skip("ffmpeg is not installed: " + err.Error())
	}
	for _, c := range []struct {
		name, file, as string
		write          func(*bytes.Buffer) error
		read           func(string) (Track, error)
	}{
		{"VTT to SRT", "a.vtt", "srt", func(b *bytes.Buffer) error { return WriteVTT(b, everyday) }, readSRT},
		{"SRT to VTT", "a.srt", "webvtt", func(b *bytes.Buffer) error { return WriteSRT(b, everyday) }, readVTT},
	} {
		t.Run(c.name, func(t *testing.T) {
			var out bytes.Buffer
			if err := r.Run(context.Background(), ffmpeg.Job{Args: []string{"-i", save(t, c.file, c.write), "-f", c.as, "pipe:1"}, Stdout: &out}); err != nil {
				t.Fatal(err)
			}
			got, err := c.read(out.String())
			if err != nil {
				t.Fatalf("%v:\n%s", err, out.String())
			}
			for i := range got.Cues { // marks of direction stay in what ffmpeg passes on
				got.Cues[i].Text = strings.NewReplacer(rightToLeftFrom, "", rightToLeftTo, "").Replace(got.Cues[i].Text)
			}
			if d := cmp.Diff(everyday.Cues, got.Cues); d != "" {
				t.Errorf("(-written +after ffmpeg):\n%s", d)
			}
		})
	}
}

// parserVersion is the judge taken from npm.
const parserVersion = "2.2.0"

// TestJudgeVTT lets npm's webvtt-parser read our WebVTT. Its words are kept in
// testdata/judge/verdicts.txt.
func TestJudgeVTT(t *testing.T) {
	if os.Getenv("WHISTLECUT_JUDGES") != "1" {
		t.Skip("outside programs judge with WHISTLECUT_JUDGES=1, as in make judges")
	}
	ctx, r, dir := context.Background(), ffmpeg.Default(), t.TempDir()
	if err := r.Tool(ctx, "npm", []string{"install", "--prefix", dir, "--no-audit", "--no-fund", "--silent", "webvtt-parser@" + parserVersion}, nil, nil); err != nil {
		t.Fatal(err)
	}
	var record bytes.Buffer
	fmt.Fprintf(&record, "What npm webvtt-parser %s reads in captions written here.\nMade by TestJudgeVTT (make judges).\n", parserVersion)
	for _, c := range []struct {
		name  string
		track Track
	}{{"everyday", everyday}, {"what means something", sharp}, {"nothing", Track{}}} {
		t.Run(c.name, func(t *testing.T) {
			var out bytes.Buffer
			path := save(t, "a.vtt", func(b *bytes.Buffer) error { return WriteVTT(b, c.track) })
			if err := r.Tool(ctx, "node", []string{"testdata/judge/read.cjs", dir, path}, nil, &out); err != nil {
				t.Fatal(err)
			}
			var got struct {
				Version string
				Errors  []string
				Cues    []struct {
					Start, End float64
					Text       string
				}
			}
			if err := json.Unmarshal(out.Bytes(), &got); err != nil {
				t.Fatalf("%v: %s", err, out.Bytes())
			}
			want := c.track.ready()
			if len(got.Errors) > 0 || len(got.Cues) != len(want) || got.Version != parserVersion {
				t.Fatalf("%s", out.Bytes())
			}
			for i, g := range got.Cues {
				w := want[i]
				if g.Text != w.Text || math.Abs(g.Start-w.Start.Seconds()) > 1e-6 || math.Abs(g.End-w.End.Seconds()) > 1e-6 {
					t.Errorf("cue %d: %+v, written %+v", i+1, g, w)
				}
			}
			fmt.Fprintf(&record, "\n%s\n%s", c.name, out.Bytes())
		})
	}
	if !t.Failed() {
		if err := os.WriteFile("testdata/judge/verdicts.txt", record.Bytes(), 0o666); err != nil {
			t.Fatal(err)
		}
	}
}

package clip

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"whistlecut/timeline/footage/mp4"
)

// boxVersion is the judge taken from npm.
const boxVersion = "2.4.1"

type boxVerdict struct {
	Version    string
	FastStart  bool
	Fragmented bool
	Complaints []string
	Tracks     []struct {
		ID           int
		Type, Codec  string
		Samples      int
		FirstIsKey   bool `json:"first_is_key"`
		Descriptions int
		Shown        float64 `json:"shown_s"`
		Inside       bool
	}
}

type infoVerdict struct {
	Media struct {
		Track []map[string]any
	}
	CreatingLibrary struct{ Version string }
}

// TestJudgeClips lets npm's mp4box and mediainfo read clips of every make. Their
// words are kept in testdata/judge/verdicts.txt.
func TestJudgeClips(t *testing.T) {
	if os.Getenv("WHISTLECUT_JUDGES") != "1" {
		t.Skip("outside programs judge with WHISTLECUT_JUDGES=1, as in make judges")
	}
	ctx, r := context.Background(), runner(t)
	dir := t.TempDir()
	if err := r.Tool(ctx, "npm", []string{"install", "--prefix", dir, "--no-audit", "--no-fund", "--silent", "mp4box@" + boxVersion}, nil, nil); err != nil {
		t.Fatal(err)
	}
	hevc := film(t, "h.mp4", "-c:v", "libx265", "-preset", "ultrafast", "-pix_fmt", "yuv420p", "-x265-params", "keyint=25:bframes=2:log-level=error", "-tag:v", "hvc1", "-c:a", "aac")
	var record bytes.Buffer
	fmt.Fprintf(&record, "What outside programs read in clips written here: npm mp4box %s and Debian's mediainfo.\nMade by TestJudgeClips (make judges).\n", boxVersion)
	for _, c := range []struct {
		name, film  string
		q           Request
		method      Method
		description int
	}{
		{"copied", phone(t), Request{First: 50, Last: 149}, Copied, 1},
		{"edges, H.264 with B-frames", bframes(t), Request{First: 40, Last: 162}, Edges, 1},
		{"edges, turned", turned(t), Request{First: 40, Last: 162}, Edges, 1},
		{"edges, HEVC", hevc, Request{First: 30, Last: 162}, Edges, 2},
		{"encoded", bframes(t), Request{First: 3, Last: 90, Reencode: true, Title: "P1 J7 – lead"}, Reencoded, 1},
	} {
		t.Run(c.name, func(t *testing.T) {
			c.q.Out = filepath.Join(dir, "clip.mp4")
			res, err := openFilm(t, c.film).Cut(ctx, c.q)
			if err != nil || res.Method != c.method {
				t.Fatalf("%+v, %v", res, err)
			}
			frames := res.LastFrame - res.FirstFrame + 1
			length := (res.End - res.FirstTime).Seconds()

			var out bytes.Buffer
			if err := r.Tool(ctx, "node", []string{"testdata/judge/read.cjs", dir, c.q.Out}, nil, &out); err != nil {
				t.Fatal(err)
			}
			var box boxVerdict
			if err := json.Unmarshal(lastLine(out.Bytes()), &box); err != nil {
				t.Fatalf("%v: %s", err, out.Bytes())
			}
			sameSamples(t, c.q.Out, out.Bytes())
			if !box.FastStart || box.Fragmented || len(box.Complaints) > 0 || len(box.Tracks) != 2 {
				t.Errorf("mp4box: %s", lastLine(out.Bytes()))
			}
			for i, tr := range box.Tracks {
				if math.Abs(tr.Shown-length) > 0.03 || !tr.Inside || !tr.FirstIsKey || i == 0 && (tr.Samples != frames || tr.Descriptions != c.description) {
					t.Errorf("mp4box on track %d: %+v; want %d frames, %.3f s", tr.ID, tr, frames, length)
				}
			}
			fmt.Fprintf(&record, "\n%s\nmp4box    %s\n", c.name, lastLine(out.Bytes()))

			out.Reset()
			if err := r.Tool(ctx, "mediainfo", []string{"--Output=JSON", c.q.Out}, nil, &out); err != nil {
				t.Fatal(err)
			}
			var info infoVerdict
			if err := json.Unmarshal(out.Bytes(), &info); err != nil {
				t.Fatal(err)
			}
			for _, tr := range info.Media.Track {
				kind, _ := tr["@type"].(string)
				if kind == "Video" {
					if tr["FrameCount"] != strconv.Itoa(frames) {
						t.Errorf("mediainfo counts %v frames, want %d", tr["FrameCount"], frames)
					}
					if want := map[bool]string{true: "270.000", false: "0.000"}[strings.Contains(c.film, "turned")]; tr["Rotation"] != want {
						t.Errorf("mediainfo: turned by %v, want %s", tr["Rotation"], want)
					}
				}
				if kind == "General" && (tr["IsStreamable"] != "Yes" || c.q.Title != "" && tr["Title"] != c.q.Title) {
					t.Errorf("mediainfo: streamable %v, title %v", tr["IsStreamable"], tr["Title"])
				}
				if d, err := strconv.ParseFloat(fmt.Sprint(tr["Duration"]), 64); err != nil || math.Abs(d-length) > 0.03 {
					t.Errorf("mediainfo: %s lasts %v, want %.3f s", kind, tr["Duration"], length)
				}
				fmt.Fprintf(&record, "mediainfo %s %s: %v, %v frames, %v s, delay %v, turned %v\n", info.CreatingLibrary.Version, kind, tr["Format"], tr["FrameCount"], tr["Duration"], tr["Delay"], tr["Rotation"])
			}
		})
	}
	if !t.Failed() {
		if err := os.WriteFile("testdata/judge/verdicts.txt", record.Bytes(), 0o666); err != nil {
			t.Fatal(err)
		}
	}
}

// sameSamples compares every sample's place, size, times, key flag and
// description as mp4box lists them with what our own reader finds.
func sameSamples(t *testing.T, path string, said []byte) {
	t.Helper()
	first, _, _ := bytes.Cut(said, []byte("\n"))
	var theirs [][][6]int64
	if err := json.Unmarshal(first, &theirs); err != nil {
		t.Fatalf("%v: %s", err, said)
	}
	f, err := mp4.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	var ours [][][6]int64
	for _, tr := range f.Tracks {
		s := &tr.Samples
		var list [][6]int64
		for i := range s.Len() {
			key := int64(0)
			if s.IsKey(i) {
				key = 1
			}
			list = append(list, [6]int64{s.Offset[i], int64(s.Size[i]), s.DTS[i], s.PTS(i), key, int64(s.EntryOf(i))})
		}
		ours = append(ours, list)
	}
	if d := cmp.Diff(ours, theirs); d != "" {
		t.Errorf("samples differ (-ours +mp4box's):\n%s", d)
	}
}

func lastLine(b []byte) []byte {
	b = bytes.TrimSpace(b)
	return b[bytes.LastIndexByte(b, '\n')+1:]
}

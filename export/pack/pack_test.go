package pack

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"whistlecut/timeline/footage/ffmpeg"
)

// film makes a moving picture of some seconds with sound.
func film(t *testing.T, dir, name string, seconds, height string) string {
	t.Helper()
	out := filepath.Join(dir, name)
	err := ffmpeg.Default().Run(context.Background(), ffmpeg.Job{Args: []string{
		"-f", "lavfi", "-i", "testsrc2=rate=12:size=" + map[string]string{"360": "640x360", "800": "1422x800"}[height],
		"-f", "lavfi", "-i", "sine=frequency=700", "-t", seconds, "-c:v", "libx264", "-preset", "ultrafast", "-qp", "4",
		"-pix_fmt", "yuv420p", "-c:a", "aac", "-y", out,
	}})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func clipOf(path, name string, length time.Duration, height int) Clip {
	return Clip{File: path, Name: name, Title: "Period 1, jam 7", Caption: `Back block: "052" <Ñandú> 🛼`, Facts: []string{"sat 0:30"}, Length: length, Height: height}
}

func TestMake(t *testing.T) {
	src := t.TempDir()
	small, large := film(t, src, "a ü #1.mp4", "1", "360"), film(t, src, "large.mp4", "2", "800")
	st, err := os.Stat(large)
	if err != nil {
		t.Fatal(err)
	}
	clips := []Clip{clipOf(small, "P1 J7 penalty #1 50%", time.Second, 360), clipOf(large, "large", 2*time.Second, 800)}
	for _, c := range []struct {
		name   string
		limit  int64
		single bool
		mute   bool
	}{
		{"no limit", 0, false, true},
		{"a limit", 600_000, false, false},
		{"one page", 800_000, true, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir := filepath.Join(t.TempDir(), "for 052")
			var last float64
			p := Pack{
				Dir: dir, Title: "052 Ada", Language: "en", Words: Words{Play: "Play all"}, Note: "Ask before you pass this on.",
				Clips: clips, Limit: c.limit, Single: c.single, Mute: c.mute, Progress: func(f float64) { last = f },
			}
			made, err := Make(context.Background(), ffmpeg.Default(), p)
			if err != nil {
				t.Fatal(err)
			}
			if last != 1 || len(made.Clips) != 2 {
				t.Errorf("progress ended at %g, %d clips were made", last, len(made.Clips))
			}
			if c.limit > 0 && made.Bytes > c.limit {
				t.Errorf("%d bytes, the limit is %d", made.Bytes, c.limit)
			}
			if !made.Clips[1].Shrunk || made.Clips[1].Bytes >= st.Size() || made.Clips[1].Height > 720 {
				t.Errorf("the large film of %d bytes became %+v", st.Size(), made.Clips[1])
			}
			page, err := os.ReadFile(made.Page)
			if err != nil {
				t.Fatal(err)
			}
			for _, want := range []string{"052 Ada", "Ñandú", "&lt;", "Ask before you pass this on.", "Play all"} {
				if !strings.Contains(string(page), want) {
					t.Errorf("the page lacks %q", want)
				}
			}
			if strings.Contains(string(page), "ZgotmplZ") || strings.Contains(string(page), "http://") || strings.Contains(string(page), "https://") {
				t.Error("the page lost an address or names one elsewhere")
			}
			if c.single != strings.Contains(string(page), `id="film001"`) {
				t.Error("films stand in the page when they should not, or lack")
			}
			for _, m := range made.Clips {
				_, err := os.Stat(filepath.Join(dir, filepath.FromSlash(m.File)))
				if (err == nil) == c.single {
					t.Errorf("film %s beside a page: %v", m.File, err)
				}
			}
			if !c.single && !strings.Contains(string(page), "films/01%20P1%20J7%20penalty%20%231%2050%25.mp4") {
				t.Error("the address of a film with # and % in its name is not escaped")
			}
			if !c.single {
				for _, m := range made.Clips {
					info, err := ffmpeg.Default().Probe(context.Background(), "-show_streams", filepath.Join(dir, filepath.FromSlash(m.File)))
					if err != nil {
						t.Fatal(err)
					}
					if heard := strings.Contains(string(info), "codec_name=aac"); heard == c.mute {
						t.Errorf("%s, mute %v: %s", m.File, c.mute, info)
					}
				}
			}
			// Again over the old one.
			if _, err := Make(context.Background(), ffmpeg.Default(), p); err != nil {
				t.Errorf("made again: %v", err)
			}
		})
	}
}

func TestMakeRefuses(t *testing.T) {
	src := t.TempDir()
	small := film(t, src, "a.mp4", "1", "360")
	good := Pack{Title: "052", Clips: []Clip{clipOf(small, "a", time.Second, 360)}}
	stopped, stop := context.WithCancel(context.Background())
	stop()
	for _, c := range []struct {
		name, want string
		change     func(p *Pack)
		ctx        context.Context
	}{
		{"no clips", "no clip", func(p *Pack) { p.Clips = nil }, nil},
		{"somebody's folder", "other files lie there", func(p *Pack) {
			if err := os.MkdirAll(p.Dir, 0o755); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(filepath.Join(p.Dir, "taxes.txt"), []byte("x"), 0o644); err != nil {
				t.Fatal(err)
			}
		}, nil},
		{"far too small a limit", "do not fit", func(p *Pack) { p.Limit = 50_000 }, nil},
		{"a clip that is gone", "no such file", func(p *Pack) { p.Clips[0].File = filepath.Join(src, "gone.mp4") }, nil},
		{"cancelled", "cancel", func(p *Pack) { p.Limit = 400_000; p.Clips[0].Height = 800 }, stopped},
	} {
		t.Run(c.name, func(t *testing.T) {
			parent := t.TempDir()
			p := good
			p.Clips = append([]Clip(nil), good.Clips...)
			p.Dir = filepath.Join(parent, "pack")
			c.change(&p)
			before := names(t, parent)
			ctx := c.ctx
			if ctx == nil {
				ctx = context.Background()
			}
			_, err := Make(ctx, ffmpeg.Default(), p)
			if err == nil || !strings.Contains(err.Error(), c.want) {
				t.Fatalf("%v, want %q", err, c.want)
			}
			if got := names(t, parent); got != before {
				t.Errorf("left behind: %s, before it was %s", got, before)
			}
		})
	}
}

func names(t *testing.T, dir string) string {
	t.Helper()
	list, err := filepath.Glob(filepath.Join(dir, "*"))
	if err != nil {
		t.Fatal(err)
	}
	hidden, _ := filepath.Glob(filepath.Join(dir, ".*"))
	return strings.Join(append(list, hidden...), " ")
}

package footage

import (
	"fmt"
	"os"
	"path/filepath"
	"sync"
	"testing"

	"whistlecut/timeline/footage/ffmpeg"
)

// runner is shared by the tests. They are about real films: a missing ffmpeg
// fails them with a sentence.
var runner = &ffmpeg.Runner{}

var mediaDir string

func TestMain(m *testing.M) {
	code := func() int {
		for _, find := range []func() (string, error){runner.Path, runner.ProbePath} {
			if _, err := find(); err != nil {
				fmt.Fprintln(os.Stderr, "the tests of package footage make and read films:", err)
				return 1
			}
		}
		dir, err := os.MkdirTemp("", "footage-test-")
		if err != nil {
			fmt.Fprintln(os.Stderr, err)
			return 1
		}
		defer os.RemoveAll(dir)
		mediaDir = dir
		return m.Run()
	}()
	os.Exit(code)
}

// picture and sound are the generated sources: a moving pattern with the frame
// number in it, and a beep each second.
func picture(rate string, seconds int) []string {
	return []string{"-f", "lavfi", "-i", fmt.Sprintf("testsrc2=s=320x180:r=%s:d=%d", rate, seconds)}
}

func sound(seconds int) []string {
	return []string{"-f", "lavfi", "-i", fmt.Sprintf("sine=b=4:d=%d:r=48000", seconds)}
}

var x264 = []string{"-c:v", "libx264", "-preset", "veryfast", "-pix_fmt", "yuv420p"}

// films are the kinds of film that the tests read, made on demand, once a run.
// A recipe starting with "from" changes another film.
var films = map[string]struct {
	file string
	from string // another film, taken as first input
	args [][]string
}{
	"closed":   {"closed.mp4", "", [][]string{picture("30", 4), sound(4), x264, {"-g", "30", "-bf", "0", "-c:a", "aac"}}},
	"bframes":  {"bframes.mp4", "", [][]string{picture("30000/1001", 4), sound(4), x264, {"-g", "250", "-bf", "3", "-c:a", "aac"}}},
	"opengop":  {"opengop.mp4", "", [][]string{picture("25", 4), x264, {"-g", "25", "-bf", "3", "-x264-params", "open-gop=1:scenecut=0"}}},
	"hevc":     {"hevc.mp4", "", [][]string{picture("30", 3), {"-c:v", "libx265", "-preset", "ultrafast", "-pix_fmt", "yuv420p10le", "-tag:v", "hvc1", "-x265-params", "keyint=30:bframes=3:open-gop=1:log-level=error"}}},
	"variable": {"variable.mp4", "", [][]string{picture("30", 4), sound(4), {"-vf", "select='not(eq(mod(n,7),3))',setpts='PTS+0.004*mod(N,3)/TB'", "-fps_mode", "passthrough", "-enc_time_base", "1/90000", "-video_track_timescale", "90000"}, x264, {"-g", "30", "-c:a", "aac"}}},
	"rotated":  {"rotated.mov", "closed", [][]string{{"-c", "copy", "-metadata:s:v:0", "rotate=90"}}},
	"fast":     {"fast.mp4", "", [][]string{picture("60000/1001", 3), x264, {"-g", "60", "-bf", "2"}}},
	"ts":       {"stream.ts", "bframes", [][]string{{"-c", "copy", "-output_ts_offset", "12.5"}}},
	"mkv":      {"film.mkv", "bframes", [][]string{{"-c", "copy"}}},
	"latesound": {"latesound.mp4", "", [][]string{
		picture("30", 3),
		{"-itsoffset", "0.4"},
		sound(2), x264,
		{"-g", "30", "-map", "0:v", "-map", "1:a", "-c:a", "aac"},
	}},
	"latepicture": {"latepicture.mp4", "", [][]string{
		{"-itsoffset", "0.5"},
		picture("30", 3), sound(4), x264,
		{"-g", "30", "-map", "0:v", "-map", "1:a", "-c:a", "aac"},
	}},
	"trimmed":    {"trimmed.mp4", "bframes", [][]string{{"-c", "copy"}}}, // see make: seeks into the film
	"fragmented": {"fragmented.mp4", "bframes", [][]string{{"-c", "copy", "-movflags", "frag_keyframe+empty_moov"}}},
	"negative":   {"negative.mp4", "bframes", [][]string{{"-c", "copy", "-movflags", "negative_cts_offsets"}}},
	"noedits":    {"noedits.mp4", "bframes", [][]string{{"-c", "copy", "-use_editlist", "0"}}},
	"timecode":   {"timecode.mov", "closed", [][]string{{"-c", "copy", "-timecode", "10:20:30:05", "-metadata", "creation_time=2024-05-04T10:11:12Z"}}},
	"mjpeg":      {"intra.mov", "", [][]string{picture("25", 2), {"-c:v", "mjpeg", "-q:v", "5"}}},
	"odd":        {"odd.mkv", "", [][]string{{"-f", "lavfi", "-i", "testsrc2=s=317x179:r=24000/1001:d=2"}, {"-c:v", "ffv1", "-vf", "setsar=4/3"}}},
	"silent":     {"silent.mp4", "", [][]string{picture("30", 2), x264}},
	"opents":     {"open.ts", "", [][]string{picture("25", 4), x264, {"-g", "25", "-bf", "3", "-x264-params", "open-gop=1:scenecut=0"}}},
	"tail":       {"tail.ts", "opents", nil}, // see make: begins between two key frames
}

var (
	madeLock sync.Mutex
	made     = map[string]string{}
)

// film returns the path of one of the films, making it the first time.
func film(t testing.TB, name string) string {
	t.Helper()
	madeLock.Lock()
	path := made[name]
	madeLock.Unlock()
	if path != "" {
		return path
	}
	recipe, ok := films[name]
	if !ok {
		t.Fatalf("no film is called %q", name)
	}
	path = filepath.Join(mediaDir, recipe.file)
	var args []string
	if recipe.from != "" {
		source := film(t, recipe.from)
		if name == "tail" {
			cutHead(t, source, path)
			return remember(name, path)
		}
		if name == "trimmed" {
			args = append(args, "-ss", "1.3")
		}
		args = append(args, "-i", source, "-map", "0")
	}
	for _, a := range recipe.args {
		args = append(args, a...)
	}
	makeFilm(t, path, args...)
	return remember(name, path)
}

func remember(name, path string) string {
	madeLock.Lock()
	made[name] = path
	madeLock.Unlock()
	return path
}

func makeFilm(t testing.TB, path string, args ...string) {
	t.Helper()
	err := runner.WriteFile(t.Context(), path, func(temp string) ffmpeg.Job {
		return ffmpeg.Job{Args: append(args, ffmpeg.Local(temp)), Doing: "make the test film", Subject: path}
	})
	if err != nil {
		t.Fatalf("%v\n%v", err, args)
	}
}

// cutHead drops the first part of a transport stream, as a receiver that joined
// late would have it.
func cutHead(t testing.TB, source, path string) {
	t.Helper()
	data, err := os.ReadFile(source)
	if err != nil {
		t.Fatal(err)
	}
	at := len(data) / 3 / 188 * 188
	if err := os.WriteFile(path, data[at:], 0o600); err != nil {
		t.Fatal(err)
	}
}

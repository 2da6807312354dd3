package footage

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
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

// recipe says how ffmpeg makes a film.
type recipe struct {
	file string
	from string   // another film, taken as first input
	seek string   // where in that film to begin, in seconds
	args []string // everything but the output
}

// picture is a moving pattern that is another one in every frame; clicks is a
// silent track with a click of 5 ms at every half second.
func picture(rate string, seconds int) []string {
	return []string{"-f", "lavfi", "-i", fmt.Sprintf("testsrc2=s=320x180:r=%s:d=%d", rate, seconds)}
}

func clicks(seconds int) []string {
	return []string{"-f", "lavfi", "-i", fmt.Sprintf("aevalsrc='0.8*lt(mod(t,0.5),0.005)*sin(2*PI*3000*t)':s=48000:d=%d", seconds)}
}

func x264(gop, bframes int, params string) []string {
	args := []string{"-c:v", "libx264", "-preset", "veryfast", "-pix_fmt", "yuv420p", "-g", strconv.Itoa(gop), "-bf", strconv.Itoa(bframes)}
	if params != "" {
		args = append(args, "-x264-params", params)
	}
	return args
}

var (
	aac      = []string{"-c:a", "aac"}
	copyAll  = []string{"-c", "copy"}
	openGOP  = "open-gop=1:scenecut=0"
	streams  = []string{"-map", "0:v", "-map", "1:a"}
	timeCode = []string{"-timecode", "10:20:30:05", "-metadata", "creation_time=2024-05-04T10:11:12Z"}
	unsteady = []string{
		"-vf", "select='not(eq(mod(n,7),3))',setpts='PTS+0.004*mod(N,3)/TB'",
		"-fps_mode", "passthrough", "-enc_time_base", "1/90000", "-video_track_timescale", "90000",
	}
	x265 = []string{
		"-c:v", "libx265", "-preset", "ultrafast", "-pix_fmt", "yuv420p10le", "-tag:v", "hvc1",
		"-x265-params", "keyint=30:bframes=3:open-gop=1:log-level=error",
	}
)

// films are the kinds of film that the tests read, made on demand, once a run.
var films = map[string]recipe{
	"closed":   {file: "closed.mp4", args: slices.Concat(picture("30", 4), clicks(4), x264(30, 0, ""), aac)},
	"bframes":  {file: "bframes.mp4", args: slices.Concat(picture("30000/1001", 4), clicks(4), x264(250, 3, ""), aac)},
	"opengop":  {file: "opengop.mp4", args: slices.Concat(picture("25", 4), x264(25, 3, openGOP))},
	"opencut":  {file: "opencut.mp4", from: "opengop", seek: "1.5", args: slices.Concat(copyAll, []string{"-use_editlist", "0"})},
	"hevc":     {file: "hevc.mp4", args: slices.Concat(picture("30", 3), x265)},
	"hevccut":  {file: "hevccut.mp4", from: "hevc", seek: "1.5", args: slices.Concat(copyAll, []string{"-use_editlist", "0", "-tag:v", "hvc1"})},
	"variable": {file: "variable.mp4", args: slices.Concat(picture("30", 4), clicks(4), unsteady, x264(30, 0, ""), aac)},
	// ffmpeg 5.1 turns this tag into a display matrix of 90 degrees clockwise.
	"rotated":     {file: "rotated.mov", from: "closed", args: slices.Concat(copyAll, []string{"-metadata:s:v:0", "rotate=270"})},
	"fast":        {file: "fast.mp4", args: slices.Concat(picture("60000/1001", 3), x264(60, 2, ""))},
	"ts":          {file: "stream.ts", from: "bframes", args: slices.Concat(copyAll, []string{"-output_ts_offset", "12.5"})},
	"mkv":         {file: "film.mkv", from: "bframes", args: copyAll},
	"latesound":   {file: "latesound.mp4", args: slices.Concat(picture("30", 3), []string{"-itsoffset", "0.4"}, clicks(2), x264(30, 0, ""), streams, aac)},
	"latepicture": {file: "latepicture.mp4", args: slices.Concat([]string{"-itsoffset", "0.5"}, picture("30", 3), clicks(4), x264(30, 0, ""), streams, aac, []string{"-fps_mode", "passthrough"})},
	"trimmed":     {file: "trimmed.mp4", from: "bframes", seek: "1.3", args: copyAll},
	"fragmented":  {file: "fragmented.mp4", from: "bframes", args: slices.Concat(copyAll, []string{"-movflags", "frag_keyframe+empty_moov"})},
	"negative":    {file: "negative.mp4", from: "bframes", args: slices.Concat(copyAll, []string{"-movflags", "negative_cts_offsets"})},
	"noedits":     {file: "noedits.mp4", from: "bframes", args: slices.Concat(copyAll, []string{"-use_editlist", "0"})},
	"timecode":    {file: "timecode.mov", from: "closed", args: slices.Concat(copyAll, timeCode)},
	"mjpeg":       {file: "intra.mov", args: slices.Concat(picture("25", 2), []string{"-c:v", "mjpeg", "-q:v", "5"})},
	"odd":         {file: "odd.mkv", args: []string{"-f", "lavfi", "-i", "testsrc=s=317x179:r=24000/1001:d=2", "-c:v", "ffv1", "-vf", "setsar=4/3"}},
	"silent":      {file: "silent.mp4", args: slices.Concat(picture("30", 2), x264(30, 0, ""))},
	"opents":      {file: "open.ts", args: slices.Concat(picture("25", 4), clicks(4), x264(25, 3, openGOP), []string{"-c:a", "mp2"})},
	"soundgap": {file: "soundgap.mkv", args: slices.Concat(picture("30", 3), clicks(3), x264(30, 0, ""),
		[]string{"-af", "aselect='not(between(t,0.9,1.7))'", "-c:a", "pcm_s16le"})},
	"tail": {file: "tail.ts", from: "opents"}, // begins between two key frames
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
		if recipe.seek != "" {
			args = append(args, "-ss", recipe.seek)
		}
		args = append(args, "-i", source, "-map", "0")
	}
	makeFilm(t, path, append(args, recipe.args...)...)
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

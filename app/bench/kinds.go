package bench

import (
	"context"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"

	"whistlecut/timeline/footage/ffmpeg"
	"whistlecut/timeline/footage/mp4"
)

// kind is a kind of source as it comes off cameras.
type kind struct {
	name    string
	file    string
	w, h    int
	rate    string  // frames a second as ffmpeg takes it
	fps     float64 // the same
	video   []string
	sound   []string // nil: AAC
	silent  bool
	late    float64 // seconds the sound starts after the picture
	filter  string
	output  []string
	after   func(ctx context.Context, r *ffmpeg.Runner, path string) error
	foreign string // "h264", "hevc": also judged by a decoder of another family
	short   bool   // part of the short run
}

func x264(more ...string) []string {
	return append([]string{"-c:v", "libx264", "-preset", "veryfast", "-pix_fmt", "yuv420p"}, more...)
}

func x265(params string, more ...string) []string {
	return append([]string{"-c:v", "libx265", "-preset", "ultrafast", "-tag:v", "hvc1", "-x265-params", "log-level=error:" + params}, more...)
}

// kinds are the sources of the exactness measurement.
func kinds() []kind {
	list := []kind{
		{name: "H.264, closed groups of 30, no B-frames", file: "closed.mp4", video: x264("-g", "30", "-bf", "0"), foreign: "h264", short: true},
		{name: "H.264, groups of 250 with B-frames", file: "long.mp4", video: x264("-g", "250", "-bf", "3"), foreign: "h264", short: true},
		{name: "H.264, open groups", file: "open.mp4", video: x264("-g", "60", "-bf", "3", "-x264-params", "open-gop=1"), foreign: "h264", short: true},
		{name: "HEVC 10 bit, open groups (CRA)", file: "hevc10.mp4", video: x265("keyint=60:bframes=3", "-pix_fmt", "yuv420p10le"), foreign: "hevc", short: true},
		{name: "HEVC 8 bit, closed groups", file: "hevc8.mp4", video: x265("keyint=30:open-gop=0:bframes=3", "-pix_fmt", "yuv420p"), foreign: "hevc"},
		{
			name: "variable frame rate", file: "vfr.mp4", video: x264("-g", "45", "-bf", "2"), foreign: "h264", short: true,
			filter: "settb=1/90000,setpts='(N+0.35*sin(N*1.7)+6*floor(N/97))/30/TB'", output: []string{"-fps_mode", "passthrough", "-enc_time_base", "1/90000", "-video_track_timescale", "90000"},
		},
		{name: "rotated by 90 degrees", file: "rotated.mov", video: x264("-g", "30", "-bf", "0"), after: turn, foreign: "h264"},
		{name: "59.94 frames a second, B-frames", file: "5994.mp4", rate: "60000/1001", fps: 60000.0 / 1001, video: x264("-g", "60", "-bf", "3"), foreign: "h264"},
		{name: "MPEG-TS, starts at 100 s", file: "stream.ts", video: x264("-g", "50", "-bf", "2"), output: []string{"-output_ts_offset", "100"}, foreign: "h264", short: true},
		{name: "MP4 that starts at 3 s", file: "offset.mp4", video: x264("-g", "30", "-bf", "2"), output: []string{"-output_ts_offset", "3"}, foreign: "h264"},
		{name: "sound starts 0.9 s late", file: "late.mp4", video: x264("-g", "30", "-bf", "2"), late: 0.9, foreign: "h264", short: true},
		{
			name: "action camera: telemetry, time code, 60 a second", file: "action.MP4", rate: "60", fps: 60, video: x264("-g", "30", "-bf", "0", "-profile:v", "high"),
			output: []string{"-timecode", "10:11:12:13"}, after: addTelemetry, foreign: "h264", short: true,
		},
		{name: "odd size 642x362, Baseline", file: "odd.mp4", w: 642, h: 362, video: x264("-g", "30", "-profile:v", "baseline"), foreign: "h264"},
		{name: "start hidden by an edit list", file: "hidden.mp4", video: x264("-g", "90", "-bf", "2"), after: hideStart, foreign: "h264"},
		{name: "Matroska, HEVC", file: "film.mkv", video: x265("keyint=40:bframes=2", "-pix_fmt", "yuv420p")},
		{name: "fragmented MP4", file: "fragments.mp4", video: x264("-g", "30", "-bf", "2"), output: []string{"-movflags", "frag_keyframe+empty_moov"}},
		{name: "no sound", file: "silent.mp4", video: x264("-g", "30", "-bf", "2"), silent: true},
		{name: "Motion JPEG in MOV, uncompressed sound", file: "intra.mov", video: []string{"-c:v", "mjpeg", "-q:v", "4", "-pix_fmt", "yuvj420p"}, sound: []string{"-c:a", "pcm_s16le"}},
		{name: "interlaced H.264", file: "fields.mp4", video: x264("-g", "30", "-bf", "2", "-flags", "+ilme+ildct"), filter: "setfield=tff"},
		{name: "MPEG-4 part 2 with B-frames", file: "part2.mp4", video: []string{"-c:v", "mpeg4", "-q:v", "4", "-g", "30", "-bf", "2"}},
	}
	for i := range list {
		k := &list[i]
		if k.w == 0 {
			k.w, k.h = 640, 360
		}
		if k.rate == "" {
			k.rate, k.fps = "30", 30
		}
		if k.sound == nil {
			k.sound = []string{"-c:a", "aac", "-b:a", "128k"}
		}
	}
	return list
}

// make writes the film into dir and returns its path and the times of its
// clicks.
func (k kind) make(ctx context.Context, r *ffmpeg.Runner, dir string, seconds float64) (path string, clicks []float64, err error) {
	path = filepath.Join(dir, k.file)
	args := []string{"-y", "-f", "rawvideo", "-pix_fmt", "yuv420p", "-s", fmt.Sprintf("%dx%d", k.w, k.h), "-r", k.rate, "-i", "pipe:0"}
	if !k.silent {
		wav := filepath.Join(dir, "clicks.wav")
		clicks = clickTimes(seconds - k.late)
		if err := writeClicks(wav, seconds-k.late, clicks); err != nil {
			return "", nil, err
		}
		for i := range clicks {
			clicks[i] += k.late
		}
		args = append(args, "-itsoffset", fmt.Sprint(k.late), "-i", wav, "-map", "0:v", "-map", "1:a")
		args = append(args, k.sound...)
	}
	if k.filter != "" {
		args = append(args, "-vf", k.filter)
	}
	args = append(append(append(args, k.video...), k.output...), path)
	frames := int(math.Round(seconds * k.fps))
	err = r.Run(ctx, ffmpeg.Job{Args: args, Stdin: newPainter(k.w, k.h, frames), Doing: "make the film", Subject: k.file})
	if err == nil && k.after != nil {
		err = k.after(ctx, r, path)
	}
	return path, clicks, err
}

// turn makes the film one to be turned by a quarter when it is shown.
func turn(ctx context.Context, r *ffmpeg.Runner, path string) error {
	upright := path + ".upright.mov"
	if err := os.Rename(path, upright); err != nil {
		return err
	}
	defer os.Remove(upright)
	return r.Run(ctx, ffmpeg.Job{Args: []string{"-y", "-i", upright, "-c", "copy", "-metadata:s:v:0", "rotate=90", path}, Doing: "turn", Subject: path})
}

// hideStart cuts the start off by copying: what lies before is hidden by an
// edit list.
func hideStart(ctx context.Context, r *ffmpeg.Runner, path string) error {
	whole := path + ".whole.mp4"
	if err := os.Rename(path, whole); err != nil {
		return err
	}
	defer os.Remove(whole)
	return r.Run(ctx, ffmpeg.Job{Args: []string{"-y", "-ss", "1.4", "-i", whole, "-c", "copy", path}, Doing: "cut the start off", Subject: path})
}

// addTelemetry adds a data track as action cameras write it: once a second a
// block of measurements between picture and sound.
func addTelemetry(_ context.Context, _ *ffmpeg.Runner, path string) error {
	film, err := mp4.Open(path)
	if err != nil {
		return err
	}
	plain := path + ".plain.mp4"
	if err := os.Rename(path, plain); err != nil {
		return err
	}
	defer os.Remove(plain)
	in, err := os.Open(plain)
	if err != nil {
		return err
	}
	defer in.Close()
	m := &mp4.Movie{Timescale: film.Timescale, Brands: []string{"mp41", "mp41"}}
	for _, t := range film.Tracks {
		o := &mp4.OutTrack{
			Handler: t.Handler, Name: t.Name, Timescale: t.Timescale, Language: t.Language, Matrix: t.Matrix,
			Width: t.Width, Height: t.Height, Edits: t.Edits, Entries: t.Entries,
		}
		s := &t.Samples
		for i := range s.Len() {
			o.Samples = append(o.Samples, mp4.OutSample{
				Src: in, Offset: s.Offset[i], Size: s.Size[i], Duration: uint32(s.Duration(i)),
				CTS: int32(s.PTS(i) - s.DTS[i]), Key: s.IsKey(i), Entry: s.EntryOf(i),
			})
		}
		m.Tracks = append(m.Tracks, o)
	}
	block := mp4.Bytes(slices.Repeat([]byte("DEVC\x00\x01measured"), 200))
	data := &mp4.OutTrack{
		Handler: "meta", Name: "telemetry", Timescale: 1000,
		Entries: []mp4.SampleEntry{{Raw: mp4.Box("gpmd", []byte{0, 0, 0, 0, 0, 0, 0, 1, 0, 0, 0, 0})}},
	}
	for range int(film.Duration/uint64(film.Timescale)) + 1 {
		data.Samples = append(data.Samples, mp4.OutSample{Src: block, Size: 2000, Duration: 1000, Key: true})
	}
	m.Tracks = append(m.Tracks, data)
	out, err := os.Create(path)
	if err != nil {
		return err
	}
	if _, err := m.WriteTo(out); err != nil {
		out.Close()
		return err
	}
	return out.Close()
}

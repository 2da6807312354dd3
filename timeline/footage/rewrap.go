package footage

import (
	"context"
	"fmt"
	"slices"
	"time"

	"whistlecut/timeline/footage/ffmpeg"
)

// Codecs that the MP4 container takes and players know there.
var (
	mp4Pictures = []string{"h264", "hevc", "av1", "vp9", "mpeg4", "mpeg2video", "mpeg1video", "mjpeg"}
	mp4Sounds   = []string{"aac", "mp3", "mp2", "ac3", "eac3", "alac", "opus"}
)

// RewrapOptions change what Rewrap does; the zero value is fine.
type RewrapOptions struct {
	// Progress is called as in ffmpeg.Job; copying reports little before its end.
	Progress func(done time.Duration, fraction float64)
}

// Rewrap writes the picture and all sound of a film into an MP4 at dst without
// touching a picture; sound that MP4 does not take is made AAC. Times stay:
// film time in the copy is film time in the source. dst appears when it is
// whole, and nothing is left after a failure or cancel.
func Rewrap(ctx context.Context, r *ffmpeg.Runner, path string, info Info, dst string, opt RewrapOptions) error {
	if !slices.Contains(mp4Pictures, info.Video.Codec) {
		return &Error{
			Doing: "rewrap", Path: path,
			Detail: fmt.Sprintf("an MP4 can't hold a picture coded as %s", info.Video.Codec),
			Hint:   "convert it to H.264 with another program first",
		}
	}
	if r == nil {
		r = ffmpeg.Default()
	}
	return r.WriteFile(ctx, dst, func(temp string) ffmpeg.Job {
		return ffmpeg.Job{
			Args: rewrapArgs(path, info, temp), Doing: "rewrap", Subject: path,
			Total: info.Duration, Progress: opt.Progress,
		}
	})
}

// rewrapArgs composes the argument list by hand: options of single sound
// streams must come in an order of their own.
func rewrapArgs(path string, info Info, out string) []string {
	// Some containers carry no display times: they are made from decode times.
	args := append([]string{"-fflags", "+genpts"}, ffmpeg.Input(path)...)
	args = append(args, "-map", fmt.Sprintf("0:%d", info.Video.Index))
	for _, a := range info.Audio {
		args = append(args, "-map", fmt.Sprintf("0:%d", a.Index))
	}
	args = append(args, "-map_metadata", "0", "-c", "copy")
	for i, a := range info.Audio {
		if !slices.Contains(mp4Sounds, a.Codec) {
			args = append(args, fmt.Sprintf("-c:a:%d", i), "aac", fmt.Sprintf("-b:a:%d", i), "192k")
		}
	}
	if info.Video.Codec == "hevc" {
		args = append(args, "-tag:v", "hvc1") // what players other than ffmpeg's look for
	}
	// Milliseconds and the transport stream's clock fit into it without rounding.
	if b := info.Video.Base; b.Known() && 90000*b.Num%b.Den == 0 {
		args = append(args, "-video_track_timescale", "90000")
	}
	return append(args, "-f", "mp4", ffmpeg.Local(out))
}

package demofilm

import (
	"fmt"
	"io"
	"strconv"

	"whistlecut/export/demofilm/sound"
	"whistlecut/timeline/footage/ffmpeg"
)

// soundJob encodes a stream to AAC in a file of its own: ffmpeg reads one
// standard input only, and that one is for the picture.
func soundJob(s *sound.Stream, in io.Reader, t take, to string) ffmpeg.Job {
	return ffmpeg.Job{
		Doing: "encode the sound of", Subject: t.name, Total: s.Duration(), Stdin: in,
		Args: []string{
			"-f", "s16le", "-ar", strconv.Itoa(s.Rate()), "-ac", strconv.Itoa(s.Channels()), "-i", "pipe:0",
			"-c:a", "aac", "-b:a", strconv.Itoa(96*s.Channels()) + "k", "-y", ffmpeg.Local(to),
		},
	}
}

// pictureJob encodes raw frames and joins them with the encoded sound.
func pictureJob(in io.Reader, t take, o Options, soundFile, to string) ffmpeg.Job {
	second := int(t.rate.Float() + 0.5)
	args := []string{
		"-f", "rawvideo", "-pix_fmt", "yuv420p", "-video_size", fmt.Sprintf("%dx%d", o.Width, o.Height),
		"-framerate", t.rate.String(), "-i", "pipe:0",
	}
	args = append(args, ffmpeg.Input(soundFile)...)
	args = append(args, "-map", "0:v", "-map", "1:a")
	if t.variable {
		args = append(args, "-vf", selectFilter(t), "-fps_mode", "passthrough")
	}
	args = append(args,
		"-c:v", "libx264", "-preset", "ultrafast", "-crf", "26", "-g", strconv.Itoa(second),
		"-color_range", "tv", "-colorspace", "bt709", "-color_primaries", "bt709", "-color_trc", "bt709",
		"-video_track_timescale", strconv.Itoa(t.rate.Num*512),
		"-c:a", "copy", "-map_metadata", "-1", "-movflags", "+faststart", ffmpeg.Local(to),
	)
	return ffmpeg.Job{Doing: "film", Subject: t.name, Total: t.length(), Args: args, Stdin: in}
}

// selectFilter tells ffmpeg what take.kept says.
func selectFilter(t take) string {
	scattered := fmt.Sprintf("lt(mod(n*n*31+n*7,%d),%d)", dropModulus, dropBelow)
	slow := fmt.Sprintf("gte(mod(n,%d),%d)*mod(n,2)", slowEvery, slowEvery-slowLength)
	return fmt.Sprintf("select='eq(n,0)+eq(n,%d)+not(%s)*not(%s)'", t.frames-1, scattered, slow)
}

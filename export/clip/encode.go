package clip

import (
	"fmt"
	"strings"
)

// The quality of encoded parts: high enough that the seam can't be seen in
// motion, quick enough for a batch (x264 and x265 documentation; the factors
// chosen by eye on noisy film).
const (
	avcQuality     = "17"
	avcEdgeQuality = "16"
	hevcQuality    = "18"
)

// edgeFrames is how many encoded frames count as an edge. So few need not be
// small, and are encoded in the quickest way.
const edgeFrames = 60

// x264Args encode without frames that are decoded out of order, one key frame
// at the start and more only where forced, a delimiter before every frame.
func x264Args(more string, frames int) []string {
	preset, quality, speed := "veryfast", avcQuality, "rc-lookahead=10"
	args := []string{"-c:v", "libx264"}
	if frames <= edgeFrames {
		preset, quality, speed = "ultrafast", avcEdgeQuality, "rc-lookahead=0:deblock=0,0"
		args = append(args, "-threads", "1") // its threads cost more than they bring
	}
	return append(
		args, "-preset", preset, "-crf", quality, "-forced-idr", "1",
		"-x264-params", join(more, "aud=1:bframes=0:weightp=0:keyint=infinite:scenecut=0:log-level=error:"+speed),
		"-f", "h264",
	)
}

// x265Args does the same for HEVC; deep is for more than eight bits a sample.
// rate is the film's in frames a second; without it two parts of one film could
// get different parameter sets.
func x265Args(deep bool, rate string) []string {
	preset := "superfast"
	if deep {
		preset = "ultrafast" // ten bits cost twice the time
	}
	return []string{
		"-c:v", "libx265", "-preset", preset, "-crf", hevcQuality, "-forced-idr", "1",
		"-x265-params", "fps=" + rate + ":aud=1:repeat-headers=1:open-gop=0:bframes=0:keyint=-1:scenecut=0:rc-lookahead=5:log-level=error",
		"-f", "hevc",
	}
}

func join(a, b string) string {
	if a == "" {
		return b
	}
	return a + ":" + b
}

// selection is the filter that keeps the wanted times of a feed.
func selection(spans []times) string {
	var parts []string
	for _, s := range spans {
		parts = append(parts, fmt.Sprintf("between(pts,%d,%d)", s.first, s.last))
	}
	return "select='" + strings.Join(parts, "+") + "'"
}

// encodeArgs is ffmpeg's argument list: the feed on standard input, the wanted
// frames encoded to standard output. heads is the number of frames before the
// tail, whose first frame must be a key frame.
func encodeArgs(fd *feed, heads, tails int, encoder []string, filters []string) []string {
	args := []string{"-copyts", "-f", "mov", "-i", "pipe:0"}
	args = append(args, filters...)
	args = append(args, "-fps_mode", "passthrough", "-enc_time_base", "-1", "-frames:v", fmt.Sprint(heads+tails))
	if heads > 0 && tails > 0 {
		args = append(args, "-force_key_frames", fmt.Sprintf("expr:eq(n,%d)", heads))
	}
	return append(append(args, encoder...), "pipe:1")
}

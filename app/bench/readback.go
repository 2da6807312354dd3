package bench

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os/exec"

	"whistlecut/timeline/footage/ffmpeg"
	"whistlecut/timeline/footage/mp4"
)

// numbers reads the frame numbers of a film with ffmpeg, stopping at the first
// error of the bit stream. log is what ffmpeg had to say.
func numbers(ctx context.Context, r *ffmpeg.Runner, path string) (list []int, log string, err error) {
	var said bytes.Buffer
	sink := &codeSink{width: codeWide, height: codeHigh, stride: codeWide}
	err = r.Run(ctx, ffmpeg.Job{
		Args: []string{
			"-xerror", "-err_detect", "explode", "-noautorotate", "-i", ffmpeg.Local(path), "-map", "0:v:0", "-fps_mode", "passthrough",
			"-vf", fmt.Sprintf("crop=%d:%d:0:0,format=gray", codeWide, codeHigh), "-f", "rawvideo", "pipe:1",
		},
		Stdout: sink, Log: &said, Doing: "read the frame numbers of", Subject: path,
	})
	return sink.list, said.String(), err
}

// codeSink reads the number of each grey frame written to it; -1 for none.
type codeSink struct {
	width, height, stride int
	rest                  []byte
	list                  []int
}

func (s *codeSink) Write(b []byte) (int, error) {
	s.rest = append(s.rest, b...)
	size := s.stride * s.height
	for len(s.rest) >= size {
		n, ok := readCode(s.rest[:size], s.stride)
		if !ok {
			n = -1
		}
		s.list = append(s.list, n)
		s.rest = s.rest[:copy(s.rest, s.rest[size:])]
	}
	return len(b), nil
}

// clicksOf gives the clicks of a clip in seconds from its first frame.
func clicksOf(ctx context.Context, r *ffmpeg.Runner, path string) ([]float64, error) {
	var pcm bytes.Buffer
	err := r.Run(ctx, ffmpeg.Job{
		Args: []string{
			"-xerror", "-err_detect", "explode", "-i", ffmpeg.Local(path), "-map", "0:a:0", "-af", "aresample=async=1:first_pts=0",
			"-ac", "1", "-ar", fmt.Sprint(soundRate), "-f", "s16le", "pipe:1",
		},
		Stdout: &pcm, Doing: "read the sound of", Subject: path,
	})
	return findClicks(pcm.Bytes()), err
}

// foreignDecoders are decoders that share no code with ffmpeg, by codec: an
// element of GStreamer (Debian: gstreamer1.0-plugins-bad) and what makes a
// stream for it.
var foreignDecoders = map[string]struct{ name, parse, decode string }{
	"h264": {"openh264", "h264parse", "openh264dec"},
	"hevc": {"libde265", "h265parse", "libde265dec"},
}

// foreignMissing says which decoders of another family this machine lacks.
func foreignMissing(ctx context.Context, r *ffmpeg.Runner) (missing map[string]string) {
	missing = map[string]string{}
	for codec, d := range foreignDecoders {
		if err := r.Tool(ctx, "gst-inspect-1.0", []string{d.decode}, nil, io.Discard); err != nil {
			why := "apt-get install gstreamer1.0-tools gstreamer1.0-plugins-good gstreamer1.0-plugins-bad"
			if !errors.Is(err, exec.ErrNotFound) {
				why = d.decode + " is missing in gstreamer1.0-plugins-bad"
			}
			missing[codec] = why
		}
	}
	return missing
}

// foreignNumbers reads the frame numbers of a clip by the other decoder.
func foreignNumbers(ctx context.Context, r *ffmpeg.Runner, path, codec string) ([]int, error) {
	film, err := mp4.Open(path)
	if err != nil {
		return nil, err
	}
	e := film.Video().Entries[0]
	d := foreignDecoders[codec]
	sink := &codeSink{width: e.Width, height: e.Height, stride: (e.Width + 3) &^ 3}
	err = r.Tool(ctx, "gst-launch-1.0", []string{
		"-q", "filesrc", "location=" + path, "!", "qtdemux", "!", d.parse, "!", d.decode, "!",
		"videoconvert", "!", "video/x-raw,format=GRAY8", "!", "fdsink", "fd=1", "async=false",
	}, nil, sink)
	return sink.list, err
}

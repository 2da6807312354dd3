package bench

import (
	"bytes"
	"context"
	"fmt"

	"whistlecut/timeline/footage/ffmpeg"
)

// numbers reads the frame numbers of a film with ffmpeg, stopping at the first
// error of the bit stream. log is what ffmpeg had to say.
func numbers(ctx context.Context, r *ffmpeg.Runner, path string) (list []int, log string, err error) {
	var said bytes.Buffer
	sink := &codeSink{stride: codeWide, size: codeWide * codeHigh}
	err = r.Run(ctx, ffmpeg.Job{
		Args: []string{
			"-xerror", "-err_detect", "explode", "-noautorotate", "-i", ffmpeg.Local(path), "-map", "0:v:0", "-fps_mode", "passthrough", "-enc_time_base", "-1",
			"-vf", fmt.Sprintf("crop=%d:%d:0:0,format=gray", codeWide, codeHigh), "-f", "rawvideo", "pipe:1",
		},
		Stdout: sink, Log: &said, Doing: "read the frame numbers of", Subject: path,
	})
	return sink.list, said.String(), err
}

// codeSink reads the number of each frame written to it; -1 for none.
type codeSink struct {
	stride int // bytes of a line of luma
	size   int // bytes of a frame
	deep   bool
	rest   []byte
	list   []int
}

func (s *codeSink) Write(b []byte) (int, error) {
	s.rest = append(s.rest, b...)
	for len(s.rest) >= s.size {
		luma, stride := s.rest[:s.stride*codeHigh], s.stride
		if s.deep { // ten bits in two bytes, low one first
			stride /= 2
			flat := make([]byte, len(luma)/2)
			for i := range flat {
				flat[i] = luma[2*i+1]<<6 | luma[2*i]>>2
			}
			luma = flat
		}
		n, ok := readCode(luma, stride)
		if !ok {
			n = -1
		}
		s.list = append(s.list, n)
		s.rest = s.rest[:copy(s.rest, s.rest[s.size:])]
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

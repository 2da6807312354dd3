package pack

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"time"

	"whistlecut/timeline/footage/ffmpeg"
)

const (
	tallest   = 720     // lines; a phone shows no more
	soundRate = 96_000  // bits a second
	stillRoom = 40_000  // bytes of a still in the page, at most
	goodRate  = 4000000 // bits a second at 720 lines that nobody sees the end of
)

// fit puts one clip into at most room bytes (0: any size); a clip that fits as it
// is, is copied.
func fit(ctx context.Context, runner *ffmpeg.Runner, c Clip, out string, room int64, mute bool, told func(float64)) (MadeClip, error) {
	m := MadeClip{Height: c.Height}
	st, err := os.Stat(c.File)
	if err != nil {
		return m, fmt.Errorf("cannot put a clip into the pack: %w", err)
	}
	if (room == 0 || st.Size() <= room) && c.Height <= tallest {
		m.Bytes = st.Size()
		if mute {
			err = silent(ctx, runner, c, out)
		} else if err = copyFile(c.File, out); err != nil {
			err = fmt.Errorf("cannot put %s into the pack: %w", filepath.Base(c.File), err)
		}
		if err != nil {
			return m, err
		}
		told(1)
		return m, nil
	}
	m.Shrunk = true
	rate := goodRate
	if room > 0 {
		rate = min(rate, int(float64(room)*8/max(c.Length.Seconds(), 0.1))-soundRate)
	}
	// A rate is kept over the whole of a clip only; a short one is tried again.
	for range 4 {
		m.Height = min(c.Height, linesFor(rate))
		if err := shrink(ctx, runner, c, out, rate, m.Height, mute, told); err != nil {
			return m, err
		}
		if st, err = os.Stat(out); err != nil {
			return m, err
		}
		m.Bytes = st.Size()
		if room == 0 || m.Bytes <= room {
			return m, nil
		}
		rate = int(float64(rate) * 0.95 * float64(room) / float64(m.Bytes))
		if rate < leastRate/4 {
			break
		}
	}
	return m, fmt.Errorf("%s does not get smaller than %s, %s were left for it; take fewer clips or a larger limit", filepath.Base(c.File), megabytes(m.Bytes), megabytes(room))
}

// linesFor is how tall a picture a rate carries without falling into blocks:
// about 0.07 bits a pixel at 30 frames a second (common practice, no source).
func linesFor(rate int) int {
	for _, h := range []int{720, 540, 480} {
		if float64(rate) >= 0.07*30*float64(h*h)*16/9 {
			return h
		}
	}
	return 360
}

func shrink(ctx context.Context, runner *ffmpeg.Runner, c Clip, out string, rate, height int, mute bool, told func(float64)) error {
	rates := strconv.Itoa(rate)
	args := append(ffmpeg.Input(c.File), "-map", "0:v:0", "-map_metadata", "-1", "-map_chapters", "-1",
		"-vf", fmt.Sprintf("scale=-2:%d", height/2*2), "-c:v", "libx264", "-preset", "veryfast", "-profile:v", "main",
		"-pix_fmt", "yuv420p", "-b:v", rates, "-maxrate", strconv.Itoa(rate*3/2), "-bufsize", strconv.Itoa(rate*2),
		"-movflags", "+faststart", "-f", "mp4")
	if !mute {
		args = append(args, "-map", "0:a:0?", "-c:a", "aac", "-b:a", strconv.Itoa(soundRate), "-ac", "2")
	}
	return runner.WriteFile(ctx, out, func(temp string) ffmpeg.Job {
		return ffmpeg.Job{
			Args: append(args[:len(args):len(args)], "-y", ffmpeg.Local(temp)), Doing: "make a smaller copy of", Subject: c.File,
			Total: c.Length, Progress: func(_ time.Duration, f float64) { told(max(0, f)) },
		}
	})
}

// silent copies a clip without its sound.
func silent(ctx context.Context, runner *ffmpeg.Runner, c Clip, out string) error {
	return runner.WriteFile(ctx, out, func(temp string) ffmpeg.Job {
		args := append(ffmpeg.Input(c.File), "-map", "0:v:0", "-map_metadata", "-1", "-c", "copy", "-movflags", "+faststart", "-f", "mp4", "-y", ffmpeg.Local(temp))
		return ffmpeg.Job{Args: args, Doing: "take the sound out of", Subject: c.File}
	})
}

// still is a small JPEG of the clip's first second, for the page.
func still(ctx context.Context, runner *ffmpeg.Runner, film string) ([]byte, error) {
	for _, q := range []int{5, 12, 25} {
		var b bytes.Buffer
		err := runner.Run(ctx, ffmpeg.Job{
			Args: append(ffmpeg.Input(film), "-map", "0:v:0", "-frames:v", "1", "-vf", "scale=480:-2",
				"-f", "image2pipe", "-c:v", "mjpeg", "-q:v", strconv.Itoa(q), "pipe:1"),
			Stdout: &b, Doing: "take a picture of", Subject: film,
		})
		if err != nil {
			return nil, err
		}
		if b.Len() <= stillRoom*3/4 || q == 25 {
			return b.Bytes(), nil
		}
	}
	return nil, nil
}

package reel

import (
	"context"
	"image"
	"io"
	"os"
	"testing"

	"whistlecut/timeline/footage/ffmpeg"
)

// otherNumbers reads a reel's frame numbers by programs that share no code with
// ffmpeg: GStreamer's demultiplexer and openh264. ok is false where they are not
// on this machine.
func otherNumbers(t testing.TB, path string, w, h int, part image.Rectangle) (list []int, ok bool) {
	t.Helper()
	ctx, r := context.Background(), runner(t)
	if !ffmpeg.HasTool("gst-inspect-1.0") || r.Tool(ctx, "gst-inspect-1.0", []string{"openh264dec"}, nil, io.Discard) != nil {
		return nil, false
	}
	stride := (w + 3) &^ 3
	sink := &frameSink{size: stride * h, frame: func(pix []byte) { list = append(list, readCode(pix, stride, part)) }}
	err := r.Tool(ctx, "gst-launch-1.0", []string{
		"-q", "filesrc", "location=" + path, "!", "qtdemux", "!", "h264parse", "!", "openh264dec", "!",
		"videoconvert", "!", "video/x-raw,format=GRAY8", "!", "fdsink", "fd=1", "async=false",
	}, nil, sink)
	if err != nil {
		t.Fatal(err)
	}
	return list, true
}

// TestJudgeReels lets another decoder read reels of every make. openh264 shows
// wrong frames at the ends of groups with B-frames, in films that only x264 and
// ffmpeg made, too; those frames, and the two behind them with which it
// mixes them up, are not counted where they are copied.
func TestJudgeReels(t *testing.T) {
	if os.Getenv("WHISTLECUT_JUDGES") != "1" {
		t.Skip("outside programs judge with WHISTLECUT_JUDGES=1, as in make judges")
	}
	for _, c := range codings {
		for _, encode := range []bool{false, true} {
			if encode && c.name != "B-frames" {
				continue
			}
			t.Run(c.name, func(t *testing.T) {
				r, want, _ := copied(t, c.film(t), 320, 180)
				r.Reencode = encode
				res := make1(t, r)
				got, ok := otherNumbers(t, res.Out, 320, 180, res.Format.Whole())
				if !ok {
					t.Fatal("apt-get install gstreamer1.0-tools gstreamer1.0-plugins-good gstreamer1.0-plugins-bad")
				}
				skipped, end := 0, -9 // the last group's end that was shown wrongly
				for i := range min(len(got), len(want)) {
					if ends := want[i]%25 == 24; !encode && c.flawed && got[i] != want[i] && (ends || i < end+3) {
						if ends {
							end = i
						}
						got[i] = want[i]
						skipped++
					}
				}
				same(t, "openh264", got, want)
				t.Logf("%d frames, %d not counted", len(got), skipped)
			})
		}
	}
}

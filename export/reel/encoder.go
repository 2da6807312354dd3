package reel

import (
	"fmt"
	"math"
)

// How the reel is encoded: quick, at a quality at which film shown on a wall
// looks like the source (chosen by eye), with a key frame every two seconds so
// that players seek quickly. The headers must be alike for all sections. No frame
// is decoded out of order: openh264 shows wrong frames where a group with such
// frames ends, and players that ignore edit lists would begin late.
const (
	quality    = "20"
	preset     = "veryfast"
	keySeconds = 2
	soundBits  = "192k"
)

// encoderVersion is part of what a kept section is known by: another one makes
// sections anew.
const encoderVersion = 2

// EncoderArgs are ffmpeg's arguments by which pictures are encoded.
func (f Format) EncoderArgs() []string {
	return []string{
		"-c:v", "libx264", "-preset", preset, "-crf", quality, "-profile:v", "high", "-pix_fmt", "yuv420p",
		"-g", fmt.Sprint(f.keys()), "-bf", "0", "-x264-params", "stitchable=1",
	}
}

// SoundArgs are ffmpeg's arguments by which the sound is encoded.
func SoundArgs() []string { return []string{"-c:a", "aac", "-b:a", soundBits} }

// pictureArgs are ffmpeg's arguments to encode a section of so many frames.
func pictureArgs(form Format, frames int) []string {
	args := []string{"-frames:v", fmt.Sprint(frames), "-an", "-sn", "-dn", "-map_metadata", "-1", "-map_chapters", "-1"}
	return append(
		append(args, form.EncoderArgs()...),
		"-fps_mode", "passthrough", "-enc_time_base", fmt.Sprintf("%d/%d", form.Rate.Den, form.Rate.Num),
		"-video_track_timescale", fmt.Sprint(form.scale()), "-f", "mp4",
	)
}

// scale is the reel's timescale: a whole number of units a frame, and at least
// 10000 a second so that edits of the sound fall well within a millisecond.
func (f Format) scale() uint32 { return uint32(f.Rate.Num) * f.multiple() }

// units is the length of a frame in the reel's timescale.
func (f Format) units() int64 { return f.Rate.Den * int64(f.multiple()) }

func (f Format) multiple() uint32 { return uint32((10000 + f.Rate.Num - 1) / f.Rate.Num) }

// keys is the distance of key frames.
func (f Format) keys() int { return int(math.Ceil(keySeconds * f.Rate.Float())) }

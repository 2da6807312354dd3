package footage

import (
	"strings"
	"time"
)

// Info is what a probe says about a film file.
type Info struct {
	Container string        // ffprobe's name: "mov,mp4,m4a,3gp,3g2,mj2", "mpegts", "matroska,webm"
	Start     time.Duration // container time of the earliest stream, which ffmpeg seeks from
	Duration  time.Duration // as the container says; 0 when it does not
	Size      int64         // bytes; 0 when unknown
	BitRate   int64         // bits a second; 0 when unknown
	Created   time.Time     // the camera's clock at the start; zero when unknown; often wrong
	Timecode  string        // start time code "HH:MM:SS:FF" (";" before FF: drop frame); "" when none

	Video  Video   // the first moving picture
	Audio  []Audio // sound streams in file order; empty: silent film
	Others []Other // data, time code and subtitle streams, cover pictures
}

// Video is a picture stream.
type Video struct {
	Index   int    // ffmpeg's stream number in the file
	ID      int    // the container's own number: the MP4 track ID, the TS PID; 0 when none
	Codec   string // "h264", "hevc", "mjpeg"...
	Tag     string // the container's code: "avc1", "hvc1"...
	Profile string // "High", "Main 10"; "" when unknown
	Level   int    // as the codec counts: 40 for H.264 level 4.0; 0 when unknown

	StoredWidth, StoredHeight int      // pixels as coded
	PixelAspect               Rational // width to height of a pixel; unknown means square
	Rotation                  int      // clockwise turn to apply when showing: 0, 90, 180, 270
	Width, Height             int      // shown: turned, square pixels

	PixelFormat string // "yuv420p", "yuv420p10le"
	BitDepth    int    // bits a sample: 8, 10, 12
	Matrix      string // how colours are coded, ffmpeg's name: "bt709", "smpte170m"; "" when unknown
	HDR         bool   // transfer curve PQ or HLG
	Interlaced  bool   // stored as fields

	Rate        Rational      // nominal, frames a second: the base rate of all frames
	AverageRate Rational      // frames a second over the whole stream
	Variable    bool          // nominal and average differ: probably a variable rate; see Index.Variable for certainty
	Base        Rational      // time base: seconds a tick
	Start       time.Duration // container time of the first packet's picture
	Duration    time.Duration // 0 when the container does not say
	Frames      int           // as the container says; 0 when it does not
}

// Audio is a sound stream.
type Audio struct {
	Index    int
	Codec    string // "aac", "pcm_s16le"...
	Rate     int    // samples a second
	Channels int
	Layout   string        // "mono", "stereo"; "" when unknown
	Start    time.Duration // container time of the first packet; up to one packet before the first sample heard
	Duration time.Duration // 0 when the container does not say
	Language string        // ISO 639-2; "" when unknown
	Default  bool          // the one to play when nobody chose
}

// Other is any other stream.
type Other struct {
	Index int
	Kind  OtherKind
	Codec string // ffprobe's name; "" when it knows none
	Tag   string // "tmcd", "gpmd"...
	Name  string // the handler's name in MP4 and MOV
}

// OtherKind says what kind of stream an Other is.
type OtherKind string

// The kinds of other streams.
const (
	KindTimecode  OtherKind = "timecode"
	KindTelemetry OtherKind = "telemetry" // position, motion, camera settings
	KindData      OtherKind = "data"
	KindSubtitle  OtherKind = "subtitle"
	KindCover     OtherKind = "cover" // a still picture
	KindVideo     OtherKind = "video" // a further moving picture, such as a preview
)

// IsMP4 says whether the file is of the MP4 and QuickTime family.
func (i Info) IsMP4() bool { return strings.Contains(i.Container, "mp4") }

// NeedsRewrap says whether the file must be rewrapped before exact seeking:
// ffmpeg lands late in transport streams, and only MP4 and MOV have tables.
func (i Info) NeedsRewrap() bool { return !i.IsMP4() }

// HasSound says whether there is a sound stream.
func (i Info) HasSound() bool { return len(i.Audio) > 0 }

// Sound returns the sound stream to use when nobody chose: the one marked as
// default, else the first; ok is false for a silent film.
func (i Info) Sound() (a Audio, ok bool) {
	for _, a := range i.Audio {
		if a.Default {
			return a, true
		}
	}
	if len(i.Audio) == 0 {
		return Audio{}, false
	}
	return i.Audio[0], true
}

package footage

import (
	"context"
	"fmt"
	"io"
	"math"
	"time"

	"whistlecut/timeline/footage/ffmpeg"
)

// SoundFormat is the form of raw sound: interleaved little-endian samples.
type SoundFormat struct {
	Rate     int  // samples a second; 0 means as recorded
	Channels int  // 1 or 2, mixed as usual; 0 means as recorded
	Float    bool // 32-bit float in -1..1; false: 16-bit signed integers
	Stream   int  // position in Info.Audio counted from 1; 0 means Info.Sound()

	// Tempo is how fast it is heard, the pitch kept: 0.5 to 4; 0 means 1.
	Tempo float64
}

// SampleBytes is the length of one sample of all channels.
func (f SoundFormat) SampleBytes() int {
	if f.Float {
		return 4 * f.Channels
	}
	return 2 * f.Channels
}

// Sound reads raw sound. It is for one goroutine, but Close may be called from
// any.
type Sound struct {
	format SoundFormat
	stream *ffmpeg.Stream
	r      io.Reader
}

// Sound decodes sound from film time from up to film time to; a to of 0 means
// to the end. Sample k is heard at from + k*Tempo/Rate: where the sound begins
// later than the picture or has a gap there is silence, what comes before is left
// out. The stream ends with the film's sound, which may be earlier than to. It
// fails with ErrNoSound when the film is silent. The caller must Close the
// reader.
func (f *File) Sound(ctx context.Context, format SoundFormat, from, to time.Duration) (*Sound, error) {
	a, format, err := f.soundOf(format, from, to)
	if err != nil {
		return nil, err
	}
	args, err := soundArgs(f, a, format, from)
	if err != nil {
		return nil, err
	}
	stream, err := f.runner.Start(ctx, ffmpeg.Job{Args: args, Doing: readSound, Subject: f.Path})
	if err != nil {
		return nil, err
	}
	s := &Sound{format: format, stream: stream, r: stream}
	if to != 0 {
		s.r = io.LimitReader(stream, format.samples(to-from)*int64(format.SampleBytes()))
	}
	return s, nil
}

// readSound is what errors say was tried.
const readSound = "read the sound of"

// samples is how many samples a stretch of film gives.
func (f SoundFormat) samples(film time.Duration) int64 {
	length := film.Seconds()
	if f.Tempo != 0 {
		length /= f.Tempo
	}
	return int64(math.Round(length * float64(f.Rate)))
}

// soundOf finds the sound that is wanted and fills in the format.
func (f *File) soundOf(format SoundFormat, from, to time.Duration) (Audio, SoundFormat, error) {
	a, ok := f.Info.Sound()
	if n := format.Stream; ok && n != 0 {
		if n < 1 || n > len(f.Info.Audio) {
			return a, format, &Error{Doing: readSound, Path: f.Path, Class: ErrNoSound, Detail: fmt.Sprintf("sound %d was asked for and it has %d", n, len(f.Info.Audio))}
		}
		a = f.Info.Audio[n-1]
	}
	if !ok {
		return a, format, &Error{Doing: readSound, Path: f.Path, Class: ErrNoSound, Detail: "it has no sound", Hint: "work by the picture alone"}
	}
	if format.Rate == 0 {
		format.Rate = a.Rate
	}
	if format.Channels == 0 {
		format.Channels = a.Channels
	}
	if format.Tempo != 0 && (format.Tempo < 0.5 || format.Tempo > 4) {
		return a, format, &Error{Doing: readSound, Path: f.Path, Detail: fmt.Sprintf("%g times its speed was asked for; 0.5 to 4 keep the pitch", format.Tempo)}
	}
	if a.Rate < 1 || format.Rate < 1000 || format.Rate > 768000 || format.Channels < 1 || format.Channels > 64 || from < 0 || to != 0 && to <= from {
		return a, format, &Error{Doing: readSound, Path: f.Path, Detail: fmt.Sprintf("%d channels at %d Hz from %v to %v were asked for", format.Channels, format.Rate, from, to)}
	}
	return a, format, nil
}

// preroll is how much earlier sound is decoded than it is needed, so that
// codecs whose packets overlap have heard what comes before.
const preroll = 300 * time.Millisecond

// soundArgs composes the argument list for raw sound on standard output.
func soundArgs(f *File, a Audio, format SoundFormat, from time.Duration) ([]string, error) {
	var g ffmpeg.Graph
	node, out := rawSound(&g, f, a, format, from, ffmpeg.Options{})
	g.Pipe(out, node)
	return g.Args()
}

// rawSound adds film and filters that give raw sound from a film time on, and the
// options of an output for it. in are further options of the input.
func rawSound(g *ffmpeg.Graph, f *File, a Audio, format SoundFormat, from time.Duration, in ffmpeg.Options) (node ffmpeg.Node, out ffmpeg.Options) {
	in["copyts"], in["noaccurate_seek"], in["vn"] = "", "", ""
	start := f.Index.Start() + from // container time of the first sample wanted
	back := preroll
	if !f.Info.IsMP4() {
		back = reach
	}
	if at := start - f.Info.Start - back; from > 0 && at > 0 {
		in["ss"] = at
	}
	sampleFormat, muxer := "s16", "s16le"
	if format.Float {
		sampleFormat, muxer = "flt", "f32le"
	}
	s := g.Input(f.Path, in).Pick(fmt.Sprint(a.Index)).
		// Silence for gaps and before the beginning, nothing before the wanted
		// first sample, whose time is given in samples as recorded.
		Filter("aresample", ffmpeg.Options{
			"osr": format.Rate, "async": 1,
			"first_pts": int64(math.Round(start.Seconds() * float64(a.Rate))),
		})
	tempo := format.Tempo
	if tempo > 2 { // in one step it would leave sound out
		s, tempo = s.Filter("atempo", ffmpeg.Options{"tempo": 2}), tempo/2
	}
	if tempo != 1 && tempo != 0 {
		s = s.Filter("atempo", ffmpeg.Options{"tempo": tempo})
	}
	layout := ffmpeg.Options{"sample_fmts": sampleFormat}
	if format.Channels != a.Channels {
		layout["channel_layouts"] = fmt.Sprintf("%dc", format.Channels)
		switch format.Channels {
		case 1:
			layout["channel_layouts"] = "mono"
		case 2:
			layout["channel_layouts"] = "stereo"
		}
	}
	return s.Filter("aformat", layout), ffmpeg.Options{"f": muxer, "c:a": "pcm_" + muxer}
}

// Format is the form of the samples, with rate and channels filled in.
func (s *Sound) Format() SoundFormat { return s.format }

// Read reads samples; io.EOF is the end. Errors of ffmpeg are passed on.
func (s *Sound) Read(p []byte) (int, error) { return s.r.Read(p) }

// Close ends the decoder.
func (s *Sound) Close() error { return s.stream.Close() }

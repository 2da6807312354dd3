package footage

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"sync/atomic"
	"time"

	"whistlecut/timeline/footage/ffmpeg"
)

// PixelFormat says how frames come out of [File.Frames].
type PixelFormat string

// The pixel formats of raw frames: four bytes a pixel in the order of
// image.RGBA, one byte of brightness, or three planes with colour at half
// width and height (sides rounded up).
const (
	RGBA   PixelFormat = "rgba"
	Gray   PixelFormat = "gray"
	Planar PixelFormat = "yuv420p"
)

// Picture is the form of raw frames. The zero value is RGBA at the shown size.
type Picture struct {
	Width, Height int // pixels; 0 means the film's shown size
	Format        PixelFormat
}

// Bytes is the length of one frame.
func (p Picture) Bytes() int {
	switch p.Format {
	case Gray:
		return p.Width * p.Height
	case Planar:
		return p.Width*p.Height + 2*((p.Width+1)/2)*((p.Height+1)/2)
	}
	return 4 * p.Width * p.Height
}

// maxSide bounds a frame's sides, so that a mistaken size is an error and not
// all the memory.
const maxSide = 16384

// Frames reads raw frames of a film, one after the other. It is for one
// goroutine, but Close may be called from any.
type Frames struct {
	picture  Picture
	file     *File
	next, to int
	stream   *ffmpeg.Stream
	nut      *nutReader
	signs    *damageSigns
}

// Frames starts decoding at frame from and up to, not including, frame to, in
// the given form: turned as the film is to be shown and scaled. Frames come
// with exact numbers of the Index: nothing is doubled or left out at a variable
// rate. Decoding begins at a key frame before from, which takes longer the
// further it is; in films that need rewrapping it begins several seconds
// earlier. The caller must Close the reader.
func (f *File) Frames(ctx context.Context, from, to int, p Picture) (*Frames, error) {
	const doing = "read frames of"
	if from < 0 || to > f.Index.Len() || from >= to {
		return nil, &Error{Doing: doing, Path: f.Path, Detail: fmt.Sprintf("frames %d to %d were asked for and it has 0 to %d", from, to-1, f.Index.Len()-1)}
	}
	if p.Width == 0 && p.Height == 0 {
		p.Width, p.Height = f.Info.Video.Width, f.Info.Video.Height
	}
	if p.Format == "" {
		p.Format = RGBA
	}
	if p.Width <= 0 || p.Height <= 0 || p.Width > maxSide || p.Height > maxSide {
		return nil, &Error{Doing: doing, Path: f.Path, Detail: fmt.Sprintf("a picture of %dx%d was asked for", p.Width, p.Height)}
	}
	args, err := framesArgs(f, from, to, p)
	if err != nil {
		return nil, err
	}
	signs := &damageSigns{}
	stream, err := f.runner.Start(ctx, ffmpeg.Job{Args: args, Doing: doing, Subject: f.Path, Log: signs})
	if err != nil {
		return nil, err
	}
	return &Frames{picture: p, file: f, next: from, to: to, stream: stream, nut: newNUT(stream), signs: signs}, nil
}

// before is how much earlier than a frame ffmpeg is asked to start: times given
// with rounding must not fall behind the frame. Less than the distance of frames
// at any rate a camera has.
const before = 500 * time.Microsecond

// reach is how much earlier decoding starts in containers in which ffmpeg's
// seeking lands late (transport streams) or roughly; what comes before the
// frame is dropped by its exact time. Groups of pictures are shorter than that
// (common practice: at most 10 s in broadcast and cameras).
const reach = 15 * time.Second

// framesArgs composes the argument list for raw frames on standard output.
func framesArgs(f *File, from, to int, p Picture) ([]string, error) {
	return picturesArgs(f, from, to, p, ffmpeg.Options{"c:v": "rawvideo", "pix_fmt": string(p.Format)})
}

// picturesArgs composes the argument list for frames from..to-1 on standard
// output, scaled, in the form that out gives, each with its time (see nutReader).
// ffmpeg ends at the first frame that it knows it can't decode well, instead of
// showing something else in its place.
func picturesArgs(f *File, from, to int, p Picture, out ffmpeg.Options) ([]string, error) {
	x, info := f.Index, f.Info
	in := ffmpeg.Options{"copyts": ""}
	if x.cut == x.Len() || to+maxReorder < x.cut {
		in["xerror"] = "" // the last frames before a cut are worth having
	}
	// ffmpeg counts -ss from the start of the earliest stream.
	at := x.Base().Duration(x.PTS(from)) - info.Start
	// Ask for the frame itself where that is exact; elsewhere begin earlier and
	// drop what comes before by its exact time.
	exact := info.IsMP4() && !x.nearKey(from)
	switch {
	case exact && from > 0 && x.key[from]:
		// From just before a key frame all of the group before would be decoded,
		// which takes long and fails when that one is damaged.
		exact = false
		at += before
	case exact:
		at -= before
	case info.IsMP4():
		// A key frame whose decode time is before this one is shown before from.
		at -= x.Time(from) - x.Time(max(0, from-maxReorder)) + before
	default:
		at -= reach
	}
	if !exact {
		in["noaccurate_seek"] = ""
	}
	if from > 0 && at > 0 {
		in["ss"] = at
	}
	var g ffmpeg.Graph
	v := g.Input(f.Path, in).Pick(fmt.Sprint(info.Video.Index))
	if !exact {
		v = v.Filter("trim", ffmpeg.Options{"start_pts": x.PTS(from)})
	}
	if early := x.PTS(0); early < 0 { // which NUT can't write
		v = v.Filter("setpts", ffmpeg.Options{"expr": fmt.Sprintf("PTS+%d", -early)})
	}
	v = v.Filter("scale", ffmpeg.Options{"w": p.Width, "h": p.Height, "flags": "bilinear"})
	// Without these ffmpeg doubles and drops frames to a steady rate.
	out["fps_mode"], out["enc_time_base"] = "passthrough", "-1"
	out["frames:v"] = to - from
	// Each frame at once, and no list of them at the end.
	out["f"], out["flush_packets"], out["write_index"] = "nut", "1", "0"
	g.Pipe(out, v)
	return g.Args()
}

// Picture is the form of the frames.
func (s *Frames) Picture() Picture { return s.picture }

// Next reads the next frame into dst, which must have Picture().Bytes() bytes,
// and returns its number. After the last frame it returns io.EOF. Where the film
// is damaged, the error is a *[DamageError], and where it breaks off, the error
// says at which film time; another frame never comes in the place of one that
// can't be decoded. Errors of ffmpeg are passed on.
func (s *Frames) Next(dst []byte) (frame int, err error) {
	if len(dst) != s.picture.Bytes() {
		return 0, fmt.Errorf("footage: a frame takes %d bytes, not %d", s.picture.Bytes(), len(dst))
	}
	if s.next >= s.to {
		return 0, io.EOF
	}
	// While ffmpeg is busy anyway.
	if err := s.file.checked(s.next); err != nil {
		return 0, err
	}
	size, err := nextOf(s.nut, s.file, s.next)
	if err == nil {
		if size != len(dst) {
			return 0, errNotNUT
		}
		_, err = io.ReadFull(s.nut.r, dst)
	}
	if err != nil || s.signs.seen() {
		return 0, afterFailure(s.file, s.next, err)
	}
	s.next++
	return s.next - 1, nil
}

// nextOf reads a packet's head up to its bytes, when it is frame next.
func nextOf(nut *nutReader, f *File, next int) (size int, err error) {
	pts, head, size, err := nut.next()
	if err != nil {
		return 0, err
	}
	i, err := shownAt(f.Index, next, pts, nut.base)
	switch {
	case err != nil:
		return 0, err
	case len(head) > 0:
		return 0, errNotNUT
	case i != next:
		return 0, f.damage(next, f.resume(next+1), false)
	}
	return size, nil
}

// afterFailure says why frame next did not come. A decoder that gave up in a
// film that is all there found damage.
func afterFailure(f *File, next int, err error) error {
	var failed *ffmpeg.Error
	switch {
	case errors.Is(err, io.EOF), errors.Is(err, io.ErrUnexpectedEOF), err == nil:
	case errors.As(err, &failed) && (failed.Kind == ffmpeg.InvalidData || failed.Kind == ffmpeg.Truncated || failed.Kind == ffmpeg.Failed):
	default:
		return err
	}
	if f.Index.cut < f.Index.Len() && next+maxReorder >= f.Index.cut {
		return brokeOff(f, next)
	}
	return f.damage(next, f.resume(next+1), false)
}

// damageSigns looks for what decoders say when they make up a part of a picture.
// They do not fail then, and decoding in several threads ffmpeg itself may not
// notice.
type damageSigns struct {
	rest  []byte
	found atomic.Bool
}

func (d *damageSigns) seen() bool { return d.found.Load() }

// Write takes ffmpeg's log.
func (d *damageSigns) Write(p []byte) (int, error) {
	d.rest = append(d.rest, p...)
	if bytes.Contains(d.rest, []byte("error while decoding MB")) {
		d.found.Store(true)
	}
	if at := bytes.LastIndexByte(d.rest, '\n'); at >= 0 {
		d.rest = append(d.rest[:0], d.rest[at+1:]...)
	}
	return len(p), nil
}

// brokeOff says that a film has no frame next, which it should have.
func brokeOff(f *File, next int) error {
	at := f.Index.Time(next).Round(time.Millisecond)
	return &Error{
		Doing: "read frames of", Path: f.Path, Class: ErrTruncated,
		Detail: fmt.Sprintf("the picture stops at %v (frame %d of %d)", at, next, f.Index.Len()),
		Hint:   "copy it again from the camera; the part before can be used",
		Err:    io.ErrUnexpectedEOF,
	}
}

// Close ends the decoder.
func (s *Frames) Close() error { return s.stream.Close() }

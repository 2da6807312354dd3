package footage

import (
	"context"
	"errors"
	"fmt"
	"io"

	"whistlecut/timeline/footage/ffmpeg"
)

// JPEGs reads frames of a film as JPEG pictures of their own, one after the
// other: what a light copy for scrubbing is made of. It is for one goroutine,
// but Close may be called from any.
type JPEGs struct {
	file     *File
	next, to int
	stream   *ffmpeg.Stream
	nut      *nutReader
	signs    *damageSigns
}

// JPEGs starts to read frames from..to-1 at a size in pixels. quality is
// ffmpeg's scale from 2 (best) to 31. Exactness and turning are as in
// [File.Frames]. Colours follow JFIF (full range, BT.601), whatever the film's
// are. The caller must Close the reader.
func (f *File) JPEGs(ctx context.Context, from, to, width, height, quality int) (*JPEGs, error) {
	const doing = "read pictures of"
	if from < 0 || to > f.Index.Len() || from >= to || width <= 0 || height <= 0 || width > maxSide || height > maxSide || quality < 2 || quality > 31 {
		return nil, &Error{Doing: doing, Path: f.Path, Detail: fmt.Sprintf("frames %d to %d of %d at %dx%d and quality %d were asked for", from, to-1, f.Index.Len(), width, height, quality)}
	}
	args, err := picturesArgs(f, from, to, Picture{Width: width, Height: height}, ffmpeg.Options{
		"c:v": "mjpeg", "pix_fmt": "yuvj420p", "q:v": quality,
	})
	if err != nil {
		return nil, err
	}
	signs := &damageSigns{}
	stream, err := f.runner.Start(ctx, ffmpeg.Job{Args: args, Doing: doing, Subject: f.Path, Log: signs})
	if err != nil {
		return nil, err
	}
	return &JPEGs{file: f, next: from, to: to, stream: stream, nut: newNUT(stream), signs: signs}, nil
}

// Next appends the next frame's JPEG to dst and returns it with the frame's
// number. After the last frame it returns io.EOF; errors are as in [Frames.Next].
func (s *JPEGs) Next(dst []byte) (jpeg []byte, frame int, err error) {
	if s.next >= s.to {
		return dst, 0, io.EOF
	}
	if err := s.file.checked(s.next); err != nil {
		return dst, 0, err
	}
	size, err := nextOf(s.nut, s.file, s.next)
	if err == nil {
		at := len(dst)
		dst = append(dst, make([]byte, size)...)
		_, err = io.ReadFull(s.nut.r, dst[at:])
	}
	if err != nil || s.signs.seen() {
		return dst, 0, afterFailure(s.file, s.next, err)
	}
	s.next++
	return dst, s.next - 1, nil
}

// Close ends the decoder.
func (s *JPEGs) Close() error { return s.stream.Close() }

func unexpected(err error) error {
	if errors.Is(err, io.EOF) {
		return io.ErrUnexpectedEOF
	}
	return err
}

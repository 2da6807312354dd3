package footage

import (
	"bufio"
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
	r        *bufio.Reader
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
		"f": "image2pipe", "c:v": "mjpeg", "pix_fmt": "yuvj420p", "q:v": quality,
	})
	if err != nil {
		return nil, err
	}
	stream, err := f.runner.Start(ctx, ffmpeg.Job{Args: args, Doing: doing, Subject: f.Path})
	if err != nil {
		return nil, err
	}
	return &JPEGs{file: f, next: from, to: to, stream: stream, r: bufio.NewReaderSize(stream, 1<<16)}, nil
}

// Next appends the next frame's JPEG to dst and returns it with the frame's
// number. After the last frame it returns io.EOF; where the film breaks off,
// the error says at which film time.
func (s *JPEGs) Next(dst []byte) (jpeg []byte, frame int, err error) {
	if s.next >= s.to {
		return dst, 0, io.EOF
	}
	dst, err = appendJPEG(dst, s.r)
	if errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) {
		err = brokeOff(s.file, s.next)
	}
	if err != nil {
		return dst, 0, err
	}
	s.next++
	return dst, s.next - 1, nil
}

// Close ends the decoder.
func (s *JPEGs) Close() error { return s.stream.Close() }

// Markers of JPEG (ITU-T T.81, B.1.1.3).
const (
	markSOI = 0xd8 // start of image
	markEOI = 0xd9 // end of image
	markSOS = 0xda // start of scan
)

var errNotJPEG = errors.New("footage: ffmpeg gave something else than JPEG pictures")

// appendJPEG reads one picture off a stream of them. Segments are skipped by
// their lengths, so that no byte of theirs is taken for the end.
func appendJPEG(dst []byte, r *bufio.Reader) ([]byte, error) {
	take := func(n int) ([]byte, error) {
		at := len(dst)
		dst = append(dst, make([]byte, n)...)
		_, err := io.ReadFull(r, dst[at:])
		return dst[at:], err
	}
	head, err := take(2)
	if err != nil {
		return dst, err
	}
	if head[0] != 0xff || head[1] != markSOI {
		return dst, errNotJPEG
	}
	for {
		head, err := take(4)
		if err != nil {
			return dst, unexpected(err)
		}
		mark, length := head[1], int(head[2])<<8|int(head[3])
		if head[0] != 0xff || length < 2 {
			return dst, errNotJPEG
		}
		if _, err := take(length - 2); err != nil {
			return dst, unexpected(err)
		}
		if mark != markSOS {
			continue
		}
		// In the scan 0xff is followed by 0 or a restart mark, until the end.
		for {
			part, err := r.ReadSlice(0xff)
			dst = append(dst, part...)
			if errors.Is(err, bufio.ErrBufferFull) {
				continue
			}
			if err != nil {
				return dst, unexpected(err)
			}
			b, err := r.ReadByte()
			if err != nil {
				return dst, unexpected(err)
			}
			dst = append(dst, b)
			if b == 0xff {
				// A fill byte: look at what follows it.
				dst = dst[:len(dst)-1]
				if err := r.UnreadByte(); err != nil {
					return dst, err
				}
			}
			if b == markEOI {
				return dst, nil
			}
		}
	}
}

func unexpected(err error) error {
	if errors.Is(err, io.EOF) {
		return io.ErrUnexpectedEOF
	}
	return err
}

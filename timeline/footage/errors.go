package footage

import (
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"

	"whistlecut/timeline/footage/ffmpeg"
)

// What callers tell apart by errors.Is. Failures of ffmpeg keep their own type,
// [ffmpeg.Error], and sentinels.
var (
	// ErrMissing: the file is not where it was. A state: look for it, keep the
	// rest of the work.
	ErrMissing = errors.New("footage is missing")
	// ErrNotFilm: the file is something else, or too broken to be read.
	ErrNotFilm = errors.New("not a film")
	// ErrTruncated: the file was cut off and has no index.
	ErrTruncated = errors.New("film is cut off")
	// ErrNoPicture and ErrNoSound: the file has no such stream.
	ErrNoPicture = errors.New("no picture in the file")
	ErrNoSound   = errors.New("no sound in the file")
)

// Error is one sentence: what was attempted, on which file, the cause, what to do.
type Error struct {
	Doing  string // "read the properties of"
	Path   string
	Detail string // the cause in words
	Hint   string // what to do; may be empty
	Class  error  // one of the sentinels above, or nil
	Err    error  // the cause; may be nil
}

// Error returns "cannot <doing> <file>: <cause>; <hint>".
func (e *Error) Error() string {
	s := fmt.Sprintf("cannot %s %s: %s", e.Doing, filepath.Base(e.Path), e.Detail)
	if e.Hint != "" {
		s += "; " + e.Hint
	}
	return s
}

// Unwrap returns the sentinel and the cause.
func (e *Error) Unwrap() []error {
	var errs []error
	for _, err := range []error{e.Class, e.Err} {
		if err != nil {
			errs = append(errs, err)
		}
	}
	return errs
}

// fromSystem turns an error of the file system into a sentence.
func fromSystem(doing, path string, err error) error {
	e := &Error{Doing: doing, Path: path, Err: err}
	switch {
	case errors.Is(err, fs.ErrNotExist):
		e.Class, e.Detail, e.Hint = ErrMissing, "it is not at "+filepath.Dir(path)+" any more", "look for it where it was moved"
	case errors.Is(err, fs.ErrPermission):
		e.Detail, e.Hint = "the permission to read it is missing", "change the file's rights"
	default:
		e.Detail = err.Error()
		var pathErr *fs.PathError
		if errors.As(err, &pathErr) {
			e.Detail = pathErr.Err.Error()
		}
	}
	return e
}

// fromFFmpeg adds our sentinels to an error of the runner; the sentence stays
// ffmpeg's, which already says what to do.
func fromFFmpeg(doing, path string, err error) error {
	var f *ffmpeg.Error
	if !errors.As(err, &f) {
		return err
	}
	e := &Error{Doing: doing, Path: path, Detail: f.Detail, Hint: f.Hint, Err: err}
	switch f.Kind {
	case ffmpeg.NoFile:
		return fromSystem(doing, path, fs.ErrNotExist)
	case ffmpeg.InvalidData:
		e.Class = ErrNotFilm
	case ffmpeg.Truncated:
		e.Class = ErrTruncated
	case ffmpeg.NoStream:
		e.Class = ErrNoPicture
	default:
		return err
	}
	return e
}

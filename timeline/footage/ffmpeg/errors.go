package ffmpeg

import (
	"errors"
	"path/filepath"
	"strings"
)

// Kind is what went wrong, for code that decides by it.
type Kind int

// The kinds of failure. Failed is any cause not recognised.
const (
	Failed       Kind = iota
	NotInstalled      // the program was not found
	LacksCodec        // this ffmpeg lacks an encoder, decoder, filter, format
	NoSpace           // the disk is full
	InvalidData       // the input is no film, or broken
	Truncated         // an MP4 or MOV whose index is missing
	NoFile            // an input does not exist
	Denied            // no permission to read or write
	NoStream          // the wanted picture or sound is not in the file
	BadArguments      // our own mistake in the argument list
	Cancelled         // the context ended
)

// Sentinels for errors.Is, one for each kind that callers tell apart.
var (
	ErrNotInstalled = errors.New("ffmpeg not installed")
	ErrLacksCodec   = errors.New("ffmpeg lacks a codec")
	ErrNoSpace      = errors.New("no space left")
	ErrInvalidData  = errors.New("invalid data")
	ErrNoFile       = errors.New("no such file")
	ErrDenied       = errors.New("permission denied")
	ErrNoStream     = errors.New("no such stream")
)

var sentinels = map[Kind]error{
	NotInstalled: ErrNotInstalled,
	LacksCodec:   ErrLacksCodec,
	NoSpace:      ErrNoSpace,
	InvalidData:  ErrInvalidData,
	Truncated:    ErrInvalidData,
	NoFile:       ErrNoFile,
	Denied:       ErrDenied,
	NoStream:     ErrNoStream,
}

// Error is a failed run: one sentence by Error(), the parts in its fields. It
// unwraps to the sentinel of its kind and to its cause.
type Error struct {
	Kind    Kind
	Doing   string // what was attempted: "cut clip 3 from"
	Subject string // on what, usually a file; may be empty
	Detail  string // the cause in words
	Hint    string // what to do; may be empty
	Code    int    // exit code; -1 when ended by a signal; 0 when not started
	Tail    string // the child's log, its beginning and its end
	Err     error  // the cause; may be nil
}

// Error returns "cannot <doing> <subject>: <cause>; <hint>".
func (e *Error) Error() string {
	var b strings.Builder
	b.WriteString("cannot ")
	if e.Doing == "" {
		b.WriteString("run ffmpeg")
	} else {
		b.WriteString(e.Doing)
	}
	if e.Subject != "" {
		b.WriteString(" " + filepath.Base(e.Subject))
	}
	if e.Detail != "" {
		b.WriteString(": " + e.Detail)
	}
	if e.Hint != "" {
		b.WriteString("; " + e.Hint)
	}
	return b.String()
}

// Unwrap returns the sentinel of the kind and the cause.
func (e *Error) Unwrap() []error {
	var errs []error
	if s := sentinels[e.Kind]; s != nil {
		errs = append(errs, s)
	}
	if e.Err != nil {
		errs = append(errs, e.Err)
	}
	return errs
}

func newError(kind Kind, doing, subject, detail string, err error) *Error {
	return &Error{Kind: kind, Doing: doing, Subject: subject, Detail: detail, Err: err}
}

func newCancelled(doing, subject string, err error) *Error {
	detail := "it was cancelled"
	if err != nil && err.Error() == "context deadline exceeded" {
		detail = "it took longer than allowed and was stopped"
	}
	return newError(Cancelled, doing, subject, detail, err)
}

// causeText returns the innermost text of an error of the operating system,
// without the operation and path that the sentence already has.
func causeText(err error) string {
	for {
		inner := errors.Unwrap(err)
		if inner == nil {
			return err.Error()
		}
		err = inner
	}
}

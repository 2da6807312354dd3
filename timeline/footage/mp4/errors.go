package mp4

import "fmt"

// Kind classes an Error so that callers can choose another way to read the
// file.
type Kind int

const (
	// NotMP4: the bytes are not boxes of an MP4 or QuickTime file.
	NotMP4 Kind = iota + 1
	// Truncated: the file ends before what it announces.
	Truncated
	// Malformed: boxes are there, and they contradict each other.
	Malformed
	// Unsupported: valid, and beyond what this package reads.
	Unsupported
)

// Error says what is wrong with a file, where, and what to do about it.
type Error struct {
	Kind   Kind
	Offset int64  // bytes from the start of the file
	What   string // the trouble, one clause
	Do     string // what helps, one clause
	Err    error  // the cause, where reading itself failed
}

func (e *Error) Error() string {
	s := fmt.Sprintf("mp4: %s (at byte %d)", e.What, e.Offset)
	if e.Err != nil {
		s += ": " + e.Err.Error()
	}
	if e.Do != "" {
		s += "; " + e.Do
	}
	return s
}

func (e *Error) Unwrap() error { return e.Err }

const (
	doOtherReader = "let ffmpeg read it instead"
	doCopyAgain   = "copy the file from the camera again, or repair it with the camera maker's tool"
)

func malformed(at int64, format string, args ...any) error {
	return &Error{Kind: Malformed, Offset: at, What: fmt.Sprintf(format, args...), Do: doOtherReader}
}

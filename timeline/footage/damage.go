package footage

import (
	"fmt"
	"path/filepath"
	"time"
)

// DamageError says that a part of a film's picture can't be decoded: frames
// From to To-1. To is where decoding can be tried again, a key frame, or the
// number of frames of the film.
type DamageError struct {
	Path     string
	From, To int
	At, End  time.Duration // film times of From and To
	// Found: the stored data itself shows where the damage begins. Else a
	// decoder failed there, and frames shortly before may be gone as well.
	Found bool
}

// Error is a sentence.
func (e *DamageError) Error() string {
	return fmt.Sprintf("cannot read frames of %s: its picture is damaged from %v to %v; copy it again from the camera, the rest can be used",
		filepath.Base(e.Path), e.At.Round(time.Millisecond), e.End.Round(time.Millisecond))
}

// Unwrap tells callers that do not care which part that the film is not whole.
func (e *DamageError) Unwrap() error { return ErrTruncated }

func (f *File) damage(from, to int, found bool) *DamageError {
	return &DamageError{Path: f.Path, From: from, To: to, At: f.Index.Time(from), End: f.Index.Time(to), Found: found}
}

// resume is the first key frame from a frame on at which decoding can begin, as
// far as the stored data tells, or the number of frames.
func (f *File) resume(from int) int {
	x := f.Index
	for k := x.KeyAfter(from); k < x.Len(); k = x.KeyAfter(k + 1) {
		if f.coded().intact(int(x.decode[k])) {
			return k
		}
	}
	return x.Len()
}

// checked says that nothing in the stored data speaks against frame i: neither
// its own nor that of the frames which it may be made from, those stored since
// the key frame before. The error is a *DamageError.
func (f *File) checked(i int) error {
	x, c := f.Index, f.coded()
	if c == nil {
		return nil
	}
	k := x.KeyBefore(i)
	first, last := x.decode[k], x.decode[i]
	for d := min(first, last); d <= last; d++ {
		if c.intact(int(d)) {
			continue
		}
		// All frames from the first one on that is stored at or after it.
		from := i
		for from > k && x.decode[from-1] >= d {
			from--
		}
		for j := k; j < from; j++ {
			if x.decode[j] >= d {
				from = j
				break
			}
		}
		return f.damage(from, f.resume(i+1), true)
	}
	return nil
}

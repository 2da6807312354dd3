package boutfile

import (
	"errors"
	"fmt"
	"io/fs"
	"syscall"

	"modernc.org/sqlite"
	sqlite3 "modernc.org/sqlite/lib"
)

// What can be wrong with a bout file, for errors.Is.
var (
	ErrNotBout  = errors.New("it is not a bout file")
	ErrNewer    = errors.New("it was written by a newer version of Whistlecut")
	ErrInUse    = errors.New("it is open elsewhere")
	ErrDamaged  = errors.New("the file is damaged")
	ErrFull     = errors.New("the disk is full")
	ErrReadOnly = errors.New("it is open for reading only")
	ErrClosed   = errors.New("it is closed")
)

// Fault is a failure as it is told to a person: what was attempted on which
// file, what is wrong, and what to do.
type Fault struct {
	Doing string // "open", "add to"
	Path  string
	What  error  // one of the Err values, or the cause itself
	Cause error  // detail; may be nil
	Hint  string // what to do; may be empty
}

func (f *Fault) Error() string {
	s := fmt.Sprintf("cannot %s %s: %s", f.Doing, f.Path, f.What)
	if f.Cause != nil && f.Raw() == "" {
		s += fmt.Sprintf(" (%s)", f.Cause)
	}
	if f.Hint != "" {
		s += "; " + f.Hint
	}
	return s
}

// Raw is what the database said, where it is the cause: words for a log, that no
// person has to read. "" where the cause is in plain words or there is none.
func (f *Fault) Raw() string {
	var db *sqlite.Error
	if errors.As(f.Cause, &db) {
		return f.Cause.Error()
	}
	return ""
}

// Unwrap gives what is wrong and its cause.
func (f *Fault) Unwrap() []error {
	if f.Cause == nil {
		return []error{f.What}
	}
	return []error{f.What, f.Cause}
}

const (
	hintBackup = "use a backup copy of it, or an export, if there is one; whistlecut doctor says what was found"
	hintFull   = "make room and try again; nothing was changed and the work so far is safe"
)

// fault words what SQLite or the system said.
func fault(doing, path string, err error) error {
	if err == nil {
		return nil
	}
	var told *Fault
	if errors.As(err, &told) {
		return err
	}
	f := &Fault{Doing: doing, Path: path, What: err}
	var db *sqlite.Error
	if errors.As(err, &db) {
		switch db.Code() & 0xff {
		case sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB, sqlite3.SQLITE_MISMATCH:
			f.What, f.Cause, f.Hint = ErrDamaged, err, hintBackup
		case sqlite3.SQLITE_FULL:
			f.What, f.Cause, f.Hint = ErrFull, err, hintFull
		case sqlite3.SQLITE_IOERR:
			f.What, f.Cause, f.Hint = errors.New("the disk failed or is full"), err, hintFull
			if code := db.Code(); code == sqlite3.SQLITE_IOERR_SHORT_READ || code == sqlite3.SQLITE_IOERR_READ || code == sqlite3.SQLITE_IOERR_DATA {
				f.What, f.Hint = ErrDamaged, hintBackup
			}
		case sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED:
			f.What, f.Cause, f.Hint = ErrInUse, err, "close it there and try again"
		case sqlite3.SQLITE_READONLY, sqlite3.SQLITE_PERM:
			f.What, f.Cause, f.Hint = errors.New("the file or its folder cannot be written"), err, "check the permissions, or open it for reading only"
		case sqlite3.SQLITE_CANTOPEN:
			f.What, f.Cause, f.Hint = errors.New("the file or its folder cannot be used"), err, "check the permissions and the room on the disk"
		}
		return f
	}
	switch {
	case errors.Is(err, syscall.ENOSPC):
		f.What, f.Cause, f.Hint = ErrFull, err, hintFull
	case errors.Is(err, fs.ErrNotExist):
		f.What, f.Hint = reworded{"there is no such file or folder", err}, "check the name"
	case errors.Is(err, fs.ErrPermission):
		f.What, f.Hint = reworded{"no permission", err}, "check the permissions of the file and its folder"
	}
	return f
}

// reworded says an error of the system in plain words and still is that error.
type reworded struct {
	text string
	error
}

func (r reworded) Error() string { return r.text }
func (r reworded) Unwrap() error { return r.error }

// damaged is the fault of a file whose content contradicts itself.
func damaged(path, format string, args ...any) error {
	return &Fault{Doing: "open", Path: path, What: ErrDamaged, Cause: fmt.Errorf(format, args...), Hint: hintBackup}
}

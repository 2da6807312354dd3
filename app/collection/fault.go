package collection

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"syscall"

	"modernc.org/sqlite"
	sqlite3 "modernc.org/sqlite/lib"
)

// worded makes a sentence of what the database or the system said about the index
// at path: what was attempted, what is wrong and what to do.
func worded(doing, path string, err error) error {
	if err == nil || errors.Is(err, context.Canceled) || errors.Is(err, context.DeadlineExceeded) {
		return err
	}
	say := func(what error, hint string) error {
		return fmt.Errorf("cannot %s the collection %s: %w; %s", doing, path, what, hint)
	}
	var told told
	if errors.As(err, &told) {
		return err
	}
	err = func() error {
		switch {
		case errors.Is(err, ErrNewer):
			return say(err, "use that version, or another file with --index")
		case errors.Is(err, ErrForeign):
			return say(err, "name another file with --index")
		case isDamage(err):
			return say(ErrDamaged, "whistlecut collect rebuild makes it anew from the bouts")
		}
		var db *sqlite.Error
		if errors.As(err, &db) {
			switch db.Code() & 0xff {
			case sqlite3.SQLITE_FULL:
				return say(errors.New("the disk is full"), "make room and try again; what was taken in stays")
			case sqlite3.SQLITE_IOERR:
				return say(errors.New("the disk failed or is full"), "make room and try again; whistlecut collect rebuild makes it anew from the bouts")
			case sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED:
				return say(errors.New("another program is writing it"), "try again when that has finished")
			case sqlite3.SQLITE_READONLY, sqlite3.SQLITE_PERM, sqlite3.SQLITE_CANTOPEN:
				return say(errors.New("the file or its folder cannot be written"), "check the permissions, or name another file with --index")
			}
			return say(err, "whistlecut collect rebuild makes it anew from the bouts")
		}
		switch {
		case errors.Is(err, syscall.ENOSPC):
			return say(errors.New("the disk is full"), "make room and try again")
		case errors.Is(err, fs.ErrPermission):
			return say(errors.New("the file or its folder cannot be written"), "check the permissions, or name another file with --index")
		}
		return fmt.Errorf("cannot %s the collection %s: %w", doing, path, err)
	}()
	return toldError{err}
}

// told is an error that is a sentence already.
type told interface{ told() }

type toldError struct{ error }

func (toldError) told()           {}
func (e toldError) Unwrap() error { return e.error }

// isDamage reports whether an error says that the index's file contradicts itself.
func isDamage(err error) bool {
	if errors.Is(err, ErrDamaged) {
		return true
	}
	var db *sqlite.Error
	if !errors.As(err, &db) {
		return false
	}
	switch db.Code() & 0xff {
	case sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB, sqlite3.SQLITE_MISMATCH:
		return true
	case sqlite3.SQLITE_IOERR:
		return db.Code() == sqlite3.SQLITE_IOERR_SHORT_READ
	}
	return false
}

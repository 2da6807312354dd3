package boutfile

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"

	"whistlecut/app/database"
	"whistlecut/timeline"
)

// Options say how a bout file is opened.
type Options struct {
	// ReadOnly opens the state of this moment without a lock: also while another
	// program writes, or where nothing can be written.
	ReadOnly bool
	// Author is the person whose edits will be added, and who is named to others
	// who want to write.
	Author string
}

// File is an open bout file. Its methods are safe for concurrent use.
type File struct {
	path string
	log  *timeline.Log

	mu   sync.Mutex
	db   *sql.DB // nil when read-only or closed
	lock *writerLock
	rows int64 // rows of the journal
	shut bool
}

// Create makes a new, empty bout file and opens it. It refuses a name that is
// taken. The file appears under its name only when it is whole.
func Create(path string, o Options) (*File, error) {
	if o.ReadOnly {
		return nil, &Fault{Doing: "create", Path: path, What: ErrReadOnly}
	}
	if err := createEmpty(path); err != nil {
		return nil, fault("create", path, err)
	}
	return Open(path, o)
}

func createEmpty(path string) error {
	if _, err := os.Lstat(path); err == nil {
		return &Fault{Doing: "create", Path: path, What: fs.ErrExist, Hint: "choose another name"}
	}
	if _, err := os.Lstat(path + "-wal"); err == nil {
		return &Fault{Doing: "create", Path: path, What: errors.New("beside it stands the -wal file of a bout that was there"), Hint: "choose another name, or put that bout back"}
	}
	return writeWhole(path, func(temp string) error { return writeJournal(temp, nil) }, os.Link)
}

// writeJournal makes a database of the edits at a temporary name.
func writeJournal(temp string, edits []timeline.Edit) error {
	// Not WAL yet: the temporary file must be whole in itself.
	db, err := sql.Open("sqlite", database.DSN(temp, "mode=rwc&_txlock=immediate&_pragma=journal_mode(DELETE)&_pragma=synchronous(FULL)"))
	if err != nil {
		return err
	}
	defer db.Close()
	db.SetMaxOpenConns(1)
	ctx := context.Background()
	if _, err := db.ExecContext(ctx, fmt.Sprintf("PRAGMA application_id = %d", applicationID)); err != nil {
		return err
	}
	if err := migrate(ctx, db, schemaVersion()); err != nil {
		return err
	}
	if err := (&File{db: db}).write(edits); err != nil {
		return err
	}
	return db.Close()
}

// Open opens a bout file. The whole journal is read and checked before anything
// is written; a file of an older version is then brought to this one. It fails
// with a *Fault.
func Open(path string, o Options) (f *File, err error) {
	defer rescue("open", path, &err)
	path, err = resolve(path)
	if err != nil {
		return nil, fault("open", path, err)
	}
	if o.Author == "" {
		o.Author = "unknown"
	}
	o.Author = strings.ToValidUTF8(o.Author, "?")
	f = &File{path: path, log: timeline.NewLog(o.Author, "")}
	if err := checkHeader(path); err != nil {
		return nil, err
	}
	if o.ReadOnly {
		if _, f.rows, err = readInto(f.log, path, false); err != nil {
			return nil, fault("open", path, err)
		}
		return f, nil
	}
	lock, err := takeLock(path, o.Author)
	if err != nil {
		return nil, err
	}
	defer func() {
		if f == nil || f.db == nil { // also on a panic
			lock.release()
		}
	}()
	f.lock = lock
	var version int
	if version, f.rows, err = readInto(f.log, path, true); err != nil {
		return nil, fault("open", path, err)
	}
	if f.db, err = openWriter(path, version, f.rows); err != nil {
		return nil, fault("open", path, err)
	}
	return f, nil
}

// openWriter opens the database for writing, once its content has been found good.
func openWriter(path string, version int, rows int64) (*sql.DB, error) {
	db, err := sql.Open("sqlite", database.DSN(path, "mode=rw&_txlock=immediate&_defensive=1&_dqs=0&_pragma=busy_timeout(5000)"+
		"&_pragma=journal_mode(WAL)&_pragma=synchronous(FULL)&_pragma=foreign_keys(1)&_pragma=trusted_schema(0)"))
	if err != nil {
		return nil, err
	}
	db.SetMaxOpenConns(1)
	if err := readyWriter(db, version, rows); err != nil {
		db.Close()
		return nil, err
	}
	return db, nil
}

// readyWriter brings the schema to this version and makes sure that what will be
// written to is what was read.
func readyWriter(db *sql.DB, version int, rows int64) error {
	ctx := context.Background()
	var mode string
	if err := db.QueryRowContext(ctx, "PRAGMA journal_mode").Scan(&mode); err != nil {
		return err
	}
	if mode != "wal" {
		return fmt.Errorf("the journal mode is %s: the disk cannot hold a write-ahead log (a network folder, perhaps)", mode)
	}
	if version < schemaVersion() {
		if err := migrate(ctx, db, schemaVersion()); err != nil {
			return err
		}
	}
	var now int64
	if err := db.QueryRowContext(ctx, "SELECT count(*) FROM edit").Scan(&now); err != nil {
		return err
	}
	if now != rows {
		return fmt.Errorf("%d edits were read and now there are %d: another program is writing", rows, now)
	}
	return nil
}

// Log is the bout's edits and the facts that follow from them. Read from it;
// change the bout only through the File, which writes each edit down first.
func (f *File) Log() *timeline.Log { return f.log }

// Path is the file's full path, with symbolic links resolved.
func (f *File) Path() string { return f.path }

// ReadOnly reports whether the file was opened for reading only.
func (f *File) ReadOnly() bool { return f.lock == nil }

// Close writes everything into the .bout, so that it is one file again, and lets
// others write. Closing twice does nothing. Even if it fails no confirmed edit is
// lost: the -wal file left beside the .bout then holds them.
func (f *File) Close() error {
	f.mu.Lock()
	defer f.mu.Unlock()
	if f.shut || f.db == nil {
		f.shut = true
		return nil
	}
	f.shut = true
	// Busy (a reader is at work) is no failure: the next opening goes on from there.
	_, errCheck := f.db.Exec("PRAGMA wal_checkpoint(TRUNCATE)")
	errClose := f.db.Close()
	errLock := f.lock.release()
	if err := errors.Join(errCheck, errClose, errLock); err != nil {
		return &Fault{
			Doing: "close", Path: f.path, What: err,
			Hint: "no edit is lost; keep the -wal file beside it until it was opened and closed once more",
		}
	}
	return nil
}

// resolve makes one name of a file that has many, so that its lock is one.
func resolve(path string) (string, error) {
	full, err := filepath.Abs(path)
	if err != nil {
		return path, err
	}
	real, err := filepath.EvalSymlinks(full)
	if err != nil {
		return path, err
	}
	return real, nil
}

// rescue turns a panic of the database library into a sentence: a file made to
// break it must not take the program down.
func rescue(doing, path string, err *error) {
	if r := recover(); r != nil {
		*err = &Fault{Doing: doing, Path: path, What: ErrDamaged, Cause: fmt.Errorf("reading it failed inside: %v", r), Hint: hintBackup}
	}
}

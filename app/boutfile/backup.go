package boutfile

import (
	"errors"
	"io/fs"
	"os"

	"whistlecut/timeline"
)

// Backup writes a copy of the bout as of this moment to dst, also while the bout
// is open and being written. The copy is read back before it gets its name. An
// earlier copy of that name is replaced; any other file is not.
func (f *File) Backup(dst string) (err error) {
	defer rescue("copy", f.path, &err)
	f.mu.Lock()
	defer f.mu.Unlock()
	if f.shut {
		return &Fault{Doing: "copy", Path: f.path, What: ErrClosed}
	}
	release, err := f.claim(dst)
	if err != nil {
		return err
	}
	defer release()
	err = writeWhole(dst, f.copyTo, os.Rename)
	return fault("write the backup copy", dst, err)
}

func (f *File) copyTo(temp string) error {
	if f.db == nil { // read-only: the log holds all there is
		return writeJournal(temp, f.log.Edits())
	}
	if _, err := f.db.Exec("VACUUM INTO ?", temp); err != nil {
		return err
	}
	check := timeline.NewLog("", "")
	_, rows, err := readInto(check, temp, true)
	if err == nil && rows != f.rows {
		err = errors.New("the copy is not complete")
	}
	return err
}

// claim refuses a destination that must not be replaced and keeps others from
// opening it meanwhile.
func (f *File) claim(dst string) (release func(), err error) {
	refuse := func(what error, hint string) (func(), error) {
		return nil, &Fault{Doing: "write the backup copy", Path: dst, What: what, Hint: hint}
	}
	if real, err := resolve(dst); err == nil && real == f.path {
		return refuse(errors.New("it is the bout itself"), "choose another name")
	}
	if hasWAL(dst) {
		return refuse(errors.New("a bout of that name has unfinished work beside it"), "open and close that bout once, or choose another name")
	}
	err = checkHeader(dst)
	if errors.Is(err, fs.ErrNotExist) {
		return func() {}, nil
	}
	if err != nil {
		return refuse(errors.New("there is a file of that name that is no good bout file"), "choose another name")
	}
	real, err := resolve(dst)
	if err != nil {
		return nil, fault("write the backup copy", dst, err)
	}
	l, err := takeLock(real, f.log.Author())
	if err != nil {
		return nil, err
	}
	return func() { l.release() }, nil
}

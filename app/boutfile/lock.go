package boutfile

import (
	"errors"
	"fmt"
	"os"
	"strings"
	"time"

	"github.com/gofrs/flock"
)

// writerLock keeps a second writer out. It is a lock of the system on a file
// beside the bout, so it ends with the process that holds it, however that
// ends; the file's text only says who that is.
type writerLock struct{ f *flock.Flock }

func lockPath(path string) string { return path + "-lock" }

// takeLock locks path for writing by author.
func takeLock(path, author string) (*writerLock, error) {
	for range 20 {
		f := flock.New(lockPath(path))
		ok, err := f.TryLock()
		if err != nil {
			f.Close()
			return nil, fault("lock", path, err)
		}
		if !ok {
			f.Close()
			return nil, &Fault{
				Doing: "open", Path: path, What: ErrInUse, Cause: errors.New(lockHolder(path)),
				Hint: "close it there, or open it for reading only",
			}
		}
		if !current(f, path) {
			// The holder before us removed the file between our opening and locking it.
			f.Close()
			continue
		}
		l := &writerLock{f: f}
		l.sign(author)
		return l, nil
	}
	return nil, &Fault{Doing: "open", Path: path, What: ErrInUse, Hint: "others are opening and closing it at this moment; try again"}
}

// current reports whether the locked file is the one that has the name now.
func current(f *flock.Flock, path string) bool {
	mine, err := f.Stat()
	if err != nil {
		return false
	}
	named, err := os.Stat(lockPath(path))
	return err == nil && os.SameFile(mine, named)
}

// sign writes who holds the lock, for the sentence another person gets. Failing
// (a full disk) costs only the name.
func (l *writerLock) sign(author string) {
	host, err := os.Hostname()
	if err != nil {
		host = "an unnamed computer"
	}
	text := fmt.Sprintf("%s, process %d on %s, since %s\n", author, os.Getpid(), host, time.Now().Format("2006-01-02 15:04"))
	os.WriteFile(l.f.Path(), []byte(text), 0o644)
}

// lockHolder says who has the bout open. On Windows the locked file cannot be read.
func lockHolder(path string) string {
	b, err := os.ReadFile(lockPath(path))
	text, _, _ := strings.Cut(strings.ToValidUTF8(string(b), "?"), "\n")
	if err != nil || text == "" || len(text) > 300 {
		return "another program has it"
	}
	return text
}

// release removes the file while it is still locked (takeLock notices) and unlocks.
func (l *writerLock) release() error {
	os.Remove(l.f.Path()) // fails on Windows while open: then the file stays, unlocked
	return l.f.Close()
}

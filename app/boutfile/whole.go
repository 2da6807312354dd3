package boutfile

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"

	"whistlecut/timeline"
)

// writeWhole lets write fill a file of a temporary name in the folder of path
// and then places it under its name (os.Rename replaces, os.Link refuses a name
// that is taken). After a failure nothing is left.
func writeWhole(path string, write func(temp string) error, place func(from, to string) error) (err error) {
	folder := filepath.Dir(path)
	temp := filepath.Join(folder, ".whistlecut-"+timeline.NewSession()+".part")
	// Not os.CreateTemp: the file is to have the usual permissions.
	t, err := os.OpenFile(temp, os.O_RDWR|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		return err
	}
	defer func() {
		for _, companion := range []string{"", "-journal", "-wal", "-shm"} {
			os.Remove(temp + companion)
		}
	}()
	if err := t.Close(); err != nil {
		return err
	}
	if err := write(temp); err != nil {
		return err
	}
	if err := syncPath(temp); err != nil {
		return err
	}
	if err := place(temp, path); err != nil {
		if errors.Is(err, fs.ErrExist) {
			return &Fault{Doing: "write", Path: path, What: fs.ErrExist, Hint: "choose another name"}
		}
		if err = os.Rename(temp, path); err != nil { // a disk without hard links
			return err
		}
	}
	return syncFolder(folder)
}

func syncPath(path string) error {
	f, err := os.OpenFile(path, os.O_RDWR, 0)
	if err != nil {
		return err
	}
	return errors.Join(f.Sync(), f.Close())
}

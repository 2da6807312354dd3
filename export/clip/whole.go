package clip

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"time"
)

// whole calls write with a temporary file beside target and renames it when
// write succeeded; otherwise nothing is left. The file is not forced to the
// disk: a clip can be cut again, and a batch that goes on looks at what it
// finds.
func whole(target string, write func(*os.File) error) (err error) {
	temp := filepath.Join(filepath.Dir(target), fmt.Sprintf("%s%08x%s", tempPrefix(target), rand.Uint32(), filepath.Ext(target)))
	f, err := os.OpenFile(temp, os.O_CREATE|os.O_EXCL|os.O_RDWR, 0o666)
	if err != nil {
		return err
	}
	done := false
	defer func() {
		if !done {
			f.Close()
			_ = os.Remove(temp) // best effort: the error already says what failed
		}
	}()
	if err := write(f); err != nil {
		return err
	}
	if err := f.Close(); err != nil {
		return err
	}
	if err := os.Rename(temp, target); err != nil {
		return err
	}
	done = true
	return nil
}

// tempPrefix starts the names of everything temporary that is made for a file;
// the dot keeps it out of sight.
func tempPrefix(target string) string {
	base := filepath.Base(target)
	stem := base[:len(base)-len(filepath.Ext(base))]
	if len(stem) > maxName {
		stem = stem[:maxName] // names end at 255 bytes
	}
	return "." + stem + ".part-"
}

// sweep removes what a crash left of the making of a file.
func sweep(target string) {
	list, err := os.ReadDir(filepath.Dir(target))
	if err != nil {
		return // the cut itself will say what is wrong with the folder
	}
	for _, e := range list {
		if strings.HasPrefix(e.Name(), tempPrefix(target)) {
			_ = os.RemoveAll(filepath.Join(filepath.Dir(target), e.Name())) // best effort: it is in nobody's way
		}
	}
}

// rewrapPrefix starts the names of folders that hold rewrapped films.
const rewrapPrefix = ".whistlecut-rewrap-"

// sweepRewraps removes rewrapped films that a crash left in a folder. Younger
// ones may be in use by another run.
func sweepRewraps(dir string) {
	list, err := filepath.Glob(filepath.Join(dir, rewrapPrefix+"*"))
	if err != nil {
		return // only a bad pattern gives an error
	}
	for _, path := range list {
		if st, err := os.Stat(path); err == nil && time.Since(st.ModTime()) > 24*time.Hour {
			_ = os.RemoveAll(path) // best effort
		}
	}
}

package clip

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
)

// whole calls write with a temporary file beside target and renames it when
// write succeeded; otherwise nothing is left. The file is not forced to the
// disk: a clip can be cut again, and a batch that goes on looks at what it
// finds.
func whole(target string, write func(*os.File) error) (err error) {
	dir, base := filepath.Split(target)
	ext := filepath.Ext(base)
	stem := base[:len(base)-len(ext)]
	if len(stem) > 100 {
		stem = stem[:100] // names end at 255 bytes
	}
	temp := filepath.Join(dir, fmt.Sprintf(".%s.part-%08x%s", stem, rand.Uint32(), ext))
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

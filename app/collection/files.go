package collection

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"whistlecut/app"
)

// resolve makes one name of a file that has many. A file that is away keeps the
// name it had: the folders that are there are resolved.
func resolve(path string) string {
	full, err := filepath.Abs(path)
	if err != nil {
		return path
	}
	rest := ""
	for dir := full; ; {
		if real, err := filepath.EvalSymlinks(dir); err == nil {
			return filepath.Join(real, rest)
		}
		up := filepath.Dir(dir)
		if up == dir {
			return full
		}
		rest = filepath.Join(filepath.Base(dir), rest)
		dir = up
	}
}

// stamp tells whether a bout file, or the log of edits beside it, was written
// since. The error is that of the file.
func stamp(path string) (string, error) {
	info, err := os.Stat(path)
	if err != nil {
		return "", err
	}
	s := fmt.Sprintf("%d %d", info.ModTime().UnixNano(), info.Size())
	if wal, err := os.Stat(path + "-wal"); err == nil && wal.Size() > 0 {
		s += fmt.Sprintf(" %d %d", wal.ModTime().UnixNano(), wal.Size())
	}
	return s, nil
}

// boutFiles lists the bout files among paths and in folders among them, and in all
// folders below, except hidden ones. What cannot be looked into is a fault.
func boutFiles(paths []string) (out []string, faults []Fault) {
	for _, p := range paths {
		info, err := os.Stat(p)
		if err != nil {
			faults = append(faults, Fault{p, reasonOf(err)})
			continue
		}
		if !info.IsDir() {
			out = append(out, resolve(p))
			continue
		}
		root := resolve(p)
		err = filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
			switch {
			case err != nil:
				faults = append(faults, Fault{path, reasonOf(err)})
				if d != nil && d.IsDir() {
					return fs.SkipDir
				}
			case path != root && strings.HasPrefix(d.Name(), "."):
				if d.IsDir() {
					return fs.SkipDir
				}
			case !d.IsDir() && strings.EqualFold(filepath.Ext(path), app.Ext):
				out = append(out, resolve(path))
			}
			return nil
		})
		if err != nil {
			faults = append(faults, Fault{p, reasonOf(err)})
		}
	}
	slices.Sort(out)
	return slices.Compact(out), faults
}

// reasonOf says an error of the system without the path, which stands beside it.
func reasonOf(err error) string {
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return "there is no such file or folder"
	case errors.Is(err, fs.ErrPermission):
		return "no permission to read it"
	}
	var p *fs.PathError
	if errors.As(err, &p) {
		return p.Err.Error()
	}
	return err.Error()
}

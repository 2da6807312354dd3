package ffmpeg

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
)

// WriteFile runs a job whose output is one file. The job is made for a
// temporary name in the target's folder, with the target's extension, and must
// write there; it is renamed to target when ffmpeg exited with 0. After a
// failure or a cancel neither name is left behind, and an older target stays as
// it was. WriteFile refuses a target that is one of the job's own inputs.
func (r *Runner) WriteFile(ctx context.Context, target string, job func(temp string) Job) error {
	return Whole(target, func(temp string) error {
		j := job(temp)
		if input := sameAsInput(target, j.Args); input != "" {
			return newError(BadArguments, j.Doing, j.Subject, fmt.Sprintf("the output would replace its own source %s", filepath.Base(input)), nil)
		}
		j.Args = slices.Concat([]string{"-y"}, j.Args)
		return r.Run(ctx, j)
	})
}

// Whole calls write with a temporary name in the target's folder and renames
// the file to target when write returns nil. The file exists, empty, when write
// is called. On any failure the temporary file is removed and target is as it
// was. The error of write is returned unchanged.
func Whole(target string, write func(temp string) error) error {
	temp, err := reserve(target)
	if err != nil {
		return fileError("write", target, err)
	}
	done := false
	defer func() {
		if !done {
			_ = os.Remove(temp) // best effort: the error already says what failed
		}
	}()
	if err := write(temp); err != nil {
		return err
	}
	if err := syncFile(temp); err != nil {
		return fileError("write", target, err)
	}
	if err := os.Rename(temp, target); err != nil {
		return fileError("finish", target, err)
	}
	done = true
	return nil
}

// reserve makes an empty file beside target under a free temporary name. The
// name starts with a dot, so that folders don't show it, and keeps the
// extension, by which ffmpeg chooses the format.
func reserve(target string) (string, error) {
	dir, base := filepath.Split(target)
	ext := filepath.Ext(base)
	stem := base[:len(base)-len(ext)]
	if len(stem) > 100 {
		stem = stem[:100] // file names end at 255 bytes
	}
	for range 100 {
		temp := filepath.Join(dir, fmt.Sprintf(".%s.part-%08x%s", stem, rand.Uint32(), ext))
		f, err := os.OpenFile(temp, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o666)
		if errors.Is(err, fs.ErrExist) {
			continue
		}
		if err != nil {
			return "", err
		}
		return temp, f.Close()
	}
	return "", fmt.Errorf("no free temporary name beside %s", base)
}

func syncFile(path string) error {
	f, err := os.OpenFile(path, os.O_RDWR, 0)
	if err != nil {
		return err
	}
	err = f.Sync()
	if closeErr := f.Close(); err == nil {
		err = closeErr
	}
	return err
}

// sameAsInput returns the input of an argument list that is the same file as
// target, or "".
func sameAsInput(target string, args []string) string {
	t, err := os.Stat(target)
	if err != nil {
		return ""
	}
	for _, path := range inputsOf(args) {
		if in, err := os.Stat(path); err == nil && os.SameFile(in, t) {
			return path
		}
	}
	return ""
}

// fileError is an error of our own file handling in the same form as ffmpeg's.
func fileError(doing, path string, err error) *Error {
	e := newError(Failed, doing, path, causeText(err), err)
	switch {
	case isDiskFull(err):
		e.Kind, e.Detail, e.Hint = NoSpace, "the disk is full", "free some space or choose another folder, then try again"
	case errors.Is(err, fs.ErrPermission):
		e.Kind, e.Detail, e.Hint = Denied, "the permission to write is missing", "change the rights or choose another folder"
	case errors.Is(err, fs.ErrNotExist):
		e.Kind, e.Detail, e.Hint = NoFile, "its folder does not exist", "make the folder or choose another one"
	}
	return e
}

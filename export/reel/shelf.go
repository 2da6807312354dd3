package reel

import (
	"io"
	"os"
	"slices"
)

// shelf reads from many files and keeps few of them open: a reel may have more
// sections than a program may have files. It is for one goroutine.
type shelf struct {
	open []*shelved // the last used one last
	src  map[string]*shelved
}

// mostOpen is enough for a section, the one after it, the sound and a film.
const mostOpen = 4

type shelved struct {
	shelf *shelf
	path  string
	file  *os.File // nil: not open
}

// file is the file of that path, the same value every time.
func (s *shelf) file(path string) io.ReaderAt {
	if f := s.src[path]; f != nil {
		return f
	}
	if s.src == nil {
		s.src = map[string]*shelved{}
	}
	f := &shelved{shelf: s, path: path}
	s.src[path] = f
	return f
}

func (s *shelf) close() {
	for _, f := range s.open {
		f.file.Close() // only read
		f.file = nil
	}
	s.open = nil
}

// ReadAt reads from the file, opening it first if need be.
func (f *shelved) ReadAt(p []byte, off int64) (int, error) {
	s := f.shelf
	if i := slices.Index(s.open, f); i >= 0 {
		s.open = append(slices.Delete(s.open, i, i+1), f)
		return f.file.ReadAt(p, off)
	}
	file, err := os.Open(f.path)
	if err != nil {
		return 0, err
	}
	if len(s.open) == mostOpen {
		s.open[0].file.Close() // only read
		s.open[0].file = nil
		s.open = slices.Delete(s.open, 0, 1)
	}
	f.file = file
	s.open = append(s.open, f)
	return file.ReadAt(p, off)
}

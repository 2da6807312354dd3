package app

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"whistlecut/app/boutfile"
	"whistlecut/timeline"
)

// Ext is the ending of a bout file's name.
const Ext = ".bout"

// Session is one open bout: the file, its facts and what follows from them.
// Call Refresh after edits. A Session is used from one goroutine.
type Session struct {
	File  *boutfile.File
	Path  string
	Facts timeline.Facts
	Bout  timeline.Bout
}

// Open opens a bout file. With readOnly it can be looked at while somebody else
// writes. Close it.
func (a *App) Open(path string, readOnly bool) (*Session, error) {
	f, err := boutfile.Open(path, boutfile.Options{ReadOnly: readOnly, Author: a.Author})
	if err != nil {
		return nil, err
	}
	s := &Session{File: f, Path: path}
	s.Refresh()
	return s, nil
}

// Create makes a new bout file and opens it; an existing file is never overwritten.
func (a *App) Create(path string) (*Session, error) {
	if !strings.HasSuffix(strings.ToLower(path), Ext) {
		path += Ext
	}
	f, err := boutfile.Create(path, boutfile.Options{Author: a.Author})
	if err != nil {
		return nil, err
	}
	s := &Session{File: f, Path: path}
	s.Refresh()
	return s, nil
}

// Refresh derives the bout anew from the facts.
func (s *Session) Refresh() {
	s.Facts = s.File.Log().Facts()
	s.Bout = timeline.Derive(s.Facts)
}

// Apply stores changes as one undoable action and refreshes.
func (s *Session) Apply(label string, changes ...timeline.Change) error {
	if len(changes) == 0 {
		return nil
	}
	if _, _, err := s.File.Apply(label, changes...); err != nil {
		return err
	}
	s.Refresh()
	return nil
}

// Close closes the bout file.
func (s *Session) Close() error { return s.File.Close() }

// Film returns the path of a footage file, looked up beside the bout file when
// it is not where it was. The error says which file is missing.
func (s *Session) Film(id timeline.ID) (string, error) {
	f, ok := s.Facts.Footage[id]
	if !ok {
		return "", fmt.Errorf("footage %s is not part of this bout", id)
	}
	for _, p := range []string{f.Path, filepath.Join(filepath.Dir(s.Path), f.Path), filepath.Join(filepath.Dir(s.Path), filepath.Base(f.Path))} {
		if st, err := os.Stat(p); err == nil && !st.IsDir() {
			return p, nil
		}
	}
	return "", fmt.Errorf("the footage file %s is missing; put it back, or beside %s", f.Path, filepath.Base(s.Path))
}

package quiz

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"whistlecut/app"
)

// Bouts are the bouts a quiz is of, opened to be read.
type Bouts struct {
	list []bout
}

type bout struct {
	path string // absolute
	s    *app.Session
	lent bool // somebody else closes it
}

// OpenBouts opens bout files to be read; a file that is named twice is opened once.
// lent are sessions that are open already and stay so. Close it.
func OpenBouts(a *app.App, paths []string, lent ...*app.Session) (*Bouts, error) {
	b := &Bouts{}
	for _, s := range lent {
		path, err := filepath.Abs(s.Path)
		if err != nil {
			return nil, err
		}
		b.list = append(b.list, bout{path: path, s: s, lent: true})
	}
	for _, p := range paths {
		path, err := filepath.Abs(p)
		if err == nil && b.has(path) {
			continue
		}
		var s *app.Session
		if err == nil {
			s, err = a.Open(path, true)
		}
		if err != nil {
			return nil, errors.Join(fmt.Errorf("cannot open %s for the quiz: %w", p, err), b.Close())
		}
		b.list = append(b.list, bout{path: path, s: s})
	}
	return b, nil
}

func (b *Bouts) has(path string) bool {
	st, err := os.Stat(path)
	for _, x := range b.list {
		if x.path == path {
			return true
		}
		if o, e := os.Stat(x.path); err == nil && e == nil && os.SameFile(st, o) {
			return true
		}
	}
	return false
}

// Session is the open bout of a path; nil when there is none.
func (b *Bouts) Session(path string) *app.Session {
	for _, x := range b.list {
		if x.path == path || filepath.Clean(path) == x.path {
			return x.s
		}
	}
	return nil
}

// Close closes the bouts that OpenBouts opened.
func (b *Bouts) Close() error {
	var errs []error
	for _, x := range b.list {
		if !x.lent {
			errs = append(errs, x.s.Close())
		}
	}
	b.list = nil
	return errors.Join(errs...)
}

// Paths are the bouts a plan needs, each once.
func (p Plan) Paths() []string {
	var out []string
	seen := map[string]bool{}
	for _, x := range p.Items {
		if !seen[x.Bout] {
			seen[x.Bout] = true
			out = append(out, x.Bout)
		}
	}
	return out
}

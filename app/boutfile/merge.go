package boutfile

import (
	"errors"

	"whistlecut/timeline"
)

// Report says what a merge or an import brought.
type Report struct {
	Added     int                 // edits that were not here yet
	Known     int                 // edits that were here already
	Conflicts []timeline.Conflict // all records of the bout in conflict afterwards
}

// Merge takes in all edits of another copy of the bout, which is only read. It
// returns when they are on the disk; on an error nothing was changed. Merging
// twice, or both ways, leads to the same bout.
func (f *File) Merge(other string) (Report, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	if err := f.writable("merge into"); err != nil {
		return Report{}, err
	}
	real, err := resolve(other)
	if err != nil {
		return Report{}, fault("open", other, err)
	}
	if real == f.path {
		return Report{}, &Fault{Doing: "merge", Path: other, What: errors.New("it is the bout itself"), Hint: "name the other person's copy"}
	}
	from, err := Open(real, Options{ReadOnly: true})
	if err != nil {
		return Report{}, err
	}
	return f.takeIn(from.log.Edits())
}

func (f *File) takeIn(edits []timeline.Edit) (Report, error) {
	fresh, err := f.add(edits)
	if err != nil {
		return Report{}, fault("merge into", f.path, err)
	}
	return Report{Added: len(fresh), Known: len(edits) - len(fresh), Conflicts: f.log.Conflicts()}, nil
}

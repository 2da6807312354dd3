package collection

import (
	"context"
	"errors"

	"whistlecut/app"
	"whistlecut/timeline"
)

var errNotYet = errors.New("the collection cannot do this yet")

// Index is an open index. Its methods are safe for concurrent use, also beside
// another program that has the same index open.
type Index struct{ path string }

// Open opens the index at path, and makes it where there is none. One that is
// damaged is set aside, a new one is made and Notices says so; its bouts are read
// again by the next Update.
func Open(path string) (*Index, error) { return nil, errNotYet }

// Close closes the index.
func (x *Index) Close() error { return nil }

// Path is the index's file.
func (x *Index) Path() string { return x.path }

// Notices are sentences about what happened when the index was opened, for a person.
func (x *Index) Notices() []string { return nil }

// Search lists the entries that a query picks, at most its limit.
func (x *Index) Search(ctx context.Context, q Query) ([]Entry, error) { return nil, errNotYet }

// Count is how many entries a query picks, whatever its limit and offset.
func (x *Index) Count(ctx context.Context, q Query) (int, error) { return 0, errNotYet }

// Counts counts the entries that a query picks by facets, the most frequent value first.
func (x *Index) Counts(ctx context.Context, q Query, facets ...Facet) (map[Facet][]Count, error) {
	return nil, errNotYet
}

// Get finds one tag of one bout.
func (x *Index) Get(ctx context.Context, bout string, tag timeline.ID) (e Entry, ok bool, err error) {
	return Entry{}, false, errNotYet
}

// Bouts lists the bouts of the index, the newest first.
func (x *Index) Bouts(ctx context.Context) ([]Bout, error) { return nil, errNotYet }

// Add takes in bout files, and those in folders and all folders below them, and
// reads those that changed. A bout that cannot be read is reported and stops no
// other. a tells of progress and finds films.
func (x *Index) Add(ctx context.Context, a *app.App, paths ...string) (Report, error) {
	return Report{}, errNotYet
}

// Update looks at all bouts of the index again and reads those that changed.
func (x *Index) Update(ctx context.Context, a *app.App) (Report, error) { return Report{}, errNotYet }

// Rebuild reads all bouts of the index again, changed or not. What was indexed of
// those that are away is kept.
func (x *Index) Rebuild(ctx context.Context, a *app.App) (Report, error) { return Report{}, errNotYet }

// Forget drops bouts and their stills from the index; the bouts themselves stay
// as they are. It returns how many it knew.
func (x *Index) Forget(ctx context.Context, paths ...string) (int, error) { return 0, errNotYet }

package examples

import (
	"cmp"
	"context"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"fyne.io/fyne/v2"

	"whistlecut/app"
	"whistlecut/app/collection"
	"whistlecut/app/desk/form"
	"whistlecut/app/desk/terms"
	"whistlecut/app/desk/words"
	"whistlecut/timeline"
)

// index is what is asked of the collection; tests put another in its place.
type index interface {
	Search(ctx context.Context, q collection.Query) ([]collection.Entry, error)
	Count(ctx context.Context, q collection.Query) (int, error)
	Bouts(ctx context.Context) ([]collection.Bout, error)
	Add(ctx context.Context, a *app.App, paths ...string) (collection.Report, error)
	Update(ctx context.Context, a *app.App) (collection.Report, error)
	MakePictures(ctx context.Context, a *app.App, o collection.PictureOptions) (collection.PictureReport, error)
	Notices() []string
	Close() error
}

func openIndex() (index, error) { return collection.Open(collection.DefaultPath()) }

// allShelf searches all bouts that the collection knows.
type allShelf struct {
	t      *Task
	open   func() (index, error)
	index  *lease // nil until somebody comes here, and where it cannot be opened
	why    error  // why it cannot
	bouts  []collection.Bout
	query  collection.Query
	kind   kinds
	found  []collection.Entry
	count  int
	chosen int
	view   *allPanel
}

// kinds is what is looked for.
type kinds int

const (
	justExamples kinds = iota
	penaltiesToo       // penalties that no example was made of, beside the examples
	everything
	allKinds
)

func newAllShelf(t *Task) *allShelf { return &allShelf{t: t, open: openIndex} }

func (a *allShelf) panel() fyne.CanvasObject {
	if a.view == nil {
		a.view = newAllPanel(a)
	}
	return a.view.view
}

func (a *allShelf) refresh() {
	if a.view != nil {
		a.view.refresh()
	}
}

// shown opens the collection the first time, and asks it anew.
func (a *allShelf) shown() {
	if a.index == nil {
		x, err := a.open()
		if a.why = err; err == nil {
			a.index = &lease{index: x}
			for _, n := range x.Notices() {
				a.t.desk.Say(n)
			}
		}
	}
	a.search()
}

// leave closes the collection.
func (a *allShelf) leave() {
	if a.index != nil {
		a.t.desk.Fail(a.index.leave())
		a.index = nil
	}
}

// search asks the collection. It answers in milliseconds, so this waits for it.
func (a *allShelf) search() {
	a.found, a.count, a.bouts = nil, 0, nil
	if a.index == nil {
		return
	}
	ctx := context.Background()
	q := a.asked()
	var err error
	if a.bouts, err = a.index.Bouts(ctx); err == nil {
		if a.found, err = a.index.Search(ctx, q); err == nil {
			a.count, err = a.index.Count(ctx, q)
		}
	}
	a.t.desk.Fail(err)
	a.chosen = min(a.chosen, max(len(a.found)-1, 0))
}

// asked is the query with the kinds looked for.
func (a *allShelf) asked() collection.Query {
	q := a.query
	switch a.kind {
	case justExamples:
		q.Kinds = []timeline.Kind{timeline.KindExample}
	case penaltiesToo:
		q.Kinds = []timeline.Kind{timeline.KindExample, timeline.KindPenalty}
	}
	if s := a.t.desk.Session(); s != nil && q.Outdated {
		q.Newest = s.Bout.Rules.Edition
	}
	return q
}

// ask changes the query and asks anew.
func (a *allShelf) ask(change func(*collection.Query)) {
	change(&a.query)
	a.chosen = 0
	a.search()
	a.t.refresh()
}

func (a *allShelf) advance(by int) {
	if len(a.found) > 0 {
		a.chosen = min(max(a.chosen+by, 0), len(a.found)-1)
		a.t.refresh()
	}
}

func (a *allShelf) choose(i int) {
	if i >= 0 && i < len(a.found) {
		a.chosen = i
		a.t.refresh()
	}
}

func (a *allShelf) current() (collection.Entry, bool) {
	if a.chosen >= 0 && a.chosen < len(a.found) {
		return a.found[a.chosen], true
	}
	return collection.Entry{}, false
}

// escape clears what narrows the search; false when nothing does.
func (a *allShelf) escape() bool {
	if a.plain() {
		return false
	}
	a.clear()
	return true
}

// plain reports whether nothing narrows the search.
func (a *allShelf) plain() bool {
	q := a.query
	return q.Words == "" && len(q.Asks)+len(q.Codes)+len(q.Verdicts)+len(q.Editions) == 0 && q.Easiest == 0 && !q.Outdated && !q.Differing &&
		q.Sensitive == collection.SensitiveOut && a.kind == justExamples
}

func (a *allShelf) clear() {
	a.kind = justExamples
	a.ask(func(q *collection.Query) { *q = collection.Query{Sort: q.Sort} })
}

// sameFile reports whether two paths name one file.
func sameFile(a, b string) bool {
	full := func(p string) string {
		if x, err := filepath.Abs(p); err == nil {
			p = x
		}
		if x, err := filepath.EvalSymlinks(p); err == nil {
			p = x
		}
		return p
	}
	return a == b || full(a) == full(b)
}

// enter goes to the moment found; in another bout it asks before that is opened.
func (a *allShelf) enter() {
	e, ok := a.current()
	s := a.t.desk.Session()
	switch {
	case !ok || s == nil:
	case sameFile(e.Bout, s.Path):
		a.t.Arrive(e.Tag, e.Footage, e.Start, e.End)
	case e.State != collection.Here:
		a.t.desk.Say(words.T("The bout {.bout} is not there: connect its disk, then press U.", "bout", filepath.Base(e.Bout)))
	default:
		a.askOpen(e)
	}
}

// askOpen offers to open another bout.
func (a *allShelf) askOpen(e collection.Entry) {
	d := form.Confirm(a.t.desk.Window(), words.T("Open the other bout?"),
		words.T("The moment is in {.bout}. The bout that is open now is closed; all its edits are stored already.", "bout", boutName(e)),
		words.T("Open it"), func() { a.t.desk.Visit(e.Bout, e.Tag, e.Footage, e.Start, e.End) })
	a.t.panel.asking = d
}

// boutName is what a bout is called in a list.
func boutName(e collection.Entry) string {
	return cmp.Or(e.Title, filepath.Base(e.Bout))
}

// Arrive goes to an example of the open bout, or to a place on its film, and plays
// it again and again.
func (t *Task) Arrive(tag, footage timeline.ID, from, to time.Duration) {
	if x, ok := t.facts().Tags[tag]; ok && x.Example != nil {
		t.view = ofBout
		t.bout.selectID(tag)
		t.bout.enter()
		t.refresh()
		return
	}
	if footage == "" {
		t.desk.Say(words.T("No film shows this moment."))
		return
	}
	t.desk.Loop(footage, max(from-leadIn, 0), max(to, from)+leadOut)
}

// update looks at all bouts again; the first time it takes in those opened last.
func (a *allShelf) update() {
	if a.index == nil {
		a.t.desk.Fail(a.why)
		return
	}
	known := map[string]bool{}
	for _, b := range a.bouts {
		known[b.Path] = true
	}
	var paths []string
	if s := a.t.desk.Session(); s != nil && !known[s.Path] {
		paths = append(paths, s.Path)
	}
	if len(a.bouts) == 0 {
		for _, p := range a.t.desk.Settings().Recent {
			if !slices.Contains(paths, p) {
				paths = append(paths, p)
			}
		}
	}
	a.work(words.T("Looking at all bouts"), paths)
}

// work takes in paths and looks at what is known again.
func (a *allShelf) work(title string, paths []string) {
	held := a.index
	var added, updated collection.Report
	var pictures collection.PictureReport
	a.t.desk.Work(title, func(ctx context.Context, p *app.App, _ *app.Session) error {
		return held.work(func(x index) (err error) {
			if len(paths) > 0 {
				if added, err = x.Add(ctx, p, paths...); err != nil {
					return err
				}
			}
			if updated, err = x.Update(ctx, p); err != nil {
				return err
			}
			// What was read can be searched while the pictures are made.
			fyne.Do(func() {
				if a.t.is {
					a.search()
					a.t.refresh()
				}
			})
			pictures, err = x.MakePictures(ctx, p, collection.PictureOptions{})
			return err
		})
	}, func(err error) {
		if !a.t.is {
			return
		}
		a.search()
		if err == nil {
			a.t.desk.Say(strings.Join(append([]string{reportText(added, updated)}, pictures.Notices...), " "))
		}
		a.t.refresh()
	})
}

// reportText says what an update did.
func reportText(list ...collection.Report) string {
	read, faults, away := 0, []collection.Fault(nil), map[string]bool{}
	var notices []string
	for _, r := range list {
		read += len(r.Indexed)
		for _, f := range r.Faults {
			if !slices.Contains(faults, f) {
				faults = append(faults, f)
			}
		}
		for _, p := range r.Away {
			away[p] = true
		}
		for _, n := range r.Notices {
			if !slices.Contains(notices, n) {
				notices = append(notices, n)
			}
		}
	}
	said := words.N(read, "{.n} bout was read.", "{.n} bouts were read.")
	if n := len(away); n > 0 {
		said += " " + words.N(n, "{.n} bout is not there; what was known of it stays.", "{.n} bouts are not there; what was known of them stays.")
	}
	if len(faults) > 0 {
		said += " " + words.N(len(faults), "{.n} bout could not be read: {.first}.", "{.n} bouts could not be read, the first: {.first}.",
			"first", filepath.Base(faults[0].Path)+": "+faults[0].Reason)
	}
	for _, n := range notices {
		said += " " + n
	}
	return said
}

// addFolder takes in all bouts of a folder.
func (a *allShelf) addFolder() {
	if a.index == nil {
		a.t.desk.Fail(a.why)
		return
	}
	form.Folder(a.t.desk.Window(), func(path string) { a.work(words.T("Taking in bouts"), []string{path}) })
}

// dated is a date as it stands in a list, or a dash.
func dated(s string) string { return cmp.Or(s, terms.Unknown) }

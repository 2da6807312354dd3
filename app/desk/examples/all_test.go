package examples

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"whistlecut/app"
	"whistlecut/app/collection"
	"whistlecut/app/desk/task/tasktest"
	"whistlecut/timeline"
)

// shelved is a collection of two bouts that answers what was asked of it last.
type shelved struct {
	asked  []collection.Query
	found  []collection.Entry
	bouts  []collection.Bout
	added  []string
	looked int
	closed int
	fail   error
}

func (s *shelved) Search(_ context.Context, q collection.Query) ([]collection.Entry, error) {
	s.asked = append(s.asked, q)
	return s.found, s.fail
}

func (s *shelved) Count(context.Context, collection.Query) (int, error) {
	return len(s.found) + 7, s.fail
}
func (s *shelved) Bouts(context.Context) ([]collection.Bout, error) { return s.bouts, s.fail }
func (s *shelved) Notices() []string                                { return nil }
func (s *shelved) Close() error                                     { s.closed++; return nil }
func (s *shelved) Add(_ context.Context, _ *app.App, p ...string) (collection.Report, error) {
	s.added = append(s.added, p...)
	return collection.Report{Indexed: p, Faults: []collection.Fault{{Path: "/x/bad.bout", Reason: "it is empty"}}}, s.fail
}

func (s *shelved) Update(context.Context, *app.App) (collection.Report, error) {
	s.looked++
	return collection.Report{Away: []string{"/y/gone.bout"}}, s.fail
}

func (s *shelved) MakePictures(context.Context, *app.App, collection.PictureOptions) (collection.PictureReport, error) {
	return collection.PictureReport{}, s.fail
}

func (s *shelved) last() collection.Query { return s.asked[len(s.asked)-1] }

// searching is the task at the search, with an example of the open bout, a penalty of
// another one and one whose bout is away.
func searching(t *testing.T) (*tasktest.Desk, *Task, *shelved) {
	t.Helper()
	d, x := filled(t)
	other := filepath.Join(t.TempDir(), "other.bout")
	if err := os.WriteFile(other, nil, 0o644); err != nil {
		t.Fatal(err)
	}
	own := x.bout.items[1]
	s := &shelved{
		bouts: []collection.Bout{{Path: d.Opened.Path, State: collection.Here, Examples: 4}, {Path: other, State: collection.Here, Examples: 2}},
		found: []collection.Entry{
			{Bout: d.Opened.Path, Title: "Here", Date: "2026-05-01", State: collection.Here, Tag: own.tag.ID, Kind: timeline.KindExample, Period: 1, Jam: 2, Ask: own.e.Ask, Called: own.e.Called, Edition: "2025", Footage: own.tag.Place.Footage, Start: own.tag.Place.Film},
			{Bout: other, Title: "There", Date: "2025-10-12", State: collection.Here, Tag: "p", Kind: timeline.KindPenalty, Code: "B", CodeName: "back block", Number: "052", Name: "Jane", Edition: "2025", Footage: "f", Examples: 1},
			{Bout: "/y/gone.bout", State: collection.Away, Tag: "e", Kind: timeline.KindExample, Ask: timeline.AskLead, Verdicts: []timeline.Answer{{Choice: timeline.ChoiceNo}}, Difficulty: 4, Edition: "2019"},
		},
	}
	x.all.open = func() (index, error) { return s, nil }
	d.Keys(t, "M")
	if len(x.all.found) != 3 || x.all.count != 10 {
		t.Fatalf("%d of %d found", len(x.all.found), x.all.count)
	}
	return d, x, s
}

// TestSearch: each key narrows the search by what it says, Escape takes all back,
// and a second Escape goes back to the bout.
func TestSearch(t *testing.T) {
	d, x, s := searching(t)
	if q := s.last(); !slices.Equal(q.Kinds, []timeline.Kind{timeline.KindExample}) {
		t.Errorf("to begin with it asks %+v", q)
	}
	for _, c := range []struct {
		name string
		do   func()
		ok   func(collection.Query) bool
	}{
		{"words", func() { d.Keys(t, "W"); typed(t, d, "jane", fyne.KeyReturn) }, func(q collection.Query) bool { return q.Words == "jane" }},
		{"penalties, too", func() { d.Keys(t, "K") }, func(q collection.Query) bool { return len(q.Kinds) == 2 }},
		{"everything", func() { d.Keys(t, "K", "K") }, func(q collection.Query) bool { return len(q.Kinds) == 0 }},
		{"question", func() { d.Keys(t, "A"); typed(t, d, "earned", fyne.KeyReturn) }, func(q collection.Query) bool { return slices.Equal(q.Asks, []timeline.Question{timeline.AskPass}) }},
		{"code", func() { d.Keys(t, "C"); typed(t, d, "back block", fyne.KeyReturn) }, func(q collection.Query) bool { return slices.Equal(q.Codes, []string{"B"}) }},
		{"undecided", func() { d.Keys(t, "V", "V", "V", "V") }, func(q collection.Query) bool { return slices.Equal(q.Verdicts, []timeline.Choice{timeline.NoChoice}) }},
		{"difficulty", func() { d.Keys(t, "D", "D") }, func(q collection.Query) bool { return q.Easiest == 2 && q.Hardest == 2 }},
		{"edition", func() { d.Keys(t, "E") }, func(q collection.Query) bool { return slices.Equal(q.Editions, []string{"2013"}) }},
		{"called otherwise", func() { d.Keys(t, "I") }, func(q collection.Query) bool { return q.Differing }},
		{"another look", func() { d.Keys(t, "R") }, func(q collection.Query) bool { return q.Outdated && q.Newest == d.Opened.Bout.Rules.Edition }},
		{"sensitive only", func() { d.Keys(t, "H", "H") }, func(q collection.Query) bool { return q.Sensitive == collection.SensitiveOnly }},
		{"oldest first", func() { d.Keys(t, "O") }, func(q collection.Query) bool { return q.Sort == collection.OldestFirst }},
	} {
		t.Run(c.name, func(t *testing.T) {
			c.do()
			if !c.ok(s.last()) {
				t.Errorf("it asks %+v", s.last())
			}
			d.Keys(t, "X")
			if !x.all.plain() {
				t.Errorf("after clearing %+v", x.all.query)
			}
		})
	}
	d.Keys(t, "V", "Escape")
	if !x.all.plain() || x.view != ofAll {
		t.Error("Escape did not clear the search first")
	}
	d.Keys(t, "Escape")
	if x.view != ofBout {
		t.Error("Escape did not go back")
	}
	x.Leave()
	if s.closed != 1 {
		t.Errorf("the collection was closed %d times", s.closed)
	}
}

// TestFoundMoments: Enter goes to a moment of the open bout, asks before another bout
// is opened, and says so where that is away.
func TestFoundMoments(t *testing.T) {
	d, x, _ := searching(t)
	d.Keys(t, "Return")
	if x.view != ofBout || len(d.Loops) != 1 {
		t.Fatalf("view %d, loops %+v", x.view, d.Loops)
	}
	if i, _ := x.bout.current(); i.tag.ID != x.all.found[0].Tag {
		t.Error("another example is chosen")
	}
	d.Keys(t, "M", "Down", "Return")
	if x.panel.asking == nil || !x.panel.asking.IsOpen() || len(d.Staged.Visited) != 0 {
		t.Fatal("it did not ask")
	}
	x.panel.asking.Accept()
	if !slices.Equal(d.Staged.Visited, []string{x.all.found[1].Bout}) {
		t.Errorf("visited %v", d.Staged.Visited)
	}
	d.Keys(t, "Down", "Return")
	if !strings.Contains(last(d.Said), "gone.bout is not there") {
		t.Errorf("said %q", last(d.Said))
	}
}

// TestCollectionWork: U looks at all bouts again and takes the open one in where it
// is not known; what went wrong is said.
func TestCollectionWork(t *testing.T) {
	d, x, s := searching(t)
	s.bouts = s.bouts[1:]
	x.all.search()
	d.Keys(t, "U")
	if !slices.Equal(s.added, []string{d.Opened.Path}) || s.looked != 1 {
		t.Errorf("added %v, looked %d times", s.added, s.looked)
	}
	if said := last(d.Said); !strings.Contains(said, "1 bout was read") || !strings.Contains(said, "bad.bout: it is empty") || !strings.Contains(said, "1 bout is not there") {
		t.Errorf("said %q", said)
	}
	s.fail = errors.New("the disk is full")
	d.Keys(t, "U")
	if len(d.Failed) == 0 {
		t.Error("a failure was not shown")
	}
}

// TestNoCollection: the first time there is nothing, and where it cannot be opened
// the panel says why.
func TestNoCollection(t *testing.T) {
	d, x := filled(t)
	s := &shelved{}
	d.Set.Recent = []string{"/a.bout", d.Opened.Path}
	x.all.open = func() (index, error) { return s, nil }
	d.Keys(t, "M", "U")
	if !slices.Equal(s.added, []string{d.Opened.Path, "/a.bout"}) {
		t.Errorf("added %v", s.added)
	}
	d.Keys(t, "M")
	x.all.leave()
	x.all.open = func() (index, error) { return nil, errors.New("no room on the disk") }
	d.Keys(t, "M", "U")
	if x.all.why == nil || len(d.Failed) != 1 {
		t.Errorf("why %v, failed %v", x.all.why, d.Failed)
	}
}

// TestLease: who leaves while work goes on does not wait; the work closes.
func TestLease(t *testing.T) {
	s := &shelved{}
	l := &lease{index: s}
	if err := l.work(func(index) error {
		if err := l.leave(); err != nil || s.closed != 0 {
			t.Errorf("closed %d times in the midst of work, %v", s.closed, err)
		}
		return nil
	}); err != nil || s.closed != 1 {
		t.Errorf("closed %d times, %v", s.closed, err)
	}
}

// TestSearchPicture holds what the search shows.
func TestSearchPicture(t *testing.T) {
	d, _, _ := searching(t)
	d.Keys(t, "Down")
	d.Picture(t, "all")
	test.AssertRendersToMarkup(t, "all.xml", d.Win.Canvas())
}

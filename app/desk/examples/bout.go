package examples

import (
	"cmp"
	"slices"
	"time"

	"fyne.io/fyne/v2"

	"whistlecut/app"
	"whistlecut/app/desk/words"
	"whistlecut/app/quiz"
	"whistlecut/timeline"
)

// item is one example of the open bout.
type item struct {
	tag      timeline.Tag
	e        timeline.Example
	moment   timeline.Moment // where it stands in the bout
	opinions []timeline.Opinion
	outdated bool
}

// state is what is still to be done with an example.
type state int

// The states, in the order the list can be narrowed to them.
const (
	anyState  state = iota
	undecided       // nobody gave a verdict
	outOfDate       // judged by other rules than the bout's
	disputed        // another trainer judged otherwise
	differing       // no verdict accepts what was called
	settled         // decided, and nothing speaks against it
	states
)

func (i item) has(s state) bool {
	decided := len(i.e.Verdicts) > 0
	switch s {
	case undecided:
		return !decided
	case outOfDate:
		return i.outdated
	case disputed:
		return decided && slices.ContainsFunc(i.opinions, func(o timeline.Opinion) bool { return !i.e.Accepts(o.Answer) })
	case differing:
		return decided && !i.e.Called.IsZero() && !i.e.Accepts(i.e.Called)
	case settled:
		return decided && !i.outdated && !i.has(disputed)
	}
	return true
}

func (s state) name() string {
	switch s {
	case undecided:
		return words.T("undecided")
	case outOfDate:
		return words.T("needs another look")
	case disputed:
		return words.T("opinions differ")
	case differing:
		return words.T("called otherwise")
	case settled:
		return words.T("settled")
	}
	return words.T("all verdicts")
}

// order is how the list is sorted.
type order int

const (
	byPlace order = iota
	byVerdict
	byDifficulty
	orders
)

// boutShelf lists the examples of the open bout and edits the chosen one.
type boutShelf struct {
	t      *Task
	items  []item
	count  int // examples of the bout, listed or not
	chosen timeline.ID
	ask    timeline.Question // "" lists all
	state  state
	sort   order
	view   *boutPanel
}

func newBoutShelf(t *Task) *boutShelf { return &boutShelf{t: t} }

func (b *boutShelf) panel() fyne.CanvasObject {
	if b.view == nil {
		b.view = newBoutPanel(b)
	}
	return b.view.view
}

func (b *boutShelf) refresh() {
	if b.view != nil {
		b.view.refresh()
	}
}

func (b *boutShelf) shown() { b.list() }

// list lists the examples anew. The chosen one stays, or the one that takes its place.
func (b *boutShelf) list() {
	was := b.index()
	b.items, b.count = nil, 0
	if s := b.t.desk.Session(); s != nil {
		for _, i := range itemsOf(s) {
			b.count++
			if (b.ask == "" || i.e.Ask == b.ask) && i.has(b.state) {
				b.items = append(b.items, i)
			}
		}
	}
	slices.SortStableFunc(b.items, func(x, y item) int {
		switch b.sort {
		case byVerdict:
			return cmp.Or(cmp.Compare(x.e.Ask, y.e.Ask), slices.CompareFunc(x.e.Verdicts, y.e.Verdicts, compareAnswers))
		case byDifficulty:
			return cmp.Compare(cmp.Or(x.e.Difficulty, hardest+1), cmp.Or(y.e.Difficulty, hardest+1))
		}
		return 0
	})
	if b.index() < 0 {
		b.chosen = ""
		if len(b.items) > 0 {
			b.chosen = b.items[min(max(was, 0), len(b.items)-1)].tag.ID
		}
	}
}

func compareAnswers(a, b timeline.Answer) int {
	return cmp.Or(cmp.Compare(b.Choice, a.Choice), cmp.Compare(a.Code, b.Code))
}

// itemsOf are the examples of a bout in its order.
func itemsOf(s *app.Session) []item {
	given := map[timeline.ID][]timeline.Opinion{}
	for _, o := range s.Facts.Opinions {
		given[o.Example] = append(given[o.Example], o)
	}
	var out []item
	for _, m := range timeline.Find(s.Bout, s.Facts, timeline.Selection{Kinds: []timeline.Kind{timeline.KindExample}}) {
		for _, id := range m.Tags {
			tag, ok := s.Facts.Tags[id]
			if !ok || tag.Example == nil {
				continue
			}
			i := item{tag: tag, e: *tag.Example, moment: m, opinions: given[id], outdated: outdated(s, *tag.Example)}
			slices.SortFunc(i.opinions, func(a, b timeline.Opinion) int {
				return cmp.Or(cmp.Compare(a.By, b.By), cmp.Compare(a.ID, b.ID))
			})
			out = append(out, i)
		}
	}
	return out
}

func (b *boutShelf) index() int {
	return slices.IndexFunc(b.items, func(i item) bool { return i.tag.ID == b.chosen })
}

// current is the chosen example; ok is false when there is none.
func (b *boutShelf) current() (item, bool) {
	if i := b.index(); i >= 0 {
		return b.items[i], true
	}
	return item{}, false
}

func (b *boutShelf) advance(by int) {
	if len(b.items) > 0 {
		b.choose(min(max(b.index()+by, 0), len(b.items)-1))
	}
}

// choose takes row i; the film goes to its moment.
func (b *boutShelf) choose(i int) {
	if i < 0 || i >= len(b.items) {
		return
	}
	x := b.items[i]
	b.chosen = x.tag.ID
	b.t.desk.GoFilm(x.tag.Place.Footage, x.tag.Place.Film)
	var ahead []timeline.Place
	for _, n := range b.items[i+1:] {
		if len(ahead) < 2 {
			ahead = append(ahead, n.tag.Place)
		}
	}
	b.t.desk.Ahead(ahead...)
	b.t.refresh()
}

// select chooses an example by its ID, whatever narrows the list.
func (b *boutShelf) selectID(id timeline.ID) {
	b.chosen = id
	b.list()
	if b.chosen != id {
		b.ask, b.state = "", anyState
		b.chosen = id
		b.list()
	}
}

// enter plays the whole moment again and again.
func (b *boutShelf) enter() {
	if x, ok := b.current(); ok {
		from, to := played(x)
		b.t.desk.Loop(x.tag.Place.Footage, from, to)
	}
}

// playToSignal plays what a group would see.
func (b *boutShelf) playToSignal() {
	x, ok := b.current()
	if !ok {
		return
	}
	if x.e.Signal.IsZero() {
		b.t.desk.Say(words.T("Nobody signalled, as it is stored: the whole moment is shown. S sets the signal here."))
	}
	from, to := unsaid(x)
	b.t.desk.Loop(x.tag.Place.Footage, from, to)
}

// escape widens the list; false when it is as wide as it can be.
func (b *boutShelf) escape() bool {
	if b.ask == "" && b.state == anyState {
		return false
	}
	b.ask, b.state = "", anyState
	b.list()
	return true
}

// least is how long a moment is shown that has no end.
const least = 3 * time.Second

// endOf is where the moment ends on its film.
func endOf(x item) time.Duration {
	if x.e.End.IsZero() || x.e.End.Film <= x.tag.Place.Film {
		return x.tag.Place.Film + least
	}
	return x.e.End.Film
}

// around is what is shown before and after a moment where it is looked at whole: the
// call and what it led to are part of it.
const around = 2 * time.Second

// played is the stretch that shows the whole moment.
func played(x item) (from, to time.Duration) {
	end := max(endOf(x), x.tag.Place.Film)
	if !x.e.Signal.IsZero() {
		end = max(end, x.e.Signal.Film)
	}
	return max(x.tag.Place.Film-around, 0), end + around
}

// unsaid is the stretch that those see who must not know the call: as long as in a
// quiz, and it ends before anything tells.
func unsaid(x item) (from, to time.Duration) {
	to = endOf(x)
	if !x.e.Signal.IsZero() {
		to = min(to, x.e.Signal.Film-quiz.SignalMargin)
	}
	to = max(to, x.tag.Place.Film)
	from = max(min(x.tag.Place.Film, to-quiz.ClipLength), 0)
	return from, max(to, from+time.Second/25)
}

func (b *boutShelf) nextAsk() {
	all := append([]timeline.Question{""}, timeline.Questions()...)
	b.ask = all[(slices.Index(all, b.ask)+1)%len(all)]
	b.list()
	b.t.refresh()
}

func (b *boutShelf) nextState() {
	b.state = (b.state + 1) % states
	b.list()
	b.t.refresh()
}

func (b *boutShelf) nextSort() {
	b.sort = (b.sort + 1) % orders
	b.list()
	b.t.refresh()
}

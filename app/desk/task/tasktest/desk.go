// Package tasktest lends tests of the desk's tasks a desk without a window: an
// open bout of a simulated game, with one film that shows all of it, and a
// record of what the task asked for.
package tasktest

import (
	"context"
	"fmt"
	"path/filepath"
	"testing"
	"time"

	"fyne.io/fyne/v2"

	"whistlecut/app"
	"whistlecut/app/desk/keys"
	"whistlecut/app/desk/task"
	"whistlecut/app/settings"
	"whistlecut/timeline"
	"whistlecut/timeline/sheet"
	"whistlecut/timeline/simulate"
)

// FilmID is the one footage file of the bout: its film time is the game's time.
const FilmID timeline.ID = "film"

// Desk is the stand-in. Its exported fields say what was asked.
type Desk struct {
	Program *app.App
	Opened  *app.Session
	Set     *settings.Settings
	Win     fyne.Window
	Game    *simulate.Game
	// Paper is the official sheet, nil for none; Check is run on it after edits.
	Paper *sheet.Sheet
	Ears  map[timeline.ID]app.Listened
	Where task.Now

	Task   task.Task // told of changes, when set
	Said   []string
	Failed []error
	Shows  []string
	Went   []timeline.Place
	Loops  []LoopAsked
	Wanted []timeline.Place // last Ahead
	Labels []string         // of applied edits
	Staged Staged
	Linked Linked

	report *sheet.Report
	book   *keys.Book
	legend *keys.Legend
}

// LoopAsked is a call of Loop.
type LoopAsked struct {
	Footage  timeline.ID
	From, To time.Duration
}

// Options say what the bout holds.
type Options struct {
	Seed    uint64
	Jams    int  // a period; 0 is 3
	NoTags  bool // rosters, rules and film only
	NoFilm  bool
	NoMarks bool // film is there but not aligned
}

// New plays a game and opens it as a bout in a temporary folder.
func New(t testing.TB, o Options) *Desk {
	t.Helper()
	if o.Jams == 0 {
		o.Jams = 3
	}
	d := &Desk{Program: app.New("tester"), Ears: map[timeline.ID]app.Listened{}, legend: keys.NewLegend("qwerty"), book: keys.NewBook(nil)}
	var err error
	if d.Set, err = settings.Load(filepath.Join(t.TempDir(), "settings.json")); err != nil {
		t.Fatal(err)
	}
	d.Game = simulate.Play(o.Seed, simulate.Options{Jams: o.Jams})
	f := d.Game.Facts()
	if o.NoTags {
		f.Tags = nil
	}
	if !o.NoFilm {
		f.Footage = map[timeline.ID]timeline.Footage{FilmID: {
			ID: FilmID, Path: filepath.Join(t.TempDir(), "hall.mp4"), Camera: "hall", Order: 1, Duration: d.Game.Duration(),
		}}
	}
	if !o.NoFilm && !o.NoMarks && !o.NoTags {
		f.Marks = map[timeline.ID]timeline.SyncMark{}
		for _, j := range d.Game.Truth.Jams {
			id := timeline.ImportID("truth", string(j.ID))
			f.Marks[id] = timeline.SyncMark{ID: id, Jam: j.ID, Edge: timeline.EdgeStart, Footage: FilmID, Film: j.Start, Confidence: 0.95}
		}
	}
	if d.Opened, err = d.Program.Create(filepath.Join(t.TempDir(), "game"+app.Ext)); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { d.Opened.Close() })
	if err := d.Opened.Apply("the simulated bout", timeline.FactsChanges(f)...); err != nil {
		t.Fatal(err)
	}
	if len(d.Opened.Facts.Footage) > 0 {
		d.Where = task.Now{Footage: FilmID, Rate: 1}
	}
	return d
}

// At puts the film to a time of the game.
func (d *Desk) At(film time.Duration) {
	d.Where.Footage, d.Where.Film = FilmID, film
	d.Where.Jam, d.Where.Offset, _ = d.Opened.Bout.Alignment.JamAt(FilmID, film)
	d.Where.InJam = false
	if j, ok := d.Opened.Bout.Jam(d.Where.Jam); ok {
		d.Where.InJam = j.Duration == 0 || d.Where.Offset <= j.Duration
	}
	if d.Task != nil {
		d.Task.Moved(d.Where)
	}
}

// Press does what a key of the task's scope does; it fails the test when the key
// means nothing there.
func (d *Desk) Press(t testing.TB, p keys.Press) {
	t.Helper()
	if d.Staged.Taking != nil && d.Staged.Taking(p) {
		return
	}
	b := keys.NewBook(nil)
	b.Add(d.Task.Actions()...)
	a, ok := b.Find(d.Task.ID(), p)
	if !ok {
		t.Fatalf("%+v means nothing in %s", p, d.Task.ID())
	}
	a.Run()
	if l, ok := d.Task.(task.Pressed); ok {
		l.Pressed(a.ID)
	}
}

// SetPaper gives the bout an official sheet, without storing it.
func (d *Desk) SetPaper(s sheet.Sheet) {
	d.Paper = &s
	d.Changed()
}

func (d *Desk) App() *app.App                { return d.Program }
func (d *Desk) Session() *app.Session        { return d.Opened }
func (d *Desk) Settings() *settings.Settings { return d.Set }
func (d *Desk) Window() fyne.Window          { return d.Win }

// Apply stores the changes and tells the task.
func (d *Desk) Apply(label string, changes ...timeline.Change) bool {
	if err := d.Opened.Apply(label, changes...); err != nil {
		d.Fail(err)
		return false
	}
	d.Labels = append(d.Labels, label)
	d.Changed()
	return true
}

// Changed checks the sheet anew and tells the task.
func (d *Desk) Changed() {
	d.Opened.Refresh()
	d.report = nil
	if d.Paper != nil {
		r := sheet.Check(*d.Paper, d.Opened.Bout, d.Opened.Facts)
		d.report = &r
	}
	if d.Task != nil {
		d.Task.Changed()
	}
}

func (d *Desk) Report() *sheet.Report { return d.report }
func (d *Desk) Sheet() *sheet.Sheet   { return d.Paper }
func (d *Desk) Heard(f timeline.ID) (app.Listened, bool) {
	l, ok := d.Ears[f]
	return l, ok
}
func (d *Desk) Now() task.Now { return d.Where }

// Go records the place and moves there.
func (d *Desk) Go(p timeline.Place) bool {
	d.Went = append(d.Went, p)
	f, at, ok := d.Opened.Bout.Alignment.FilmOf(p)
	if ok && f == FilmID {
		d.At(at)
	}
	return ok
}

// GoFilm records the film time and moves there.
func (d *Desk) GoFilm(f timeline.ID, at time.Duration) {
	d.Went = append(d.Went, timeline.OnFilm(f, at))
	d.At(at)
}

// Loop records the stretch.
func (d *Desk) Loop(f timeline.ID, from, to time.Duration) {
	d.Loops = append(d.Loops, LoopAsked{f, from, to})
	d.Where.Playing = true
}

func (d *Desk) Unloop()                        {}
func (d *Desk) Play()                          { d.Where.Playing = true }
func (d *Desk) Pause()                         { d.Where.Playing = false }
func (d *Desk) Ahead(places ...timeline.Place) { d.Wanted = places }
func (d *Desk) Show(id string)                 { d.Shows = append(d.Shows, id) }
func (d *Desk) Say(text string)                { d.Said = append(d.Said, text) }

// Fail records an error.
func (d *Desk) Fail(err error) {
	if err != nil {
		d.Failed = append(d.Failed, err)
	}
}

// Work does the work at once, in the test's own goroutine.
func (d *Desk) Work(title string, do func(context.Context, *app.App, *app.Session) error, done func(error)) {
	err := do(context.Background(), d.Program, d.Opened)
	if err != nil {
		d.Fail(fmt.Errorf("%s: %w", title, err))
	}
	d.Changed()
	if done != nil {
		done(err)
	}
}

func (d *Desk) Book() *keys.Book     { return d.book }
func (d *Desk) Legend() *keys.Legend { return d.legend }

var _ task.Desk = (*Desk)(nil)

// Package task is what the desk and its tasks know of each other. A task (Align,
// Log, Check, Find) is one panel beside the screen, with its keys; the desk lends
// it the open bout, the film and the keyboard.
package task

import (
	"context"
	"time"

	"fyne.io/fyne/v2"

	"whistlecut/app"
	"whistlecut/app/desk/keys"
	"whistlecut/app/settings"
	"whistlecut/timeline"
	"whistlecut/timeline/sheet"
)

// IDs of the tasks, in the order of the bar; also the scope of their keys.
const (
	Align    = "align"
	Log      = "log"
	Check    = "check"
	Find     = "find"
	Reel     = "reel"
	Examples = "examples"
)

// Task is one task of the desk. All its methods are called on the window's
// goroutine.
type Task interface {
	ID() string
	// Title is the task's name in the language spoken.
	Title() string
	// Waiting is how many things wait to be done in it, shown beside the title; 0 is none.
	Waiting() int
	// Panel is built once, when the task is shown first.
	Panel() fyne.CanvasObject
	// Actions are the task's keys; they hold while it is shown.
	Actions() []keys.Action
	// Changed says that the bout's facts, the findings or what was heard are new.
	// It is called on hidden tasks, too; those should only count what waits.
	Changed()
	// Shown is called when the task comes on the desk.
	Shown()
	// Moved says where the film stands; at most 30 times a second, only while shown.
	Moved(Now)
}

// Pressed is met by a task that wants to see every key that starts one of its
// actions, to light its legend.
type Pressed interface{ Pressed(action string) }

// Now is where the film stands.
type Now struct {
	Footage timeline.ID // "" when no film is open
	Film    time.Duration
	// Jam is the last jam that started, and Offset the jam time, where aligned.
	Jam    timeline.ID
	Offset time.Duration
	InJam  bool // the jam has not ended yet
	// Playing says whether the film runs, at Rate.
	Playing bool
	Rate    float64
}

// Place is Now as the place of a new tag.
func (n Now) Place() timeline.Place { return timeline.OnFilm(n.Footage, n.Film) }

// Desk is what a task may ask of the window. All methods belong to the window's
// goroutine, but for those that say otherwise.
type Desk interface {
	Stage
	Links
	App() *app.App
	// Session is the open bout; nil when there is none. Use Apply for edits.
	Session() *app.Session
	Settings() *settings.Settings
	Window() fyne.Window

	// Apply stores changes as one undoable action with a label in the language
	// spoken, and tells all tasks. A failure is shown; it reports whether it went well.
	Apply(label string, changes ...timeline.Change) bool
	// Changed is to be called after a use case has edited the session itself.
	Changed()

	// Report is the last cross-check of the sheet; nil without a sheet. Sheet is the
	// sheet as read.
	Report() *sheet.Report
	Sheet() *sheet.Sheet
	// Heard is what the listener heard in a footage file, if it has listened.
	Heard(footage timeline.ID) (app.Listened, bool)

	Now() Now
	// Go shows the film at a place; it says why when the place is not on film.
	Go(p timeline.Place) bool
	// GoFilm shows a film time of a file.
	GoFilm(footage timeline.ID, at time.Duration)
	// Loop plays a stretch again and again; Unloop lets the film run on.
	Loop(footage timeline.ID, from, to time.Duration)
	Unloop()
	Play()
	Pause()
	// Ahead names places that will probably be wanted next.
	Ahead(places ...timeline.Place)

	// Show brings a task on the desk.
	Show(id string)
	// Say shows a sentence in the line under the screen for a while.
	Say(text string)
	// Fail shows an error as a sentence; nil does nothing.
	Fail(err error)
	// Work runs long work in the background with its own view of the open bout (nil
	// without one), shows its progress with a way to cancel it, and calls done on the
	// window's goroutine after the desk has taken over what changed. Errors but
	// cancelling are shown by the desk. One work runs at a time: a second is told to wait.
	Work(title string, do func(ctx context.Context, a *app.App, s *app.Session) error, done func(err error))
	// Actions are all actions of the desk and its tasks, for the list of keys.
	Book() *keys.Book
	Legend() *keys.Legend
}

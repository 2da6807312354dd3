package log

import (
	"testing"

	"whistlecut/app/desk/look"
	"whistlecut/app/desk/task/tasktest"
	"whistlecut/app/logging"
	"whistlecut/timeline"
)

// opened is the task on a simulated bout, shown in a window as wide as the panel
// is on a laptop.
func opened(t *testing.T, o tasktest.Options) (*tasktest.Desk, *Task) {
	t.Helper()
	d := tasktest.New(t, o)
	l := New(d)
	d.Task = l
	d.Book().Add(l.Actions()...)
	tasktest.Wear(t, look.DarkPalette, d.Set.TextScale())
	d.Open(t, 412, 514)
	return d, l
}

const (
	sayFirst = logging.NoFilm
	sayLast  = logging.NotOnRoster
)

func say(s logging.Sentence) logging.Say { return logging.Say{What: s, Side: timeline.Home, Jam: 1} }

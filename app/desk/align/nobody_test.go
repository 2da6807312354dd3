package align

import (
	"whistlecut/app"
	"whistlecut/app/desk/task/tasktest"
)

// nobody is a desk on which no bout is open.
type nobody struct{ *tasktest.Desk }

func (n *nobody) Session() *app.Session { return nil }

package desk

import (
	"context"

	"fyne.io/fyne/v2"

	"whistlecut/app"
	"whistlecut/app/desk/check"
	"whistlecut/app/desk/task"
)

// newTasks makes the tasks in the order of the bar.
func (d *Desk) newTasks() []task.Task {
	return []task.Task{check.New(d)}
}

// newBout begins the guided way from films and sheet to an aligned bout.
func (d *Desk) newBout() { d.newBoutFrom(nil) }

func (d *Desk) newBoutFrom(paths []string) {}

// findMissing looks for films of the bout in a folder.
func findMissing(ctx context.Context, a *app.App, s *app.Session, dir string) (found, still int, err error) {
	return 0, 0, nil
}

var _ fyne.App

package desk

import (
	"context"

	"whistlecut/app"
	"whistlecut/app/desk/align"
	"whistlecut/app/desk/check"
	"whistlecut/app/desk/examples"
	"whistlecut/app/desk/find"
	logtask "whistlecut/app/desk/log"
	"whistlecut/app/desk/newbout"
	"whistlecut/app/desk/reel"
	"whistlecut/app/desk/task"
)

// newTasks makes the tasks in the order of the bar.
func (d *Desk) newTasks() []task.Task {
	if l, ok := d.current().(task.Leaver); ok {
		l.Leave() // what it plays or shows ends with it
	}
	d.aligner, d.reeler, d.stage = align.New(d), reel.New(d), stage{}
	d.flow = newbout.New(d, func(path string) bool {
		d.Open(path)
		return d.session != nil && d.session.Path == path
	}, func() {
		d.Show(task.Align)
		d.aligner.LineUp()
	})
	return []task.Task{d.aligner, logtask.New(d), check.New(d), find.New(d), d.reeler, examples.New(d)}
}

// newBout begins the guided way from films and sheet to an aligned bout.
func (d *Desk) newBout() { d.newBoutFrom(nil) }

func (d *Desk) newBoutFrom(paths []string) {
	if d.full {
		d.fullScreen()
	}
	d.flow.Show(paths...)
}

// findMissing looks for films of the bout in a folder; still is how many are
// missing after it.
func findMissing(ctx context.Context, a *app.App, s *app.Session, dir string) (found, still int, err error) {
	got, err := a.FindMissing(ctx, s, []string{dir})
	if err != nil {
		return 0, 0, err
	}
	for id := range s.Facts.Footage {
		if _, err := s.Film(id); err != nil {
			still++
		}
	}
	return len(got), still, nil
}

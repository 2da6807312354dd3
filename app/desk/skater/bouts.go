package skater

import (
	"path/filepath"
	"slices"

	"whistlecut/app"
	"whistlecut/app/desk/form"
	"whistlecut/app/desk/words"
)

// more asks for another bout to be counted, too.
func (t *Task) more() {
	if t.ready() {
		form.File(t.desk.Window(), []string{app.Ext}, t.take)
	}
}

// take reads another bout file.
func (t *Task) take(path string) {
	s := t.desk.Session()
	same := func(x *app.Session) bool {
		a, err1 := filepath.Abs(x.Path)
		b, err2 := filepath.Abs(path)
		return err1 == nil && err2 == nil && a == b
	}
	if same(s) || slices.ContainsFunc(t.others, same) {
		t.desk.Say(words.T("That bout is on the page already."))
		return
	}
	if s.Bout.Teams[t.who.Side.Index()].Name == "" {
		t.desk.Say(words.T("Her team has no name here, so that she cannot be found in other bouts. Name it in Align."))
		return
	}
	other, err := t.desk.App().Open(path, true)
	if err != nil {
		t.desk.Fail(err)
		return
	}
	defer other.Close() // what was read of it stays
	if _, err := app.PageOf([]*app.Session{s, other}, t.who.String()); err != nil {
		t.desk.Fail(err)
		return
	}
	before := len(t.pg.Bouts)
	t.others = append(t.others, other)
	t.refresh()
	if len(t.pg.Bouts) == before {
		t.desk.Say(words.T("That bout does not know her; nothing was added."))
	}
}

// alone leaves the other bouts out again.
func (t *Task) alone() {
	t.others = nil
	t.refresh()
}

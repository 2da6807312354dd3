package skater

import (
	"context"

	"whistlecut/app"
	"whistlecut/app/desk/ledger"
	"whistlecut/app/desk/words"
	"whistlecut/export/clip"
)

// save asks where the page is to be printed.
func (t *Task) save() {
	if !t.ready() {
		return
	}
	language, pg := words.Code(), t.pg
	t.saving = ledger.Save(t.desk, words.T("Save her page"), clip.SafeName(string(t.who.Number)+" "+t.pg.Name.Person), []ledger.Form{{
		Name: words.T("PDF, to read and print"), Ending: ".pdf",
		Do: func(_ context.Context, _ *app.App, _ *app.Session, path string) error {
			return app.PrintSkater(path, pg, app.PrintOptions(language))
		},
	}}, func(path string) {
		t.notice = words.T("Her page is in {.path}", "path", path) + ". " + words.T("This page is about one person: ask her before you share it.")
		t.desk.Say(words.T("Her page is in {.path}", "path", path))
		t.refresh()
	})
}

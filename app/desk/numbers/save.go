package numbers

import (
	"context"

	"whistlecut/app"
	"whistlecut/app/desk/ledger"
	"whistlecut/app/desk/words"
)

// save asks in which form the numbers are to be saved.
func (t *Task) save() {
	if t.desk.Session() == nil || len(t.report.PerJam) == 0 {
		return
	}
	language := words.Code()
	t.saving = ledger.Save(t.desk, words.T("Save the numbers"), words.T("numbers"), []ledger.Form{
		{Name: words.T("PDF, to read and print"), Ending: ".pdf", Do: func(_ context.Context, _ *app.App, s *app.Session, path string) error {
			return s.PrintNumbers(path, app.PrintOptions(language))
		}},
		{Name: words.T("XLSX, a table in a workbook each"), Ending: ".xlsx", Do: func(_ context.Context, _ *app.App, s *app.Session, path string) error {
			return s.NumbersWorkbook(path)
		}},
		{Name: words.T("CSV, a folder of tables"), Do: func(_ context.Context, _ *app.App, s *app.Session, path string) error {
			_, err := s.NumbersCSV(path)
			return err
		}},
	}, func(path string) {
		t.told.Set(words.T("The numbers are in {.path}", "path", path))
		t.desk.Say(t.told.Text())
		t.root.Refresh()
	})
}

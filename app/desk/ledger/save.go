package ledger

import (
	"context"
	"os"
	"path/filepath"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"whistlecut/app"
	"whistlecut/app/desk/form"
	"whistlecut/app/desk/look"
	"whistlecut/app/desk/task"
	"whistlecut/app/desk/words"
)

// Form is a form in which a page can be saved.
type Form struct {
	Name   string
	Ending string // of the file, ".pdf"; "" is a folder
	Do     func(ctx context.Context, a *app.App, s *app.Session, path string) error
}

// Saving is the dialog that asks where and in which form.
type Saving struct {
	Dialog *form.Dialog
	Path   *form.Entry
	d      task.Desk
	forms  []Form
	form   int
}

// Save asks in which form and where a page is to be saved, under a name without
// ending, and does it in the background. told hears where it is.
func Save(d task.Desk, title, name string, forms []Form, told func(path string)) *Saving {
	s := d.Session()
	if s == nil {
		return nil
	}
	x := &Saving{d: d, forms: forms, Dialog: form.New(d.Window(), title, fyne.NewSize(look.Size(480), look.Size(230)))}
	base := filepath.Join(filepath.Dir(s.Path), name)
	x.Path = x.Dialog.Entry(base+forms[0].Ending, words.T("file"))
	var names []string
	for _, f := range forms {
		names = append(names, f.Name)
	}
	kind := look.NewSelect(names, nil)
	kind.Selected = names[0]
	kind.OnChanged = func(name string) {
		for i, f := range forms {
			if f.Name == name {
				x.Choose(i)
			}
		}
	}
	accept := func() {
		if path := x.accept(told); path != "" {
			x.Dialog.Close()
		}
	}
	x.Dialog.Accept = accept
	pick := look.NewButton(words.T("Browse"), "", func() {
		form.Folder(d.Window(), func(dir string) { x.Path.SetText(filepath.Join(dir, filepath.Base(x.Path.Text))) })
	})
	content := container.New(look.Pile{Gap: look.Near})
	if len(forms) > 1 {
		content.Add(form.Field(words.T("Form"), kind))
	}
	content.Add(form.Field(words.T("Where"), container.NewBorder(nil, nil, nil, pick, x.Path)))
	x.Dialog.Show(container.NewVScroll(content), x.Path,
		look.NewButton(words.T("Cancel"), words.T("Esc"), x.Dialog.Close), look.NewButton(words.T("Save"), words.T("Enter"), accept).Strong())
	return x
}

// Choose takes another form; the name gets its ending.
func (x *Saving) Choose(i int) {
	was := x.forms[x.form].Ending
	x.form = i
	x.Path.SetText(strings.TrimSuffix(x.Path.Text, was) + x.forms[i].Ending)
}

// accept starts the work and returns where it will be; "" says what is wrong.
func (x *Saving) accept(told func(path string)) string {
	path, f := strings.TrimSpace(x.Path.Text), x.forms[x.form]
	if path == "" {
		x.Dialog.Say(words.T("Name a file."))
		return ""
	}
	if f.Ending != "" && !strings.EqualFold(filepath.Ext(path), f.Ending) {
		path += f.Ending
	}
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		x.Dialog.Say(words.T("That folder cannot be made: {.why}", "why", err))
		return ""
	}
	x.d.Work(words.T("Saving {.file}", "file", filepath.Base(path)), func(ctx context.Context, a *app.App, s *app.Session) error {
		return f.Do(ctx, a, s, path)
	}, func(err error) {
		if err == nil {
			told(path)
		}
	})
	return path
}

// Package newbout starts a bout in a few steps: film, sheet, names and rules,
// where the file goes. Everything but one film or one sheet can be left out.
package newbout

import (
	"os"
	"path/filepath"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"whistlecut/app"
	"whistlecut/app/desk/form"
	"whistlecut/app/desk/look"
	"whistlecut/app/desk/task"
	"whistlecut/app/desk/words"
	"whistlecut/timeline"
)

// Flow is the guided start of a bout.
type Flow struct {
	desk task.Desk
	// open opens the new bout on the desk; it reports whether that went well.
	open func(path string) bool
	// lineUp listens to the film and shows what is doubtful.
	lineUp func()

	d     *form.Dialog
	pages []page
	stack *fyne.Container
	at    int
	back  *look.Button
	next  *look.Button
	start *look.Button

	making *making

	film  *filmPage
	paper *sheetPage
	names *namesPage
	place *placePage
}

// page is one step of the flow.
type page interface {
	title() string
	content() fyne.CanvasObject
	// enter is called when the step is shown; it returns what gets the keyboard.
	enter() fyne.Focusable
	// check says what is missing before the next step; "" when nothing is.
	check() string
}

// New makes the flow. open opens a bout file on the desk; lineUp, called after it
// when there is film, is the Align task's.
func New(desk task.Desk, open func(path string) bool, lineUp func()) *Flow {
	return &Flow{desk: desk, open: open, lineUp: lineUp}
}

// Show asks the first question. Files may be there to begin with, as dropped.
func (f *Flow) Show(paths ...string) {
	if f.d != nil && f.d.IsOpen() {
		f.Drop(paths)
		return
	}
	f.d = form.New(f.desk.Window(), "", fyne.NewSize(look.Size(680), look.Size(470)))
	f.film, f.paper = newFilmPage(f), newSheetPage(f)
	f.names, f.place = newNamesPage(f), newPlacePage(f)
	f.pages = []page{f.film, f.paper, f.names, f.place}
	f.stack = container.NewStack()
	for _, p := range f.pages {
		f.stack.Add(p.content())
	}
	f.back = look.NewButton(words.T("Back"), "", func() { f.turn(f.at - 1) })
	f.next = look.NewButton(words.T("Next"), form.CtrlEnter(), f.forward).Strong()
	f.d.Accept = f.forward
	f.d.Keys = func(k fyne.KeyName) bool {
		if k == fyne.KeyEscape {
			f.leave()
		}
		return k == fyne.KeyEscape
	}
	f.start = look.NewButton(words.T("Start now"), "", f.now)
	f.making = newMaking()
	f.making.view.Hide()
	f.d.Show(container.NewStack(f.stack, f.making.view), nil, look.NewButton(words.T("Cancel"), words.T("Esc"), f.leave), f.start, f.back, f.next)
	f.turn(0)
	f.Drop(paths)
}

// Drop takes dropped files into the flow.
func (f *Flow) Drop(paths []string) {
	if f.d == nil || !f.d.IsOpen() || len(paths) == 0 {
		return
	}
	s := form.Sort(paths)
	f.film.add(0, s.Films)
	if len(s.Sheets) > 0 {
		f.paper.path.SetText(s.Sheets[0])
	}
	if len(s.Films)+len(s.Sheets) == 0 {
		f.d.Say(words.T("{.file} is neither a film nor a sheet that can be read.", "file", filepath.Base(paths[0])))
	} else {
		f.d.Say("")
	}
}

// turn shows a step.
func (f *Flow) turn(to int) {
	f.at = min(max(to, 0), len(f.pages)-1)
	f.d.Say("")
	for i, o := range f.stack.Objects {
		visible(o, i == f.at)
	}
	f.d.Retitle(words.T("New bout, {.step} of {.steps}: {.what}", "step", f.at+1, "steps", len(f.pages), "what", f.pages[f.at].title()))
	if f.at == 0 {
		f.back.Disable()
	} else {
		f.back.Enable()
	}
	if f.at == len(f.pages)-1 {
		f.next.SetText(words.T("Create the bout") + "  " + form.CtrlEnter())
	} else {
		f.next.SetText(words.T("Next") + "  " + form.CtrlEnter())
	}
	f.d.Relay()
	f.d.Focus(f.pages[f.at].enter())
}

// forward goes on to the next step, or makes the bout after the last.
func (f *Flow) forward() {
	if f.making.cancel != nil {
		return // it is being made
	}
	if why := f.pages[f.at].check(); why != "" {
		f.refuse(why)
		return
	}
	if f.at < len(f.pages)-1 {
		f.turn(f.at + 1)
		return
	}
	f.create()
}

func (f *Flow) refuse(why string) {
	f.d.Say(why)
	f.d.Focus(f.pages[f.at].enter())
}

// now makes the bout of what is there, with what is usual for the rest.
func (f *Flow) now() {
	if f.first() == "" {
		f.turn(0)
		f.refuse(words.T("Name at least one film, or one sheet in the next step."))
		return
	}
	for i := f.at; i < len(f.pages); i++ {
		f.pages[i].enter() // fills in what is usual
		if why := f.pages[i].check(); why != "" {
			f.turn(i)
			f.refuse(why)
			return
		}
	}
	f.create()
}

// options are what the new bout starts from.
func (f *Flow) options() app.NewOptions {
	o := app.NewOptions{
		Path: f.place.file(), Title: f.names.titled(), Date: f.names.day(), Venue: f.names.text(f.names.venue),
		Home: f.names.text(f.names.home), Away: f.names.text(f.names.away), Edition: f.names.edition(), Sheet: f.paper.file(),
	}
	for i, list := range f.film.files() {
		if len(list) > 0 {
			o.Cameras = append(o.Cameras, app.Camera{Name: cameraName(i), Files: list})
		}
	}
	return o
}

func cameraName(i int) string { return string(rune('1' + i)) }

// editions are the known rule sets, the newest first.
func editions() []timeline.RuleSet {
	list := timeline.Editions()
	slices.Reverse(list)
	return list
}

// exists reports whether a file is there.
func exists(path string) bool {
	st, err := os.Stat(path)
	return err == nil && !st.IsDir()
}

// clean leaves out of a name what no file system takes.
func clean(name string) string {
	name = strings.Map(func(r rune) rune {
		if strings.ContainsRune(`/\:*?"<>|`, r) || r < ' ' {
			return -1
		}
		return r
	}, name)
	return strings.Trim(strings.Join(strings.Fields(name), " "), ". ")
}

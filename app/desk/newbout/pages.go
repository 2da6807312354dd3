package newbout

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"

	"whistlecut/app"
	"whistlecut/app/desk/form"
	"whistlecut/app/desk/look"
	"whistlecut/app/desk/words"
	"whistlecut/timeline"
)

// filmPage asks for the films of one camera or two.
type filmPage struct {
	f       *Flow
	cameras [2]*form.Entry
	take    *look.Button // takes paperwork that was named as film as the sheet
	paper   string       // that paperwork, "" for none
}

func newFilmPage(f *Flow) *filmPage {
	p := &filmPage{f: f}
	for i, rows := range []int{4, 2} {
		p.cameras[i] = f.d.Lines("", words.T("One file a line"), rows)
	}
	return p
}

func (p *filmPage) title() string { return words.T("film") }

func (p *filmPage) content() fyne.CanvasObject {
	browse := func(i int) fyne.CanvasObject {
		return container.NewHBox(
			look.NewButton(words.T("File…"), "", func() {
				form.File(p.f.desk.Window(), form.FilmEndings, func(path string) { p.add(i, []string{path}) })
			}),
			look.NewButton(words.T("All films of a folder…"), "", func() {
				form.Folder(p.f.desk.Window(), func(path string) { p.add(i, form.In(path, form.FilmEndings)) })
			}), layout.NewSpacer())
	}
	first := container.NewBorder(nil, browse(0), nil, nil, form.Fill(words.T("Film files, or drop them here"), p.cameras[0]))
	second := container.NewBorder(nil, browse(1), nil, nil, form.Fill(words.T("Second camera, if there was one"), p.cameras[1]))
	p.take = look.NewButton("", "", p.takeSheet).Strong()
	p.take.Hide()
	return container.NewBorder(nil, container.NewVBox(container.NewHBox(p.take),
		look.Note(words.T("“Start now” makes the bout beside the film and listens to it at once. Sheet, names and rosters can follow any time."))),
		nil, nil, container.NewGridWithRows(2, first, second))
}

// add puts files under those of a camera.
func (p *filmPage) add(camera int, paths []string) {
	if len(paths) == 0 {
		return
	}
	p.cameras[camera].SetText(strings.Join(append(form.SplitLines(p.cameras[camera].Text), paths...), "\n"))
}

func (p *filmPage) enter() fyne.Focusable { return p.cameras[0] }

func (p *filmPage) files() [2][]string {
	var out [2][]string
	for i, c := range p.cameras {
		out[i] = form.SplitLines(c.Text)
	}
	return out
}

func (p *filmPage) check() string {
	p.paper = ""
	p.take.Hide()
	seen := map[string]bool{}
	for _, list := range p.files() {
		for _, path := range list {
			if !exists(path) {
				return words.T("There is no file {.path}; check the name.", "path", path)
			}
			if seen[path] {
				return words.T("{.path} is named twice.", "path", path)
			}
			seen[path] = true
			if why := p.wrongKind(path); why != "" {
				return why
			}
		}
	}
	return ""
}

// wrongKind says what a file is that is no film, and offers to take paperwork as
// the sheet; "" for a film, and for what only reading it can tell.
func (p *filmPage) wrongKind(path string) string {
	file := filepath.Base(path)
	switch s := form.Sort([]string{path}); {
	case len(s.Sheets) > 0 && p.f.paper.file() != "":
		return words.T("{.file} is a sheet and no film, and a sheet is named already in the next step. Take it off this list.", "file", file)
	case len(s.Sheets) > 0:
		p.paper = path
		p.take.SetText(words.T("Take {.file} as the sheet", "file", file))
		p.take.Show()
		return words.T("{.file} is a sheet and no film.", "file", file)
	case len(s.Bouts) > 0:
		return words.T("{.file} is a bout already: cancel here and open it.", "file", file)
	case len(s.Photos) > 0:
		return words.T("{.file} is a photo and no film. Score rows can be typed beside it in Align, once the bout is made.", "file", file)
	}
	return ""
}

// takeSheet moves the paperwork from the films to the sheet.
func (p *filmPage) takeSheet() {
	for _, c := range p.cameras {
		lines := slices.DeleteFunc(form.SplitLines(c.Text), func(l string) bool { return l == p.paper })
		c.SetText(strings.Join(lines, "\n"))
	}
	p.f.paper.path.SetText(p.paper)
	p.f.forward()
}

// first is a file that says where the bout belongs, and when it was played.
func (f *Flow) first() string {
	for _, list := range f.film.files() {
		if len(list) > 0 {
			return list[0]
		}
	}
	return f.paper.file()
}

// sheetPage asks for the official sheet.
type sheetPage struct {
	f    *Flow
	path *form.Entry
	said *widget.Label
	read string // the file that was read
	got  app.SheetReading
}

func newSheetPage(f *Flow) *sheetPage {
	return &sheetPage{f: f, path: f.d.Entry("", words.T("XLSX, ODS or CSV file")), said: look.Prose("")}
}

func (p *sheetPage) title() string { return words.T("sheet, if there is one") }

func (p *sheetPage) content() fyne.CanvasObject {
	return container.NewVBox(
		form.Field(words.T("Official sheet"), container.NewBorder(nil, nil, nil,
			look.NewButton(words.T("File…"), "", func() {
				form.File(p.f.desk.Window(), form.SheetEndings, func(path string) { p.path.SetText(path); p.f.d.Focus(p.path) })
			}), p.path)),
		p.said,
		look.Note(words.T("Any layout will do; columns that are not sure are shown to you later. From paper, the score rows can be typed beside a photo afterwards. Left empty, the jams are proposed by ear.")),
	)
}

func (p *sheetPage) enter() fyne.Focusable { return p.path }

func (p *sheetPage) file() string { return strings.TrimSpace(p.path.Text) }

func (p *sheetPage) check() string {
	path := p.file()
	if path == "" {
		p.read, p.got = "", app.SheetReading{}
		p.said.SetText("")
		return ""
	}
	if p.read == path {
		return ""
	}
	r, err := p.f.desk.App().ReadSheet(path, "")
	if err != nil {
		return sheetRefusal(err, path)
	}
	p.read, p.got = path, r
	p.said.SetText(words.N(len(r.Sheet.Rows), "{.n} score row read.", "{.n} score rows read."))
	return ""
}

// namesPage asks who played when, and by which rules.
type namesPage struct {
	f                       *Flow
	home, away, date, venue *form.Entry
	rules                   *look.Select
}

func newNamesPage(f *Flow) *namesPage {
	p := &namesPage{
		f: f, home: f.d.Entry("", words.T("may be left empty")), away: f.d.Entry("", words.T("may be left empty")),
		date: f.d.Entry("", words.T("YYYY-MM-DD")), venue: f.d.Entry("", words.T("may be left empty")),
	}
	var names []string
	for _, r := range editions() {
		names = append(names, r.Edition)
	}
	p.rules = look.NewSelect(names, nil)
	p.rules.SetSelectedIndex(0)
	return p
}

func (p *namesPage) title() string { return words.T("names, date and rules") }

func (p *namesPage) content() fyne.CanvasObject {
	return container.NewVBox(
		container.NewGridWithColumns(2, form.Field(words.T("Home team"), p.home), form.Field(words.T("Away team"), p.away)),
		container.NewGridWithColumns(2, form.Field(words.T("Date"), p.date), form.Field(words.T("Venue"), p.venue)),
		container.NewGridWithColumns(2, form.Field(words.T("Edition of the rules"), p.rules), layout.NewSpacer()),
		look.Note(words.T("The edition decides points per trip, penalty time and codes; choose the one the bout was played by.")),
	)
}

// enter fills in what sheet and film tell.
func (p *namesPage) enter() fyne.Focusable {
	for i, e := range []*form.Entry{p.home, p.away} {
		if name := p.f.paper.got.Sheet.Teams[i].Name; e.Text == "" && name.State == timeline.CellKnown {
			e.SetText(name.Value)
		}
	}
	if p.date.Text == "" {
		if st, err := os.Stat(p.f.first()); err == nil {
			p.date.SetText(st.ModTime().Format(time.DateOnly))
		}
	}
	return p.home
}

func (p *namesPage) check() string {
	if t := p.day(); t != "" {
		if _, err := time.Parse(time.DateOnly, t); err != nil {
			return words.T("{.date} is no date; write it as YYYY-MM-DD.", "date", t)
		}
	}
	return ""
}

func (p *namesPage) text(e *form.Entry) string { return strings.TrimSpace(e.Text) }
func (p *namesPage) day() string               { return p.text(p.date) }
func (p *namesPage) edition() string           { return p.rules.Selected }

// titled is the bout's title: the teams where both are known.
func (p *namesPage) titled() string {
	home, away := p.text(p.home), p.text(p.away)
	if home == "" || away == "" {
		return home + away
	}
	return home + " – " + away
}

// placePage asks where the bout file goes.
type placePage struct {
	f    *Flow
	path *form.Entry
	own  string // the path filled in, to be renewed as long as nobody changed it
}

func newPlacePage(f *Flow) *placePage {
	return &placePage{f: f, path: f.d.Entry("", words.T("Name of the bout file"))}
}

func (p *placePage) title() string { return words.T("where the bout goes") }

func (p *placePage) content() fyne.CanvasObject {
	return container.NewVBox(
		form.Field(words.T("Bout file"), container.NewBorder(nil, nil, nil,
			look.NewButton(words.T("Folder…"), "", func() {
				form.Folder(p.f.desk.Window(), func(dir string) {
					p.path.SetText(filepath.Join(dir, filepath.Base(p.path.Text)))
					p.f.d.Focus(p.path)
				})
			}), p.path)),
		look.Note(words.T("The file holds everything but the film: tags, sheet, alignment and the way back from each edit. Beside the film, both can be moved together.")),
	)
}

func (p *placePage) enter() fyne.Focusable {
	if p.path.Text == "" || p.path.Text == p.own {
		p.own = p.usual()
		p.path.SetText(p.own)
	}
	return p.path
}

// usual is a free name beside the film.
func (p *placePage) usual() string {
	first := p.f.first()
	if first == "" {
		return ""
	}
	name := clean(strings.TrimSpace(p.f.names.day() + " " + p.f.names.titled()))
	if p.f.names.titled() == "" {
		name = strings.TrimSuffix(filepath.Base(first), filepath.Ext(first))
	}
	path := filepath.Join(filepath.Dir(first), name)
	for n := 2; exists(path + app.Ext); n++ {
		path = filepath.Join(filepath.Dir(first), name+" "+string(rune('0'+n%10)))
		if n > 9 {
			path += time.Now().Format(" 150405")
			break
		}
	}
	return path + app.Ext
}

func (p *placePage) file() string {
	path := strings.TrimSpace(p.path.Text)
	if path != "" && !strings.HasSuffix(strings.ToLower(path), app.Ext) {
		path += app.Ext
	}
	return path
}

func (p *placePage) check() string {
	path := p.file()
	switch {
	case path == "":
		return words.T("The bout file needs a name.")
	case exists(path):
		return words.T("{.path} is there already; choose another name.", "path", path)
	}
	if st, err := os.Stat(filepath.Dir(path)); err != nil || !st.IsDir() {
		return words.T("There is no folder {.path}.", "path", filepath.Dir(path))
	}
	return ""
}

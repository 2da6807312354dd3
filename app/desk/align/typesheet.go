package align

import (
	"fmt"
	"path/filepath"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/layout"

	"whistlecut/app/desk/form"
	"whistlecut/app/desk/look"
	"whistlecut/app/desk/words"
	"whistlecut/timeline"
)

// typing is the dialog in which a paper sheet is typed beside its photo.
type typing struct {
	p      *paper
	d      *form.Dialog
	grid   *typeGrid
	typed  *typedSheet
	page   int
	photo  *photo
	middle *container.Split
}

// typeIn opens the grid, with a photo if one is named.
func (p *paper) typeIn(photo string) {
	s, ok := p.t.session()
	if !ok {
		return
	}
	periods := max(s.Facts.Rules.Periods, 1)
	y := &typing{p: p, typed: &typedSheet{pages: make([][]typedRow, 2*periods)}}
	if p.load(); p.have && p.failed == nil && p.reading.Mapping.Own {
		y.typed = typedOf(p.reading.Sheet, periods)
	}
	y.build(photo)
}

func (y *typing) build(path string) {
	y.d = form.New(y.p.t.desk.Window(), words.T("Type a sheet"), fyne.NewSize(1240, 660))
	y.grid = newTypeGrid([typedColumns]string{
		words.T("Jam"), words.T("Jammer"), words.T("Lost"), words.T("Lead"), words.T("Call"), words.T("Inj"), words.T("NI"),
		"2", "3", "4", "5", "6", "7", "8", "9", "10", words.T("Jam total"), words.T("Game total"),
	})
	y.photo = newPhoto()
	y.grid.pan = y.photo.pan
	y.grid.want = func() { y.d.Focus(y.grid) }
	y.grid.key = func(k fyne.KeyName) bool {
		switch k {
		case fyne.KeyEscape:
			y.d.Close()
		case fyne.KeyPageUp:
			y.turn(y.page - 1)
		case fyne.KeyPageDown:
			y.turn(y.page + 1)
		case fyne.KeyInsert:
			y.grid.insert()
		case fyne.KeyF2:
			y.photo.zoom(1 / 1.25)
		case fyne.KeyF3:
			y.photo.zoom(1.25)
		case fyne.KeyF5:
			y.keep()
		default:
			return false
		}
		return true
	}
	button := func(text, key string, do func()) *look.Button {
		return look.NewButton(text, key, func() { do(); y.d.Focus(y.grid) })
	}
	top := container.NewHBox(layout.NewSpacer(),
		button(words.T("Page before"), words.T("PgUp"), func() { y.turn(y.page - 1) }), button(words.T("Page after"), words.T("PgDn"), func() { y.turn(y.page + 1) }),
		button(words.T("Insert row"), words.T("Ins"), y.grid.insert), button(words.T("Remove row"), "", y.grid.drop))
	help := look.Note(words.T("Tab, Enter and arrows move. SP in the jam column is the row after a star pass, SP* the row beside it. A question mark stands for what cannot be read; an empty cell is empty on paper."))
	right := container.NewBorder(top, help, nil, nil, y.grid)
	left := container.NewBorder(nil, container.NewHBox(
		look.NewButton(words.T("Photo…"), "", func() {
			form.File(y.p.t.desk.Window(), form.PhotoEndings, func(p string) { y.show(p); y.d.Focus(y.grid) })
		}),
		button("−", "F2", func() { y.photo.zoom(1 / 1.25) }), button("+", "F3", func() { y.photo.zoom(1.25) }),
	), nil, nil, y.photo.scroll)
	y.middle = container.NewHSplit(left, right)
	y.middle.SetOffset(0.34)
	y.d.Show(y.middle, y.grid, look.NewButton(words.T("Cancel"), words.T("Esc"), y.d.Close), look.NewButton(words.T("Keep"), "F5", y.keep).Strong())
	y.show(path)
	y.turn(0)
	y.d.Focus(y.grid)
}

// show shows a photo of the paper.
func (y *typing) show(path string) {
	if path == "" {
		return
	}
	if err := y.photo.open(path); err != nil {
		y.d.Say(words.T("{.file} is no picture that can be shown; take a JPEG or PNG.", "file", filepath.Base(path)))
		return
	}
	y.d.Say("")
}

// turn shows another page: a period of a side.
func (y *typing) turn(to int) {
	if y.page < len(y.typed.pages) && y.grid.rows != nil {
		y.typed.pages[y.page] = y.grid.rows
	}
	y.page = min(max(to, 0), len(y.typed.pages)-1)
	side := timeline.Sides[y.page%2]
	s := y.p.t.desk.Session()
	y.d.Retitle(words.T("Type a sheet: period {.n}, {.team}", "n", y.page/2+1, "team", teamName(side, s.Facts.Teams[side.Index()])))
	y.grid.set(y.typed.pages[y.page], side)
}

// keep stores what was typed as the bout's sheet.
func (y *typing) keep() {
	y.typed.pages[y.page] = y.grid.rows
	s := y.p.t.desk.Session()
	if len(y.typed.sheet().Rows) == 0 {
		y.d.Say(words.T("There is no row to keep yet: type a jammer's number or a score."))
		y.d.Focus(y.grid)
		return
	}
	data, err := y.typed.csv(s.Facts.Teams)
	if err == nil {
		r, e := y.p.t.desk.App().ReadSheetData(typedName, data, nil)
		if err = e; err == nil {
			y.d.Close()
			y.p.put(r, words.N(len(r.Sheet.Rows), "sheet typed, {.n} row", "sheet typed, {.n} rows"))
			return
		}
	}
	y.d.Say(fmt.Sprint(err))
}

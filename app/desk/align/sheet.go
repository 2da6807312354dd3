package align

import (
	"cmp"
	"context"
	"path/filepath"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"whistlecut/app"
	"whistlecut/app/desk/form"
	"whistlecut/app/desk/look"
	"whistlecut/app/desk/terms"
	"whistlecut/app/desk/words"
	"whistlecut/timeline"
	"whistlecut/timeline/sheet"
)

// sureColumn is the certainty from which a column needs no second look (common
// practice, no source).
const sureColumn = 0.8

// paper is the section of the official sheet and of what its columns are read as.
type paper struct {
	t       *Task
	list    *look.Rows
	head    *widget.Label
	detail  *widget.Label
	page    *either
	reading app.SheetReading
	have    bool
	failed  error // why the stored sheet can't be read
	stored  *timeline.StoredSheet
	rows    []columnRow
	chosen  [2]int // block and column that stay chosen
}

// columnRow is one column of one table of the sheet.
type columnRow struct{ block, column int }

func (p *paper) title() string { return words.T("Sheet") }

func (p *paper) status() (string, look.Shape) {
	p.load()
	switch {
	case p.failed != nil:
		return words.T("cannot be read"), look.Diamond
	case !p.have:
		return words.T("none yet"), look.NoShape
	case p.reading.Mapping.Own:
		return words.T("our own form"), look.Tick
	}
	if n := p.unsure(); n > 0 {
		return words.N(n, "{.n} column to look at", "{.n} columns to look at"), look.Triangle
	}
	return words.T("all columns sure"), look.Tick
}

func (p *paper) unsure() int {
	n := 0
	for _, r := range p.rows {
		if p.column(r).Certainty < sureColumn {
			n++
		}
	}
	return n
}

func (p *paper) column(r columnRow) sheet.Column {
	return p.reading.Mapping.Blocks[r.block].Columns[r.column]
}

func (p *paper) block(r columnRow) sheet.Block { return p.reading.Mapping.Blocks[r.block] }

// load reads the stored sheet when it is another than before.
func (p *paper) load() {
	s := p.t.desk.Session()
	if s == nil || s.Facts.Sheet == nil {
		p.have, p.failed, p.stored, p.rows = false, nil, nil, nil
		p.reading = app.SheetReading{}
		return
	}
	if p.stored == s.Facts.Sheet {
		return
	}
	p.stored = s.Facts.Sheet
	p.reading, p.have, p.failed = s.StoredSheet()
	p.rows = nil
	for b, block := range p.reading.Mapping.Blocks {
		for c := range block.Columns {
			p.rows = append(p.rows, columnRow{b, c})
		}
	}
	// What is least sure comes first; what is put aside on purpose last.
	slices.SortStableFunc(p.rows, func(x, y columnRow) int {
		a, b := p.column(x), p.column(y)
		return cmp.Compare(a.Certainty, b.Certainty)
	})
}

func (p *paper) content() fyne.CanvasObject {
	columns := []look.Column{{Width: 13}, {Width: 70}, {Width: 20}, {}, {Width: 124}, {Width: 40, Right: true}}
	p.list = look.NewRows(columns, func() int { return len(p.rows) }, p.cells)
	p.list.Chosen = func(i int) { p.chosen = [2]int{p.rows[i].block, p.rows[i].column}; p.tell() }
	p.list.Opened = func(int) { p.choose() }
	p.head, p.detail = look.Prose(""), note()
	buttons := newFlow(
		p.t.button(words.T("Correct"), "↵", doEnter), p.t.button(words.T("Table…"), "E", doTeam),
		p.t.button(words.T("Keep as template"), "K", doKeep), p.t.button(words.T("Another sheet"), "A", doAdd),
		p.t.button(words.T("Type a sheet"), "T", doType), p.t.button(words.T("Remove"), words.T("Del"), doRemove),
	)
	whole := form.Column(p.list, p.head,
		newHeadings(columns, "", words.T("Table"), "", words.T("Heading"), words.T("Read as"), words.T("Sure")),
		p.list, p.detail, buttons)
	empty := look.Empty(words.T("No sheet yet"),
		words.T("Add the official paperwork as a spreadsheet of any layout (XLSX, ODS or CSV); its columns are recognised and you correct what is wrong. From a paper sheet, type the score rows beside its photo. Without a sheet the film can be tagged all the same."),
		newFlow(p.t.button(words.T("Add a sheet"), "A", doAdd).Strong(), p.t.button(words.T("Type a sheet"), "T", doType)))
	p.page = newEither(empty, whole)
	return p.page.box
}

func (p *paper) shown() {}

func (p *paper) refresh() {
	p.load()
	if p.page == nil {
		return
	}
	p.page.show(!p.have)
	p.head.SetText(p.summary())
	at := slices.IndexFunc(p.rows, func(r columnRow) bool { return p.chosen == [2]int{r.block, r.column} })
	if at < 0 && len(p.rows) > 0 {
		at = 0
		p.chosen = [2]int{p.rows[0].block, p.rows[0].column}
	}
	p.list.Mark(at)
	p.tell()
}

// summary says what was read.
func (p *paper) summary() string {
	if p.failed != nil {
		return p.failed.Error()
	}
	if !p.have {
		return ""
	}
	x := p.reading.Sheet
	parts := []string{p.reading.Name}
	add := func(n int, text string) {
		if n > 0 {
			parts = append(parts, text)
		}
	}
	add(len(x.Rows), words.N(len(x.Rows), "{.n} score row", "{.n} score rows"))
	add(len(x.Penalties), words.N(len(x.Penalties), "{.n} penalty row", "{.n} penalty rows"))
	add(len(x.Lineups), words.N(len(x.Lineups), "{.n} line-up", "{.n} line-ups"))
	add(len(x.Clock), words.N(len(x.Clock), "{.n} jam time", "{.n} jam times"))
	n := len(x.Teams[0].Roster) + len(x.Teams[1].Roster)
	add(n, words.N(n, "{.n} skater", "{.n} skaters"))
	add(len(p.reading.Problems), words.N(len(p.reading.Problems), "{.n} cell not readable", "{.n} cells not readable"))
	return strings.Join(parts, " · ")
}

func (p *paper) cells(i int) []look.Cell {
	r := p.rows[i]
	b, c := p.block(r), p.column(r)
	shape := look.Cell{Shape: look.Tick}
	if c.Certainty < sureColumn {
		shape.Shape = look.Triangle
	}
	name := kindName(b.Kind)
	if b.Period > 0 {
		name += " " + words.T("P{.n}", "n", b.Period)
	}
	if b.Side != timeline.NoSide {
		name += " " + terms.Side(b.Side)
	}
	heading := look.Cell{Text: c.Heading}
	if heading.Text == "" {
		heading = look.Cell{Text: words.T("no heading"), Colour: look.Now.Quiet}
	}
	return []look.Cell{
		shape,
		{Text: name, Colour: look.Now.Quiet},
		{Text: letter(c.Index), Mono: true},
		heading,
		{Text: fieldName(c.Field, c.N), Bold: true},
		{Text: percent(c.Certainty), Mono: true, Colour: look.Now.Quiet},
	}
}

// letter is a column's name in spreadsheets.
func letter(i int) string { return strings.TrimRight(sheet.CellName(0, i), "0123456789") }

func (p *paper) tell() {
	defer p.page.relay()
	r, ok := p.at()
	switch {
	case p.have && p.reading.Mapping.Own && p.failed == nil:
		p.detail.SetText(words.T("This is the program's own form: there are no columns to settle. T types into it."))
	case !ok:
		p.detail.SetText("")
	case len(p.reading.Problems) > 0 && p.column(r).Certainty >= sureColumn:
		p.detail.SetText(p.reading.Problems[0].From + ": " + p.reading.Problems[0].Text)
	default:
		p.detail.SetText(words.T("Sheet {.table}, column {.column}. Enter says what it holds.", "table", p.block(r).Table, "column", letter(p.column(r).Index)))
	}
}

func (p *paper) at() (columnRow, bool) {
	if p.list == nil || !p.have {
		return columnRow{}, false
	}
	if i := p.list.Index(); i >= 0 && i < len(p.rows) {
		return p.rows[i], true
	}
	return columnRow{}, false
}

func (p *paper) do(verb string) bool {
	switch verb {
	case doUp:
		p.list.Advance(-1)
	case doDown:
		p.list.Advance(1)
	case doEnter:
		if p.have {
			p.choose()
		} else {
			p.ask()
		}
	case doAdd:
		p.ask()
	case doType:
		p.typeIn("")
	case doKeep:
		p.keep()
	case doTeam:
		p.table()
	case doRemove:
		if p.stored != nil {
			p.t.desk.Apply(words.T("sheet {.name} taken out", "name", p.reading.Name), timeline.DeleteSheet())
		}
	default:
		return false
	}
	return true
}

// ask asks for a sheet's file.
func (p *paper) ask() {
	if _, ok := p.t.session(); !ok {
		return
	}
	d := form.New(p.t.desk.Window(), words.T("Add a sheet"), fyne.NewSize(560, 210))
	path := d.Entry("", words.T("XLSX, ODS or CSV file"))
	d.Accept = func() {
		if strings.TrimSpace(path.Text) == "" {
			d.Say(words.T("Name the sheet's file."))
			return
		}
		d.Close()
		p.add(strings.TrimSpace(path.Text))
	}
	d.Show(form.Column(nil, form.Field(words.T("File"), path), look.Note(words.T("It is read once and kept in the bout; the file itself stays as it is."))), path,
		d.Button(words.T("File…"), "", func() { form.File(p.t.desk.Window(), form.SheetEndings, path.SetText) }),
		look.NewButton(words.T("Cancel"), words.T("Esc"), d.Close), look.NewButton(words.T("Add"), "↵", func() { d.Accept() }).Strong())
}

// add reads a sheet's file and puts it into the bout with its jams.
func (p *paper) add(path string) {
	var r app.SheetReading
	p.t.desk.Work(words.T("Reading the sheet"), func(_ context.Context, a *app.App, _ *app.Session) error {
		var err error
		r, err = a.ReadSheet(path, "")
		return err
	}, func(err error) {
		if err == nil {
			p.put(r, words.T("sheet {.name}", "name", filepath.Base(path)))
		}
	})
}

// put stores a reading as one action.
func (p *paper) put(r app.SheetReading, label string) bool {
	s, ok := p.t.session()
	if !ok {
		return false
	}
	changes, _, err := s.SheetEdits(r)
	if err != nil {
		p.t.desk.Fail(err)
		return false
	}
	return p.t.desk.Apply(label, changes...)
}

// choose lets a person say what a column holds.
func (p *paper) choose() {
	r, ok := p.at()
	if !ok {
		return
	}
	b, c := p.block(r), p.column(r)
	fields := fieldsOf(b.Kind)
	texts := make([]string, len(fields))
	chosen := -1
	for i, f := range fields {
		texts[i] = fieldName(f.field, f.n)
		if f.field == c.Field && (f.n == c.N || c.N == 0) {
			chosen = i
		}
	}
	title := words.T("Column {.column} of {.table} holds", "column", letter(c.Index), "table", b.Table)
	form.Choose(p.t.desk.Window(), title, texts, chosen, func(i int) {
		p.correct(words.T("column {.column} read as {.what}", "column", letter(c.Index), "what", texts[i]), func(m *sheet.Mapping) {
			col := &m.Blocks[r.block].Columns[r.column]
			col.Field, col.N, col.Certainty, col.Reason = fields[i].field, fields[i].n, 1, "a person said so"
		})
	})
}

// correct reads the sheet anew by a changed mapping. The mapping shown is never
// changed in place: undo must find the old one.
func (p *paper) correct(label string, change func(*sheet.Mapping)) {
	m := copied(p.reading.Mapping)
	change(&m)
	r, err := p.t.desk.App().ReadSheetData(p.reading.Name, p.reading.Data, &m)
	if err != nil {
		p.t.desk.Fail(err)
		return
	}
	p.put(r, label)
}

func copied(m sheet.Mapping) sheet.Mapping {
	m.Blocks = slices.Clone(m.Blocks)
	for i := range m.Blocks {
		m.Blocks[i].Columns = slices.Clone(m.Blocks[i].Columns)
	}
	return m
}

// keep keeps the mapping as a template for the next sheets of this layout.
func (p *paper) keep() {
	if !p.have || p.failed != nil {
		return
	}
	d := form.New(p.t.desk.Window(), words.T("Keep as template"), fyne.NewSize(460, 200))
	name := d.Entry(strings.TrimSuffix(p.reading.Name, filepath.Ext(p.reading.Name)), words.T("Name of the layout"))
	d.Accept = func() {
		if _, err := p.t.desk.App().KeepTemplate(name.Text, p.reading.Mapping); err != nil {
			d.Say(err.Error())
			return
		}
		d.Close()
		p.t.desk.Say(words.T("Kept. The next sheet of this layout is read the same way."))
	}
	d.Show(form.Field(words.T("Name"), name), name,
		look.NewButton(words.T("Cancel"), words.T("Esc"), d.Close), look.NewButton(words.T("Keep"), "↵", func() { d.Accept() }).Strong())
}

// table lets a person say which team and period the chosen column's table is of.
func (p *paper) table() {
	r, ok := p.at()
	if !ok || p.failed != nil {
		return
	}
	b := p.block(r)
	type choice struct {
		side   timeline.Side
		period int
	}
	var list []choice
	var texts []string
	chosen := 0
	for _, period := range []int{0, 1, 2} {
		for _, side := range []timeline.Side{timeline.NoSide, timeline.Home, timeline.Away} {
			c := choice{side, period}
			if side == b.Side && period == b.Period {
				chosen = len(list)
			}
			who, when := words.T("both teams"), words.T("all periods")
			if side != timeline.NoSide {
				who = terms.Side(side)
			}
			if period > 0 {
				when = words.T("period {.n}", "n", period)
			}
			list, texts = append(list, c), append(texts, who+", "+when)
		}
	}
	form.Choose(p.t.desk.Window(), words.T("{.table} is about", "table", b.Table), texts, chosen, func(i int) {
		p.correct(words.T("{.table} read as {.what}", "table", b.Table, "what", texts[i]), func(m *sheet.Mapping) {
			m.Blocks[r.block].Side, m.Blocks[r.block].Period = list[i].side, list[i].period
			m.Blocks[r.block].Certainty = 1
		})
	})
}

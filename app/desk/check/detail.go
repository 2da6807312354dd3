package check

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"

	"whistlecut/app/desk/look"
	"whistlecut/app/desk/words"
	"whistlecut/timeline"
	"whistlecut/timeline/sheet"
)

// detail is the chosen row in full: place and stake, the two entries, why, and
// the ways to settle it.
type detail struct {
	t            *Task
	box          *fyne.Container
	head         *fyne.Container
	where, stake *canvas.Text
	score        *look.ScoreRows
	entries      *entryLines
	says         *look.Paragraph // the finding in a sentence
	follows      *look.Paragraph // what else follows from its cause
	settle       *look.Paragraph // which trips would make the score sure
	why          *look.Paragraph // the recount's reasons
	ways         *fyne.Container
	tag, paper   *look.Chip
	unclear      *look.Chip
	note         *look.Chip
	written      *look.Paragraph
	entry        *noteEntry
	writing      bool
}

func newDetail(t *Task) *detail {
	d := &detail{t: t}
	d.where = look.Line("", look.Now.Text, look.TextSize)
	d.where.TextStyle.Bold = true
	d.stake = look.Line("", look.Now.Quiet, look.NoteSize)
	d.head = container.New(&look.Flow{Gap: look.Near, Ends: true}, d.where, d.stake)
	d.score, d.entries = look.NewScoreRows(), newEntryLines()
	d.says = look.NewParagraph("", look.Now.Text, look.RowSize)
	d.follows = look.NewParagraph("", look.Now.Quiet, look.RowSize)
	d.settle = look.NewParagraph("", look.Now.Unsure, look.RowSize)
	d.why = look.NewParagraph("", look.Now.Quiet, look.RowSize)
	way := func(verdict, key string) *look.Chip {
		return look.NewLargeChip("", key, func() { t.resolve(verdict) })
	}
	d.tag = way(timeline.VerdictTagWrong, "1")
	d.paper = way(timeline.VerdictSheetDiffers, "2")
	d.unclear = way(timeline.VerdictUnclear, "3")
	d.note = look.NewLargeChip(words.T("note"), "N", t.writeNote)
	d.ways = container.New(&look.Flow{Gap: look.Tight}, d.tag, d.paper, d.unclear, d.note)
	d.written = look.NewParagraph("", look.Now.Quiet, look.RowSize)
	d.entry = newNoteEntry(func(s string) {
		d.closeNote()
		t.noted(strings.TrimSpace(s))
	}, func() {
		d.closeNote()
		t.panel.refresh()
	})
	d.entry.SetPlaceHolder(words.T("a note for the report; Enter keeps it"))
	d.entry.Hide()
	d.box = container.New(look.Pile{Gap: look.Tight + 2}, d.head, d.score, d.entries, d.says, d.ways, d.written, d.entry, d.follows, d.settle, d.why)
	return d
}

// set shows an item, or nothing.
func (d *detail) set(i item, ok bool) {
	if d.writing {
		d.closeNote()
	}
	look.Show(d.box, ok)
	if !ok {
		return
	}
	d.where.Text = whereText(i)
	d.stake.Color = look.Now.Quiet
	if i.finding != nil {
		d.finding(i)
	} else {
		d.unchecked(i)
	}
	for _, p := range []*look.Paragraph{d.says, d.follows, d.settle, d.why, d.written} {
		look.Show(p, p.Text() != "")
	}
	for _, o := range []fyne.CanvasObject{d.where, d.stake} {
		o.Refresh()
	}
	d.box.Refresh()
}

func (d *detail) finding(i item) {
	f := *i.finding
	d.stake.Text = atStake(f)
	if f.Points() > 0 {
		d.stake.Color = look.Now.Differs
	}
	s := d.t.desk.Session()
	inScore := f.Table == sheet.KindScore
	look.Show(d.score, inScore)
	look.Show(d.entries, !inScore)
	if inScore {
		d.score.Set(scoreLines(d.t.desk.Sheet(), &s.Bout, i, f.JamID)...)
	} else {
		d.entries.set(entriesOf(d.t.desk.Sheet(), s, f), f.Side)
	}
	d.says.Set(sayText(f))
	d.follows.Set(followText(f))
	d.settle.Set(d.settling(f.JamID, f.Side))
	why := whyText(reasonsOf(&s.Bout, f))
	if why != "" {
		why += " "
	}
	d.why.Set(why + words.T("The head referee's decision is final."))
	verdict, note := "", d.t.note
	if f.Resolution != nil {
		verdict = f.Resolution.Verdict
		if note == "" {
			note = f.Resolution.Note
		}
	}
	d.tag.Set(words.T("tag was wrong"), verdict == timeline.VerdictTagWrong)
	d.paper.Set(words.T("sheet differs"), verdict == timeline.VerdictSheetDiffers)
	d.unclear.Set(words.T("unclear"), verdict == timeline.VerdictUnclear)
	d.ways.Show()
	d.written.Set("")
	if note != "" {
		d.written.Set(words.T("Note: {.note}", "note", note))
	}
}

func (d *detail) unchecked(i item) {
	u := *i.unchecked
	d.stake.Text = words.T("not checkable")
	if uncheckedShape(u) == look.Triangle {
		d.stake.Text = words.T("not seen")
	}
	s := d.t.desk.Session()
	inScore := u.Table == sheet.KindScore && u.Jam > 0
	look.Show(d.score, inScore)
	d.entries.Hide()
	if inScore {
		d.score.Set(scoreLines(d.t.desk.Sheet(), &s.Bout, i, u.JamID)...)
	}
	d.says.Set(words.T("{.columns}: {.why}.", "columns", upper(uncheckedColumns(u)), "why", uncheckedText(u.Why)))
	d.follows.Set("")
	d.settle.Set(d.settling(u.JamID, u.Side))
	d.why.Set(words.T("This counts neither as agreeing nor as differing."))
	d.ways.Hide()
	d.written.Set("")
}

// settling names the trips of a jam that would settle its score, or else those of
// the bout.
func (d *detail) settling(jam timeline.ID, side timeline.Side) string {
	b := &d.t.desk.Session().Bout
	if jam != "" {
		if s := settleText(b, jam, side); s != "" {
			return s
		}
	}
	return settleText(b, "", timeline.NoSide)
}

// sayText says a finding in one sentence.
func sayText(f sheet.Finding) string {
	column := columnText(f)
	switch {
	case column == "":
		column = causeText(f)
	case column == string(f.Skater):
		column = words.T("skater {.number}", "number", f.Skater)
	}
	s := words.T("{.column}: the sheet has {.sheet}, the tags {.tags}", "column", upper(column), "sheet", valueText(f.Sheet), "tags", valueText(f.Tags))
	if f.State == sheet.StateImpossible {
		s = words.T("{.column}: the sheet has {.sheet}; by the rest of it, {.tags}", "column", upper(column), "sheet", valueText(f.Sheet), "tags", valueText(f.Tags))
	}
	if f.Cause == sheet.CauseTripDigit && f.State == sheet.StateDiffers {
		s += "." // the rows say it all
	} else {
		s += " (" + causeText(f) + ")."
	}
	if len(f.From) > 0 {
		s += " " + words.T("Sheet cell {.cell}.", "cell", f.From[0])
	}
	return s
}

// upper starts a text with a capital.
func upper(s string) string {
	r := []rune(s)
	if len(r) == 0 {
		return s
	}
	return strings.ToUpper(string(r[:1])) + string(r[1:])
}

func (d *detail) openNote(text string) {
	d.writing = true
	d.entry.SetText(text)
	d.entry.Show()
	d.box.Refresh()
}

func (d *detail) closeNote() {
	d.writing = false
	d.entry.Hide()
	if c := fyne.CurrentApp().Driver().CanvasForObject(d.entry); c != nil && c.Focused() == fyne.Focusable(d.entry) {
		c.Unfocus()
	}
	d.box.Refresh()
}

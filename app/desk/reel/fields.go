package reel

import (
	"maps"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"

	"whistlecut/app/desk/look"
	"whistlecut/app/desk/words"
	"whistlecut/timeline"
)

// text is one of a part's texts: what it is called, and how it is read and changed.
type text struct {
	id, name, hint string
	get            func(timeline.Part) string
	set            func(*timeline.Part, string)
}

// textsOf are the texts of a part in a reel, in the order of the panel.
func textsOf(r timeline.Reel, p timeline.Part) []text {
	var out []text
	codes := languages(r)
	named := func(name, code string) string {
		if len(codes) > 1 {
			return name + " " + code
		}
		return name
	}
	if p.Card != nil {
		for _, code := range codes {
			out = append(out, text{
				"title " + code, named(words.T("Title"), code), words.T("what the card says"),
				func(p timeline.Part) string { return stored(p.Card.Title, code, codes) },
				func(p *timeline.Part, s string) {
					c := *p.Card
					c.Title = with(c.Title, code, s)
					p.Card = &c
				},
			})
		}
	}
	name, hint := words.T("Caption"), words.T("what is read under the clip")
	if p.Card != nil {
		name, hint = words.T("Line"), words.T("a smaller line below it")
	}
	for _, code := range codes {
		out = append(out, text{
			"caption " + code, named(name, code), hint,
			func(p timeline.Part) string { return stored(p.Caption, code, codes) },
			func(p *timeline.Part, s string) { p.Caption = with(p.Caption, code, s) },
		})
	}
	return append(out,
		text{
			"point", words.T("To say"), words.T("talking point; printed, not in the film"),
			func(p timeline.Part) string { return p.Point }, func(p *timeline.Part, s string) { p.Point = s },
		},
		text{
			"private", words.T("Private"), words.T("for you alone while you present"),
			func(p timeline.Part) string { return p.Private }, func(p *timeline.Part, s string) { p.Private = s },
		})
}

// stored is the text that a field of a language shows: its own, or for the main
// language the one that holds for all.
func stored(w timeline.Words, code string, codes []string) string {
	if s, ok := w[code]; ok || code != codes[0] {
		return s
	}
	return w[""]
}

// with are the words with one text changed; an empty one is no text.
func with(w timeline.Words, code, s string) timeline.Words {
	out := maps.Clone(w)
	if out == nil {
		out = timeline.Words{}
	}
	if out[code] = s; s == "" {
		delete(out, code)
		delete(out, "")
	}
	if len(out) == 0 {
		return nil
	}
	return out
}

// field edits one text of the chosen part. Enter, Tab and a click elsewhere keep
// it, Escape brings back what was there.
type field struct {
	widget.Entry
	t    *Task
	id   string
	part timeline.ID // whose text it shows
	was  string
}

func newField(t *Task, x text) *field {
	f := &field{t: t, id: x.id}
	f.ExtendBaseWidget(f)
	f.SetPlaceHolder(x.hint)
	f.OnSubmitted = func(string) { f.leave() }
	return f
}

// show shows a part's text, unless somebody is writing in it.
func (f *field) show(part timeline.ID, s string) {
	if c := fyne.CurrentApp().Driver().CanvasForObject(f); c != nil && c.Focused() == fyne.Focusable(f) && f.part == part {
		return
	}
	f.part, f.was = part, s
	if f.Text != s {
		f.SetText(s)
	}
}

// keep stores what was written.
func (f *field) keep() {
	s := strings.TrimSpace(f.Text)
	p, ok := f.t.facts().Parts[f.part]
	if !ok || s == f.was {
		return
	}
	f.was = s
	for _, x := range textsOf(f.t.reelOf(p), p) {
		if x.id == f.id {
			x.set(&p, s)
			f.t.apply(words.T("{.what} of part {.n}", "what", x.name, "n", f.t.number(p.ID)), timeline.SetPart(p))
			return
		}
	}
}

// FocusLost keeps the text.
func (f *field) FocusLost() {
	f.Entry.FocusLost()
	f.keep()
}

// TypedKey leaves the field on Escape.
func (f *field) TypedKey(k *fyne.KeyEvent) {
	if k.Name == fyne.KeyEscape {
		f.SetText(f.was)
		f.leave()
		return
	}
	f.Entry.TypedKey(k)
}

func (f *field) leave() {
	if c := fyne.CurrentApp().Driver().CanvasForObject(f); c != nil && c.Focused() == fyne.Focusable(f) {
		c.Unfocus()
	}
}

// write puts the cursor into field i of the chosen part.
func (t *Task) write(i int) {
	if t.panel == nil || t.draw != nil {
		return
	}
	if list := t.panel.fields; i < len(list) {
		t.panel.focus(list[i])
	}
}

// writeField puts the cursor into the field of that name.
func (t *Task) writeField(id string) {
	if t.panel == nil || t.draw != nil {
		return
	}
	if i := slices.IndexFunc(t.panel.fields, func(f *field) bool { return f.id == id }); i >= 0 {
		t.panel.focus(t.panel.fields[i])
	}
}

// named puts a name before each field, all fields alike wide.
type named struct{}

func (named) columns(objects []fyne.CanvasObject) (wide float32) {
	for i := 0; i+1 < len(objects); i += 2 {
		wide = max(wide, objects[i].MinSize().Width)
	}
	return wide + look.Near
}

// Layout puts pairs of name and field below each other.
func (n named) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	wide, y := n.columns(objects), float32(0)
	for i := 0; i+1 < len(objects); i += 2 {
		a, b := objects[i].MinSize(), objects[i+1].MinSize()
		objects[i].Move(fyne.NewPos(0, y+(b.Height-a.Height)/2))
		objects[i].Resize(a)
		objects[i+1].Move(fyne.NewPos(wide, y))
		objects[i+1].Resize(fyne.NewSize(max(size.Width-wide, 0), b.Height))
		y += b.Height + look.Tight
	}
}

// MinSize is the height of all fields.
func (n named) MinSize(objects []fyne.CanvasObject) fyne.Size {
	h := float32(0)
	for i := 1; i < len(objects); i += 2 {
		h += objects[i].MinSize().Height + look.Tight
	}
	return fyne.NewSize(n.columns(objects)+60, max(h-look.Tight, 0))
}

func fieldName(s string) *canvas.Text { return look.Line(s, look.Now.Quiet, look.NoteSize) }

package log

import (
	"whistlecut/app/desk/look"
	"whistlecut/app/desk/terms"
	"whistlecut/app/desk/words"
	"whistlecut/app/logging"
)

// lastTags lists the jam's tags, the latest on top, or what is not settled.
func (p *panel) lastTags(v logging.View) {
	p.lines, p.wait = v.Recent(), v.Unsettled()
	p.open = p.open && len(p.wait) > 0
	p.last.Text = words.T("Last tags")
	if p.open {
		p.last.Text = words.T("Not settled")
	}
	p.last.Refresh()
	p.waiting.Hint = p.t.keyName("log.open")
	p.waiting.Set(words.N(len(p.wait), "{.n} not settled", "{.n} not settled"), p.open)
	visible(p.waiting, len(p.wait) > 0)
	at := -1
	if e, ok := p.t.m.Chosen(); ok {
		for i := range p.count() {
			if p.open && p.wait[i].Tag.ID == e.Tag || !p.open && p.lines[i].Entry == e {
				at = i
			}
		}
	}
	if at < 0 && p.count() > 0 {
		p.rows.ScrollTo(0)
	}
	p.rows.Mark(at)
	if at >= 0 && at != p.at {
		p.main.ScrollToBottom() // on a low window the list is below the keys
	}
	p.at = at
}

func (p *panel) count() int {
	if p.open {
		return len(p.wait)
	}
	return len(p.lines)
}

// line is one line of the list on show.
func (p *panel) line(i int) []look.Cell {
	if i >= p.count() {
		return nil
	}
	at := look.Cell{Mono: true, Colour: look.Now.Quiet}
	if p.open {
		u := p.wait[i]
		j := p.bout.Jams[u.Jam]
		at.Text = j.Name()
		text := describe(u.Tag, j.Sides[max(int(u.Tag.Side)-1, 0)].Jammer.Number, p.rules)
		return []look.Cell{{Shape: look.Bar, Colour: look.Now.Of(u.Tag.Side)}, at, {Text: text}, {Shape: look.Triangle}}
	}
	l := p.lines[i]
	if l.Timed {
		at.Text = terms.Clock(l.At, 1)
	}
	state := look.Cell{Shape: look.Tick}
	if l.Open {
		state.Shape = look.Triangle
	}
	return []look.Cell{{Shape: look.Bar, Colour: look.Now.Of(l.What.Side)}, at, {Text: p.what(l)}, state}
}

func (p *panel) what(l logging.Line) string {
	if l.End {
		return endText(p.jam.Ended)
	}
	return describe(l.What, l.Jammer, p.rules)
}

// pick chooses the line that was clicked; what is not settled is shown on film, too.
func (p *panel) pick(i int) {
	switch {
	case i < 0 || i >= p.count():
	case p.open:
		p.t.done(p.t.m.PickOpen(p.t.view(), p.wait[i]))
	default:
		p.t.m.Pick(p.t.view(), p.lines[i].Entry)
		p.t.refresh()
	}
}

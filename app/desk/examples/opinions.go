package examples

import (
	"strconv"
	"strings"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"whistlecut/app/desk/form"
	"whistlecut/app/desk/look"
	"whistlecut/app/desk/words"
	"whistlecut/timeline"
)

// seconds writes a time in seconds, to a tenth.
func seconds(d time.Duration) string { return strconv.FormatFloat(d.Seconds(), 'f', 1, 64) }

// opinionsText lists the opinions on an example, and whether its verdicts accept them.
func opinionsText(r timeline.RuleSet, x item) string {
	var list []string
	agree := 0
	for _, o := range x.opinions {
		text := o.By + ": " + answerText(r, x.e.Ask, o.Answer)
		if o.Words != "" {
			text += " (" + o.Words + ")"
		}
		list = append(list, text)
		if x.e.Accepts(o.Answer) {
			agree++
		}
	}
	if len(x.e.Verdicts) > 0 && len(list) > 0 {
		list = append(list, words.T("{.agree} of {.n} as your verdict", "n", len(x.opinions), "agree", agree))
	}
	return strings.Join(list, "; ")
}

// compared are the listed examples on which somebody gave a second opinion.
func (b *boutShelf) compared() []item {
	var out []item
	for _, x := range b.items {
		if len(x.opinions) > 0 {
			out = append(out, x)
		}
	}
	return out
}

// pair is one opinion beside the verdict it is compared with.
type pair struct {
	x item
	o timeline.Opinion
}

// compare shows the opinions beside the verdicts; Enter goes to the moment.
func (b *boutShelf) compare() {
	s := b.t.desk.Session()
	list := b.compared()
	if s == nil {
		return
	}
	if len(list) == 0 {
		b.t.desk.Say(words.T("Nobody gave a second opinion on these examples yet: O begins one."))
		return
	}
	var pairs []pair
	agree, decided := 0, 0
	for _, x := range list {
		for _, o := range x.opinions {
			pairs = append(pairs, pair{x, o})
			if len(x.e.Verdicts) > 0 {
				decided++
				if x.e.Accepts(o.Answer) {
					agree++
				}
			}
		}
	}
	d := form.New(b.t.desk.Window(), words.T("Second opinions"), fyne.NewSize(look.Size(620), look.Size(430)))
	rows := look.NewRows([]look.Column{{Width: 12}, {Width: 50}, {Width: 90}, {}, {}}, func() int { return len(pairs) }, func(i int) []look.Cell {
		p := pairs[i]
		r := rulesOf(s, p.x.e.Edition)
		mark := look.Cell{Shape: look.Ring}
		verdict := words.T("undecided")
		if len(p.x.e.Verdicts) > 0 {
			verdict = answersText(r, p.x.e.Ask, p.x.e.Verdicts)
			mark.Shape = look.Diamond
			if p.x.e.Accepts(p.o.Answer) {
				mark.Shape = look.Tick
			}
		}
		return []look.Cell{mark, {Text: placeText(p.x.moment), Colour: look.Now.Quiet}, {Text: p.o.By}, {Text: answerText(r, p.x.e.Ask, p.o.Answer)}, {Text: verdict, Colour: look.Now.Quiet}}
	})
	rows.Mark(0)
	says := words.N(decided, "{.agree} of {.n} opinion as the verdict.", "{.agree} of {.n} opinions as the verdict.", "agree", agree)
	head := container.NewVBox(look.NewParagraph(says+" "+words.T("First the opinion, then your verdict. Both are training opinions; where they differ, look again together."), look.Now.Quiet, look.NoteSize))
	open := func() {
		if i := rows.Index(); i >= 0 && i < len(pairs) {
			d.Close()
			b.selectID(pairs[i].x.tag.ID)
			b.enter()
			b.t.refresh()
		}
	}
	rows.Opened = func(int) { open() }
	d.Accept = open
	d.Keys = func(k fyne.KeyName) bool { return rows.Steer(k, 8) }
	d.Show(container.NewBorder(head, nil, nil, nil, rows), nil,
		look.NewButton(words.T("Close"), words.T("Esc"), d.Close), look.NewButton(words.T("Go there"), words.T("Enter"), open).Strong())
	b.t.panel.asking = d
}

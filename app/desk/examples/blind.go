package examples

import (
	"strings"
	"time"

	"fyne.io/fyne/v2"

	"whistlecut/app/desk/form"
	"whistlecut/app/desk/keys"
	"whistlecut/app/desk/look"
	"whistlecut/app/desk/words"
	gather "whistlecut/app/examples"
	"whistlecut/timeline"
)

// blind is a second opinion being given: the film alone in full screen, up to the
// signal, and an answer by keys. Nothing on the screen tells the call, the
// verdicts, or who it was.
type blind struct {
	t     *Task
	by    string
	list  []item // without what must not be seen
	at    int
	step  blindStep
	pick  timeline.Answer
	given int
	cover *blindCover
}

// blindStep is how far the answer to one example is.
type blindStep int

const (
	askChoice blindStep = iota
	askCode             // which penalty
	askWhy              // in words, or not
)

// opinionForm asks whose opinion it is.
type opinionForm struct {
	dialog *form.Dialog
	name   *form.Entry
}

// askBlind asks for a name and begins with the chosen example.
func (b *boutShelf) askBlind() {
	x, ok := b.current()
	if !ok {
		return
	}
	var list []item
	for i := b.index(); i < len(b.items); i++ {
		list = append(list, b.items[i])
	}
	f := &opinionForm{dialog: form.New(b.t.desk.Window(), words.T("A second opinion, blind"), fyne.NewSize(look.Size(460), look.Size(260)))}
	f.name = f.dialog.Entry("", words.T("name of the trainer who judges"))
	text := words.N(len(list), "One example is shown up to its signal, without call and verdict.",
		"From the chosen example on, {.n} are shown one after the other, each up to its signal, without calls and verdicts. Esc stops at any time.")
	f.dialog.Accept = func() {
		by := strings.TrimSpace(f.name.Text)
		switch {
		case by == "":
			f.dialog.Say(words.T("Say whose opinion it is."))
			return
		case by == x.e.By && len(x.e.Verdicts) > 0:
			f.dialog.Say(words.T("The verdict is {.who}'s own. A second opinion is another person's.", "who", by))
			return
		}
		f.dialog.Close()
		b.t.beginBlind(by, list)
	}
	f.dialog.Show(form.Column(nil, form.Field(words.T("Name"), f.name), look.NewParagraph(text+" "+fair(), look.Now.Quiet, look.NoteSize)), f.name,
		look.NewButton(words.T("Cancel"), words.T("Esc"), f.dialog.Close), look.NewButton(words.T("Begin"), words.T("Enter"), f.dialog.Accept).Strong())
	b.t.panel.asking, b.t.panel.opinion = f.dialog, f
}

// beginBlind shows the first example that the person has no opinion on yet.
func (t *Task) beginBlind(by string, list []item) {
	b := &blind{t: t, by: by, at: -1}
	for _, x := range list {
		own := by == x.e.By && len(x.e.Verdicts) > 0
		for _, o := range x.opinions {
			own = own || o.By == by && len(list) > 1
		}
		if own {
			continue
		}
		hidden := x
		hidden.tag = gather.Blind(x.tag)
		hidden.e = *hidden.tag.Example
		hidden.opinions, hidden.moment = nil, timeline.Moment{}
		b.list = append(b.list, hidden)
	}
	if len(b.list) == 0 {
		t.desk.Say(words.T("{.who} has an opinion on all of these already.", "who", by))
		return
	}
	b.cover = newBlindCover(b)
	t.blind = b
	t.desk.Beside("")
	t.desk.Cover(b.cover)
	t.desk.Grab(b.press)
	t.desk.Alone(true)
	b.next()
}

// leaveBlind ends it and gives the window back.
func (t *Task) leaveBlind() {
	b := t.blind
	if b == nil {
		return
	}
	t.blind = nil
	t.desk.Unloop()
	t.desk.Pause()
	t.desk.Grab(nil)
	t.desk.Cover(nil)
	t.desk.Alone(false)
	if b.given > 0 {
		t.desk.Say(words.N(b.given, "{.n} opinion of {.who} is stored. X compares.", "{.n} opinions of {.who} are stored. X compares.", "who", b.by))
	}
	t.bout.list()
	t.refresh()
}

// next goes on to the next example, or ends.
func (b *blind) next() {
	b.at++
	b.step, b.pick = askChoice, timeline.Answer{}
	if b.at >= len(b.list) {
		b.t.leaveBlind()
		return
	}
	b.play()
	b.refresh()
}

// play shows the moment up to the signal, again and again.
func (b *blind) play() {
	x := b.list[b.at]
	from, to := unsaid(x)
	b.t.desk.Loop(x.tag.Place.Footage, from, to)
}

func (b *blind) refresh() {
	if b.cover != nil {
		b.cover.set()
	}
}

// current is the example shown.
func (b *blind) current() item { return b.list[b.at] }

// rules are those the opinion is given by: the bout's.
func (b *blind) rules() timeline.RuleSet { return b.t.desk.Session().Bout.Rules }

// press is a key while an opinion is given. It takes all but those of the sound:
// nothing else on the desk may tell the call.
func (b *blind) press(p keys.Press) bool {
	switch fyne.KeyName(p.Name) {
	case fyne.KeyF3, fyne.KeyF4:
		return false
	}
	if p.Held && p.Name != string(fyne.KeyLeft) && p.Name != string(fyne.KeyRight) {
		return true
	}
	switch fyne.KeyName(p.Name) {
	case fyne.KeyEscape:
		b.t.leaveBlind()
		return true
	case fyne.KeySpace:
		if b.t.desk.Now().Playing {
			b.t.desk.Pause()
		} else {
			b.t.desk.Play()
		}
		return true
	case fyne.KeyLeft, fyne.KeyRight:
		b.frame(p.Name == string(fyne.KeyRight))
		return true
	case fyne.KeyBackspace:
		b.back()
		return true
	case fyne.KeyPageDown, "0":
		b.next() // without an opinion
		return true
	}
	switch b.step {
	case askChoice:
		for i, c := range b.current().e.Ask.Choices() {
			if p.Name == ordinalKey(i) {
				b.choose(c)
			}
		}
	case askCode:
		if p.Name == string(fyne.KeyReturn) || p.Name == string(fyne.KeyEnter) {
			b.choosePenalty("")
		} else if _, ok := b.rules().Code(p.Name); ok && !p.Ctrl && !p.Alt {
			b.choosePenalty(p.Name)
		}
	case askWhy:
		if p.Name == string(fyne.KeyReturn) || p.Name == string(fyne.KeyEnter) {
			b.keep(b.cover.why.Text)
		}
	}
	return true
}

// ordinalKey is the key of choice i.
func ordinalKey(i int) string { return string(rune('1' + i)) }

// aFrame is about one picture; the film shows the nearest one.
const aFrame = 40 * time.Millisecond

// frame steps a picture on or back, never past the signal.
func (b *blind) frame(on bool) {
	x := b.current()
	at := b.t.desk.Now().Film
	if on {
		at += aFrame
	} else {
		at -= aFrame
	}
	from, to := unsaid(x)
	at = min(max(at, from), to)
	b.t.desk.Pause()
	b.t.desk.GoFilm(x.tag.Place.Footage, at)
}

func (b *blind) choose(c timeline.Choice) {
	b.pick = timeline.Answer{Choice: c}
	b.step = askWhy
	if b.current().e.Ask == timeline.AskPenalty && c == timeline.ChoiceYes {
		b.step = askCode
	}
	b.refresh()
}

func (b *blind) choosePenalty(letter string) {
	b.pick.Code, b.pick.Section = letter, ""
	if c, ok := b.rules().Code(letter); ok {
		b.pick.Section = c.Section
	}
	b.step = askWhy
	b.refresh()
}

// back takes the last step back.
func (b *blind) back() {
	switch {
	case b.step == askWhy && b.pick.Choice == timeline.ChoiceYes && b.current().e.Ask == timeline.AskPenalty:
		b.step = askCode
	default:
		b.step, b.pick = askChoice, timeline.Answer{}
	}
	b.refresh()
}

// keep stores the opinion and goes on.
func (b *blind) keep(why string) {
	s := b.t.desk.Session()
	if s == nil || b.pick.IsZero() {
		return
	}
	_, change, err := gather.Opine(s, b.current().tag.ID, b.by, b.pick, strings.TrimSpace(why))
	if err != nil {
		b.t.desk.Fail(err)
		return
	}
	if b.t.apply(words.T("opinion of {.who}", "who", b.by), change) {
		b.given++
		b.next()
	}
}

package desk

import (
	"fmt"
	"image/color"
	"strings"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"whistlecut/app/desk/look"
	"whistlecut/app/desk/task"
	"whistlecut/app/desk/words"
	"whistlecut/app/play"
)

// status is the line under the screen: where the film stands, the period clock,
// how it plays; and over it, for a while, a sentence or the progress of long work.
type status struct {
	d     *Desk
	view  *fyne.Container
	where *canvas.Text
	clock *canvas.Text
	how   *canvas.Text
	said  *canvas.Text
	until time.Time
	timer *time.Timer
	bar   *widget.ProgressBar
	doing *canvas.Text
	stop  *look.Button
	busy  *fyne.Container
	rest  *fyne.Container
}

func newStatus(d *Desk) *status {
	s := &status{d: d}
	s.where = look.Figures("", look.Now.Text, look.TextSize)
	s.where.TextStyle.Bold = true
	s.clock = look.Figures("", look.Now.Quiet, look.RowSize)
	s.how = look.Line("", look.Now.Quiet, look.RowSize)
	s.said = look.Line("", look.Now.Text, look.RowSize)
	s.rest = container.New(statusLayout{}, s.where, s.clock, s.how, s.said)
	s.bar = widget.NewProgressBar()
	s.doing = look.Line("", look.Now.Text, look.RowSize)
	s.stop = look.NewButton(words.T("Cancel"), "", d.cancelWork)
	s.busy = container.NewBorder(nil, nil, s.doing, s.stop, s.bar)
	s.busy.Hide()
	back := canvas.NewRectangle(color.Transparent)
	s.view = container.NewStack(back, s.rest, s.busy)
	return s
}

// statusLayout puts place and clock left, how it plays right; a sentence takes the
// place of the latter two.
type statusLayout struct{}

func (statusLayout) Layout(o []fyne.CanvasObject, size fyne.Size) {
	y := func(m fyne.Size) float32 { return (size.Height - m.Height) / 2 }
	where, clock, how, said := o[0].MinSize(), o[1].MinSize(), o[2].MinSize(), o[3].MinSize()
	o[0].Move(fyne.NewPos(look.Tight, y(where)))
	x := look.Tight + max(where.Width, look.Size(180)) + look.Apart
	o[1].Move(fyne.NewPos(x, y(clock)))
	howX := size.Width - how.Width - look.Tight
	o[2].Move(fyne.NewPos(howX, y(how)))
	speaking := said.Width > 1
	if wide := size.Width - look.Tight - x; said.Width > wide {
		x = max(size.Width-look.Tight-said.Width, look.Tight) // a long sentence needs the room of the place, too
	}
	o[3].Move(fyne.NewPos(x, y(said)))
	o[0].(*canvas.Text).Hidden = speaking && x < look.Tight+where.Width+look.Near
	o[1].(*canvas.Text).Hidden = speaking || x+clock.Width > size.Width
	o[2].(*canvas.Text).Hidden = speaking || howX < x+clock.Width+look.Near
	for i, m := range []fyne.Size{where, clock, how, said} {
		o[i].Resize(m)
	}
}

func (statusLayout) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(0, look.Size(24)) }

// moved shows where the film stands.
func (s *status) moved(n task.Now) {
	s.where.Text = s.whereText(n)
	s.clock.Text = ""
	if s.d.session != nil && n.Footage != "" {
		if c, ok := s.d.session.Bout.ClockAt(n.Footage, n.Film); ok {
			left := c.Left.Truncate(time.Second)
			s.clock.Text = words.T("clock {.left}", "left", fmt.Sprintf("%d:%02d", int(left.Minutes()), int(left.Seconds())%60))
		}
	}
	s.how.Text = s.howText(n, s.rest.Size().Width-s.left())
	if s.said.Text != "" && time.Now().After(s.until) {
		s.said.Text = ""
	}
	s.rest.Refresh()
}

func (s *status) refresh() { s.moved(s.d.Now()) }

func (s *status) whereText(n task.Now) string {
	if n.Footage == "" {
		return words.T("No film")
	}
	if n.Jam == "" {
		return clockText(n.Film)
	}
	j, _ := s.d.session.Bout.Jam(n.Jam)
	if !n.InJam {
		return words.T("P{.period} after jam {.jam}  {.time}", "period", j.Period, "jam", j.Number, "time", clockText(n.Offset))
	}
	return words.T("P{.period} jam {.jam}  {.time}", "period", j.Period, "jam", j.Number, "time", clockText(n.Offset))
}

// left is how much of the line place and clock take.
func (s *status) left() float32 {
	w := look.Tight + max(s.where.MinSize().Width, look.Size(180)) + look.Apart
	if s.clock.Text != "" {
		w += s.clock.MinSize().Width
	}
	return w + look.Near + look.Tight
}

// howText says how the film plays and which keys change that; what has no room is
// left out, the least needed first.
func (s *status) howText(n task.Now, room float32) string {
	rate := fmt.Sprintf("%g×", n.Rate)
	if s.d.loop {
		rate += "  |  " + words.T("loop")
	}
	space := words.T("Space: play")
	if n.Playing {
		space = words.T("Space: pause")
	}
	sound := words.T("sound off")
	if at := s.d.latest.Load(); at != nil && at.Notice.About == play.Silent {
		sound = words.T("no sound")
	} else if v := s.d.set.SoundVolume(); v > 0 {
		sound = words.T("sound {.percent} %", "percent", int(v*100+0.5))
	}
	text := ""
	for _, parts := range [][]string{{rate, space, words.T("← →: frame"), sound}, {rate, space, sound}, {rate, sound}, {rate}} {
		text = strings.Join(parts, "  |  ")
		if room <= 0 || fyne.MeasureText(text, s.how.TextSize, s.how.TextStyle).Width <= room {
			break
		}
	}
	return text
}

// speak shows a sentence for as long as it takes to read.
func (s *status) speak(text string, c color.Color) {
	s.said.Text, s.said.Color = look.Fit(text, max(s.rest.Size().Width-2*look.Tight, 200), s.said.TextSize, s.said.TextStyle), c
	s.until = time.Now().Add(3*time.Second + time.Duration(len(text))*40*time.Millisecond)
	s.rest.Refresh()
	wait := time.Until(s.until) + 50*time.Millisecond
	s.hush()
	s.timer = time.AfterFunc(wait, func() { s.d.later(s.quiet) })
}

// hush stops waiting for the end of a sentence.
func (s *status) hush() {
	if s.timer != nil {
		s.timer.Stop()
	}
}

// quiet takes a sentence away whose time is over.
func (s *status) quiet() {
	if s.said.Text != "" && !time.Now().Before(s.until) {
		s.said.Text = ""
		s.refresh()
	}
}

// Say shows a sentence in the line under the screen for a while.
func (d *Desk) Say(text string) {
	if text != "" && d.line != nil {
		d.line.speak(text, look.Now.Text)
	}
}

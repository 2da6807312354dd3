package desk

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"whistlecut/app"
	"whistlecut/app/desk/look"
	"whistlecut/app/desk/words"
	"whistlecut/timeline"
)

// showRules shows the rule set of the bout: an edition as published, or one of
// its own with other numbers (juniors, short periods).
func (d *Desk) showRules() {
	if d.session == nil {
		return
	}
	r := d.session.Facts.Rules
	if r.Edition == "" {
		r = d.session.Bout.Rules
	}
	box := container.NewStack()
	var read func() (timeline.RuleSet, error)
	show := func() {
		form, get := d.rulesForm(r)
		read = get
		box.Objects = []fyne.CanvasObject{form}
		box.Refresh()
	}
	names := []string{}
	for _, e := range timeline.Editions() {
		names = append(names, e.Edition)
	}
	edition := choice(names, names, r.Edition, func(name string) {
		if e, ok := timeline.Edition(name); ok {
			r = e
			show()
		}
	})
	show()
	var pg *page
	said := look.NewParagraph("", look.Now.Differs, look.TextSize) // what of it cannot be
	said.Hide()
	use := look.NewButton(words.T("Use these rules"), "", func() {
		got, err := read()
		if err != nil {
			said.Set(err.Error())
			said.Show()
			return
		}
		if d.Apply(words.T("rules of the bout: {.edition}", "edition", got.Edition), timeline.SetRules(got)) {
			pg.close()
			d.Say(words.T("The score is recounted by these rules. Ctrl+Z takes it back."))
		}
	}).Strong()
	whole := container.NewVScroll(box)
	top := widget.NewForm(widget.NewFormItem(words.T("Start from edition"), edition))
	pg = d.openPage(words.T("Rules of this bout"), fyne.NewSize(640, 540),
		container.New(look.Pile{Fill: whole, Gap: look.Near}, top, whole, said), nil, use)
}

// rulesForm shows every number of a rule set; get reads them back and says which
// one cannot be.
func (d *Desk) rulesForm(r timeline.RuleSet) (form fyne.CanvasObject, get func() (timeline.RuleSet, error)) {
	f := widget.NewForm()
	var takes []func() error
	number := func(name string, v *int, low, high int) {
		e := d.newCardEntry(strconv.Itoa(*v))
		f.Append(name, e)
		takes = append(takes, func() error {
			n, err := strconv.Atoi(strings.TrimSpace(e.Text))
			if err != nil || n < low || n > high {
				return fmt.Errorf("%s", words.T("{.name}: a whole number from {.low} to {.high}, please", "name", name, "low", low, "high", high))
			}
			*v = n
			return nil
		})
	}
	length := func(name string, v *time.Duration) {
		e := d.newCardEntry(strip0(app.Clock(*v)))
		f.Append(name, e)
		takes = append(takes, func() error {
			t, err := app.ParseClock(e.Text)
			if err != nil {
				return fmt.Errorf("%s", words.T("{.name}: a time, please, as 30 or 2:00", "name", name))
			}
			*v = t
			return nil
		})
	}
	yes := func(name string, v *bool) {
		c := look.NewCheck("", func(on bool) { *v = on })
		c.Checked = *v
		f.Append(name, c)
	}
	title := d.newCardEntry(r.Edition)
	f.Append(words.T("Name"), title)
	number(words.T("Periods"), &r.Periods, 1, 8)
	length(words.T("Period length"), &r.PeriodLength)
	length(words.T("Jam length"), &r.JamLength)
	length(words.T("Line-up time"), &r.LineupTime)
	length(words.T("Penalty time"), &r.PenaltyTime)
	length(words.T("Of it standing"), &r.StandTime)
	number(words.T("Penalties to foul out"), &r.FoulOut, 1, 20)
	number(words.T("Points a trip"), &r.PointsPerTrip, 1, 9)
	number(words.T("Timeouts a team"), &r.Timeouts, 0, 20)
	number(words.T("Reviews a period"), &r.Reviews, 0, 9)
	number(words.T("Skaters on a roster"), &r.Roster, 5, 40)
	yes(words.T("A lapped jammer scores"), &r.LapJammer)
	yes(words.T("A boxed jammer counts as not on the track"), &r.BoxedJammerNOTT)
	yes(words.T("Star pass counts on release"), &r.StarPassOnRelease)
	yes(words.T("Lead survives a lost star"), &r.LeadSurvivesPlay)
	yes(words.T("Two jammers: one penalty of each is cancelled"), &r.CancelEachPenalty)
	yes(words.T("A review may be spent as a timeout"), &r.ReviewAsTimeout)
	return f, func() (timeline.RuleSet, error) {
		for _, t := range takes {
			if err := t(); err != nil {
				return r, err
			}
		}
		if r.Edition = strings.TrimSpace(title.Text); r.Edition == "" {
			return r, fmt.Errorf("%s", words.T("These rules need a name"))
		}
		if e, ok := timeline.Edition(r.Edition); ok && !sameRules(e, r) {
			return r, fmt.Errorf("%s", words.T("{.name} is the name of a published edition; give changed rules another name", "name", r.Edition))
		}
		return r, nil
	}
}

// sameRules reports whether two rule sets are equal in everything the form shows.
func sameRules(a, b timeline.RuleSet) bool {
	a.Codes, b.Codes = nil, nil
	return fmt.Sprintf("%+v", a) == fmt.Sprintf("%+v", b)
}

// strip0 leaves out milliseconds that are zero.
func strip0(s string) string { return strings.TrimSuffix(s, ".000") }

// trim writes a number with at most one decimal.
func trim(v float64) string { return strconv.FormatFloat(float64(int(v*10+0.5))/10, 'g', -1, 64) }

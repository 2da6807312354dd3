package align

import (
	"errors"
	"image/color"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"whistlecut/app/desk/form"
	"whistlecut/app/desk/look"
	"whistlecut/app/desk/words"
	"whistlecut/timeline"
)

// longestNumber is how many letters a skater's number may have.
const longestNumber = 12

// skater asks for one line of a roster; index -1 adds one.
func (r *rosters) skater(side timeline.Side, index int) {
	team := r.team(side)
	var k timeline.Skater
	title := words.T("Add a skater to {.team}", "team", teamName(side, team))
	if index >= 0 {
		k = team.Roster[index]
		title = words.T("Skater {.number} of {.team}", "number", k.Number, "team", teamName(side, team))
	}
	d := form.New(r.t.desk.Window(), title, fyne.NewSize(460, 300))
	number := d.Entry(string(k.Number), words.T("0 and 00 are two skaters"))
	name := d.Entry(k.Name, words.T("may be left empty"))
	captain := widget.NewCheck(words.T("Captain"), func(on bool) { k.Captain = on })
	minor := widget.NewCheck(words.T("Minor: leave out of what is shared"), func(on bool) { k.Minor = on })
	consent := widget.NewCheck(words.T("Does not want to be shared"), func(on bool) { k.NoConsent = on })
	captain.SetChecked(k.Captain)
	minor.SetChecked(k.Minor)
	consent.SetChecked(k.NoConsent)
	d.Accept = func() {
		k.Number, k.Name = timeline.Number(strings.TrimSpace(number.Text)), strings.TrimSpace(name.Text)
		if err := numberFits(k.Number, team.Roster, index); err != nil {
			d.Say(err.Error())
			d.Focus(number)
			return
		}
		d.Close()
		t := team
		t.Roster = slices.Clone(team.Roster)
		if index >= 0 {
			t.Roster[index] = k
		} else {
			t.Roster = append(t.Roster, k)
		}
		if r.t.desk.Apply(words.T("roster line {.number} {.name}", "number", k.Number, "name", k.Name), timeline.SetTeam(side, t)) {
			r.mark(side, k.Number)
		}
	}
	d.Show(container.NewVBox(
		container.NewGridWithColumns(2, form.Field(words.T("Number"), number), form.Field(words.T("Name"), name)),
		captain, minor, consent,
	), number, look.NewButton(words.T("Cancel"), words.T("Esc"), d.Close), look.NewButton(words.T("Keep"), "↵", func() { d.Accept() }).Strong())
}

// numberFits says what is wrong with a number for the line at index of a roster.
func numberFits(n timeline.Number, roster []timeline.Skater, index int) error {
	if n == "" {
		return errors.New(words.T("A skater needs a number."))
	}
	if len([]rune(string(n))) > longestNumber {
		return errors.New(words.T("{.number} is too long for a skater's number.", "number", n))
	}
	for i, k := range roster {
		if i != index && k.Number == n {
			return errors.New(words.T("Number {.number} is taken by {.name}.", "number", n, "name", k.Name))
		}
	}
	return nil
}

// colours asks for a team's name and uniform colour.
func (r *rosters) colours(side timeline.Side) {
	team := r.team(side)
	d := form.New(r.t.desk.Window(), teamName(side, team), fyne.NewSize(480, 290))
	name := d.Entry(team.Name, words.T("Name of the team"))
	colour := d.Entry(team.Colour, "#RRGGBB")
	swatch := canvas.NewRectangle(color.Transparent)
	swatch.CornerRadius, swatch.StrokeWidth, swatch.StrokeColor = 4, 1, look.Now.Line
	swatch.SetMinSize(fyne.NewSize(look.Size(60), look.Size(30)))
	show := func(text string) {
		swatch.FillColor = color.Transparent
		if c, err := look.ParseHex(spelled(text)); err == nil {
			swatch.FillColor = c
		}
		swatch.Refresh()
	}
	colour.OnChanged = show
	show(team.Colour)
	d.Accept = func() {
		t := team
		t.Name, t.Colour = strings.TrimSpace(name.Text), spelled(colour.Text)
		if _, err := look.ParseHex(t.Colour); t.Colour != "" && err != nil {
			d.Say(words.T("{.colour} is no colour; write #RRGGBB, two hexadecimal digits each for red, green and blue.", "colour", colour.Text))
			d.Focus(colour)
			return
		}
		d.Close()
		r.t.desk.Apply(words.T("name and colour of {.team}", "team", teamName(side, t)), timeline.SetTeam(side, t))
	}
	d.Show(container.NewVBox(
		form.Field(words.T("Name"), name),
		form.Field(words.T("Colour of the uniform"), container.NewBorder(nil, nil, nil, swatch, colour)),
		look.Note(words.T("Teams whose colours are too alike are shown in the program's own pair.")),
	), name, look.NewButton(words.T("Cancel"), words.T("Esc"), d.Close), look.NewButton(words.T("Keep"), "↵", func() { d.Accept() }).Strong())
}

// spelled is a colour as it is stored: "#1040C0"; the sign may be left out.
func spelled(text string) string {
	text = strings.ToUpper(strings.TrimSpace(text))
	if len(text) == 6 {
		text = "#" + text
	}
	return text
}

// paste takes a whole roster, one skater a line.
func (r *rosters) paste(side timeline.Side) {
	team := r.team(side)
	d := form.New(r.t.desk.Window(), words.T("Roster of {.team}", "team", teamName(side, team)), fyne.NewSize(460, 440))
	lines := d.Lines("", words.T("73 Anna Example"), 8)
	d.Accept = func() {
		list, wrong := ReadRoster(lines.Text)
		if wrong != "" {
			d.Say(words.T("“{.line}” does not begin with a number that is new.", "line", wrong))
			return
		}
		if len(list) == 0 {
			d.Say(words.T("Write one skater a line: number, then name."))
			return
		}
		d.Close()
		t := team
		t.Roster = merged(team.Roster, list)
		r.t.desk.Apply(words.N(len(list), "roster of {.n} skater", "roster of {.n} skaters"), timeline.SetTeam(side, t))
	}
	d.Show(container.NewBorder(nil, look.Note(words.T("One skater a line, number first; tabs, commas and spaces all divide. Numbers that are there already get the new name.")), nil, nil, lines),
		lines, look.NewButton(words.T("Cancel"), words.T("Esc"), d.Close), look.NewButton(words.T("Take over"), form.CtrlEnter(), func() { d.Accept() }).Strong())
}

// ReadRoster reads lines of number and name. A number is text without a space and
// holds a digit; wrong is the first line that has none, or one that was there before.
func ReadRoster(text string) (list []timeline.Skater, wrong string) {
	seen := map[timeline.Number]bool{}
	for _, line := range form.SplitLines(text) {
		at := strings.IndexAny(line, " \t,;")
		number, name := line, ""
		if at >= 0 {
			number, name = line[:at], strings.Trim(line[at:], " \t,;\"")
		}
		number = strings.Trim(number, "\"#")
		n := timeline.Number(number)
		if !strings.ContainsAny(number, "0123456789") || len([]rune(number)) > longestNumber || seen[n] {
			return nil, line
		}
		seen[n] = true
		list = append(list, timeline.Skater{Number: n, Name: name})
	}
	return list, ""
}

// merged are the skaters of a roster with a list added: those who are there keep
// all but a new name.
func merged(roster, list []timeline.Skater) []timeline.Skater {
	out := slices.Clone(roster)
	for _, k := range list {
		i := slices.IndexFunc(out, func(o timeline.Skater) bool { return o.Number == k.Number })
		switch {
		case i < 0:
			out = append(out, k)
		case k.Name != "":
			out[i].Name = k.Name
		}
	}
	return out
}

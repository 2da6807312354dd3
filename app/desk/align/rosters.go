package align

import (
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"whistlecut/app/desk/form"
	"whistlecut/app/desk/look"
	"whistlecut/app/desk/words"
	"whistlecut/timeline"
)

// rosters is the section of both teams: name, colour and skaters.
type rosters struct {
	t      *Task
	list   *look.Rows
	detail *widget.Label
	page   *either
	rows   []rosterRow
}

// rosterRow is a team's heading, or the skater at index of its roster.
type rosterRow struct {
	side  timeline.Side
	index int // -1 for the heading
}

func (r *rosters) title() string { return words.T("Rosters") }

func (r *rosters) status() (string, look.Shape) {
	s := r.t.desk.Session()
	if s == nil {
		return words.T("none yet"), look.NoShape
	}
	n := len(s.Facts.Teams[0].Roster) + len(s.Facts.Teams[1].Roster)
	if n == 0 {
		return words.T("none yet"), look.NoShape
	}
	return words.N(n, "{.n} skater", "{.n} skaters"), look.Tick
}

func (r *rosters) content() fyne.CanvasObject {
	r.list = look.NewRows([]look.Column{{Width: 10}, {Width: 46, Right: true}, {}, {Width: 110, Right: true}},
		func() int { return len(r.rows) }, r.cells)
	r.list.Chosen = func(int) { r.tell() }
	r.list.Opened = func(int) { r.do(doEnter) }
	r.detail = note()
	buttons := newFlow(
		r.t.button(words.T("Add skater"), "A", doAdd), r.t.button(words.T("Change"), "↵", doEnter),
		r.t.button(words.T("Remove"), words.T("Del"), doRemove), r.t.button(words.T("Team and colour"), "E", doTeam),
		r.t.button(words.T("Paste a roster"), "P", doPaste),
	)
	whole := form.Column(r.list, r.list, r.detail, buttons)
	empty := look.Empty(words.T("No bout is open"), words.T("Open a bout, or start a new one."))
	r.page = newEither(empty, whole)
	return r.page.box
}

func (r *rosters) shown() {}

func (r *rosters) refresh() {
	r.rows = nil
	if s := r.t.desk.Session(); s != nil {
		for _, side := range timeline.Sides {
			r.rows = append(r.rows, rosterRow{side, -1})
			for i := range s.Facts.Teams[side.Index()].Roster {
				r.rows = append(r.rows, rosterRow{side, i})
			}
		}
	}
	if r.page == nil {
		return
	}
	r.page.show(len(r.rows) == 0)
	r.list.Mark(max(r.list.Index(), 0))
	r.tell()
}

func (r *rosters) team(side timeline.Side) timeline.Team {
	return r.t.desk.Session().Facts.Teams[side.Index()]
}

func (r *rosters) cells(i int) []look.Cell {
	row := r.rows[i]
	t := r.team(row.side)
	bar := look.Cell{Shape: look.Bar, Colour: look.Now.Of(row.side)}
	if row.index < 0 {
		if c, err := look.ParseHex(t.Colour); err == nil {
			bar = look.Cell{Shape: look.Square, Colour: c}
		}
		colour := look.Cell{Text: t.Colour, Mono: true, Colour: look.Now.Quiet}
		if colour.Text == "" {
			colour = look.Cell{Text: words.T("no colour"), Colour: look.Now.Quiet}
		}
		return []look.Cell{bar, {}, {Text: teamName(row.side, t), Bold: true}, colour}
	}
	k := t.Roster[row.index]
	return []look.Cell{bar, {Text: string(k.Number), Mono: true, Bold: true}, {Text: k.Name}, {Text: hints(k), Colour: look.Now.Quiet}}
}

// teamName is a team's name, or its side where it has none.
func teamName(side timeline.Side, t timeline.Team) string {
	if t.Name != "" {
		return t.Name
	}
	if side == timeline.Home {
		return words.T("Home team")
	}
	return words.T("Away team")
}

// hints are what else the roster says of a skater.
func hints(k timeline.Skater) string {
	var out []string
	if k.Captain {
		out = append(out, words.T("captain"))
	}
	if k.Minor {
		out = append(out, words.T("minor"))
	}
	if k.NoConsent {
		out = append(out, words.T("no sharing"))
	}
	return strings.Join(out, ", ")
}

func (r *rosters) tell() {
	defer r.page.relay()
	row, ok := r.chosen()
	switch {
	case !ok:
		r.detail.SetText("")
	case len(r.team(row.side).Roster) == 0:
		r.detail.SetText(words.T("No skaters yet: A adds one, P takes a whole list. Without a roster skaters are tagged by number alone."))
	case row.index < 0:
		r.detail.SetText(words.T("Enter changes the team's name and colour."))
	default:
		r.detail.SetText(words.T("Enter changes the skater, Delete takes her off the roster. Tags keep her number."))
	}
}

func (r *rosters) chosen() (rosterRow, bool) {
	if r.list == nil {
		return rosterRow{}, false
	}
	if i := r.list.Index(); i >= 0 && i < len(r.rows) {
		return r.rows[i], true
	}
	return rosterRow{}, false
}

func (r *rosters) do(verb string) bool {
	row, ok := r.chosen()
	switch verb {
	case doUp:
		r.list.Advance(-1)
	case doDown:
		r.list.Advance(1)
	case doAdd:
		if ok {
			r.skater(row.side, -1)
		}
	case doEnter:
		if ok && row.index >= 0 {
			r.skater(row.side, row.index)
		} else if ok {
			r.colours(row.side)
		}
	case doTeam:
		if ok {
			r.colours(row.side)
		}
	case doPaste:
		if ok {
			r.paste(row.side)
		}
	case doRemove:
		if ok && row.index >= 0 {
			t := r.team(row.side)
			k := t.Roster[row.index]
			t.Roster = slices.Delete(slices.Clone(t.Roster), row.index, row.index+1)
			if r.t.desk.Apply(words.T("skater {.number} taken off the roster", "number", k.Number), timeline.SetTeam(row.side, t)) {
				// Stay in the team, even after its last skater.
				r.list.Mark(slices.Index(r.rows, rosterRow{row.side, min(row.index, len(t.Roster)-1)}))
				r.tell()
			}
		}
	default:
		return false
	}
	return true
}

// mark shows a skater as chosen.
func (r *rosters) mark(side timeline.Side, n timeline.Number) {
	at := slices.IndexFunc(r.rows, func(x rosterRow) bool {
		return x.side == side && x.index >= 0 && r.team(side).Roster[x.index].Number == n
	})
	if at >= 0 {
		r.list.Mark(at)
		r.tell()
	}
}

package sheet

import (
	"bytes"
	"encoding/json"
	"fmt"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"whistlecut/timeline"
)

var places int // makes every place unique

// drawCell makes a cell of a column that exists: known, blank, unread or a range.
func drawCell[T comparable](t *rapid.T, s *Sheet, name string, value *rapid.Generator[T], number bool) timeline.Cell[T] {
	places++
	from := fmt.Sprintf("T!A%d", places)
	switch k := rapid.IntRange(0, 19).Draw(t, name+" state"); {
	case k < 3:
		return timeline.Cell[T]{State: timeline.CellBlank, From: from}
	case k == 3:
		if s.Raw == nil {
			s.Raw = map[string]string{}
		}
		s.Raw[from] = rapid.StringMatching(`[a-z?][a-z]{0,4}( [a-z]{1,3})?`).Draw(t, "raw")
		return timeline.Cell[T]{State: timeline.CellUnread, From: from}
	case k == 4 && number:
		low := rapid.IntRange(0, 4).Draw(t, "low")
		return timeline.Cell[T]{State: timeline.CellRange, Low: low, High: low + rapid.IntRange(0, 4).Draw(t, "width"), From: from}
	}
	return timeline.Cell[T]{State: timeline.CellKnown, Value: value.Draw(t, name), From: from}
}

var (
	drawNumber = rapid.Custom(func(t *rapid.T) timeline.Number {
		return timeline.Number(rapid.StringMatching(`[0-9]{1,4}|[0-9][A-Z]{1,2}`).Draw(t, "number"))
	})
	drawTime = rapid.Custom(func(t *rapid.T) time.Duration {
		return time.Duration(rapid.IntRange(0, 1_800_000).Draw(t, "ms")) * time.Millisecond
	})
	drawName = rapid.StringMatching(`[A-ZÄÖÉ\\?][a-zéñß]{1,6}( [A-Z"';,|][a-z]{0,5})?`)
	drawSide = rapid.SampledFrom([]timeline.Side{timeline.Home, timeline.Away})
)

func drawSheet(t *rapid.T) Sheet {
	var s Sheet
	s.Title = rapid.SampledFrom([]string{"", "Friendly, autumn", "Spiel \"A\""}).Draw(t, "title")
	points := rapid.IntRange(0, 40)
	marks := rapid.Bool()
	has := map[string]bool{}
	for _, c := range []string{"jammer", "marks", "inj", "total", "game"} {
		has[c] = rapid.Bool().Draw(t, "has "+c)
	}
	for range rapid.IntRange(0, 6).Draw(t, "rows") {
		r := timeline.JamRow{Period: rapid.IntRange(1, 2).Draw(t, "period"), Jam: rapid.IntRange(1, 30).Draw(t, "jam"), Side: drawSide.Draw(t, "side")}
		switch rapid.IntRange(0, 4).Draw(t, "kind") {
		case 0:
			r.StarPass = true
		case 1:
			r.Spacer = true
		}
		if has["jammer"] {
			r.Jammer = drawCell(t, &s, "jammer", drawNumber, false)
		}
		if has["marks"] {
			r.Lost, r.Lead = drawCell(t, &s, "lost", marks, false), drawCell(t, &s, "lead", marks, false)
			r.Call, r.NI = drawCell(t, &s, "call", marks, false), drawCell(t, &s, "ni", marks, false)
		}
		if has["inj"] {
			r.Inj = drawCell(t, &s, "inj", marks, false)
		}
		for range rapid.IntRange(0, 5).Draw(t, "trips") {
			r.Trips = append(r.Trips, drawCell(t, &s, "trip", points, true))
		}
		for n := len(r.Trips); n > 0 && r.Trips[n-1].State == timeline.CellBlank; n-- {
			r.Trips = r.Trips[:n-1]
		}
		if len(r.Trips) == 0 {
			r.Trips = nil
		}
		if has["total"] {
			r.JamTotal = drawCell(t, &s, "total", points, true)
		}
		if has["game"] {
			r.GameTotal = drawCell(t, &s, "game", points, true)
		}
		s.Rows = append(s.Rows, r)
	}
	drawRest(t, &s)
	return s
}

func drawRest(t *rapid.T, s *Sheet) {
	whole := rapid.IntRange(1, 30)
	text := func(name string) timeline.Cell[string] { return drawCell(t, s, name, drawName, false) }
	for i := range s.Teams {
		if rapid.Bool().Draw(t, "named") {
			s.Teams[i].Name = timeline.Cell[string]{State: timeline.CellKnown, Value: drawName.Draw(t, "team")}
		}
		for range rapid.IntRange(0, 3).Draw(t, "roster") {
			s.Teams[i].Roster = append(s.Teams[i].Roster, RosterLine{drawCell(t, s, "number", drawNumber, false), text("name")})
		}
	}
	for range rapid.IntRange(0, 3).Draw(t, "penalties") {
		s.Penalties = append(s.Penalties, Penalty{
			drawSide.Draw(t, "side"), drawCell(t, s, "skater", drawNumber, false), text("code"),
			drawCell(t, s, "period", whole, true), drawCell(t, s, "jam", whole, true),
		})
	}
	for range rapid.IntRange(0, 2).Draw(t, "outs") {
		s.Outs = append(s.Outs, Out{
			drawSide.Draw(t, "side"), drawCell(t, s, "skater", drawNumber, false), text("kind"),
			drawCell(t, s, "period", whole, true), drawCell(t, s, "jam", whole, true),
		})
	}
	slot := func() Slot {
		x := Slot{Skater: drawCell(t, s, "slot", drawNumber, false)}
		for range rapid.IntRange(0, 2).Draw(t, "marks") {
			m := rapid.SampledFrom([]BoxMark{BoxEntered, BoxBoth, BoxStill, BoxStillLeft}).Draw(t, "mark")
			x.Box = append(x.Box, timeline.Cell[BoxMark]{State: timeline.CellKnown, Value: m})
		}
		return x
	}
	for range rapid.IntRange(0, 3).Draw(t, "line-ups") {
		l := Lineup{
			Period: 1, Jam: whole.Draw(t, "jam"), Side: drawSide.Draw(t, "side"), StarPass: rapid.Bool().Draw(t, "sp"),
			NoPivot: drawCell(t, s, "np", rapid.Bool(), false), Jammer: slot(), Pivot: slot(),
		}
		for range rapid.IntRange(0, 4).Draw(t, "blockers") {
			l.Blockers = append(l.Blockers, slot())
		}
		for n := len(l.Blockers); n > 0 && l.Blockers[n-1].Skater.State <= timeline.CellBlank && len(l.Blockers[n-1].Box) == 0; n-- {
			l.Blockers = l.Blockers[:n-1]
		}
		if len(l.Blockers) == 0 {
			l.Blockers = nil
		}
		s.Lineups = append(s.Lineups, l)
	}
	for range rapid.IntRange(0, 2).Draw(t, "clock") {
		s.Clock = append(s.Clock, JamClock{1, whole.Draw(t, "jam"), drawCell(t, s, "d", drawTime, false), drawCell(t, s, "s", drawTime, false), drawCell(t, s, "e", drawTime, false)})
	}
	for range rapid.IntRange(0, 2).Draw(t, "timeouts") {
		s.Timeouts = append(s.Timeouts, Timeout{
			drawCell(t, s, "period", whole, true), drawCell(t, s, "jam", whole, true),
			rapid.SampledFrom([]timeline.Side{timeline.NoSide, timeline.Home, timeline.Away}).Draw(t, "side"), text("kind"),
			drawCell(t, s, "clock", drawTime, false), drawCell(t, s, "length", drawTime, false), drawCell(t, s, "retained", rapid.Bool(), false),
		})
	}
	roles := rapid.SampledFrom([]timeline.Role{timeline.Jammer, timeline.Pivot, timeline.Blocker})
	for range rapid.IntRange(0, 2).Draw(t, "box") {
		s.Box = append(s.Box, BoxVisit{
			drawSide.Draw(t, "side"), drawCell(t, s, "skater", drawNumber, false), drawCell(t, s, "role", roles, false),
			drawCell(t, s, "period", whole, true), drawCell(t, s, "jam", whole, true), drawCell(t, s, "out", whole, true),
			drawCell(t, s, "between", rapid.Bool(), false), drawCell(t, s, "in", drawTime, false),
			drawCell(t, s, "stand", drawTime, false), drawCell(t, s, "done", drawTime, false),
		})
	}
	for range rapid.IntRange(0, 2).Draw(t, "totals") {
		s.Totals = append(s.Totals, Total{rapid.IntRange(0, 2).Draw(t, "p"), drawSide.Draw(t, "side"), drawCell(t, s, "points", rapid.IntRange(0, 300), true)})
	}
	for range rapid.IntRange(0, 2).Draw(t, "kept") {
		s.Kept = append(s.Kept, Kept{Heading: drawName.Draw(t, "h"), Text: drawName.Draw(t, "t")})
	}
}

// bare is a sheet as data without the places its values stood in; an unread
// value carries its text instead.
func bare(t interface{ Fatal(...any) }, s Sheet) any {
	b, err := json.Marshal(s)
	if err != nil {
		t.Fatal(err)
	}
	var v map[string]any
	if err := json.Unmarshal(b, &v); err != nil {
		t.Fatal(err)
	}
	var strip func(any)
	strip = func(v any) {
		switch v := v.(type) {
		case map[string]any:
			if v["state"] == float64(timeline.CellUnread) {
				if from, ok := v["from"].(string); ok {
					v["text"] = s.Raw[from]
				}
			}
			delete(v, "from")
			for _, x := range v {
				strip(x)
			}
		case []any:
			for _, x := range v {
				strip(x)
			}
		}
	}
	delete(v, "raw")
	strip(v)
	return v
}

// TestWrittenThenRead: a sheet written in our own form and read back is
// unchanged, as CSV and as XLSX.
func TestWrittenThenRead(t *testing.T) {
	for _, form := range []struct {
		name, file string
		write      func(*bytes.Buffer, Sheet) error
	}{
		{"csv", "own.csv", func(b *bytes.Buffer, s Sheet) error { return WriteCSV(b, s) }},
		{"xlsx", "own.xlsx", func(b *bytes.Buffer, s Sheet) error { return WriteXLSX(b, s) }},
	} {
		t.Run(form.name, func(t *testing.T) {
			rapid.Check(t, func(t *rapid.T) {
				want := drawSheet(t)
				var buf bytes.Buffer
				if err := form.write(&buf, want); err != nil {
					t.Fatal(err)
				}
				book, err := ReadGrid(form.file, buf.Bytes())
				if err != nil {
					t.Fatal(err)
				}
				m := Recognise(book)
				if !m.Own || m.Certainty != 1 {
					t.Fatalf("our own form was not recognised: %+v", m)
				}
				got, problems := Read(book, m)
				if len(problems) > 0 {
					t.Fatal(problems)
				}
				if d := cmp.Diff(bare(t, want), bare(t, got)); d != "" {
					t.Fatalf("written then read differs (-want +got):\n%s", d)
				}
			})
		})
	}
}

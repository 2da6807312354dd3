package align

import (
	"fmt"
	"testing"

	"fyne.io/fyne/v2"
	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"whistlecut/app"
	"whistlecut/app/desk/task/tasktest"
	"whistlecut/timeline"
	"whistlecut/timeline/sheet"
)

// plain leaves out where values stand, and puts the text of an unread one there.
func plain(s sheet.Sheet) []string {
	var out []string
	for _, r := range s.Rows {
		line := fmt.Sprintf("%d %d %s %v %v:", r.Period, r.Jam, r.Side, r.StarPass, r.Spacer)
		one := func(text string) { line += " " + text }
		one(cellText(r.Jammer, s.Raw, func(n timeline.Number) string { return "k" + string(n) }))
		for _, c := range []timeline.Cell[bool]{r.Lost, r.Lead, r.Call, r.Inj, r.NI} {
			one(cellText(c, s.Raw, func(b bool) string { return fmt.Sprint("k", b) }))
		}
		for _, c := range append(append([]timeline.Cell[int]{}, r.Trips...), r.JamTotal, r.GameTotal) {
			one(cellText(c, s.Raw, func(n int) string { return fmt.Sprint("k", n) }))
		}
		out = append(out, line)
	}
	return out
}

func readBack(t interface{ Fatal(...any) }, x *typedSheet) sheet.Sheet {
	data, err := x.csv([2]timeline.Team{{Name: "Harbour Lanterns"}, {Name: "Quarry Larks"}})
	if err != nil {
		t.Fatal(err)
	}
	r, err := app.New("tester").ReadSheetData(typedName, data, nil)
	if err != nil {
		t.Fatal(err)
	}
	return r.Sheet
}

func TestTypedReadsBackEqual(t *testing.T) {
	x := &typedSheet{pages: [][]typedRow{
		{
			{"1", "73", "", "x", "", "", "", "4", "3", "", "", "", "", "", "", "", "7", "7"},
			{"", "0", "x", "", "", "", "x"},
			{"SP", "00", "", "", "", "", "", "2", "?", "?2..4", "", "", "", "", "", "", "2", "9"},
			{"9", "?7x"},
		},
		{
			{"1", "19", "", "no", "", "", "", "?three"},
			{"2", "19"},
			{"SP*"},
		},
		nil, nil,
	}}
	want := x.sheet()
	if got := readBack(t, x); cmp.Diff(plain(want), plain(got)) != "" {
		t.Error(cmp.Diff(plain(want), plain(got)))
	}
	if n := want.Rows[1].Jam; n != 2 {
		t.Errorf("a row without a number is jam %d, want the next, 2", n)
	}
	if want.Rows[2].Jam != 2 || !want.Rows[2].StarPass {
		t.Errorf("the star-pass row %+v", want.Rows[2])
	}
	// Opened again for typing it is the same.
	if again := typedOf(readBack(t, x), 2).sheet(); cmp.Diff(plain(want), plain(again)) != "" {
		t.Error(cmp.Diff(plain(want), plain(again)))
	}
}

func TestTypedReadsBackEqualAnything(t *testing.T) {
	cell := rapid.OneOf(rapid.Just(""), rapid.StringMatching(`[0-9]{1,2}`), rapid.StringMatching(`[x?A-Z0-9,"+=-]{1,5}`))
	rapid.Check(t, func(t *rapid.T) {
		x := &typedSheet{pages: make([][]typedRow, 4)}
		for p := range x.pages {
			for range rapid.IntRange(0, 4).Draw(t, "rows") {
				var r typedRow
				for i := colJammer; i < typedColumns; i++ {
					r[i] = cell.Draw(t, "cell")
				}
				if len(x.pages[p]) > 0 && rapid.Bool().Draw(t, "star") {
					r[colJam] = "SP"
				}
				x.pages[p] = append(x.pages[p], r)
			}
		}
		want := x.sheet()
		if len(want.Rows) == 0 {
			return
		}
		if d := cmp.Diff(plain(want), plain(readBack(t, x))); d != "" {
			t.Fatal(d)
		}
	})
}

func TestTypeASheet(t *testing.T) {
	x, d := opened(t, tasktest.Options{Seed: 3, NoTags: true})
	d.Win.Resize(fyne.NewSize(1024, 600))
	x.show(atSheet)
	press(t, d, "T")
	g, ok := d.Win.Canvas().Focused().(*typeGrid)
	if !ok {
		t.Fatalf("%T has the keyboard", d.Win.Canvas().Focused())
	}
	keyed := func(names ...fyne.KeyName) {
		for _, k := range names {
			g.TypedKey(&fyne.KeyEvent{Name: k})
		}
	}
	text := func(s string) {
		for _, r := range s {
			g.TypedRune(r)
		}
	}
	// Jammer, over lost to lead, over the rest to trip 2.
	text("73")
	keyed(fyne.KeyTab, fyne.KeyTab)
	text("x")
	keyed(fyne.KeyRight, fyne.KeyRight, fyne.KeyRight, fyne.KeyRight)
	text("4")
	keyed(fyne.KeyReturn) // next row: jam 2, at the jammer
	text("100")
	keyed(fyne.KeyBackspace)
	keyed(fyne.KeyPageDown) // away
	text("19")
	d.Picture(t, "typing")
	keyed(fyne.KeyF5)
	if d.Opened.Facts.Sheet == nil || d.Win.Canvas().Overlays().Top() != nil {
		t.Fatalf("nothing kept: %v", d.Failed)
	}
	r, _, err := d.Opened.StoredSheet()
	if err != nil {
		t.Fatal(err)
	}
	rows := r.Sheet.Rows
	if len(rows) != 3 || rows[0].Jammer.Value != "73" || !rows[0].Lead.Value || rows[0].Trips[0].Value != 4 ||
		rows[1].Jammer.Value != "10" || rows[1].Jam != 2 || rows[2].Jammer.Value != "19" || rows[2].Side != timeline.Away {
		t.Errorf("%+v", rows)
	}
	if rows[0].Lost.State != timeline.CellBlank {
		t.Errorf("an empty cell is %v, want blank", rows[0].Lost.State)
	}
	if len(d.Opened.Bout.Jams) != 2 {
		t.Errorf("%d jams", len(d.Opened.Bout.Jams))
	}
	// Typed on: what is there is shown.
	press(t, d, "T")
	g = d.Win.Canvas().Focused().(*typeGrid)
	if g.rows[1][colJammer] != "10" {
		t.Errorf("opened again: %v", g.rows)
	}
	keyed(fyne.KeyEscape)
	if d.Win.Canvas().Overlays().Top() != nil {
		t.Error("Escape leaves it open")
	}
}

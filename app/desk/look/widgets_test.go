package look

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/test"

	"whistlecut/timeline"
)

// shown puts a widget into a window of the given size, in the dark palette.
func shown(t *testing.T, o fyne.CanvasObject, w, h float32) fyne.Window {
	t.Helper()
	a := test.NewTempApp(t)
	a.Settings().SetTheme(Use(DarkPalette, 1))
	win := a.NewWindow("")
	win.SetPadded(false)
	win.SetContent(container.NewStack(o))
	win.Resize(fyne.NewSize(w, h))
	t.Cleanup(win.Close)
	return win
}

func row() timeline.JamRow {
	return timeline.JamRow{
		Jammer: timeline.Known(timeline.Number("052")), Lead: timeline.Known(true), Call: timeline.Known(false),
		Lost: timeline.Cell[bool]{State: timeline.CellRange}, NI: timeline.Known(false),
		Trips:    []timeline.Cell[int]{timeline.Known(4), {State: timeline.CellRange, Low: 0, High: 4}, {State: timeline.CellRange, Low: 2, High: 3}},
		JamTotal: timeline.Cell[int]{State: timeline.CellRange, Low: 6, High: 11}, GameTotal: timeline.Known(58),
	}
}

// TestWidgets holds the look's widgets to kept markup: run with the failed file
// copied over the kept one when a change is meant.
func TestWidgets(t *testing.T) {
	for name, c := range map[string]struct {
		make func() fyne.CanvasObject
		w, h float32
	}{
		"score_rows": {func() fyne.CanvasObject {
			s := NewScoreRows()
			s.Set(ScoreLine{Head: "sheet", Side: timeline.Home, Row: row(), Box: map[string]bool{"trip 3": true, "jam": true}}, ScoreLine{Head: "7", Side: timeline.Away, Row: row()})
			return s
		}, 388, 90},
		"rows": {func() fyne.CanvasObject {
			r := NewRows([]Column{{Width: 18}, {Width: 60}, {}, {Width: 30, Right: true}}, func() int { return 2 }, func(i int) []Cell {
				return []Cell{{Shape: []Shape{Diamond, Ring}[i]}, {Text: "P2 J7", Mono: true}, {Text: "a cause too long for the room that there is", Colour: Now.Quiet}, {Text: "-1", Bold: true}}
			})
			r.Mark(1)
			return r
		}, 240, 60},
		"keycap":     {func() fyne.CanvasObject { return NewKeycap("Q", "lead", Now.Home, nil) }, 30, 38},
		"keycap_lit": {func() fyne.CanvasObject { k := NewKeycap("Q", "lead", Now.Home, nil); k.Light(true); return k }, 30, 38},
		"chip":       {func() fyne.CanvasObject { c := NewChip("power jams", "1", nil); c.Set("power jams", true); return c }, 110, 24},
		"button":     {func() fyne.CanvasObject { return NewButton("Cut", "C", nil).Strong() }, 90, 32},
		"paragraph": {func() fyne.CanvasObject {
			return NewParagraph("The head referee's decision is final, whatever the tags say.", Now.Text, TextSize)
		}, 180, 80},
		"shapes": {func() fyne.CanvasObject {
			box := container.NewHBox()
			for _, s := range []Shape{Diamond, Ring, Triangle, Tick, Square, Bar} {
				i := canvas.NewImageFromResource(ShapeResource(s, Now.Colour(s)))
				i.FillMode = canvas.ImageFillContain
				i.SetMinSize(fyne.NewSquareSize(Size(12)))
				box.Add(i)
			}
			return box
		}, 140, 20},
	} {
		t.Run(name, func(t *testing.T) {
			Use(DarkPalette, 1) // what a widget is made with
			win := shown(t, c.make(), c.w, c.h)
			test.AssertRendersToMarkup(t, name+".xml", win.Canvas())
		})
	}
}

// TestNotSeenIsNoZero: what nobody saw is a question mark or a range.
func TestNotSeenIsNoZero(t *testing.T) {
	for key, want := range map[string]string{"trip 2": "4", "trip 3": "?", "trip 4": "2–3", "trip 5": "", "jam": "6–11", "game": "58", "lost": "?", "lead": "●", "call": "", "jammer": "052"} {
		if got, _ := cell(row(), key); got != want {
			t.Errorf("%s shows %q, want %q", key, got, want)
		}
	}
}

func TestFit(t *testing.T) {
	test.NewTempApp(t)
	long := strings.Repeat("jammer ", 20)
	for _, w := range []float32{0, 5, 40, 100} {
		s := Fit(long, w, 12, fyne.TextStyle{})
		if got := fyne.MeasureText(s, 12, fyne.TextStyle{}).Width; got > w+0.01 {
			t.Errorf("%q is %v wide in %v", s, got, w)
		}
	}
	if s := Fit("short", 500, 12, fyne.TextStyle{}); s != "short" {
		t.Errorf("a text that fits became %q", s)
	}
}

// TestBreak: lines are as wide as they may be, and a score is not torn apart.
func TestBreak(t *testing.T) {
	test.NewTempApp(t)
	text := "Period 2, jam 7, score 24 – 17, on film"
	for _, w := range []float32{60, 90, 120, 200} {
		lines := Break(text, w, 12, fyne.TextStyle{})
		if strings.Join(lines, " ") != text {
			t.Errorf("%v: %q lost something", w, lines)
		}
		for _, l := range lines {
			if strings.HasPrefix(l, "–") || strings.HasSuffix(l, "–") {
				t.Errorf("%v: %q tears the score", w, lines)
			}
			if strings.Contains(l, " ") && !strings.Contains(l, "–") && fyne.MeasureText(l, 12, fyne.TextStyle{}).Width > w {
				t.Errorf("%v: %q is too wide", w, l)
			}
		}
	}
}

// TestRowsReadInFull: the text that matters goes on in a second line, or below the
// others where there is hardly room beside them; the row grows by it.
func TestRowsReadInFull(t *testing.T) {
	long := "number on neither roster of the two teams that played this bout"
	texts := []string{"short", long}
	r := NewRows([]Column{{Width: 12}, {Width: 54}, {Least: 150}, {Width: 34, Right: true}}, func() int { return 2 }, func(i int) []Cell {
		return []Cell{{Shape: Ring}, {Text: "P1 J1"}, {Text: texts[i]}, {Text: "0"}}
	})
	shown(t, r, 400, 200)
	if s := Slots(r.Columns, 400)[2]; s.Below || r.tall[0] != 0 || r.tall[1] <= r.usual() {
		t.Errorf("wide: %+v, heights %v beside %v", s, r.tall, r.usual())
	}
	r.Resize(fyne.NewSize(200, 200))
	s := Slots(r.Columns, 200)
	if !s[2].Below || r.usual() <= RowHeight() || s[2].W < 120 {
		t.Errorf("narrow: %+v, usual height %v", s, r.usual())
	}
	for i, c := range s {
		if c.X < 0 || c.X+c.W > 200 {
			t.Errorf("column %d stands outside: %+v", i, c)
		}
	}
}

// TestRowsKeepNoFocus: after a click the keys are the desk's again, and the second
// click on a row opens it.
func TestRowsKeepNoFocus(t *testing.T) {
	chosen, opened := -1, -1
	r := NewRows([]Column{{}}, func() int { return 5 }, func(i int) []Cell { return []Cell{{Text: "row"}} })
	r.Chosen = func(i int) { chosen = i }
	r.Opened = func(i int) { opened = i }
	win := shown(t, r, 200, 150)
	r.Select(2)
	if chosen != 2 || opened != -1 || win.Canvas().Focused() != nil {
		t.Errorf("chosen %d, opened %d, focus %v", chosen, opened, win.Canvas().Focused())
	}
	r.Select(2)
	if opened != 2 {
		t.Errorf("opened %d", opened)
	}
	r.Advance(-7)
	if chosen != 0 {
		t.Errorf("beyond the first row it chose %d", chosen)
	}
}

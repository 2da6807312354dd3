package reel

import (
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"

	"whistlecut/app/desk/form"
	"whistlecut/app/desk/look"
	"whistlecut/app/desk/task/tasktest"
	"whistlecut/app/desk/words"
	"whistlecut/timeline"
)

func tap(d *drawing, x, y float64) { drag(d, x, y, x, y) }

func drag(d *drawing, x, y, x2, y2 float64) {
	d.down(timeline.Point{X: x, Y: y})
	d.drag(timeline.Point{X: (x + x2) / 2, Y: (y + y2) / 2})
	d.up(timeline.Point{X: x2, Y: y2})
}

// TestDrawn: a shape chosen by its key and dragged on the picture is stored from
// that picture on for two seconds, seen meanwhile, and can be undone.
func TestDrawn(t *testing.T) {
	d, r, _ := staged(t)
	r.choose(1)
	d.At(9 * time.Second)
	d.Keys(t, "1", "Q") // an arrow in the home team's colour
	drag(r.draw, 0.2, 0.2, 0.5, 0.5)
	if len(r.sketches.Tags) != 1 || len(d.Failed) > 0 {
		t.Fatalf("%d drawings, failed %v", len(r.sketches.Tags), d.Failed)
	}
	x, ok := r.draw.current()
	if !ok || x.Place != timeline.OnFilm(tasktest.FilmID, 9*time.Second) || x.Drawing.End != timeline.OnFilm(tasktest.FilmID, 11*time.Second) || x.Drawing.Colour != "home" {
		t.Errorf("drawing %+v, %+v", x, x.Drawing)
	}
	seen := func(at time.Duration) int {
		d.At(at)
		return len(r.scene().drawings)
	}
	if a, b, c := seen(9*time.Second), seen(10900*time.Millisecond), seen(11*time.Second); a != 1 || b != 1 || c != 0 {
		t.Errorf("seen %d, %d, %d", a, b, c)
	}
	d.At(12 * time.Second)
	d.Keys(t, "Ctrl+E")
	if seen(11900*time.Millisecond) != 1 {
		t.Error("it goes before the end that was set")
	}
	d.At(8 * time.Second)
	d.Keys(t, "Ctrl+B")
	if seen(8500*time.Millisecond) != 1 {
		t.Error("it comes after the begin that was set")
	}
	d.Keys(t, "W", "Q")
	if x, _ := r.draw.current(); x.Drawing.Width != widths[1] || x.Drawing.Colour != "away" {
		t.Errorf("drawing %+v", x.Drawing)
	}
	d.Keys(t, "Delete")
	if len(r.sketches.Tags) != 0 {
		t.Error("it is not deleted")
	}
	undo(t, d)
	if len(r.sketches.Tags) != 1 {
		t.Error("undo did not bring it back")
	}
	d.Keys(t, "Escape", "Escape", "Escape")
	if r.draw != nil {
		t.Error("Escape did not end drawing")
	}
}

// TestChosenAndMoved: a click chooses, a drag moves all of it or one of its
// points, keys do the same.
func TestChosenAndMoved(t *testing.T) {
	d, r, _ := staged(t)
	d.At(9 * time.Second)
	d.Keys(t, "3")
	drag(r.draw, 0.2, 0.2, 0.4, 0.4)
	drag(r.draw, 0.6, 0.6, 0.8, 0.8)
	first, second := r.draw.list()[0], r.draw.list()[1]
	if first.Drawing.Points[0].X > 0.5 {
		first, second = second, first
	}
	d.Keys(t, "0")
	tap(r.draw, 0.3, 0.3)
	if r.draw.chosen != first.ID {
		t.Fatal("a click chooses the wrong one")
	}
	drag(r.draw, 0.3, 0.3, 0.4, 0.3)
	points := func() []timeline.Point { x, _ := r.draw.current(); return x.Drawing.Points }
	if p := points(); p[0].X < 0.29 || p[0].X > 0.31 || p[1].X < 0.49 || p[1].Y > 0.41 {
		t.Errorf("moved to %v", p)
	}
	drag(r.draw, 0.5, 0.4, 0.7, 0.5)
	if p := points(); p[0].X > 0.31 || p[1].X < 0.69 || p[1].Y < 0.49 {
		t.Errorf("its corner was moved: %v", p)
	}
	tap(r.draw, 0.95, 0.1)
	if r.draw.chosen != "" {
		t.Error("a click beside it chooses nothing")
	}
	d.Keys(t, "Down", "Down", "Up")
	was := points()
	d.Keys(t, "Return", "Right", "Right", "Down")
	shift(d, t, "Up")
	d.Keys(t, "Return")
	p := points()
	if p[0].X <= was[0].X || p[0].Y <= was[0].Y || p[1].Y >= was[1].Y+0.005 || r.draw.nudging {
		t.Errorf("by keys from %v to %v", was, p)
	}
	edits := len(d.Labels)
	d.Keys(t, "Return", "Left", "Escape")
	if len(d.Labels) != edits || points()[0] != p[0] {
		t.Error("Escape keeps a move")
	}
	_ = second
}

// TestDrawnByKeys: every shape can be put on the picture without a pointer.
func TestDrawnByKeys(t *testing.T) {
	d, r, _ := staged(t)
	d.At(9 * time.Second)
	for i, s := range timeline.Shapes() {
		d.Keys(t, string(rune('1'+i)), "Return")
		if s == timeline.ShapeText {
			e, ok := d.Win.Canvas().Focused().(*form.Entry)
			if !ok {
				t.Fatal("nothing asks for the text")
			}
			test.Type(e, "Hips low")
			e.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
		}
		if len(r.sketches.Tags) != i+1 || len(d.Failed) > 0 {
			t.Fatalf("%s: %d drawings, %v", s, len(r.sketches.Tags), d.Failed)
		}
		d.Keys(t, "Return")
	}
	d.Keys(t, "8", "Return", "Return")
	if x, _ := r.draw.current(); x.Drawing.Number != 2 {
		t.Errorf("the second marker is number %d", x.Drawing.Number)
	}
	d.Picture(t, "reel-drawings")
}

// TestOnTheHeldPicture: such a drawing is not seen while the film runs, and the
// clip gets a held picture to see it on.
func TestOnTheHeldPicture(t *testing.T) {
	d, r, _ := staged(t)
	r.choose(2)
	d.At(60 * time.Second)
	d.Keys(t, "1")
	drag(r.draw, 0.2, 0.2, 0.5, 0.5)
	d.Keys(t, "H")
	p, _ := r.part()
	if len(p.Clip.Freezes) != 1 || p.Clip.Freezes[0].At != 60*time.Second {
		t.Errorf("held pictures %+v", p.Clip.Freezes)
	}
	if len(r.scene().drawings) != 1 {
		t.Error("not seen on its picture")
	}
	d.Keys(t, "Escape", "Escape")
	d.Where.Playing = true
	if len(r.scene().drawings) != 0 {
		t.Error("seen while the film runs")
	}
	undo(t, d)
	if p, _ := r.part(); len(p.Clip.Freezes) != 0 {
		t.Error("undo left the held picture")
	}
}

// TestPointer: what the stage is told of the pointer becomes a drawing where the
// picture shows it.
func TestPointer(t *testing.T) {
	d, r, _ := staged(t)
	d.At(9 * time.Second)
	w := test.NewTempWindow(t, r.stage)
	w.SetPadded(false)
	w.Resize(fyne.NewSize(640, 480)) // the picture of 16:9 has bars above and below
	event := func(x, y float32) *desktop.MouseEvent {
		return &desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(x, y)}, Button: desktop.MouseButtonPrimary}
	}
	r.stage.Tapped(&fyne.PointEvent{})
	if !d.Where.Playing {
		t.Error("a click does not play")
	}
	r.stage.Tapped(&fyne.PointEvent{})
	d.Keys(t, "3")
	r.stage.MouseDown(event(160, 60+90))
	r.stage.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(400, 300)}})
	r.stage.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(480, 60+270)}})
	r.stage.MouseUp(event(480, 330))
	r.stage.DragEnd()
	x, ok := r.draw.current()
	if !ok || len(r.sketches.Tags) != 1 {
		t.Fatalf("%d drawings", len(r.sketches.Tags))
	}
	near := func(a, b float64) bool { return a-b < 0.01 && b-a < 0.01 }
	if p := x.Drawing.Points; !near(p[0].X, 0.25) || !near(p[0].Y, 0.25) || !near(p[1].X, 0.75) || !near(p[1].Y, 0.75) {
		t.Errorf("drawn at %v", p)
	}
	if img := r.stage.picture.Image; img == nil || img.Bounds().Dx() != 640 || img.Bounds().Dy() != 360 {
		t.Error("it is not painted as large as the picture")
	} else if _, _, _, a := img.At(320, 90).RGBA(); a == 0 {
		t.Error("nothing is painted at the ring's top")
	}
	d.Keys(t, "8")
	at := event(64, 60+36)
	r.stage.MouseDown(at)
	r.stage.MouseUp(at)
	r.stage.Tapped(&at.PointEvent)
	if d.Where.Playing {
		t.Error("a click while drawing plays")
	}
	if x, _ := r.draw.current(); x.Drawing == nil || x.Drawing.Number != 1 || !near(x.Drawing.Points[0].X, 0.1) || !near(x.Drawing.Points[0].Y, 0.1) {
		t.Errorf("a click with the marker drew %+v", x.Drawing)
	}
}

func TestEmptyStates(t *testing.T) {
	t.Run("no reel", func(t *testing.T) {
		d, r := opened(t, tasktest.Options{Seed: 3})
		golden(t, d, "empty_no_reel")
		d.Keys(t, "Down", "Return", "P", "V", "U", "S", "H", "M", "W", "J", "Ctrl+B", "B", "Delete", "C", "T", "N", "Q", "Escape")
		if len(d.Failed) != 0 || r.run != nil || r.show != nil {
			t.Errorf("failed %v", d.Failed)
		}
	})
	t.Run("no film", func(t *testing.T) {
		d, r := opened(t, tasktest.Options{Seed: 3, NoFilm: true})
		r.Collect(penalties(d))
		d.Keys(t, "K", "D", "A")
		if len(d.Failed) != 0 || len(r.parts()) != 0 || len(d.Said) < 3 {
			t.Errorf("failed %v, said %q", d.Failed, d.Said)
		}
	})
}

// golden compares the panel with its kept markup.
func golden(t *testing.T, d *tasktest.Desk, name string) {
	t.Helper()
	d.Picture(t, "reel-"+name)
	test.AssertRendersToMarkup(t, name+".xml", d.Win.Canvas())
}

func TestPanels(t *testing.T) {
	d, r, _ := staged(t)
	now, _ := r.current()
	now.Target = 10 * time.Second
	d.Apply("a target", timeline.SetReel(now))
	r.choose(1)
	golden(t, d, "panel_clip")
	r.choose(0)
	golden(t, d, "panel_card")
	d.At(9 * time.Second)
	d.Keys(t, "1")
	drag(r.draw, 0.2, 0.2, 0.5, 0.5)
	golden(t, d, "panel_drawing")
}

// TestPictures draws panels in other sizes, themes and languages; tasktest.EnvPictures
// keeps them, to be looked at.
func TestPictures(t *testing.T) {
	defer func() {
		words.Set("en")
		look.Use(look.DarkPalette, 1)
	}()
	for _, x := range []struct {
		name, lang string
		scale      float64
		w, h       float32
		light      bool
	}{
		{"reel-laptop", "en", 1, 416, 520, false},
		{"reel-small", "de", 1, 372, 390, false},
		{"reel-large", "de", 1.5, 558, 488, false},
		{"reel-es", "es", 1, 416, 520, true},
		{"reel-fr", "fr", 1, 416, 520, false},
	} {
		d, _, _ := staged(t)
		words.Set(x.lang)
		p := look.DarkPalette
		if x.light {
			p = look.LightPalette
		}
		tasktest.Wear(t, p, x.scale)
		r := New(d)
		d.Task = r
		d.Open(t, x.w, x.h)
		r.choose(1)
		d.Picture(t, x.name)
		d.At(9 * time.Second)
		d.Keys(t, "1", "Return", "Return")
		d.Picture(t, x.name+"-2")
	}
}

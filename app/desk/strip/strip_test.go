package strip

import (
	"image"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"

	"whistlecut/timeline"
)

// told is what the strip told its owner.
type told struct {
	seeks []moment
	drags []droppedAt
	picks []timeline.ID
}

type droppedAt struct {
	id   timeline.ID
	edge Edge
	moment
}

// desk is a strip of 1280 pixels with the short bout in it.
func desk(t *testing.T) (*Strip, *told, Input) {
	t.Helper()
	test.NewTempApp(t)
	s, err := New(goFonts, English(), Dark())
	if err != nil {
		t.Fatal(err)
	}
	w := &told{}
	s.OnSeek = func(f timeline.ID, at time.Duration) { w.seeks = append(w.seeks, moment{f, at}) }
	s.OnDrag = func(id timeline.ID, e Edge, f timeline.ID, at time.Duration) {
		w.drags = append(w.drags, droppedAt{id, e, moment{f, at}})
	}
	s.OnPick = func(i Item) { w.picks = append(w.picks, i.ID) }
	s.modifiers = func() fyne.KeyModifier { return 0 }
	s.Resize(fyne.NewSize(1280, NormalHeight))
	in := bout(t)
	s.SetBout(in, nil)
	s.paint(1280, NormalHeight)
	return s, w, in
}

func mouse(x, y float64) *desktop.MouseEvent {
	return &desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(float32(x), float32(y))}, Button: desktop.MouseButtonPrimary}
}

func (s *Strip) swipe(x0, y0, x1 float64) {
	s.MouseDown(mouse(x0, y0))
	for k := 1; k <= 4; k++ {
		p := mouse(x0+(x1-x0)*float64(k)/4, y0)
		s.Dragged(&fyne.DragEvent{PointEvent: p.PointEvent})
	}
	s.MouseUp(mouse(x1, y0))
	s.DragEnd() // the toolkit tells both
}

// Setting now, following, zooming, panning and new data are no seeks.
func TestOnlyClicksSeek(t *testing.T) {
	s, w, in := desk(t)
	for _, follow := range []bool{false, true} {
		s.Follow(follow)
		for k := range 400 {
			s.SetNow("film-1", time.Duration(k)*time.Second)
			s.SetNow("film-2", time.Duration(k)*time.Second)
			s.SetNow("elsewhere", 0)
			switch k % 8 {
			case 0:
				s.ZoomIn()
			case 1:
				s.Pan(0.3)
			case 2:
				s.ZoomOut()
			case 3:
				s.ShowJam(in.Bout.Jams[k%len(in.Bout.Jams)].ID)
			case 4:
				s.Scrolled(&fyne.ScrollEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(500, 80)}, Scrolled: fyne.NewDelta(0, 10)})
			case 5:
				s.ShowAll()
			case 6:
				s.MouseMoved(mouse(float64(50+k), 60))
			case 7:
				s.ShowFrames()
			}
			if k%100 == 0 {
				s.SetBout(in, nil)
				s.paint(1280, NormalHeight)
			}
		}
	}
	if len(w.seeks) > 0 || len(w.drags) > 0 {
		t.Errorf("told of %d seeks and %d drags though nobody clicked", len(w.seeks), len(w.drags))
	}
}

func TestClickSeeksToTheFilmUnderIt(t *testing.T) {
	s, w, _ := desk(t)
	s.view.Axis.Show(sec(30), sec(90))
	y := middle(s.layout, LaneRuler)
	s.MouseDown(mouse(700, y))
	s.MouseUp(mouse(701, y))
	f, at, _ := s.view.Axis.Film(s.view.Axis.At(700))
	if len(w.seeks) != 1 || w.seeks[0] != (moment{f, at}) {
		t.Errorf("seeks %v, want one to %s %v", w.seeks, f, at)
	}
	s.MouseDown(&desktop.MouseEvent{PointEvent: mouse(700, y).PointEvent, Button: desktop.MouseButtonSecondary})
	s.MouseUp(&desktop.MouseEvent{PointEvent: mouse(700, y).PointEvent, Button: desktop.MouseButtonSecondary})
	if len(w.seeks) != 1 {
		t.Error("the second button seeks")
	}
}

func TestClickOnASignSeeksToItsMoment(t *testing.T) {
	s, w, in := desk(t)
	key := in.Findings[0].Key
	i, ok := s.view.Model.Find(key)
	if !ok {
		t.Fatal("the finding is not on the strip")
	}
	s.view.Axis.Show(i.From-sec(20), i.From+sec(20))
	s.arrange()
	x, y := s.view.Axis.X(i.From)+4, middle(s.layout, i.lane())
	s.MouseDown(mouse(x, y))
	s.MouseUp(mouse(x, y))
	f, at, _ := s.view.Axis.Film(i.From)
	if len(w.seeks) != 1 || w.seeks[0] != (moment{f, at}) || len(w.picks) != 1 || w.picks[0] != key {
		t.Errorf("seeks %v picks %v, want %s %v and %s", w.seeks, w.picks, f, at, key)
	}
}

func TestDragOnEmptyGroundPans(t *testing.T) {
	s, w, _ := desk(t)
	s.view.Axis.Show(sec(100), sec(200))
	s.arrange()
	y := middle(s.layout, LaneRuler)
	held := s.view.Axis.At(600)
	s.swipe(600, y, 400)
	if got := s.view.Axis.X(held); got < 399 || got > 401 {
		t.Errorf("what was at pixel 600 is at %.1f after a drag to 400", got)
	}
	if len(w.seeks)+len(w.drags) > 0 {
		t.Errorf("panning told %v", w)
	}
}

func TestDragAnEdge(t *testing.T) {
	s, w, in := desk(t)
	jam := in.Bout.Jams[2]
	s.ShowJam(jam.ID)
	i, _ := s.view.Model.Find(jam.ID)
	x, y := s.view.Axis.X(i.To)-2, middle(s.layout, LaneJams)
	to := s.view.Axis.At(x + 60)
	s.swipe(x, y, x+60)
	f, at, _ := s.view.Axis.Film(to + i.To - s.view.Axis.At(x))
	if len(w.drags) != 1 || w.drags[0].id != jam.ID || w.drags[0].edge != End || w.drags[0].footage != f || (w.drags[0].film-at).Abs() > time.Microsecond {
		t.Errorf("drags %v, want the end of %s at %s %v", w.drags, jam.ID, f, at)
	}
	if len(w.seeks) > 0 {
		t.Errorf("dragging seeks: %v", w.seeks)
	}
	// An edge does not pass the other.
	s.swipe(x, y, 0)
	f, at, _ = s.view.Axis.Film(i.From)
	if len(w.drags) != 2 || w.drags[1].moment != (moment{f, at}) {
		t.Errorf("dragged before its start the end is told at %v, want %s %v", w.drags[1], f, at)
	}
}

func TestEscapeCancelsADrag(t *testing.T) {
	s, w, in := desk(t)
	jam := in.Bout.Jams[2]
	s.ShowJam(jam.ID)
	before := s.picture()
	i, _ := s.view.Model.Find(jam.ID)
	x, y := s.view.Axis.X(i.To)-2, middle(s.layout, LaneJams)
	s.MouseDown(mouse(x, y))
	s.Dragged(&fyne.DragEvent{PointEvent: mouse(x+60, y).PointEvent})
	if during := s.picture(); same(before, during) {
		t.Error("the drag shows no preview")
	}
	if !s.Cancel() {
		t.Error("there was nothing to cancel")
	}
	s.MouseUp(mouse(x+60, y))
	s.DragEnd()
	if len(w.drags)+len(w.seeks) > 0 {
		t.Errorf("a cancelled drag told %v", w)
	}
	if after := s.picture(); !same(before, after) {
		t.Error("a cancelled drag leaves something behind")
	}
	if s.Cancel() {
		t.Error("cancelling twice finds something")
	}
}

func (s *Strip) picture() *image.RGBA {
	img := s.paint(1280, NormalHeight).(*image.RGBA)
	c := image.NewRGBA(img.Rect)
	copy(c.Pix, img.Pix)
	return c
}

func same(a, b *image.RGBA) bool { return differing(a, b) == 0 }

func TestDragInTheOverviewMovesTheWindow(t *testing.T) {
	s, _, _ := desk(t)
	s.view.Axis.Show(sec(100), sec(160))
	s.arrange()
	y := middle(s.layout, LaneOverview)
	grab := float64(s.layout.overviewX(s.view.Axis, sec(130)))
	s.swipe(grab, y, grab+200)
	from, to := s.view.Axis.Window()
	want := s.layout.OverviewAt(s.view.Axis, grab+200)
	if (from+(to-from)/2-want).Abs() > sec(1) || (to-from-sec(60)).Abs() > time.Millisecond {
		t.Errorf("window %v to %v, want a minute round %v", from, to, want)
	}
}

func TestWheel(t *testing.T) {
	for _, c := range []struct {
		name   string
		keys   fyne.KeyModifier
		dx, dy float32
		zooms  float64 // factor of the span, 1: none
		pans   bool
	}{
		{"up zooms in", 0, 0, 10, 0.82, false},
		{"down zooms out", 0, 0, -10, 1.22, false},
		{"with Ctrl faster", fyne.KeyModifierControl, 0, 10, 0.55, false},
		{"with Shift pans", fyne.KeyModifierShift, 0, -10, 1, true},
		{"sideways pans", 0, -10, 1, 1, true},
	} {
		t.Run(c.name, func(t *testing.T) {
			s, _, _ := desk(t)
			a := s.view.Axis
			a.Show(sec(100), sec(200))
			s.arrange()
			s.modifiers = func() fyne.KeyModifier { return c.keys }
			before, anchor := a.from, a.At(400)
			s.Scrolled(&fyne.ScrollEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(400, 80)}, Scrolled: fyne.NewDelta(c.dx, c.dy)})
			if got := a.span / 100e9; got < c.zooms-0.01 || got > c.zooms+0.01 {
				t.Errorf("the span changed by %.3f, want %.2f", got, c.zooms)
			}
			if x := a.X(anchor); !c.pans && (x < 399.9 || x > 400.1) {
				t.Errorf("the pointer's place went to %.1f", x)
			}
			if c.pans && a.from <= before {
				t.Errorf("the window went from %v to %v, want later", before, a.from)
			}
		})
	}
}

func TestFollowKeepsNowInSight(t *testing.T) {
	s, _, _ := desk(t)
	s.view.Axis.Show(0, sec(60))
	s.Follow(true)
	for k := range 300 {
		s.SetNow("film-1", time.Duration(k)*time.Second)
		if !s.seen(s.view.Now) {
			t.Fatalf("at %d s the now-line is out of sight", k)
		}
	}
	// A person looks elsewhere and is left alone.
	s.Pan(3)
	from, _ := s.view.Axis.Window()
	s.SetNow("film-1", 301*time.Second)
	if now, _ := s.view.Axis.Window(); now != from {
		t.Error("the window was pulled back from where a person moved it")
	}
	// Until the line comes by.
	for k := 302; k < 700; k++ {
		s.SetNow("film-1", time.Duration(k)*time.Second)
	}
	if s.view.HasNow && !s.seen(s.view.Now) {
		t.Error("the line is not followed again after it came by")
	}
	s.Follow(false)
	s.view.Axis.Show(0, sec(60))
	s.SetNow("film-1", 100*time.Second)
	if from, _ := s.view.Axis.Window(); from != 0 {
		t.Error("the window moves though following is off")
	}
}

func TestNewDataKeepsTheWindow(t *testing.T) {
	s, _, in := desk(t)
	s.ShowJam(in.Bout.Jams[3].ID)
	from, to := s.view.Axis.Window()
	s.SetBout(in, nil)
	if a, b := s.view.Axis.Window(); a != from || b != to {
		t.Errorf("same film: window %v to %v, was %v to %v", a, b, from, to)
	}
	f := in.Facts.Footage["film-1"]
	f.Range = timeline.TimeRange{Start: 5 * time.Second, End: f.Duration}
	in.Facts.Footage["film-1"] = f
	in.Bout = timeline.Derive(in.Facts)
	s.SetBout(in, nil)
	if a, _ := s.view.Axis.Window(); (a - from + 5*time.Second).Abs() > time.Microsecond {
		t.Errorf("five seconds cut off: window from %v, want %v", a, from-5*time.Second)
	}
}

func TestThemeFontsCanBeDrawn(t *testing.T) {
	test.NewTempApp(t)
	if _, err := NewPainter(ThemeFonts()); err != nil {
		t.Error(err)
	}
	if _, err := NewPainter(Fonts{Regular: []byte("no font")}); err == nil {
		t.Error("a broken font was taken")
	}
}

// At every size, scale and zoom there is a picture and no panic.
func TestOddSizes(t *testing.T) {
	s, _, _ := desk(t)
	for _, w := range []int{0, 1, 30, 79, 80, 200, 3000} {
		for _, h := range []int{0, 1, 20, 158, 700} {
			for _, scale := range []float64{0.5, 1, 3} {
				s.Resize(fyne.NewSize(float32(float64(w)/scale), float32(float64(h)/scale)))
				s.SetNow("film-2", sec(100))
				s.paint(w, h)
				s.MouseMoved(mouse(float64(w)/2, float64(h)/2))
				s.ZoomIn()
				s.paint(w, h)
			}
		}
	}
}

// The toolkit's own canvas shows what the painter painted, and its gestures arrive.
func TestInAWindow(t *testing.T) {
	s, w, _ := desk(t)
	win := test.NewTempWindow(t, s)
	win.SetPadded(false)
	win.Resize(fyne.NewSize(1280, NormalHeight))
	shown := win.Canvas().Capture()
	if n := differing(s.picture(), shown); n > 0 {
		t.Errorf("the window shows something else in %d pixels", n)
	}
	s.view.Axis.Show(sec(100), sec(200))
	before := s.view.Axis.span
	test.Scroll(win.Canvas(), fyne.NewPos(600, 80), 0, 10)
	if s.view.Axis.span >= before {
		t.Error("the wheel does not reach the strip")
	}
	from := s.view.Axis.from
	s.MouseDown(mouse(600, middle(s.layout, LaneRuler)))
	test.Drag(win.Canvas(), fyne.NewPos(500, float32(middle(s.layout, LaneRuler))), -100, 0)
	if s.view.Axis.from <= from || len(w.seeks) > 0 {
		t.Errorf("a drag moved the window from %v to %v and told %v", from, s.view.Axis.from, w.seeks)
	}
	test.MoveMouse(win.Canvas(), fyne.NewPos(300, 80))
	if s.view.Hover == nil || s.view.Hover.X != 300 {
		t.Errorf("the pointer does not reach the strip: %+v", s.view.Hover)
	}
}

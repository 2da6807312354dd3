package pen

import (
	"math"
	"testing"
	"time"

	"pgregory.net/rapid"

	"whistlecut/timeline"
)

func pt(x, y float64) timeline.Point { return timeline.Point{X: x, Y: y} }

// drawn is what a tool makes of presses, drags and releases; "v" presses, "^"
// releases, anything else drags.
func drawn(t *Tool, moves ...any) (d timeline.Drawing, done bool) {
	for i := 0; i < len(moves); i += 2 {
		p := moves[i+1].(timeline.Point)
		switch moves[i] {
		case "v":
			t.Down(p)
		case "^":
			d, done = t.Up(p)
		default:
			t.Drag(p)
		}
	}
	return d, done
}

func TestShapes(t *testing.T) {
	a, b, c, e := pt(0.2, 0.2), pt(0.5, 0.2), pt(0.5, 0.6), pt(0.2, 0.6)
	click := func(p timeline.Point) []any { return []any{"v", p, "^", p} }
	corners := append(append(click(a), click(b)...), click(c)...)
	for _, x := range []struct {
		name   string
		shape  timeline.Shape
		moves  []any
		points int // -1: nothing is drawn
	}{
		{"an arrow is dragged", timeline.ShapeArrow, []any{"v", a, "-", b, "^", c}, 2},
		{"a click draws no arrow", timeline.ShapeArrow, click(a), -1},
		{"a slip of the hand draws no ring", timeline.ShapeRing, []any{"v", a, "-", pt(0.203, 0.203), "^", pt(0.203, 0.203)}, -1},
		{"a ring", timeline.ShapeRing, []any{"v", a, "^", c}, 2},
		{"a text stands where it is clicked", timeline.ShapeText, click(a), 1},
		{"a marker is dragged to its place", timeline.ShapeMarker, []any{"v", a, "-", b, "^", c}, 1},
		{"two corners are no area", timeline.ShapeArea, append(click(a), click(b)...), -1},
		{"an area is closed at its first corner", timeline.ShapeArea, append(append(corners, click(e)...), click(pt(0.205, 0.205))...), 4},
		{"a free line keeps its bends", timeline.ShapeFree, []any{"v", a, "-", b, "-", c, "^", e}, 4},
		{"a free line drops what is straight", timeline.ShapeFree, []any{"v", a, "-", pt(0.3, 0.2), "-", pt(0.4, 0.2), "^", b}, 2},
	} {
		t.Run(x.name, func(t *testing.T) {
			tool := &Tool{Shape: x.shape, Colour: "home", Number: 3}
			d, done := drawn(tool, x.moves...)
			if x.points < 0 {
				if done {
					t.Fatalf("drew %+v", d)
				}
				return
			}
			if !done || len(d.Points) != x.points || d.Shape != x.shape || d.Colour != "home" {
				t.Fatalf("drew %+v, %v", d, done)
			}
			if x.shape == timeline.ShapeMarker && (d.Number != 3 || d.Points[0] != c) {
				t.Errorf("marker %+v", d)
			}
			if tool.Begun() {
				t.Error("something is left in the hand")
			}
		})
	}
}

func TestAreaByKeyAndByHand(t *testing.T) {
	tool := &Tool{Shape: timeline.ShapeArea}
	drawn(tool, "v", pt(0.1, 0.1), "^", pt(0.1, 0.1), "v", pt(0.5, 0.1), "^", pt(0.5, 0.1), "v", pt(0.3, 0.5), "^", pt(0.3, 0.5))
	if d, ok := tool.Finish(); !ok || len(d.Points) != 3 {
		t.Errorf("finished by key: %+v, %v", d, ok)
	}
	moves := []any{"v", pt(0.5, 0.3)}
	for i := 1; i < 40; i++ {
		a := float64(i) / 40 * 2 * math.Pi
		moves = append(moves, "-", pt(0.5+0.2*math.Sin(a), 0.5-0.2*math.Cos(a)))
	}
	d, ok := drawn(tool, append(moves, "^", pt(0.5, 0.3))...)
	if !ok || d.Shape != timeline.ShapeArea || len(d.Points) < 8 {
		t.Errorf("drawn round: %+v, %v", d, ok)
	}
}

// TestWhateverTheHandDoes: no sequence of moves makes a drawing that the bout
// refuses, and all of it lies in the picture.
func TestWhateverTheHandDoes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tool := &Tool{Shape: rapid.SampledFrom(timeline.Shapes()).Draw(t, "shape"), Number: 1}
		for range rapid.IntRange(1, 60).Draw(t, "moves") {
			p := pt(rapid.Float64Range(-3, 3).Draw(t, "x"), rapid.Float64Range(-3, 3).Draw(t, "y"))
			var d timeline.Drawing
			done := false
			switch rapid.IntRange(0, 4).Draw(t, "move") {
			case 0:
				tool.Down(p)
			case 1:
				d, done = tool.Up(p)
			case 2:
				d, done = tool.Finish()
			default:
				tool.Drag(p)
			}
			if !done {
				continue
			}
			if d.Shape == timeline.ShapeText {
				d.Text = "words"
			}
			d.End = timeline.OnFilm("film", time.Second)
			tag := timeline.Tag{ID: "d", Kind: timeline.KindDrawing, Place: timeline.OnFilm("film", 0), Drawing: &d}
			if err := timeline.CheckTag(tag); err != nil {
				t.Fatal(err)
			}
			for _, q := range d.Points {
				if q.X < 0 || q.X > 1 || q.Y < 0 || q.Y > 1 {
					t.Fatalf("%v lies outside the picture", q)
				}
			}
		}
	})
}

func TestUsualIsStored(t *testing.T) {
	for _, s := range timeline.Shapes() {
		d := (&Tool{Shape: s, Number: 2}).Usual()
		d.Text, d.End = "words", timeline.OnFilm("film", time.Second)
		if err := timeline.CheckTag(timeline.Tag{ID: "d", Kind: timeline.KindDrawing, Place: timeline.OnFilm("film", 0), Drawing: &d}); err != nil {
			t.Errorf("%s: %v", s, err)
		}
	}
}

func TestHit(t *testing.T) {
	const wide = 16.0 / 9
	ring := timeline.Drawing{Shape: timeline.ShapeRing, Points: []timeline.Point{pt(0.2, 0.2), pt(0.6, 0.6)}}
	arrow := timeline.Drawing{Shape: timeline.ShapeArrow, Points: []timeline.Point{pt(0.1, 0.1), pt(0.5, 0.5)}}
	area := timeline.Drawing{Shape: timeline.ShapeArea, Points: []timeline.Point{pt(0.1, 0.1), pt(0.9, 0.1), pt(0.5, 0.8)}}
	text := timeline.Drawing{Shape: timeline.ShapeText, Points: []timeline.Point{pt(0.1, 0.1)}, Text: "watch her hips"}
	marker := timeline.Drawing{Shape: timeline.ShapeMarker, Points: []timeline.Point{pt(0.5, 0.5)}, Number: 1}
	for _, x := range []struct {
		name   string
		d      timeline.Drawing
		at     timeline.Point
		handle int
		hit    bool
	}{
		{"in the ring", ring, pt(0.4, 0.4), Whole, true},
		{"outside the ring, in its box", ring, pt(0.22, 0.58), Whole, false},
		{"at the ring's corner", ring, pt(0.6, 0.6), 1, true},
		{"on the arrow", arrow, pt(0.3, 0.305), Whole, true},
		{"beside the arrow", arrow, pt(0.3, 0.4), Whole, false},
		{"at its tip", arrow, pt(0.5, 0.51), 1, true},
		{"in the area", area, pt(0.5, 0.3), Whole, true},
		{"outside it", area, pt(0.2, 0.7), Whole, false},
		{"on the text's end", text, pt(0.28, 0.12), Whole, true},
		{"below the text", text, pt(0.28, 0.3), Whole, false},
		{"on the marker", marker, pt(0.51, 0.52), Whole, true},
		{"beside the marker", marker, pt(0.56, 0.5), Whole, false},
		{"a drawing without points", timeline.Drawing{Shape: timeline.ShapeText}, pt(0, 0), Whole, false},
	} {
		if h, ok := Hit(x.d, x.at, wide); ok != x.hit || h != x.handle {
			t.Errorf("%s: %v at point %d", x.name, ok, h)
		}
	}
	if i, _ := Pick([]timeline.Drawing{ring, area, marker}, pt(0.5, 0.5), wide); i != 2 {
		t.Errorf("picked %d, want the one on top", i)
	}
	if i, _ := Pick([]timeline.Drawing{marker}, pt(0.9, 0.9), wide); i != -1 {
		t.Errorf("picked %d where nothing is", i)
	}
}

func TestMoved(t *testing.T) {
	d := timeline.Drawing{Shape: timeline.ShapeRing, Points: []timeline.Point{pt(0.2, 0.2), pt(0.4, 0.5)}}
	got := Moved(d, Whole, 0.9, 0.1)
	if w := got.Points[1].X - got.Points[0].X; math.Abs(w-0.2) > 1e-9 || math.Abs(got.Points[1].X-1) > 1e-9 {
		t.Errorf("all of it: %v", got.Points)
	}
	got = Moved(d, 1, 0.1, -0.1)
	if got.Points[0] != d.Points[0] || math.Abs(got.Points[1].X-0.5)+math.Abs(got.Points[1].Y-0.4) > 1e-9 {
		t.Errorf("one point: %v", got.Points)
	}
	if d.Points[1] != pt(0.4, 0.5) {
		t.Error("the drawing itself was changed")
	}
}

func TestSeen(t *testing.T) {
	f := timeline.Facts{Tags: map[timeline.ID]timeline.Tag{}}
	put := func(id timeline.ID, from, to time.Duration) {
		f.Tags[id] = timeline.Tag{ID: id, Kind: timeline.KindDrawing, Place: timeline.OnFilm("film", from), Drawing: &timeline.Drawing{End: timeline.OnFilm("film", to)}}
	}
	put("long", time.Second, 3*time.Second)
	put("instant", 2*time.Second, 2*time.Second)
	f.Tags["note"] = timeline.Tag{ID: "note", Kind: timeline.KindNote, Place: timeline.OnFilm("film", time.Second)}
	for _, x := range []struct {
		name    string
		footage timeline.ID
		at      time.Duration
		frozen  bool
		want    int
	}{
		{"before", "film", 900 * time.Millisecond, false, 0},
		{"as it comes", "film", time.Second, false, 1},
		{"while it plays past an instant", "film", 2 * time.Second, false, 1},
		{"on the held picture", "film", 2 * time.Second, true, 2},
		{"a frame later", "film", 2033 * time.Millisecond, true, 1},
		{"as it goes", "film", 3 * time.Second, true, 0},
		{"on other film", "other", 2 * time.Second, true, 0},
	} {
		if got := Seen(f, x.footage, x.at, x.frozen); len(got) != x.want {
			t.Errorf("%s: %d drawings, want %d", x.name, len(got), x.want)
		}
	}
	if got := Within(f, "film", timeline.TimeRange{Start: 0, End: 5 * time.Second}); len(got) != 2 || got[0].ID != "long" {
		t.Errorf("in the clip: %v", got)
	}
	if got := Within(f, "film", timeline.TimeRange{Start: 0, End: time.Second}); len(got) != 0 {
		t.Errorf("after the clip: %v", got)
	}
}

package strip

import (
	"bytes"
	"flag"
	"image"
	"image/color"
	"image/png"
	"maps"
	"os"
	"path/filepath"
	"sync"
	"testing"
	"time"

	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/gomono"
	"golang.org/x/image/font/gofont/goregular"

	"whistlecut/timeline"
)

var update = flag.Bool("update", false, "write the golden pictures anew")

// goFonts do not change with the toolkit, so the golden pictures stay the same.
var goFonts = Fonts{Regular: goregular.TTF, Bold: gobold.TTF, Mono: gomono.TTF}

// scene is one picture.
type scene struct {
	name  string
	w, h  int
	scale float64
	light bool
	empty bool // no film
	bare  bool // film, nothing else
	show  func(t *testing.T, v *View, in Input)
}

// jamNamed shows one jam with something round it and puts the now-line into it.
func jamNamed(period, number int, share float64) func(t *testing.T, v *View, in Input) {
	return func(t *testing.T, v *View, in Input) {
		for _, j := range in.Bout.Jams {
			if j.Period == period && j.Number == number {
				i, ok := v.Model.Find(j.ID)
				if !ok {
					t.Fatalf("jam %s is not on the strip", j.Name())
				}
				around := (i.To - i.From) / 8
				v.Axis.Show(i.From-around, i.To+around)
				v.Now, v.HasNow = i.From+time.Duration(share*float64(i.To-i.From)), true
				return
			}
		}
		t.Fatalf("the bout has no jam %d-%d", period, number)
	}
}

func frames(t *testing.T, v *View, in Input) {
	jamNamed(1, 3, 0.004)(t, v, in) // at the start whistle
	v.Axis.Show(v.Now, v.Now)
}

func hovering(t *testing.T, v *View, in Input) {
	jamNamed(1, 3, 0.6)(t, v, in)
	p := painter(t)
	l := p.Arrange(1280, 158, 1, v.Words, v.Axis)
	for _, i := range v.Model.runs[LaneAwayTrips].items {
		if i.Kind == KindTrip && i.Label != "" && inWindow(v.Axis, i.To) {
			x, y := int(v.Axis.X((i.From+i.To)/2)), l.Lanes[LaneAwayTrips].Min.Y+8
			v.Hover = &Hover{X: x, Y: y, Hit: HitAt(l, v.Axis, v.Model, float64(x), float64(y))}
			return
		}
	}
}

func dragging(t *testing.T, v *View, in Input) {
	jamNamed(1, 3, 0.6)(t, v, in)
	for _, i := range v.Model.runs[LaneAwayTrips].items {
		if i.Kind == KindTrip && i.Drag.Has(End) && inWindow(v.Axis, i.To) {
			v.Drag = &Drag{Item: i, Edge: End, At: i.To + 3*time.Second}
			return
		}
	}
}

func inWindow(a *Axis, t time.Duration) bool {
	from, to := a.Window()
	return t > from && t < to
}

var scenes = []scene{
	{name: "whole-dark", w: 1280, h: 158, scale: 1, show: func(_ *testing.T, v *View, _ Input) { v.Now, v.HasNow = v.Axis.Total()*2/3, true }},
	{name: "whole-light", w: 1280, h: 158, scale: 1, light: true},
	{name: "jam-dark", w: 1280, h: 158, scale: 1, show: jamNamed(1, 3, 0.6)},
	{name: "jam-light", w: 1280, h: 158, scale: 1, light: true, show: jamNamed(1, 3, 0.6)},
	{name: "jams-dark", w: 1280, h: 158, scale: 1, show: func(t *testing.T, v *View, in Input) {
		jamNamed(1, 3, 0.6)(t, v, in)
		v.Axis.Zoom(0.25, 700)
	}},
	{name: "frames-dark", w: 1280, h: 158, scale: 1, show: frames},
	{name: "hover-dark", w: 1280, h: 158, scale: 1, show: hovering},
	{name: "drag-light", w: 1280, h: 158, scale: 1, light: true, show: dragging},
	{name: "double-dark", w: 1280, h: 316, scale: 2, show: jamNamed(1, 3, 0.6)},
	{name: "low-dark", w: 640, h: 110, scale: 1, show: jamNamed(1, 3, 0.6)},
	{name: "empty-dark", w: 640, h: 158, scale: 1, empty: true},
	{name: "empty-light", w: 640, h: 158, scale: 1, light: true, empty: true},
	{name: "bare-dark", w: 640, h: 158, scale: 1, bare: true},
}

func painter(tb testing.TB) *Painter {
	tb.Helper()
	p, err := NewPainter(goFonts)
	if err != nil {
		tb.Fatal(err)
	}
	return p
}

func draw(t *testing.T, p *Painter, s scene, full Input) *image.RGBA {
	in := full
	v := View{Words: in.Words, Colours: Dark()}
	if s.light {
		v.Colours = Light()
	}
	switch {
	case s.empty:
		v.Axis = NewAxis(nil)
	case s.bare:
		v.Axis = NewAxis(Pieces(in.Facts, in.Camera, nil))
	default:
		v.Axis = NewAxis(Pieces(in.Facts, in.Camera, nil))
		v.Model = Build(in, v.Axis)
	}
	p.Arrange(s.w, s.h, s.scale, v.Words, v.Axis)
	if s.show != nil {
		s.show(t, &v, in)
	}
	img := image.NewRGBA(image.Rect(0, 0, s.w, s.h))
	p.Paint(img, s.scale, v)
	return img
}

var played = sync.OnceValue(func() Input { return Invented(5, 8, 0) })

// bout is a short bout with one trip nobody saw and one jam whose place is not sure.
func bout(tb testing.TB) Input {
	tb.Helper()
	in := played()
	f := &in.Facts
	f.Tags, f.Marks, f.Footage = maps.Clone(f.Tags), maps.Clone(f.Marks), maps.Clone(f.Footage)
	trips, jams := 0, 0
	for _, j := range in.Bout.Jams {
		for _, id := range j.Tags {
			t := in.Facts.Tags[id]
			if t.Kind == timeline.KindTrip && t.Trip.Number > 1 && !t.Trip.Open {
				if trips++; trips%9 == 4 {
					t.Seen = timeline.NotSeen
					in.Facts.Tags[id] = t
				}
			}
		}
		if jams++; jams%4 == 0 {
			m := in.Facts.Marks["mark-"+j.ID]
			m.Hand, m.Confidence = false, 0.6
			in.Facts.Marks["mark-"+j.ID] = m
		}
	}
	in.Bout = timeline.Derive(in.Facts)
	return in
}

func TestGoldenPictures(t *testing.T) {
	in := bout(t)
	p := painter(t)
	for _, s := range scenes {
		t.Run(s.name, func(t *testing.T) {
			img := draw(t, p, s, in)
			path := filepath.Join("testdata", s.name+".png")
			if *update {
				writePNG(t, path, img)
				return
			}
			f, err := os.Open(path)
			if err != nil {
				t.Fatal(err)
			}
			defer f.Close()
			want, err := png.Decode(f)
			if err != nil {
				t.Fatal(err)
			}
			if n := differing(img, want); n > 0 {
				out := filepath.Join(t.ArtifactDir(), s.name+".png")
				writePNG(t, out, img)
				t.Errorf("%d pixels differ from %s; see %s (-update writes it anew)", n, path, out)
			}
		})
	}
}

// differing counts the pixels that differ by more than rounding.
func differing(a *image.RGBA, b image.Image) int {
	if a.Bounds() != b.Bounds() {
		return a.Bounds().Dx() * a.Bounds().Dy()
	}
	n := 0
	for y := range a.Bounds().Dy() {
		for x := range a.Bounds().Dx() {
			c, d := a.RGBAAt(x, y), color.RGBAModel.Convert(b.At(x, y)).(color.RGBA)
			if off(c.R, d.R) || off(c.G, d.G) || off(c.B, d.B) || c.A != d.A {
				n++
			}
		}
	}
	return n
}

func off(a, b uint8) bool { return max(a, b)-min(a, b) > 2 }

func writePNG(t *testing.T, path string, img image.Image) {
	t.Helper()
	var b bytes.Buffer
	enc := png.Encoder{CompressionLevel: png.BestCompression}
	if err := enc.Encode(&b, img); err != nil {
		t.Fatal(err)
	}
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
}

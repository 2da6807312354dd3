package picture

import (
	"flag"
	"fmt"
	"image"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"testing"
	"time"

	"whistlecut/timeline"
	"whistlecut/timeline/simulate"
)

var update = flag.Bool("update", false, "write the golden pictures anew")

// moment is a made-up scene: a pack at s0, one jammer behind and one far ahead,
// one skater down, two boxed, one on the bench, referees.
func moment(at time.Duration, s0 float64) simulate.Scene {
	sc := simulate.Scene{At: at, Phase: simulate.PhaseJam, Running: true, Period: 1, Jam: 3}
	numbers := [2][]timeline.Number{{"73", "27", "404", "8", "1012"}, {"19", "61", "052", "5", "912"}}
	for side := range 2 {
		for i, n := range numbers[side] {
			spot := simulate.Spot{S: s0 + float64(i)*3.2 + float64(side)*1.3, D: 2 + math.Mod(float64(i*5+side*3), 9)}
			f := simulate.Figure{SkaterRef: timeline.SkaterRef{Side: timeline.Sides[side], Number: n}, Role: timeline.Blocker, Spot: spot}
			switch i {
			case 0:
				f.Role, f.Star, f.Speed = timeline.Jammer, true, 14
				f.Spot.S = s0 - 6 + float64(side)*34
			case 1:
				f.Role, f.Stripe = timeline.Pivot, true
			case 3:
				if side == 0 {
					f.Stance = simulate.Down
				}
			}
			f.Pos, f.Heading = f.Spot.Point(), simulate.Heading(f.Spot.S)
			sc.Skaters = append(sc.Skaters, f)
		}
		sc.Skaters = append(sc.Skaters, simulate.Figure{
			SkaterRef: timeline.SkaterRef{Side: timeline.Sides[side], Number: timeline.Number(fmt.Sprint(33 + side))},
			Stance:    simulate.Sitting, Where: simulate.InBox, Pos: simulate.Point{X: -5.5 + float64(side)*11, Y: 38.5},
		})
	}
	for i, r := range simulate.Crew[:8] {
		spot := simulate.Spot{S: s0 + float64(i)*6, D: -3}
		if i > 3 {
			spot.D = simulate.Width(spot.S) + 4
		}
		sc.Officials = append(sc.Officials, simulate.Official{Role: r, Pos: spot.Point(), Heading: simulate.Heading(spot.S), Signal: i == 2})
	}
	return sc
}

func paintMoment(t testing.TB, place Place, w, h int, s0 float64) *Frame {
	t.Helper()
	hall, err := NewHall(place, w, h)
	if err != nil {
		t.Fatal(err)
	}
	p, err := NewPainter(hall, [2]timeline.Team{{Colour: "#56B4E9"}, {}})
	if err != nil {
		t.Fatal(err)
	}
	o, c := NewOperator(place, w, h), NewCast()
	f := newFrame(w, h)
	for k := range 5 {
		sc := moment(time.Duration(k)*time.Second/30, s0+0.4*float64(k))
		p.Paint(f, o.Update(sc), c.Update(sc), k)
	}
	return f
}

// Golden pictures, compared with a tolerance: other machines may fuse
// multiplications and round differently.
func TestGoldenPictures(t *testing.T) {
	for _, c := range []struct {
		name  string
		place Place
		s0    float64
	}{
		{"start-straight", StandSide, 2},
		{"turn-two", StandSide, 45},
		{"back-straight", StandSide, 85},
		{"end-camera", StandEnd, 118},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := paintMoment(t, c.place, 480, 270, c.s0).RGBA()
			path := filepath.Join("testdata", c.name+".png")
			if *update {
				writePNG(t, path, got)
				return
			}
			want := readPNG(t, path)
			if got.Bounds() != want.Bounds() {
				t.Fatalf("size %v, want %v", got.Bounds(), want.Bounds())
			}
			sum, far := 0.0, 0
			for y := range 270 {
				for x := range 480 {
					a, b := got.RGBAAt(x, y), want.(*image.RGBA).RGBAAt(x, y)
					d := math.Abs(float64(a.R)-float64(b.R)) + math.Abs(float64(a.G)-float64(b.G)) + math.Abs(float64(a.B)-float64(b.B))
					sum += d
					if d > 30 {
						far++
					}
				}
			}
			if mean := sum / (480 * 270); mean > 0.5 || far > 30 {
				t.Errorf("differs by %.2f on the mean, %d pixels by far; look at it, then run with -update", mean, far)
			}
		})
	}
}

func writePNG(t *testing.T, path string, m image.Image) {
	t.Helper()
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := png.Encode(f, m); err != nil {
		t.Fatal(err)
	}
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
}

func readPNG(t *testing.T, path string) image.Image {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	m, err := png.Decode(f)
	if err != nil {
		t.Fatal(err)
	}
	out := image.NewRGBA(m.Bounds())
	for y := range m.Bounds().Dy() {
		for x := range m.Bounds().Dx() {
			out.Set(x, y, m.At(x, y))
		}
	}
	return out
}

func TestSameSceneSamePicture(t *testing.T) {
	a, b := paintMoment(t, StandSide, 320, 180, 20), paintMoment(t, StandSide, 320, 180, 20)
	for i := range a.Buf {
		if a.Buf[i] != b.Buf[i] {
			t.Fatalf("byte %d differs", i)
		}
	}
}

// A panorama point bent to the camera lands where the camera projects it.
func TestBackdropAgreesWithProjection(t *testing.T) {
	for _, place := range []Place{StandSide, StandEnd} {
		h, err := NewHall(place, 320, 180)
		if err != nil {
			t.Fatal(err)
		}
		for _, turn := range []float64{-0.35, 0, 0.4} {
			cam := Camera{Place: place, Yaw: place.Facing + turn, Pitch: 0.19, Focal: 300, W: 320, H: 180}
			view := cam.projector()
			seen := 0
			for x := -44.0; x <= 44; x += 11 {
				for y := -27.0; y <= 60; y += 9 {
					sx, sy, depth := view.view(x, y, 0.5)
					if depth < 10 || sx < 1 || sy < 1 || sx > 318 || sy > 178 {
						continue
					}
					seen++
					tx, ty, _ := h.texel(x, y, 0.5)
					l := line{hall: h, cam: cam, step: 1, tw: h.tex.w, th: h.tex.h}
					l.prepare()
					// Row and column as pixel centres, between whole ones.
					row := int(sy - 0.5)
					at := func(row int) (u, v float64) {
						l.row(row, 320)
						i := int(sx - 0.5)
						u0, v0 := l.at(i)
						u1, v1 := l.at(i + 1)
						f := sx - 0.5 - float64(i)
						return (float64(u0)*(1-f) + float64(u1)*f) / 65536, (float64(v0)*(1-f) + float64(v1)*f) / 65536
					}
					u0, v0 := at(row)
					u1, v1 := at(row + 1)
					f := sy - 0.5 - float64(row)
					u, v := u0*(1-f)+u1*f+0.5, v0*(1-f)+v1*f+0.5
					if math.Hypot(u-tx, v-ty) > 0.1 {
						t.Fatalf("(%g, %g) is drawn from texel %.2f, %.2f; it was painted at %.2f, %.2f", x, y, u, v, tx, ty)
					}
				}
			}
			if seen < 10 {
				t.Errorf("only %d points in view at %g", seen, turn)
			}
		}
	}
}

// Anywhere on the track, at the widest view of a small film, a number of two
// digits is at least seven pixels high.
func TestNumbersAreLargeEnough(t *testing.T) {
	p := &Painter{}
	for s := 0.0; s < simulate.InsideLap; s += 5 {
		for _, d := range []float64{1, simulate.Width(s) - 1} {
			pos := simulate.Spot{S: s, D: d}.Point()
			cam := Camera{Place: StandSide, Pitch: 0.19, Focal: widest * 640, W: 640, H: 360}
			cam.Yaw = StandSide.azimuth(pos.X, pos.Y)
			view := cam.projector()
			q := p.pencilFor(&view, &Actor{X: pos.X, Y: pos.Y})
			const twoDigits = 0.95 // ft, as torso draws them
			if h := twoDigits * q.s; h < 5.5 {
				t.Errorf("at s=%g, d=%g a number is %.1f pixels high", s, d, h)
			}
		}
	}
}

func TestSizesAreChecked(t *testing.T) {
	for _, c := range [][2]int{{0, 0}, {641, 360}, {640, 361}, {20000, 360}, {-2, 64}} {
		if _, err := NewFrame(c[0], c[1]); err == nil {
			t.Errorf("a frame of %v was made", c)
		}
		if _, err := NewHall(StandSide, c[0], c[1]); err == nil {
			t.Errorf("a hall for %v was made", c)
		}
	}
	if _, err := Hex("#12345"); err == nil {
		t.Error("#12345 was taken for a colour")
	}
	if c, err := Hex("#FFFFFF"); err != nil || c != (Colour{235, 128, 128}) {
		t.Errorf("white is %v, %v", c, err)
	}
}

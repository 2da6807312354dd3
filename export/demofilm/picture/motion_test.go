package picture

import (
	"math"
	"testing"
	"time"

	"whistlecut/timeline"
	"whistlecut/timeline/simulate"
)

// The operator follows a jam smoothly, stays in the panorama and keeps the
// jammers in view most of the time.
func TestOperatorFollows(t *testing.T) {
	g := simulate.Play(3, simulate.Options{Periods: 1, Jams: 2, LeadIn: 5 * time.Second})
	for _, place := range []Place{StandSide, StandEnd} {
		o := NewOperator(place, 1280, 720)
		var last Camera
		lastTurn, stars, inView := 0.0, 0, 0
		fps := 30
		for n := range int(g.Duration().Seconds()) * fps {
			s := g.Scene(time.Duration(n) * time.Second / time.Duration(fps))
			cam := o.Update(s)
			if d := math.Abs(turnTo(place.Facing, cam.Yaw)); d > maxTurn+0.02 {
				t.Fatalf("frame %d: turned by %.2f", n, d)
			}
			half := math.Atan(0.5 * float64(cam.W) / cam.Focal / math.Cos(cam.Pitch+0.35))
			if d := math.Abs(turnTo(place.Facing, cam.Yaw)) + half; d > panoramaHalf+0.09 {
				t.Fatalf("frame %d: looks %.2f past the panorama", n, d-panoramaHalf)
			}
			if n > 0 {
				turn := turnTo(last.Yaw, cam.Yaw)
				// 40 degrees a second are fast, jerks of a third of a degree a frame are not human.
				if math.Abs(turn) > 0.7/float64(fps) || math.Abs(turn-lastTurn) > 0.006 {
					t.Fatalf("frame %d: turns by %.4f after %.4f", n, turn, lastTurn)
				}
				lastTurn = turn
				if r := cam.Focal / last.Focal; r < 0.97 || r > 1.03 {
					t.Fatalf("frame %d: zooms by %.3f", n, r)
				}
			}
			last = cam
			view := cam.projector()
			for i := range s.Skaters {
				f := &s.Skaters[i]
				if s.Running && f.Star && f.Where == simulate.OnTrack {
					stars++
					if x, y, d := view.view(f.Pos.X, f.Pos.Y, 3); d > 0 && x > 0 && x < 1280 && y > 0 && y < 720 {
						inView++
					}
				}
			}
		}
		share := float64(inView) / float64(stars)
		t.Logf("jammers in view %.1f per cent of %d", 100*share, stars)
		if stars == 0 || share < 0.85 {
			t.Errorf("jammers in view only %.2f of %d", share, stars)
		}
	}
}

// Nobody jumps from frame to frame: strides, falls and turns are gradual.
func TestCastIsGradual(t *testing.T) {
	g := simulate.Play(5, simulate.Options{Periods: 1, Jams: 1, LeadIn: 5 * time.Second, Rates: simulate.Rates{Falls: 4}})
	c := NewCast()
	type key struct {
		side timeline.Side
		n    timeline.Number
	}
	last := map[key]Actor{}
	fell := 0
	for n := range 60 * 30 {
		for _, a := range c.Update(g.Scene(time.Duration(n) * time.Second / 30)) {
			if a.Side == timeline.NoSide {
				continue
			}
			k := key{a.Side, a.Number}
			if b, ok := last[k]; ok {
				stride := math.Abs(math.Remainder(a.Stride-b.Stride, 2*math.Pi))
				turn := math.Abs(math.Remainder(a.Heading-b.Heading, 2*math.Pi))
				if math.Abs(a.Fall-b.Fall) > 0.13 || math.Abs(a.Sit-b.Sit) > 0.1 || stride > 0.7 || turn > 1 {
					t.Fatalf("frame %d: %v jumps from %+v to %+v", n, k, b, a)
				}
				if a.Fall > 0 && b.Fall == 0 {
					fell++
				}
			}
			last[k] = a
		}
	}
	if fell == 0 {
		t.Error("nobody fell: the test saw nothing")
	}
	// A step back is a new beginning, not a motion.
	a := c.Update(g.Scene(0))
	if a[0].Speed != 0 {
		t.Errorf("speed %g after a jump in time", a[0].Speed)
	}
}

// Seen by a camera that stands still, little changes from frame to frame.
func TestFramesDontPop(t *testing.T) {
	g := simulate.Play(2, simulate.Options{Periods: 1, Jams: 1, LeadIn: 5 * time.Second})
	hall, err := NewHall(StandSide, 320, 180)
	if err != nil {
		t.Fatal(err)
	}
	p, err := NewPainter(hall, g.Teams)
	if err != nil {
		t.Fatal(err)
	}
	cam := Camera{Place: StandSide, Pitch: 0.19, Focal: widest * 320, W: 320, H: 180}
	c := NewCast()
	now, before := newFrame(320, 180), newFrame(320, 180)
	most, sum := 0.0, 0.0
	const frames = 900
	for n := range frames {
		p.Paint(now, cam, c.Update(g.Scene(time.Duration(n)*time.Second/30)), n)
		if n > 0 {
			d := 0.0
			for i := range now.Y {
				d += math.Abs(float64(now.Y[i]) - float64(before.Y[i]))
			}
			most = max(most, d/float64(len(now.Y)))
			sum += d / float64(len(now.Y))
		}
		now, before = before, now
	}
	t.Logf("change from frame to frame: %.2f levels on the mean, at most %.2f", sum/frames, most)
	if sum == 0 || most > 3 {
		t.Errorf("a frame differs from the one before by %.2f levels on the mean", most)
	}
}

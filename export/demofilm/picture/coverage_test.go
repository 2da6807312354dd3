package picture

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// painted draws with draw on black and returns the area that became white.
func painted(t *testing.T, draw func(c *coverage, white Colour)) float64 {
	t.Helper()
	f := newFrame(200, 200)
	c := &coverage{f: f}
	draw(c, Colour{235, 128, 128})
	sum := 0.0
	for _, y := range f.Y {
		sum += (float64(y) - 16) / 219
	}
	for i, v := range c.acc {
		if v != 0 {
			t.Fatalf("acc[%d] is %d after painting", i, v)
		}
	}
	return sum
}

func TestAreas(t *testing.T) {
	pent := 10.0 / 2 * 0.45 * math.Sin(math.Pi/5) // of a star of radius 1
	for _, c := range []struct {
		name string
		want float64
		draw func(c *coverage, w Colour)
	}{
		{"disc", math.Pi * 30 * 30, func(c *coverage, w Colour) { c.oval(80.3, 90.7, 30, 30, w, 1) }},
		{"small ellipse", math.Pi * 2.5 * 1.2, func(c *coverage, w Colour) { c.oval(80.3, 90.7, 2.5, 1.2, w, 1) }},
		{"bar", 2*10*60 + math.Pi*100, func(c *coverage, w Colour) { c.limb(50, 60, 10, 50+60*0.6, 60+60*0.8, 10, w) }},
		{"disc within a disc", math.Pi * 400, func(c *coverage, w Colour) { c.limb(100, 100, 20, 103, 100, 5, w) }},
		{"quad", 40 * 30, func(c *coverage, w Colour) {
			c.quad(quad{{20.5, 20.25}, {60.5, 20.25}, {60.5, 50.25}, {20.5, 50.25}}, w, 1)
		}},
		{"half of a quad", 40 * 30 / 2, func(c *coverage, w Colour) {
			c.quad(quad{{20.5, 20.25}, {60.5, 20.25}, {60.5, 50.25}, {20.5, 50.25}}, w, 0.5)
		}},
		{"star", pent * 40 * 40, func(c *coverage, w Colour) { c.star(100.2, 99.1, 40, w) }},
		{"outside", 0, func(c *coverage, w Colour) { c.oval(-50, 300, 30, 30, w, 1) }},
		{"half outside", math.Pi * 450, func(c *coverage, w Colour) { c.oval(0, 100, 30, 30, w, 1) }},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := painted(t, c.draw)
			if math.Abs(got-c.want) > 0.02*c.want+0.3 {
				t.Errorf("area %.2f, want %.2f", got, c.want)
			}
		})
	}
}

// Shapes anywhere, of any size, leave the gathering buffer clean and don't
// panic; a figure that moves by a hundredth of a pixel changes little.
func TestShapesAnywhere(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := newFrame(64, 64)
		c := &coverage{f: f}
		coord := rapid.Float64Range(-120, 180)
		size := rapid.Float64Range(0, 90)
		for range rapid.IntRange(1, 6).Draw(t, "shapes") {
			x, y, r := coord.Draw(t, "x"), coord.Draw(t, "y"), size.Draw(t, "r")
			w := Colour{235, 90, 200}
			switch rapid.IntRange(0, 3).Draw(t, "kind") {
			case 0:
				c.oval(x, y, r, size.Draw(t, "ry"), w, 0.7)
			case 1:
				c.limb(x, y, r, coord.Draw(t, "x1"), coord.Draw(t, "y1"), size.Draw(t, "r1"), w)
			case 2:
				c.star(x, y, r, w)
			case 3:
				c.quad(quad{{x, y}, {x + r, y}, {x + r, y + r}, {x, y + 1}}, w, 1)
			}
		}
		for i, v := range c.acc {
			if v != 0 {
				t.Fatalf("acc[%d] is %d", i, v)
			}
		}
	})
}

func TestShapesDontPop(t *testing.T) {
	last := -1.0
	for k := range 400 {
		x := 50 + float64(k)*0.01
		sum := 0.0
		f := newFrame(200, 200)
		c := &coverage{f: f}
		c.star(x, 60.3, 12, Colour{235, 128, 128})
		for i, y := range f.Y {
			sum += float64(i%200) * (float64(y) - 16)
		}
		if last >= 0 && math.Abs(sum-last) > 2500 {
			t.Fatalf("at %g the picture jumps by %g", x, sum-last)
		}
		last = sum
	}
}

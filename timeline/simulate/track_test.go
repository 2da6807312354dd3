package simulate

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if math.Abs(got-want) > within {
		t.Errorf("%s is %.4f, want %.4f within %g", what, got, want, within)
	}
}

func length(line []Point) float64 {
	sum := 0.0
	for i, p := range line {
		q := line[(i+1)%len(line)]
		sum += math.Hypot(q.X-p.X, q.Y-p.Y)
	}
	return sum
}

// The figures follow from the 2010 Appendix B radii; the sum of both boundaries
// (about 385 ft) and the outer size (88 x 55 ft) are printed in the Track Layout
// Guide 2015, the widths 13-15 ft in league track articles of 2011.
func TestTrackMeasures(t *testing.T) {
	inside, outside := length(InsideLine(20000)), length(OutsideLine(20000))
	near(t, "inside line", InsideLap, 148.54, 0.005)
	near(t, "inside line drawn", inside, 148.54, 0.01)
	near(t, "outside line", outside, 236.62, 0.01)
	near(t, "both lines", inside+outside, 385, 0.5)
	var x, y float64
	for _, p := range OutsideLine(20000) {
		x, y = max(x, p.X), max(y, p.Y)
	}
	near(t, "track length", 2*x, 88, 0.01)
	near(t, "track width", 2*y, 55, 0.01)

	for _, c := range []struct {
		name     string
		s, width float64
	}{
		{"turn 1 entry (pivot line)", 30, 13},
		{"turn 1 apex", 30 + turnLength/2, 13.98},
		{"turn 1 exit", turn1End, 15},
		{"turn 2 entry", backEnd, 13},
		{"turn 2 apex", backEnd + turnLength/2, 13.98},
		{"turn 2 exit", turn2End, 15},
		{"jammer line", 0, 14.714},
	} {
		near(t, "width at "+c.name, Width(c.s), c.width, 0.005)
		near(t, "width just before "+c.name, Width(c.s-1e-6), c.width, 0.005)
	}
	near(t, "jammer line", JammerLine()[1].Y, -27.214, 0.001)
	near(t, "jammer line", JammerLine()[1].X, -12.5, 0)
	near(t, "pivot line", PivotLine()[1].Y, -25.5, 0.001)
	near(t, "pivot line", PivotLine()[1].X, 17.5, 0)
	near(t, "turn 1 ends at", turn1End, 69.27, 0.005)
	near(t, "back straight ends at", backEnd, 104.27, 0.005)
	near(t, "turn 2 ends at", turn2End, 143.54, 0.005)
}

// Turn marks: 7 ft 0.5 in between neighbours on the inside line (2010 Appendix
// B); 32.72 degrees and 10 ft in the lane 5.01 ft out follow.
func TestTenFootMarks(t *testing.T) {
	marks := TenFootMarks()
	if len(marks) != 16 {
		t.Fatalf("%d marks, want 2 + 5 + 4 + 5", len(marks))
	}
	var xs []float64
	for _, s := range marks {
		p := Spot{s, 0}.Point()
		if math.Abs(p.X) <= HalfStraight && math.Abs(math.Abs(p.Y)-InsideRadius) < 1e-9 {
			xs = append(xs, p.X)
		}
	}
	want := []float64{-2.5, 7.5, 12.5, 2.5, -7.5, -17.5}
	for i, x := range want {
		near(t, "mark on a straight", xs[i], x, 1e-9)
	}
	near(t, "turn mark spacing at d 5.01", Along(marks[2], marks[3], 5.01), 10, 0.005)
	near(t, "turn mark angle", (marks[3]-marks[2])/InsideRadius*180/math.Pi, 32.72, 0.01)
}

// A lap at offset d is longer by 2 pi d: only the turns grow.
func TestLapAtOffset(t *testing.T) {
	for _, d := range []float64{0, 5, 10} {
		near(t, "lap", Along(3, 3+InsideLap, d), InsideLap+2*math.Pi*d, 1e-9)
		near(t, "lap", Lap(d), InsideLap+2*math.Pi*d, 1e-9)
	}
	near(t, "turn at 6 ft", Along(pivotS, turn1End, 6), math.Pi*18.5, 1e-9)
	near(t, "backwards", Along(turn1End, pivotS, 6), -math.Pi*18.5, 1e-9)
}

func TestSpotsAndPointsAgree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := Spot{rapid.Float64Range(0, InsideLap-1e-9).Draw(t, "s"), rapid.Float64Range(-5, 30).Draw(t, "d")}
		q := SpotAt(p.Point())
		if math.Abs(Gap(p.S, q.S)) > 1e-6 || math.Abs(p.D-q.D) > 1e-6 {
			t.Fatalf("%v -> %v -> %v", p, p.Point(), q)
		}
		// One small step ahead in s moves along Heading by Stretch.
		const h = 1e-5
		a, b := p.Point(), Spot{p.S + h, p.D}.Point()
		step := math.Hypot(b.X-a.X, b.Y-a.Y) / h
		if math.Abs(step-Stretch(p.S+h/2, p.D)) > 1e-3 {
			t.Fatalf("step %.4f, stretch %.4f at %v", step, Stretch(p.S, p.D), p)
		}
		turn := math.Atan2(b.Y-a.Y, b.X-a.X) - Heading(p.S)
		if math.Abs(math.Sin(turn)) > 1e-3 || math.Cos(turn) < 0 {
			t.Fatalf("moves along %.4f, heading %.4f at %v", turn+Heading(p.S), Heading(p.S), p)
		}
	})
}

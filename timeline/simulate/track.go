package simulate

import "math"

// The regulation track in feet: x to the right, y up, the origin at its centre,
// skating counter-clockwise, the start straight at the bottom and run towards
// +x. Radii, half-straight and the offset of the outer arcs are those of the
// 2010 Appendix B, the lines those of the 2013 rules (2.1).
const (
	InsideRadius  = 12.5 // of the inside line in the turns
	OutsideRadius = 26.5 // of the outside line in the turns
	HalfStraight  = 17.5 // half the length of an inside straight
	OuterOffset   = 1.0  // the outer arcs' centres lie this far off the long axis
	StartZone     = 30.0 // from the jammer line to the pivot line
)

// Distances along the inside line from the jammer line, where its pieces end.
const (
	pivotS     = StartZone
	turnLength = math.Pi * InsideRadius
	turn1End   = pivotS + turnLength
	backEnd    = turn1End + 2*HalfStraight
	turn2End   = backEnd + turnLength

	// InsideLap is the length of the inside line, 148.54 ft.
	InsideLap = 4*HalfStraight + 2*turnLength
)

// Point is a place on the floor in feet.
type Point struct{ X, Y float64 }

// Spot is a place by the track: S feet along the inside line from the jammer
// line, D feet outwards from that line. Negative D is the infield, D above
// Width(S) lies beyond the outside line. S may run over whole laps.
type Spot struct{ S, D float64 }

// Wrap brings a distance along the inside line into [0, InsideLap).
func Wrap(s float64) float64 {
	s -= InsideLap * math.Floor(s/InsideLap)
	if s < 0 || s >= InsideLap { // rounding
		return 0
	}
	return s
}

// Gap is how far b is ahead of a along the inside line, the shorter way round:
// in [-InsideLap/2, InsideLap/2), negative when b is behind.
func Gap(a, b float64) float64 {
	return Wrap(b-a+InsideLap/2) - InsideLap/2
}

// Point gives the place of a spot in x and y.
func (p Spot) Point() Point {
	s := Wrap(p.S)
	switch {
	case s < pivotS:
		return Point{s - (StartZone - HalfStraight), -InsideRadius - p.D}
	case s < turn1End:
		return polar(HalfStraight, -math.Pi/2+(s-pivotS)/InsideRadius, InsideRadius+p.D)
	case s < backEnd:
		return Point{HalfStraight - (s - turn1End), InsideRadius + p.D}
	case s < turn2End:
		return polar(-HalfStraight, math.Pi/2+(s-backEnd)/InsideRadius, InsideRadius+p.D)
	}
	return Point{-HalfStraight + (s - turn2End), -InsideRadius - p.D}
}

func polar(cx, angle, r float64) Point {
	return Point{cx + r*math.Cos(angle), r * math.Sin(angle)}
}

// SpotAt is the inverse of Spot.Point. On the long axis of the infield, where
// two spots fit, it takes the start straight's.
func SpotAt(p Point) Spot {
	switch {
	case p.X > HalfStraight:
		a := math.Atan2(p.Y, p.X-HalfStraight)
		return Spot{pivotS + (a+math.Pi/2)*InsideRadius, math.Hypot(p.X-HalfStraight, p.Y) - InsideRadius}
	case p.X < -HalfStraight:
		a := math.Atan2(p.Y, p.X+HalfStraight)
		if a < 0 {
			a += 2 * math.Pi
		}
		return Spot{backEnd + (a-math.Pi/2)*InsideRadius, math.Hypot(p.X+HalfStraight, p.Y) - InsideRadius}
	case p.Y > 0:
		return Spot{turn1End + HalfStraight - p.X, p.Y - InsideRadius}
	}
	return Spot{Wrap(p.X + StartZone - HalfStraight), -p.Y - InsideRadius}
}

// Heading is the direction of counter-clockwise skating at s, in radians from
// +x, in [-pi, pi).
func Heading(s float64) float64 {
	s = Wrap(s)
	a := 0.0
	switch {
	case s < pivotS:
	case s < turn1End:
		a = (s - pivotS) / InsideRadius
	case s < backEnd:
		a = math.Pi
	case s < turn2End:
		a = math.Pi + (s-backEnd)/InsideRadius
	}
	if a >= math.Pi {
		a -= 2 * math.Pi
	}
	return a
}

// Width is the distance at s from the inside to the outside line, square to the
// inside line: 13 ft at the turn entries to 15 ft at the turn exits.
func Width(s float64) float64 {
	s = Wrap(s)
	straight := func(sinceExit float64) float64 { return 15 - sinceExit*2*OuterOffset/(2*HalfStraight) }
	turn := func(sinceEntry float64) float64 {
		a := -math.Pi/2 + sinceEntry/InsideRadius
		sin, cos := math.Sincos(a)
		return OuterOffset*sin + math.Sqrt(OutsideRadius*OutsideRadius-OuterOffset*OuterOffset*cos*cos) - InsideRadius
	}
	switch {
	case s < pivotS:
		return straight(s + 2*HalfStraight - StartZone)
	case s < turn1End:
		return turn(s - pivotS)
	case s < backEnd:
		return straight(s - turn1End)
	case s < turn2End:
		return turn(s - backEnd)
	}
	return straight(s - turn2End)
}

// Lap is the length of a lap at offset d outside the inside line.
func Lap(d float64) float64 { return InsideLap + 2*math.Pi*d }

// turned is how much of the inside line from 0 to s (any number of laps) lies in turns.
func turned(s float64) float64 {
	laps := math.Floor(s / InsideLap)
	s -= laps * InsideLap
	t := laps * 2 * turnLength
	t += min(max(s-pivotS, 0), turnLength)
	t += min(max(s-backEnd, 0), turnLength)
	return t
}

// Along is the distance skated from s1 to s2 in the lane at offset d; negative
// when s2 < s1.
func Along(s1, s2, d float64) float64 {
	return s2 - s1 + (turned(s2)-turned(s1))*d/InsideRadius
}

// Stretch is how many feet the lane at offset d is long per foot of inside line at s.
func Stretch(s, d float64) float64 {
	s = Wrap(s)
	if s >= pivotS && s < turn1End || s >= backEnd && s < turn2End {
		return max(0.1, 1+d/InsideRadius)
	}
	return 1
}

// skate is where along the line a way of x feet in the lane at offset d leads
// from s. Where the track's pieces meet it falls a little short.
func skate(s, d, x float64) float64 {
	step := x / Stretch(s, d)
	return s + x/max(Stretch(s, d), Stretch(s+step, d))
}

// Ahead is how far b is ahead of a by the rules: the shortest distance parallel
// to the inside boundary, hip to hip (Rules 2.3); negative when b is behind.
// In the turns the distance depends on the lane; this takes the smaller radius
// of the two, the reading under which two skaters side by side of a third are
// never farther from her than the nearer of them.
func Ahead(a, b Spot) float64 {
	d := max(0, min(a.D, b.D))
	s := Wrap(a.S)
	return Along(s, s+Gap(a.S, b.S), d)
}

// InBounds reports whether hips at the spot are on the track; the lines belong
// to it (Glossary: in bounds).
func (p Spot) InBounds() bool { return p.D >= 0 && p.D <= Width(p.S) }

// JammerLine and PivotLine are the two lines across the start straight, from
// the inside to the outside boundary.
func JammerLine() [2]Point { return [2]Point{Spot{0, 0}.Point(), Spot{0, Width(0)}.Point()} }

// PivotLine: see JammerLine. It lies at the head of the straight, exactly 30 ft
// ahead of the jammer line (2013 rules 2.1).
func PivotLine() [2]Point {
	return [2]Point{Spot{pivotS, 0}.Point(), Spot{pivotS, Width(pivotS)}.Point()}
}

// InsideLine and OutsideLine are the two boundaries as closed lines of n points
// each, evenly spread along the inside line, for drawing.
func InsideLine(n int) []Point {
	return boundary(n, func(float64) float64 { return 0 })
}

// OutsideLine: see InsideLine.
func OutsideLine(n int) []Point { return boundary(n, Width) }

func boundary(n int, offset func(s float64) float64) []Point {
	line := make([]Point, n)
	for i := range line {
		s := InsideLap * float64(i) / float64(n)
		line[i] = Spot{s, offset(s)}.Point()
	}
	return line
}

// TenFootMarks are the distances along the inside line of the marks across the
// track: every 10 ft on the straights behind the pivot line, five in each turn,
// 7 ft 0.5 in apart as a tape is stretched along the inside line (2010 Appendix
// B): chords, so 32.72 degrees and 10 ft in the lane 5 ft out.
func TenFootMarks() []float64 {
	marks := []float64{10, 20}
	const chord = 7 + 0.5/12
	step := 2 * InsideRadius * math.Asin(chord/(2*InsideRadius))
	for i := 1; i <= 5; i++ {
		marks = append(marks, pivotS+float64(i)*step)
	}
	for x := 12.5; x >= -HalfStraight; x -= 10 {
		marks = append(marks, turn1End+HalfStraight-x)
	}
	for i := 1; i <= 5; i++ {
		marks = append(marks, backEnd+float64(i)*step)
	}
	return marks
}

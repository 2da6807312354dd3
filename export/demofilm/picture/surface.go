package picture

import (
	"math"
	"sync"

	"whistlecut/timeline/simulate"
)

// The hall in feet: a floor with the track in its middle, a stand behind a low
// barrier on either long side, walls.
const (
	barrierY      = 50.0
	barrierHeight = 2.8
	standFoot     = 51.0 // |y| where the lowest row begins
	standTop      = 86.0
	standRise     = 0.46 // ft of height per ft of depth
	standLow      = 1.2  // height of the lowest row
	rowDepth      = 2.8
	wallX         = 92.0
	wallHeight    = 34.0
)

// The penalty box in feet, round the seats that package simulate uses.
const (
	boxY    = 38.6
	boxHalf = 10.5
	boxDeep = 2.6
)

var (
	tintFloor   = tint{66, 59, 52}
	tintTrack   = tint{94, 102, 110}
	tintInfield = tint{50, 54, 60}
	tintTape    = tint{242, 120, 75}
	tintLine    = tint{226, 224, 218}
	tintMark    = tint{150, 156, 160}
	tintWall    = tint{40, 37, 35}
	tintStand   = tint{33, 30, 28}
	tintBarrier = tint{52, 55, 62}
	tintLamp    = tint{255, 244, 220}
)

// Widths of tape in feet. The rules allow 1 to 3 inches (2013 rules 2.1); the
// boundary is drawn a little wider so that it holds in small pictures.
const (
	tapeHalf = 0.19
	lineHalf = 0.15
	markHalf = 0.08
)

var tenFootMarks = simulate.TenFootMarks()

// cast follows one ray, given by azimuth and tan(elevation), to what it hits.
func cast(from Place, az, tan float64) tint {
	sin, cos := math.Sincos(az)
	best, hit := math.Inf(1), tintWall
	try := func(t float64, ok func(x, y, z float64) (tint, bool)) {
		if t > 0.5 && t < best {
			x, y, z := from.X+sin*t, from.Y+cos*t, from.Z+tan*t
			if c, yes := ok(x, y, z); yes {
				best, hit = t, c
			}
		}
	}
	if tan < 0 {
		try(-from.Z/tan, floorTint)
	}
	for _, side := range [2]float64{1, -1} {
		try((side*barrierY-from.Y)/cos, barrierTint)
		// On the stand z = standLow + (side*y - standFoot) * standRise.
		rise := tan - side*cos*standRise
		try((standLow-from.Z+(side*from.Y-standFoot)*standRise)/rise, standTint)
		try((side*standTop-from.Y)/cos, wallTint)
		try((side*wallX-from.X)/sin, wallTint)
	}
	return hit
}

func floorTint(x, y, _ float64) (tint, bool) {
	if math.Abs(y) > standFoot {
		return tint{}, false
	}
	p := simulate.SpotAt(simulate.Point{X: x, Y: y})
	width := simulate.Width(p.S)
	var c tint
	switch {
	case p.D < 0:
		c = tintInfield
	case p.D > width:
		c = tintFloor
		// Boards across the hall, and the referees' lane 10 ft outside the track.
		if board := math.Abs(math.Remainder(y, 1.6)); board < 0.05 {
			c = c.times(0.86)
		}
		if math.Abs(p.D-width-10) < markHalf {
			c = tintMark.times(0.75)
		}
	default:
		c = trackTint(p)
	}
	if box, ok := boxTint(x, y); ok {
		c = box
	}
	if math.Abs(p.D) < tapeHalf || math.Abs(p.D-width) < tapeHalf {
		c = tintTape
	}
	return c.times(lit(x, y)), true
}

// boxTint paints the penalty box on the floor: a frame round the seats of both
// teams, which stand beyond the back straight, and a line between them.
func boxTint(x, y float64) (tint, bool) {
	dx, dy := math.Abs(x), math.Abs(y-boxY)
	switch {
	case dx > boxHalf+lineHalf || dy > boxDeep+lineHalf:
		return tint{}, false
	case dx > boxHalf-lineHalf || dy > boxDeep-lineHalf || dx < lineHalf:
		return tintLine.times(0.9), true
	}
	return tint{58, 62, 70}, true
}

func trackTint(p simulate.Spot) tint {
	s := simulate.Wrap(p.S)
	if math.Abs(simulate.Gap(0, s)) < lineHalf || math.Abs(s-simulate.StartZone) < lineHalf {
		return tintLine
	}
	for _, m := range tenFootMarks {
		// A mark keeps its width along the lane.
		if d := math.Abs(m - s); d < 0.3 && d*simulate.Stretch(s, p.D) < markHalf {
			return tintMark
		}
	}
	return tintTrack
}

// litFloor is the brightness of the floor foot by foot: pools of light under the
// lamps, and a little unevenness.
var litFloor = sync.OnceValue(func() []float64 {
	grid := make([]float64, litW*litH)
	for j := range litH {
		for i := range litW {
			x, y := float64(i)-litW/2, float64(j)-litH/2
			l := 0.78
			for _, cx := range [3]float64{-34, 0, 34} {
				for _, cy := range [2]float64{-20, 20} {
					l += 0.22 * math.Exp(-(x-cx)*(x-cx)/900-(y-cy)*(y-cy)/500)
				}
			}
			grid[j*litW+i] = l * (0.955 + 0.09*grain(x*0.35, y*0.35))
		}
	}
	return grid
})

const litW, litH = 200, 120 // ft

func lit(x, y float64) float64 {
	grid := litFloor()
	fx := min(litW-1.001, max(0, x+litW/2))
	fy := min(litH-1.001, max(0, y+litH/2))
	i, j := int(fx), int(fy)
	tx, ty := fx-float64(i), fy-float64(j)
	g := grid[j*litW+i:]
	top, low := g[0]+(g[1]-g[0])*tx, g[litW]+(g[litW+1]-g[litW])*tx
	return top + (low-top)*ty
}

func barrierTint(x, _, z float64) (tint, bool) {
	if z < 0 || z > barrierHeight || math.Abs(x) > wallX {
		return tint{}, false
	}
	c := tintBarrier
	switch panel := math.Abs(math.Remainder(x, 8)); {
	case z > barrierHeight-0.25:
		c = c.times(1.7)
	case panel > 3.9:
		c = c.times(0.6)
	default:
		c = c.times(0.8 + 0.2*z/barrierHeight)
	}
	return c, true
}

func standTint(x, y, z float64) (tint, bool) {
	depth := math.Abs(y) - standFoot
	if depth < 0 || depth > standTop-standFoot || math.Abs(x) > wallX || z < 0 {
		return tint{}, false
	}
	c := tintStand
	step := math.Mod(depth, rowDepth) / rowDepth
	c = c.times(0.75 + 0.55*step)
	for _, aisle := range [3]float64{-45, 0, 45} {
		if math.Abs(x-aisle) < 1.6 {
			c = c.times(1.45)
		}
	}
	return c.times(1.1 - 0.35*depth/(standTop-standFoot)), true
}

func wallTint(x, y, z float64) (tint, bool) {
	if z < 0 || math.Abs(x) > wallX+0.1 || math.Abs(y) > standTop+0.1 {
		return tint{}, false
	}
	if z > wallHeight {
		return tintWall.times(0.45), true
	}
	c := tintWall.times(1.15 - 0.6*z/wallHeight)
	if math.Abs(x) > wallX-0.1 {
		if math.Abs(y) < 4 && z < 8 { // a double door
			c = tint{30, 33, 38}
			if math.Abs(y) < 0.12 {
				c = c.times(0.5)
			}
		}
	}
	if math.Abs(x) > wallX-8 {
		return c, true
	}
	// A row of lamps with their glow.
	d2 := math.Pow(math.Remainder(x, 22)/2.4, 2) + math.Pow((z-26)/0.9, 2)
	if d2 < 1 {
		return tintLamp.times(0.9), true
	}
	return c.to(tintLamp, 0.3*math.Exp(-d2/14)), true
}

// grain is smooth noise in 0..1 on the unit lattice.
func grain(x, y float64) float64 {
	fx, fy := math.Floor(x), math.Floor(y)
	tx, ty := x-fx, y-fy
	tx, ty = tx*tx*(3-2*tx), ty*ty*(3-2*ty)
	i, j := int64(fx), int64(fy)
	a := lattice(i, j) + (lattice(i+1, j)-lattice(i, j))*tx
	b := lattice(i, j+1) + (lattice(i+1, j+1)-lattice(i, j+1))*tx
	return a + (b-a)*ty
}

// lattice is a fixed pseudo-random number in 0..1 for a pair.
func lattice(i, j int64) float64 {
	h := uint64(i)*0x9E3779B97F4A7C15 ^ uint64(j)*0xC2B2AE3D27D4EB4F
	h ^= h >> 31
	h *= 0xD6E8FEB86659FD93
	h ^= h >> 32
	return float64(h>>11) / (1 << 53)
}

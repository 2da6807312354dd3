package picture

import "math"

// Place is where a camera stands: feet, z above the floor.
type Place struct {
	X, Y, Z float64
	// Facing is the azimuth of the middle of its range, radians clockwise from
	// +y as seen from above: 0 looks along +y, pi/2 along +x.
	Facing float64
}

// The two camera places of the demo film: on the stand beside the start
// straight, and at the end of the hall by turns three and four.
var (
	StandSide = Place{X: -3, Y: -66, Z: 17, Facing: 0}
	StandEnd  = Place{X: -79, Y: -24, Z: 15, Facing: 1.27}
)

// Camera is one direction and focal length from a place.
type Camera struct {
	Place
	Yaw   float64 // azimuth as in Place.Facing
	Pitch float64 // radians, positive looks down
	Focal float64 // pixels
	W, H  int
}

// projector is a camera with its sines ready.
type projector struct {
	Camera
	sinYaw, cosYaw, sinPitch, cosPitch float64
}

func (c Camera) projector() projector {
	p := projector{Camera: c}
	p.sinYaw, p.cosYaw = math.Sincos(c.Yaw)
	p.sinPitch, p.cosPitch = math.Sincos(c.Pitch)
	return p
}

// view turns a point of the hall into the picture: pixels and the depth in feet
// along the optical axis. Points at depth 1 or less are not visible.
func (p *projector) view(x, y, z float64) (sx, sy, depth float64) {
	dx, dy, dz := x-p.X, y-p.Y, z-p.Z
	right := dx*p.cosYaw - dy*p.sinYaw
	ahead := dx*p.sinYaw + dy*p.cosYaw
	depth = ahead*p.cosPitch - dz*p.sinPitch
	up := ahead*p.sinPitch + dz*p.cosPitch
	if depth <= 1 {
		return 0, 0, depth
	}
	return float64(p.W)/2 + p.Focal*right/depth, float64(p.H)/2 - p.Focal*up/depth, depth
}

// azimuth is the direction of a floor point from the place, like Place.Facing.
func (pl Place) azimuth(x, y float64) float64 { return math.Atan2(x-pl.X, y-pl.Y) }

// turnTo is the signed smallest turn from azimuth a to b.
func turnTo(a, b float64) float64 {
	return math.Remainder(b-a, 2*math.Pi)
}

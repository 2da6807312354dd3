package picture

import (
	"math"
	"slices"
)

// seatCrowd draws the people on the stands into the panorama, from far to near.
func (h *Hall) seatCrowd(pan *Frame) {
	type person struct{ x, y, z, d, pick float64 }
	var crowd []person
	rows := int(math.Floor((standTop - standFoot) / rowDepth))
	for _, side := range [2]float64{1, -1} {
		for row := range rows {
			depth := (float64(row) + 0.6) * rowDepth
			for k := -46; k <= 46; k++ {
				x := float64(k)*1.95 + math.Mod(float64(row)*0.9, 1.95)
				pick := lattice(int64(k)*2+int64(side), int64(row)+100)
				if pick < 0.22 || math.Abs(x) > wallX-2 || math.Abs(math.Abs(x)-45) < 2.2 || math.Abs(x) < 2.2 {
					continue // an empty seat or an aisle
				}
				p := person{x: x + lattice(int64(k), int64(row)+7)*0.7, y: side * (standFoot + depth), z: standLow + depth*standRise, pick: pick}
				p.d = math.Hypot(p.x-h.Place.X, p.y-h.Place.Y)
				// Rows at and behind the camera's own place are out of sight.
				if p.d < 18 || math.Cos(turnTo(h.Place.Facing, h.Place.azimuth(p.x, p.y))) < 0.2 {
					continue
				}
				crowd = append(crowd, p)
			}
		}
	}
	slices.SortStableFunc(crowd, func(a, b person) int {
		switch {
		case a.d > b.d:
			return -1
		case a.d < b.d:
			return 1
		}
		return 0
	})
	cov := &coverage{f: pan}
	for _, p := range crowd {
		clothes, face := crowdTints(p.pick)
		x, y, s := h.texel(p.x, p.y, p.z)
		dim := 0.55 + 0.25*math.Sin(p.pick*40)
		cov.limb(x, y-0.2*s, 0.75*s, x, y-1.5*s, 0.62*s, clothes.times(dim).colour())
		cov.oval(x, y-2.75*s, 0.42*s, 0.5*s, face.times(dim).colour(), 1)
		if p.pick > 0.6 { // hair
			cov.oval(x, y-3.0*s, 0.43*s, 0.32*s, tint{28, 24, 22}.times(0.6+dim).colour(), 1)
		}
	}
}

func crowdTints(pick float64) (clothes, face tint) {
	palette := [...]tint{{70, 66, 62}, {58, 62, 74}, {84, 70, 60}, {52, 60, 56}, {92, 88, 82}, {74, 54, 58}, {48, 46, 50}, {64, 76, 84}}
	faces := [...]tint{{150, 118, 98}, {118, 88, 70}, {92, 66, 52}, {166, 134, 114}}
	return palette[int(pick*797)%len(palette)], faces[int(pick*1511)%len(faces)]
}

// setChairs puts the six chairs of the penalty box where package simulate seats
// skaters: three for each team, facing the track.
func (h *Hall) setChairs(pan *Frame) {
	cov := &coverage{f: pan}
	for _, x := range [...]float64{-8.5, -5.5, -2.5, 2.5, 5.5, 8.5} {
		tx, ty, perFoot := h.texel(x, boxY, 0)
		sin, cos := math.Sincos(h.Place.azimuth(x, boxY))
		d := math.Hypot(x-h.Place.X, boxY-h.Place.Y)
		p := pencil{cov: cov, x: tx, y: ty, s: perFoot * figureScale, tilt: h.Place.Z / math.Hypot(d, h.Place.Z), c: sin, d: -cos}
		p.seat(1)
	}
}

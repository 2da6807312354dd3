package picture

import (
	"hash/fnv"
	"math"
	"slices"

	"golang.org/x/image/font"

	"whistlecut/timeline"
)

// Painter draws frames of one hall. A Painter is used by one goroutine at a
// time; painters of one hall may work side by side.
type Painter struct {
	hall    *Hall
	kits    [2]kit
	face    font.Face
	numbers map[timeline.Number]*inscription
	cov     coverage
	order   []placed

	// The last backdrop, for a camera at rest.
	still    *Frame
	stillCam Camera

	// Code draws the number of each frame into its lower left corner, so that
	// a cut can be judged by the picture alone; see ReadCode.
	Code bool
}

type placed struct {
	actor int
	depth float64
}

// Colours of the teams where none is set or readable: a published pair that
// colour-blind people tell apart (Okabe and Ito).
var defaultShirts = [2]Colour{RGB(0x56, 0xB4, 0xE9), RGB(0xCC, 0x79, 0xA7)}

// NewPainter prepares to draw two teams, by Side.Index, in their colours.
func NewPainter(hall *Hall, teams [2]timeline.Team) (*Painter, error) {
	face, err := numberFace()
	if err != nil {
		return nil, err
	}
	p := &Painter{hall: hall, face: face, numbers: make(map[timeline.Number]*inscription), still: newFrame(hall.W, hall.H)}
	for i := range p.kits {
		shirt, err := Hex(teams[i].Colour)
		if err != nil {
			shirt = defaultShirts[i]
		}
		p.kits[i] = newKit(shirt)
		for _, s := range teams[i].Roster {
			p.inscription(s.Number)
		}
	}
	return p, nil
}

func (p *Painter) inscription(n timeline.Number) *inscription {
	i, ok := p.numbers[n]
	if !ok {
		i = newInscription(p.face, string(n))
		p.numbers[n] = i
	}
	return i
}

// Paint draws one frame. The frame and the camera have the hall's size; the
// camera stands at the hall's place.
func (p *Painter) Paint(f *Frame, cam Camera, actors []Actor, number int) {
	if cam != p.stillCam {
		p.hall.backdrop(p.still, cam)
		p.stillCam = cam
	}
	f.Copy(p.still)
	p.cov.f = f
	view := cam.projector()
	p.order = p.order[:0]
	for i := range actors {
		if _, _, depth := view.view(actors[i].X, actors[i].Y, 0); depth > 6 {
			p.order = append(p.order, placed{i, depth})
		}
	}
	slices.SortStableFunc(p.order, func(a, b placed) int {
		switch {
		case a.depth > b.depth:
			return -1
		case a.depth < b.depth:
			return 1
		}
		return 0
	})
	for _, o := range p.order {
		p.shadow(&view, &actors[o.actor])
	}
	for _, o := range p.order {
		p.person(&view, &actors[o.actor])
	}
	if p.Code {
		drawCode(f, number)
	}
}

// pencilFor places an actor in the picture.
func (p *Painter) pencilFor(view *projector, a *Actor) pencil {
	x, y, depth := view.view(a.X, a.Y, 0)
	az := view.azimuth(a.X, a.Y)
	sinAz, cosAz := math.Sincos(az)
	sinH, cosH := math.Sincos(a.Heading)
	s := view.Focal / depth * figureScale
	dist := math.Hypot(a.X-view.X, a.Y-view.Y)
	return pencil{
		cov: &p.cov, x: x, y: y, s: s,
		tilt:   view.Z / math.Hypot(dist, view.Z),
		c:      cosH*cosAz - sinH*sinAz,
		d:      cosH*sinAz + sinH*cosAz,
		detail: s > 9,
	}
}

func (p *Painter) shadow(view *projector, a *Actor) {
	q := p.pencilFor(view, a)
	long := 1 + 0.9*a.Fall
	q.cov.oval(q.x, q.y, 1.35*long*q.s, 1.35*q.tilt*q.s*1.2, black, 0.28)
	q.cov.oval(q.x, q.y, 0.8*long*q.s, 0.8*q.tilt*q.s*1.2, black, 0.34)
}

func (p *Painter) person(view *projector, a *Actor) {
	q := p.pencilFor(view, a)
	q.kit = officialK
	var n *inscription
	key := "official"
	if a.Side != timeline.NoSide {
		q.kit = p.kits[a.Side.Index()]
		n = p.inscription(a.Number)
		key = a.Side.String() + string(a.Number)
	}
	h := fnv.New32a()
	_, _ = h.Write([]byte(key)) // never fails
	q.skin = skins[h.Sum32()%uint32(len(skins))]
	q.figure(a, n)
}

package picture

import (
	"math"

	"whistlecut/timeline"
)

// figureScale draws people a little larger than life, so that numbers can be
// read in small pictures.
const figureScale = 1.1

// kit is the colours of one team's uniform.
type kit struct {
	shirt, trim, sock, number Colour
}

func newKit(shirt Colour) kit {
	k := kit{shirt: shirt, trim: shirt.mix(black, 0.45), sock: shirt.mix(black, 0.25)}
	if shirt.light() {
		k.number = RGB(16, 18, 22)
	} else {
		k.number = RGB(245, 244, 240)
	}
	return k
}

var (
	black     = RGB(12, 13, 15)
	white     = RGB(240, 239, 234)
	shell     = RGB(24, 27, 32) // helmets
	shorts    = RGB(34, 37, 43)
	boot      = RGB(44, 47, 53)
	wheel     = RGB(196, 190, 176)
	pad       = RGB(28, 30, 34)
	chair     = RGB(104, 110, 118)
	officialK = kit{shirt: RGB(148, 153, 160), trim: RGB(84, 90, 98), sock: RGB(70, 74, 80), number: black}
	sash      = RGB(214, 217, 220)
	skins     = [...]Colour{RGB(222, 180, 150), RGB(186, 138, 106), RGB(142, 98, 72), RGB(106, 72, 54), RGB(236, 202, 176)}
)

// joint is a point of a body in feet: across the picture, up, and away from the
// camera (which on the floor also means up in the picture).
type joint struct{ across, up, away float64 }

func (j joint) to(k joint, t float64) joint {
	return joint{j.across + (k.across-j.across)*t, j.up + (k.up-j.up)*t, j.away + (k.away-j.away)*t}
}

// body is a skeleton; index 0 is the left limb.
type body struct {
	hip, shoulder, head joint
	knee, foot          [2]joint
	elbow, hand         [2]joint
}

func (b body) to(o body, t float64) body {
	if t == 0 {
		return b
	}
	b.hip, b.shoulder, b.head = b.hip.to(o.hip, t), b.shoulder.to(o.shoulder, t), b.head.to(o.head, t)
	for k := range 2 {
		b.knee[k], b.foot[k] = b.knee[k].to(o.knee[k], t), b.foot[k].to(o.foot[k], t)
		b.elbow[k], b.hand[k] = b.elbow[k].to(o.elbow[k], t), b.hand[k].to(o.hand[k], t)
	}
	return b
}

// upright is a skater at her stride; c and d are the parts of her heading across
// the picture and away from the camera.
func upright(a *Actor, c, d float64) body {
	quick := min(1, a.Speed/13)
	lean := 0.10 + 0.42*a.Crouch + 0.1*quick
	sinLean, cosLean := math.Sincos(lean)
	bob := 0.05 * quick * math.Sin(2*a.Stride)
	hip := joint{up: 3.05 - 0.7*a.Crouch + bob}
	along := func(from joint, forward, left, up float64) joint {
		return joint{from.across + c*forward - d*left, from.up + up, from.away + d*forward + c*left}
	}
	hip = along(hip, -0.25*a.Crouch, 0, 0)
	b := body{hip: hip}
	b.shoulder = along(hip, 1.7*sinLean, 0, 1.7*cosLean)
	b.head = along(b.shoulder, 0.15+0.2*sinLean, 0, 0.98)
	for k, left := range [2]float64{1, -1} {
		swing := math.Sin(a.Stride + float64(k)*math.Pi)
		push := math.Cos(a.Stride + float64(k)*math.Pi)
		forward := (0.12 + 0.85*quick) * swing
		wide := 0.36 + 0.22*a.Crouch + 0.4*quick*max(0, -push)
		lift := 0.22 * quick * max(0, push)
		b.foot[k] = along(joint{up: 0.42 + lift}, forward, left*wide, 0)
		b.knee[k] = along(joint{up: 1.55 - 0.25*a.Crouch + lift}, forward*0.55+0.3+0.35*a.Crouch, left*(wide*0.75+0.06), 0)
		arm := -swing * (0.15 + 0.55*quick)
		// Arms are held before the body: the number stays free.
		b.elbow[k] = along(b.shoulder, 0.72+arm*0.3, left*(0.8+0.22*math.Abs(d)), -0.72)
		b.hand[k] = along(b.elbow[k], 0.55+arm*0.5, left*(0.2*math.Abs(d)-0.12), -0.2-0.45*(1-a.Crouch))
	}
	return b
}

// fallen lies on her side, head towards where she was heading.
func fallen(c, d float64) body {
	x := math.Copysign(max(0.55, math.Abs(c)), c)
	at := func(forward, up, side float64) joint { return joint{x * forward, up, d*forward*0.6 + side} }
	return body{
		hip: at(-0.3, 0.72, 0), shoulder: at(1.25, 0.8, 0), head: at(2.15, 0.72, 0),
		knee:  [2]joint{at(-1.0, 0.95, 0.2), at(-1.15, 0.5, -0.2)},
		foot:  [2]joint{at(-2.1, 0.5, 0.35), at(-2.25, 0.35, -0.25)},
		elbow: [2]joint{at(1.2, 0.5, 0.6), at(0.9, 0.35, -0.6)},
		hand:  [2]joint{at(1.9, 0.25, 0.7), at(1.5, 0.2, -0.9)},
	}
}

func seated(c, d float64) body {
	at := func(forward, left, up float64) joint { return joint{c*forward - d*left, up, d*forward + c*left} }
	return body{
		hip: at(0, 0, 1.75), shoulder: at(0.12, 0, 3.4), head: at(0.2, 0, 4.4),
		knee:  [2]joint{at(1.25, 0.42, 1.7), at(1.25, -0.42, 1.7)},
		foot:  [2]joint{at(1.35, 0.42, 0.42), at(1.35, -0.42, 0.42)},
		elbow: [2]joint{at(0.4, 1.0, 2.5), at(0.4, -1.0, 2.5)},
		hand:  [2]joint{at(1.1, 0.7, 1.9), at(1.1, -0.7, 1.9)},
	}
}

// pencil draws one body: feet to pixels at its place.
type pencil struct {
	cov    *coverage
	x, y   float64 // the floor point in the picture
	s      float64 // pixels per foot
	tilt   float64 // how much a foot away from the camera is up in the picture
	c, d   float64 // heading across and away
	skin   Colour
	kit    kit
	detail bool // large enough for small parts
}

func (p *pencil) at(j joint) (x, y float64) {
	return p.x + j.across*p.s, p.y - (j.up+j.away*p.tilt)*p.s
}

func (p *pencil) bar(a, b joint, ra, rb float64, c Colour) {
	x0, y0 := p.at(a)
	x1, y1 := p.at(b)
	p.cov.limb(x0, y0, ra*p.s, x1, y1, rb*p.s, c)
}

func (p *pencil) ball(j joint, rx, ry float64, c Colour) {
	x, y := p.at(j)
	p.cov.oval(x, y, rx*p.s, ry*p.s, c, 1)
}

// figure draws one actor.
func (p *pencil) figure(a *Actor, n *inscription) {
	b := upright(a, p.c, p.d)
	if a.Sit > 0 {
		p.seat(a.Sit)
		b = b.to(seated(p.c, p.d), ease(a.Sit))
	}
	if a.Fall > 0 {
		b = b.to(fallen(p.c, p.d), ease(a.Fall))
	}
	if a.Blows {
		b.hand[1] = b.head.to(joint{b.head.across + p.c*0.8, b.head.up - 0.4, b.head.away + p.d*0.8}, 0.6)
		b.elbow[1] = b.shoulder.to(b.hand[1], 0.5).to(joint{b.shoulder.across + p.d, b.shoulder.up - 0.5, 0}, 0.4)
	}
	if a.Arm {
		b.elbow[0] = joint{b.shoulder.across - 0.8, b.shoulder.up + 0.15, b.shoulder.away}
		b.hand[0] = joint{b.shoulder.across - 1.75, b.shoulder.up + 0.45, b.shoulder.away}
	}
	far, near := 0, 1
	if b.foot[0].away < b.foot[1].away {
		far, near = 1, 0
	}
	p.leg(&b, far, 0.35)
	p.arm(&b, far, 0.3)
	p.leg(&b, near, 0)
	p.torso(&b, a, n)
	p.arm(&b, near, 0)
	p.helmet(&b, a)
	if a.Holds {
		x, y := p.at(b.hand[near])
		p.cov.star(x, y, 0.5*p.s, white)
	}
}

func ease(t float64) float64 { return t * t * (3 - 2*t) }

func (p *pencil) leg(b *body, k int, dark float64) {
	shade := func(c Colour) Colour { return c.mix(black, dark) }
	hip := joint{b.hip.across + (b.foot[k].across-b.hip.across)*0.25, b.hip.up - 0.1, b.hip.away}
	p.bar(hip, b.knee[k], 0.4, 0.28, shade(shorts))
	p.bar(b.knee[k], b.foot[k], 0.25, 0.17, shade(p.kit.sock))
	f := b.foot[k]
	heel := joint{f.across - p.c*0.22, f.up - 0.1, f.away - p.d*0.22}
	toe := joint{f.across + p.c*0.42, f.up - 0.14, f.away + p.d*0.42}
	if p.detail {
		p.ball(b.knee[k], 0.3, 0.3, shade(pad))
		for _, w := range [2]joint{heel, toe} {
			p.ball(joint{w.across, w.up - 0.2, w.away}, 0.13, 0.13, shade(wheel))
		}
	}
	p.bar(heel, toe, 0.2, 0.16, shade(boot))
}

func (p *pencil) arm(b *body, k int, dark float64) {
	shade := func(c Colour) Colour { return c.mix(black, dark) }
	s := joint{b.shoulder.across + (b.elbow[k].across-b.shoulder.across)*0.68, b.shoulder.up + 0.02, b.shoulder.away}
	p.bar(s, b.elbow[k], 0.23, 0.18, shade(p.kit.trim))
	p.bar(b.elbow[k], b.hand[k], 0.17, 0.14, shade(p.skin))
	if p.detail {
		p.ball(b.elbow[k], 0.22, 0.22, shade(pad))
	}
}

// torso is the shirt with its number, outlined so that team mates in front of
// one another stay apart.
func (p *pencil) torso(b *body, a *Actor, n *inscription) {
	rHip, rShoulder := 0.60-0.05*math.Abs(p.c), 0.74-0.06*math.Abs(p.c)
	p.bar(b.hip, b.shoulder, rHip+0.07, rShoulder+0.07, p.kit.trim.mix(black, 0.5))
	p.bar(b.hip, b.shoulder, rHip, rShoulder, p.kit.shirt)
	hx, hy := p.at(b.hip)
	sx, sy := p.at(b.shoulder)
	// Digits lean less than the back, and lie down with it.
	turn := math.Atan2(sx-hx, hy-sy) * (0.4 + 0.6*a.Fall)
	if a.Side == timeline.NoSide {
		p.sash(hx, hy, sx, sy)
		return
	}
	if n.ratio() == 0 {
		return
	}
	const tallest, widest = 1.12, 1.28 // ft
	narrow := min(1, max(0.6, widest/(n.ratio()*tallest)))
	height := min(tallest, widest/(n.ratio()*narrow))
	mx, my := hx+(sx-hx)*0.56, hy+(sy-hy)*0.56
	p.cov.inscribe(n, mx, my, height*p.s, narrow, turn, p.kit.number)
}

// sash is the officials' mark: two light bands across a grey shirt.
func (p *pencil) sash(hx, hy, sx, sy float64) {
	ux, uy := sx-hx, sy-hy
	l := math.Hypot(ux, uy)
	if l < 1 {
		return
	}
	ux, uy = ux/l, uy/l
	at := func(along, across float64) vec {
		return vec{hx + ux*along*l - uy*across*p.s, hy + uy*along*l + ux*across*p.s}
	}
	for _, k := range [2]float64{0.12, 0.62} {
		p.cov.quad(quad{at(k, -0.6), at(k+0.22, 0.62), at(k+0.38, 0.62), at(k+0.16, -0.6)}, sash, 1)
	}
}

func (p *pencil) helmet(b *body, a *Actor) {
	neck := b.shoulder.to(b.head, 0.45)
	p.bar(neck, b.head, 0.24, 0.24, p.skin.mix(black, 0.15))
	face := joint{b.head.across + p.c*0.12, b.head.up - 0.08, b.head.away}
	p.ball(face, 0.46, 0.52, p.skin)
	// The helmet sits above the face and hides it from behind.
	up := 0.2 - 0.16*max(0, p.d)
	top := joint{b.head.across - p.c*0.04, b.head.up + up, b.head.away}
	ring := p.kit.shirt
	p.ball(top, 0.66, 0.60, ring.mix(black, 0.15))
	p.ball(top, 0.56, 0.50, shell)
	x, y := p.at(top)
	switch {
	case a.Star:
		p.cov.star(x, y+0.02*p.s, 0.46*p.s, white)
	case a.Stripe:
		w, h := 0.12*p.s, 0.5*p.s
		p.cov.quad(quad{{x - w, y - h}, {x + w, y - h}, {x + w, y + h}, {x - w, y + h}}, white, 1)
	}
}

// seat is a folding chair under a sitting skater.
func (p *pencil) seat(opacity float64) {
	q := func(a, b joint, r float64) {
		x0, y0 := p.at(a)
		x1, y1 := p.at(b)
		if p.cov.begin(min(x0, x1)-r*p.s, min(y0, y1)-r*p.s, max(x0, x1)+r*p.s, max(y0, y1)+r*p.s) {
			gather(p.cov, newLimb(x0, y0, r*p.s, x1, y1, r*p.s))
			p.cov.paint(chair, opacity)
		}
	}
	at := func(forward, left, up float64) joint {
		return joint{p.c*forward - p.d*left, up, p.d*forward + p.c*left}
	}
	for _, left := range [2]float64{-0.7, 0.7} {
		q(at(-0.5, left, 0.05), at(-0.5, left, 3.0), 0.07)
		q(at(0.6, left, 0.05), at(0.6, left, 1.4), 0.07)
		q(at(-0.5, left, 1.4), at(0.6, left, 1.4), 0.09)
	}
	q(at(-0.5, -0.7, 2.6), at(-0.5, 0.7, 2.6), 0.3)
}

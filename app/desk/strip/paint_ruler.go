package strip

import (
	"image"
	"time"

	"whistlecut/app/desk/terms"
)

// ladder is the distances between the ruler's labels, from a second up.
var ladder = []time.Duration{
	time.Second, 2 * time.Second, 5 * time.Second, 10 * time.Second, 20 * time.Second, 30 * time.Second,
	time.Minute, 2 * time.Minute, 5 * time.Minute, 10 * time.Minute, 20 * time.Minute, 30 * time.Minute, time.Hour, 2 * time.Hour,
}

// labelRoom is the least distance between two labels of the ruler, at scale 1.
const labelRoom = 84

// scaleOf picks the distance of labels and of ticks for a piece: below a second
// both are whole frames.
func (p *Painter) scaleOf(frame time.Duration) (label, tick time.Duration) {
	room := time.Duration(p.Axis.perPixel() * float64(p.px(labelRoom)))
	if room <= 15*frame {
		for _, n := range []time.Duration{1, 2, 5, 10, 15} {
			if n*frame >= room {
				return n * frame, frame
			}
		}
	}
	label = ladder[len(ladder)-1]
	for _, l := range ladder {
		if l >= room {
			label = l
			break
		}
	}
	switch {
	case label >= 10*time.Second && label%(5*time.Second) == 0 && label != 20*time.Second:
		return label, label / 5
	case label == time.Second:
		return label, 200 * time.Millisecond
	}
	return label, label / 2
}

// ruler letters film time over the zoomed part, and marks frames where they are
// wide enough to be told apart.
func (p *Painter) ruler() {
	lane := p.Lanes[LaneRuler]
	from, to := p.Axis.Window()
	for n, piece := range p.Axis.Pieces() {
		start := p.Axis.Start(n)
		end := start + piece.Film.Duration()
		if end < from || start > to {
			continue
		}
		frame := piece.frame()
		label, tick := p.scaleOf(frame)
		decimals := 0
		if label < time.Second {
			decimals = 2
		}
		ticks := Frames(steady(tick))
		if tick == frame {
			ticks = piece.frames() // as long as each of them is
		}
		// Film time of the first tick in the window.
		first := piece.Film.Start + max(from-start, 0)
		k := ticks.FrameAt(first)
		if ticks.Time(k) < first {
			k++
		}
		per := int(label / tick)
		for ; k < ticks.Len(); k++ {
			film := ticks.Time(k)
			t := start + film - piece.Film.Start
			if t > min(to, end) {
				break
			}
			x := p.x(t)
			if k%per != 0 {
				p.fill(image.Rect(x, lane.Max.Y-p.px(3), x+p.px(1), lane.Max.Y), p.Colours.Line)
				if tick == frame {
					p.fill(image.Rect(x, lane.Max.Y, x+p.px(1), p.Zoomed.Max.Y), mix(p.Colours.Panel, p.inks.grid, 0.5))
				}
				continue
			}
			p.fill(image.Rect(x, lane.Max.Y, x+p.px(1), p.Zoomed.Max.Y), p.inks.grid)
			p.fill(image.Rect(x, lane.Max.Y-p.px(6), x+p.px(1), lane.Max.Y), p.Colours.Line)
			text := terms.Clock(film, decimals)
			if w := p.text.width(styleTime, text); x+p.px(4)+w < min(p.x(end), p.Zoomed.Max.X) {
				p.text.draw(&p.brush, styleTime, text, x+p.px(4), lane.Min.Y+p.px(5), p.Colours.Quiet)
			}
		}
	}
}

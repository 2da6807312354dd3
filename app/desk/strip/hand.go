package strip

import (
	"math"
	"time"
)

// hand is what the pointer is doing: it turns presses and moves into panning,
// pulling and seeking. It knows pixels and strip time only.
type hand struct {
	doing doing
	hit   Hit
	x, y  float64 // where it was pressed
	last  float64
	moved bool
	grab  time.Duration // strip time between the pointer and what it holds
	at    time.Duration // of the edge before it was dragged
	from  float64       // window before
	span  float64
}

type doing uint8

const (
	idle    doing = iota
	pressed       // on the zoomed part, not moved yet
	panning       // moving the window
	pulling       // moving an edge
	sliding       // moving the window in the overview
)

// moveReach is how far the pointer moves before a press is no click, at scale 1.
const moveReach = 3

// press begins. In the overview it takes hold of the window, or brings it there.
func (h *hand) press(l Layout, a *Axis, m *Model, x, y float64) {
	*h = hand{doing: pressed, hit: HitAt(l, a, m, x, y), x: x, y: y, last: x, from: a.from, span: a.span}
	if a.Empty() {
		h.doing = idle
		return
	}
	if h.hit.Lane == LaneOverview {
		h.doing = sliding
		from, to := a.Window()
		middle := from + (to-from)/2
		if h.hit.At < from || h.hit.At > to {
			a.MoveTo(h.hit.At)
			middle = h.hit.At
		}
		h.grab = middle - h.hit.At
	}
	if h.hit.Edge != NoEdge {
		i := h.hit.Items[0]
		h.at = i.From
		if h.hit.Edge == End {
			h.at = i.To
		}
		h.grab = h.at - h.hit.At
	}
}

// move goes on. It reports whether the picture changed.
func (h *hand) move(l Layout, a *Axis, x, y float64) bool {
	if h.doing == idle {
		return false
	}
	if !h.moved {
		if math.Hypot(x-h.x, y-h.y) < moveReach*l.Scale {
			return false
		}
		h.moved = true
		if h.doing == pressed {
			h.doing = panning
			if h.hit.Edge != NoEdge {
				h.doing = pulling
			}
		}
	}
	switch h.doing {
	case panning:
		a.Pan(h.last - x)
	case sliding:
		a.MoveTo(l.OverviewAt(a, x) + h.grab)
	}
	h.last = x
	return true
}

// drag is the edge in the hand, or nil. An edge stays on the film.
func (h *hand) drag(a *Axis) *Drag {
	if h.doing != pulling {
		return nil
	}
	at := a.At(h.last) + h.grab
	if footage, film, ok := a.Film(at); !ok {
		at, _ = a.Strip(footage, film)
	}
	return &Drag{Item: h.hit.Items[0], Edge: h.hit.Edge, At: at}
}

// release ends. It returns a drag that was finished, or where a click wants to go.
func (h *hand) release(a *Axis) (dropped *Drag, seek time.Duration, click bool) {
	defer func() { *h = hand{} }()
	switch {
	case h.doing == pulling:
		d := h.drag(a)
		if i := d.moved(); d.At < i.From || d.At > i.To { // held back by the other edge
			d.At = min(max(d.At, i.From), i.To)
		}
		return d, 0, false
	case h.doing == idle || h.moved:
		return nil, 0, false
	}
	seek = h.hit.At
	if len(h.hit.Items) > 0 && h.hit.Items[0].lane().points() {
		seek = h.hit.Items[0].From // a sign stands for one moment
	}
	return nil, seek, true
}

// cancel lets go: an edge stays where it was, the window goes back. It reports
// whether there was anything to cancel.
func (h *hand) cancel(a *Axis) bool {
	busy := h.doing != idle
	if h.doing == panning || h.doing == sliding {
		a.from, a.span = h.from, h.span
		a.clamp()
	}
	*h = hand{}
	return busy
}

// points reports whether the lane shows moments, not stretches.
func (l Lane) points() bool { return l == LaneHomePoints || l == LaneAwayPoints || l == LaneHeard }

package simulate

import (
	"math/rand/v2"
	"sort"
	"time"

	"whistlecut/timeline"
)

// series makes the blasts of a signal from a moment on. Lengths: common
// practice, no source.
func series(r *rand.Rand, kind WhistleKind, at time.Duration) []timeline.TimeRange {
	var n int
	var lo, hi float64
	switch kind {
	case WhistleJamStart:
		n, lo, hi = 1, 0.22, 0.38
	case WhistleLead:
		n, lo, hi = 2, 0.16, 0.28
	case WhistleJamEnd, WhistleTimeout:
		n, lo, hi = 4, 0.16, 0.27
	case WhistlePenalty:
		n, lo, hi = 1, 0.8, 1.4
	default:
		n, lo, hi = 1, 1.6, 2.8
	}
	length, gap := lo+(hi-lo)*r.Float64(), 0.09+0.11*r.Float64()
	var blasts []timeline.TimeRange
	for range n {
		l := length * (0.92 + 0.16*r.Float64())
		blasts = append(blasts, timeline.TimeRange{Start: at, End: at + seconds(l)})
		at += seconds(l + gap)
	}
	return blasts
}

// blow has an official blow a signal now.
func (h *hall) blow(kind WhistleKind, by OfficialRole, echo bool) Whistle {
	return h.blowAt(kind, by, echo, h.now())
}

func (h *hall) blowAt(kind WhistleKind, by OfficialRole, echo bool, at time.Duration) Whistle {
	o := h.officialBy(by)
	w := Whistle{
		Kind: kind, By: by, Echo: echo, Pos: Spot{o.s, o.d}.Point(),
		Blasts: series(h.rng, kind, at), Period: h.period, Jam: h.number,
	}
	h.g.whistles = append(h.g.whistles, w)
	return w
}

// blowEnd has one official end the jam with four blasts and others repeat them,
// the jam timer twice. The jam is over at the end of the first set (Rules 1.1),
// which it returns.
func (h *hall) blowEnd(first OfficialRole) time.Duration {
	w := h.blow(WhistleJamEnd, first, false)
	at := w.At()
	if first == JamTimer {
		h.blowAt(WhistleJamEnd, JamTimer, true, w.End()+seconds(0.25+0.2*h.rng.Float64()))
	}
	for _, role := range Crew[:8] {
		if role == first || role != JamTimer && h.rng.Float64() > 0.45 {
			continue
		}
		e := h.blowAt(WhistleJamEnd, role, true, at+seconds(0.25+0.9*h.rng.Float64()))
		if role == JamTimer {
			h.blowAt(WhistleJamEnd, role, true, e.End()+seconds(0.25+0.2*h.rng.Float64()))
		}
	}
	return w.End()
}

// Whistles lists everything blown in the game by its onset. The slice is the
// caller's.
func (g *Game) Whistles() []Whistle {
	list := append([]Whistle(nil), g.whistles...)
	sort.SliceStable(list, func(i, j int) bool { return list[i].At() < list[j].At() })
	return list
}

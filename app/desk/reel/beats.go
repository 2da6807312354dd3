package reel

import (
	"cmp"
	"slices"
	"time"

	"whistlecut/timeline"
)

// beat is a piece of a part that is shown in one way: film at one speed, a picture
// that is held, or a card.
type beat struct {
	footage timeline.ID // "" for a card
	from    time.Duration
	to      time.Duration // film time; from == to holds the picture
	rate    float64
	length  time.Duration // of a card or a held picture
}

// fileEnd is how long before a file's end its last frame may be shown.
const fileEnd = 300 * time.Millisecond

// beats are the pieces of a part in the order they are shown. long is how long the
// clip's footage is, 0 where that is not known. A clip of another bout has none:
// its film is not here.
func beats(p timeline.Part, long time.Duration) []beat {
	switch {
	case p.Card != nil:
		return []beat{{length: p.Card.Length}}
	case p.Clip == nil || p.Clip.Other != nil:
		return nil
	}
	c := p.Clip
	shown := c.Shown()
	if long > 0 {
		shown.End = min(shown.End, max(long-fileEnd, shown.Start))
	}
	cuts := []time.Duration{shown.Start, shown.End}
	add := func(at time.Duration) {
		if at > shown.Start && at < shown.End {
			cuts = append(cuts, at)
		}
	}
	for _, s := range c.Speeds {
		add(s.Range.Start)
		add(s.Range.End)
	}
	for _, f := range c.Freezes {
		add(f.At)
	}
	slices.Sort(cuts)
	cuts = slices.Compact(cuts)
	hold := slices.SortedStableFunc(slices.Values(c.Freezes), func(a, b timeline.Freeze) int { return cmp.Compare(a.At, b.At) })
	var out []beat
	for i, at := range cuts {
		for _, f := range hold {
			if f.At == at && f.Length > 0 && (at < shown.End || shown.Duration() == 0) {
				out = append(out, beat{footage: c.Footage, from: at, to: at, length: f.Length})
			}
		}
		if i+1 < len(cuts) {
			out = append(out, beat{footage: c.Footage, from: at, to: cuts[i+1], rate: rateAt(c.Speeds, at)})
		}
	}
	return out
}

// rateAt is the speed of a clip at a film time.
func rateAt(speeds []timeline.Speed, at time.Duration) float64 {
	for _, s := range speeds {
		if s.Range.Contains(at) && s.Rate > 0 {
			return s.Rate
		}
	}
	return 1
}

// seconds is how long a beat is on the screen.
func (b beat) seconds() time.Duration {
	if b.to > b.from {
		return time.Duration(float64(b.to-b.from) / b.rate)
	}
	return b.length
}

// startOf is where in the reel each part begins, and how long all of it is.
func startOf(parts []timeline.Part) (starts []time.Duration, whole time.Duration) {
	for _, p := range parts {
		starts = append(starts, whole)
		whole += p.Length()
	}
	return starts, whole
}

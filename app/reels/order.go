package reels

import (
	"slices"

	"whistlecut/timeline"
)

// Move puts a part before another one of its reel; before "" means at the end.
// Only the moved part is changed, so that a colleague's work on the others
// merges; where the numbers between two neighbours are used up, all are
// numbered anew.
func Move(f timeline.Facts, part, before timeline.ID) []timeline.Change {
	p, ok := f.Parts[part]
	if !ok || part == before {
		return nil
	}
	rest := slices.DeleteFunc(f.ReelParts(p.Reel), func(x timeline.Part) bool { return x.ID == part })
	at := slices.IndexFunc(rest, func(x timeline.Part) bool { return x.ID == before })
	if at < 0 {
		at = len(rest)
	}
	low, high := 0.0, 0.0
	if at > 0 {
		low = rest[at-1].Order
	}
	switch {
	case at < len(rest):
		high = rest[at].Order
		if at == 0 {
			low = high - 2
		}
	default:
		high = low + 2
	}
	p.Order = low + (high-low)/2
	if p.Order > low && p.Order < high {
		return []timeline.Change{timeline.SetPart(p)}
	}
	var out []timeline.Change
	for i, x := range slices.Insert(rest, at, p) {
		x.Order = float64(i + 1)
		out = append(out, timeline.SetPart(x))
	}
	return out
}

// Delete takes a reel with all its parts out of the bout.
func Delete(f timeline.Facts, reel timeline.ID) []timeline.Change {
	var out []timeline.Change
	for _, p := range f.ReelParts(reel) {
		out = append(out, timeline.DeletePart(p.ID))
	}
	return append(out, timeline.DeleteReel(reel))
}

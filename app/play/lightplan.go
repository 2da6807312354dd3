package play

import (
	"math"
	"time"
)

// blockTime is the length of one light file: what is lost when preparing is
// stopped.
const blockTime = 20 * time.Second

// block is frames from..to-1 of a film, made in one go.
type block struct{ film, from, to int }

// blockFrames is the number of frames a block has, the same for the whole film,
// so that blocks made at another time fit.
func blockFrames(x index) int {
	if x.Len() == 0 || x.Time(x.Len()) <= 0 {
		return 1
	}
	fps := float64(x.Len()) / x.Time(x.Len()).Seconds()
	return max(1, int(math.Round(fps*blockTime.Seconds())))
}

// planBlocks lists the blocks of a line in the order in which they are to be
// made: those of the first ranges, in their order, then the rest.
func planBlocks(l line, first []Range) []block {
	var list []block
	listed := map[block]bool{}
	add := func(film, from, to int) {
		s := l[film]
		n := blockFrames(s.index)
		from, to = max(from, s.lo), min(to, s.hi, max(s.lo+1, s.index.Playable()))
		for at := from / n * n; at < to; at += n {
			b := block{film, at, min(at+n, s.index.Playable())}
			if b.to > b.from && !listed[b] {
				listed[b] = true
				list = append(list, b)
			}
		}
	}
	for _, r := range first {
		if film := l.find(r.Footage); l.usable(film) && r.To > r.From {
			x := l[film].index
			add(film, x.FrameAt(r.From), x.FrameAt(r.To)+1)
		}
	}
	for film := range l {
		if l.usable(film) {
			add(film, l[film].lo, l[film].hi)
		}
	}
	return list
}

// lightSize is the size of a light copy's pictures: at most lightHeight high
// (or wide, for an upright picture), never larger than the film, even sides.
func lightSize(w, h int) (int, int) {
	const lightWidth, lightHeight = 960, 540
	if h > w {
		h, w = fit(h, w, lightWidth, lightHeight)
		return w, h
	}
	return fit(w, h, lightWidth, lightHeight)
}

// fit scales a picture of w times h into a box, keeping its aspect; it never
// grows. Sides are even and at least 2.
func fit(w, h, boxW, boxH int) (int, int) {
	if w <= 0 || h <= 0 || boxW <= 0 || boxH <= 0 {
		return 2, 2
	}
	scale := min(1, float64(boxW)/float64(w), float64(boxH)/float64(h))
	even := func(n int) int { return max(2, int(math.Round(float64(n)*scale/2))*2) }
	if scale == 1 {
		return max(2, w), max(2, h)
	}
	return even(w), even(h)
}

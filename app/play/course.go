package play

import "time"

// course is how playing goes on from a moment: along the line, or round a loop
// in one film.
type course struct {
	film     int
	from     time.Duration // film time where it starts
	loop     bool
	loopFrom time.Duration // film time in the same film
	loopTo   time.Duration // not included
}

// outcome is how far a course has come.
type outcome int

const (
	onCourse outcome = iota
	atEnd            // past the last frame of the line
	stuck            // at a film that isn't there, or not yet: p is the last frame before it
)

// place is where a course is.
type place struct {
	p    pos
	film time.Duration // exact film time, between p and the frame after it
	left time.Duration // film time until the next frame is due
	how  outcome
	turn int // rounds of the loop done
}

// at gives the place after some film time was played.
func (c course) at(l line, played time.Duration) place {
	film, t := c.film, c.from+max(0, played)
	turn := 0
	if c.loop && c.loopTo > c.loopFrom && t >= c.loopTo {
		over := t - c.loopTo
		turn = 1 + int(over/(c.loopTo-c.loopFrom))
		t = c.loopFrom + over%(c.loopTo-c.loopFrom)
	}
	for {
		s := l[film]
		end := s.over()
		if t < end {
			p := l.at(film, t)
			next := end
			if p.frame+1 < s.hi {
				next = s.index.Time(p.frame + 1)
			}
			if c.loop && c.loopTo > t {
				next = min(next, c.loopTo)
			}
			return place{p: p, film: t, left: next - t, turn: turn}
		}
		last := place{p: pos{film, s.hi - 1}, film: end, turn: turn}
		switch {
		case film+1 == len(l):
			last.how = atEnd
			return last
		case !l.usable(film + 1):
			last.how = stuck
			return last
		}
		t -= end
		film++
		t += max(l[film].From, l[film].index.Time(l[film].lo))
	}
}

// next is the frame played after p; ok is false at the end.
func (c course) next(l line, p pos) (pos, bool) {
	if c.loop && p.film == c.film {
		first, last := c.bounds(l)
		if p.frame >= last {
			return pos{c.film, first}, true
		}
	}
	n := l.move(p, 1)
	return n, n != p
}

// bounds are the first and the last frame of the loop.
func (c course) bounds(l line) (first, last int) {
	return l.at(c.film, c.loopFrom).frame, l.at(c.film, c.loopTo-1).frame
}

// piece is film time from..to of one film, to be heard.
type piece struct {
	film     int
	from, to time.Duration
}

// pieces calls yield for what a course plays, piece by piece, until it is told
// to stop or the line ends. A film that isn't there ends it, too.
func (c course) pieces(l line, yield func(piece) bool) {
	film, t := c.film, c.from
	for film < len(l) && l.usable(film) {
		s := l[film]
		end := s.over()
		if c.loop && c.loopTo > c.loopFrom && film == c.film {
			if t < c.loopTo && !yield(piece{film, t, c.loopTo}) {
				return
			}
			for yield(piece{film, c.loopFrom, c.loopTo}) {
			}
			return
		}
		if t < end && !yield(piece{film, t, end}) {
			return
		}
		film++
		if film < len(l) && l.usable(film) {
			t = max(l[film].From, l[film].index.Time(l[film].lo))
		}
	}
}

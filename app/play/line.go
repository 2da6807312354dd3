package play

import (
	"time"

	"whistlecut/timeline"
	"whistlecut/timeline/footage"
)

// index is what the player knows of a film's frames; *footage.Index is one.
type index interface {
	Len() int
	Time(i int) time.Duration
	FrameAt(film time.Duration) int
	KeyBefore(i int) int
	KeyAfter(i int) int
	Playable() int
}

// pos is a frame: the film's number in load order and the frame's in its file.
type pos struct{ film, frame int }

// stretch is one film on the line.
type stretch struct {
	Film
	settled bool  // opened, or known not to open
	state   State // Missing or Broken when there is nothing to show; else ""
	note    string
	file    *footage.File
	index   index
	lo, hi  int // frames lo..hi-1 belong to the bout
	gaps    []gap
}

// settle sets the frames that belong to the bout.
func (s *stretch) settle(x index) {
	s.settled, s.index = true, x
	s.lo, s.hi = 0, x.Len()
	if s.From > 0 {
		s.lo = x.FrameAt(s.From)
	}
	if s.To > 0 && s.To < x.Time(x.Len()) {
		s.hi = x.FrameAt(s.To)
		if x.Time(s.hi) < s.To {
			s.hi++
		}
	}
	s.hi = max(s.hi, s.lo+1)
	s.gaps = nil
	if end := x.Playable(); end < s.hi {
		s.addGap(gap{from: max(end, s.lo), to: s.hi})
	}
}

// usable says whether frames can be had.
func (s *stretch) usable() bool { return s.settled && s.state == "" && s.index != nil }

// over is the film time at which the bout's part ends.
func (s *stretch) over() time.Duration {
	end := s.index.Time(s.hi)
	if s.To > 0 {
		end = min(end, max(s.To, s.index.Time(s.hi-1)+1))
	}
	return end
}

// line is the films in order.
type line []*stretch

// find gives the number of a film, -1 when it isn't loaded.
func (l line) find(id timeline.ID) int {
	for i, s := range l {
		if s.ID == id {
			return i
		}
	}
	return -1
}

// at is the frame shown at a film time, kept within the bout.
func (l line) at(film int, t time.Duration) pos {
	s := l[film]
	return pos{film, min(max(s.index.FrameAt(t), s.lo), s.hi-1)}
}

// time is when a frame appears.
func (l line) time(p pos) time.Duration { return l[p.film].index.Time(p.frame) }

// usable says whether a film's frames can be had.
func (l line) usable(film int) bool { return film >= 0 && film < len(l) && l[film].usable() }

// move goes n frames on, or back, over file edges. It stops at the ends of the
// line and before films that can't be shown.
func (l line) move(p pos, n int) pos {
	for n != 0 {
		s := l[p.film]
		if n > 0 {
			if room := s.hi - 1 - p.frame; n <= room {
				return pos{p.film, p.frame + n}
			} else if !l.usable(p.film + 1) {
				return pos{p.film, s.hi - 1}
			} else {
				n -= room + 1
				p = pos{p.film + 1, l[p.film+1].lo}
			}
			continue
		}
		if room := p.frame - s.lo; -n <= room {
			return pos{p.film, p.frame + n}
		} else if !l.usable(p.film - 1) {
			return pos{p.film, s.lo}
		} else {
			n += room + 1
			p = pos{p.film - 1, l[p.film-1].hi - 1}
		}
	}
	return p
}

// between counts the frames from a to b; negative when b is before a. Films
// that can't be shown count none.
func (l line) between(a, b pos) int {
	if a.film == b.film {
		return b.frame - a.frame
	}
	if b.film < a.film {
		return -l.between(b, a)
	}
	if !l.usable(a.film) || !l.usable(b.film) {
		return 1 << 30
	}
	n := l[a.film].hi - a.frame + b.frame - l[b.film].lo
	for f := a.film + 1; f < b.film; f++ {
		if l.usable(f) {
			n += l[f].hi - l[f].lo
		}
	}
	return n
}

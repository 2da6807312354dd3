package play

import (
	"path/filepath"
	"time"
)

// About is what a notice is about.
type About string

// The notices.
const (
	Gone       About = "gone"       // the film's file is not in its place
	Cut        About = "cut"        // the film cannot be decoded from At on
	Damaged    About = "damaged"    // the film cannot be decoded from At to Until; playing goes on behind it
	Passed     About = "passed"     // what is shown comes behind film damaged from At to Until
	Unreadable About = "unreadable" // the film cannot be read at all
	Silent     About = "silent"     // no sound; the picture goes by the clock
)

// Notice is a Note in its parts. The zero value says nothing.
type Notice struct {
	About        About
	File, Folder string        // of the film
	At, Until    time.Duration // film times of Cut, Damaged and Passed
	Why          string        // the decoder's or the reader's words, if it gave any
}

// notice is what there is to say of a film that is not shown as it should be.
func (s *stretch) notice(about About) Notice {
	n := Notice{About: about, File: filepath.Base(s.Path), Folder: filepath.Dir(s.Path)}
	if about == Unreadable {
		n.Why = s.note
	}
	return n
}

// gapNotice is the notice of a gap at which the film stands.
func (s *stretch) gapNotice(g gap) Notice {
	n := s.notice(Cut)
	if g.to < s.hi {
		n.About, n.Until = Damaged, s.index.Time(g.to)
	}
	n.At, n.Why = s.index.Time(g.from), g.why
	return n
}

// passedNotice is the notice of a gap behind which the film went on.
func (s *stretch) passedNotice(g gap) Notice {
	n := s.notice(Passed)
	n.At, n.Until = s.index.Time(g.from), s.index.Time(g.to)
	return n
}

// stateNotice is the notice of a stretch by its state.
func (s *stretch) stateNotice() Notice {
	if s.state == Missing {
		return s.notice(Gone)
	}
	return s.notice(Unreadable)
}

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
	Unreadable About = "unreadable" // the film cannot be read at all
	Silent     About = "silent"     // no sound; the picture goes by the clock
)

// Notice is a Note in its parts. The zero value says nothing.
type Notice struct {
	About        About
	File, Folder string        // of the film
	At           time.Duration // film time, of Cut
	Why          string        // the decoder's or the reader's words, if it gave any
}

// notice is what there is to say of a film that is not shown as it should be.
func (s *stretch) notice(about About) Notice {
	n := Notice{About: about, File: filepath.Base(s.Path), Folder: filepath.Dir(s.Path)}
	switch about {
	case Cut:
		n.At, n.Why = s.index.Time(min(s.broken, s.index.Len())), s.why
	case Unreadable:
		n.Why = s.note
	}
	return n
}

// stateNotice is the notice of a stretch by its state.
func (s *stretch) stateNotice() Notice {
	if s.state == Missing {
		return s.notice(Gone)
	}
	return s.notice(Unreadable)
}

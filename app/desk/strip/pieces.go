package strip

import (
	"time"

	"whistlecut/timeline"
)

// Pieces are the files of one camera in order. A file whose length nobody knows
// is taken to end a minute after the last thing tagged on it. frames gives the
// times of a file's frames where they are known; it may be nil.
func Pieces(f timeline.Facts, camera string, frames map[timeline.ID]Frames) []Piece {
	var out []Piece
	for _, x := range f.FootageInOrder() {
		if x.Camera != camera {
			continue
		}
		part := x.Range
		if part == (timeline.TimeRange{}) {
			part.End = x.Duration
			if part.End <= 0 {
				part.End = lastOn(f, x.ID) + time.Minute
			}
		} else if x.Duration > 0 {
			part.End = min(part.End, x.Duration)
		}
		out = append(out, Piece{Footage: x.ID, Film: part, Joined: x.Joined, Frames: frames[x.ID]})
	}
	return out
}

// lastOn is the latest film time that a tag or mark names on a file.
func lastOn(f timeline.Facts, footage timeline.ID) time.Duration {
	last := time.Duration(0)
	look := func(p timeline.Place) {
		if p.Footage == footage {
			last = max(last, p.Film)
		}
	}
	for _, t := range f.Tags {
		look(t.Place)
		switch {
		case t.JamInfo != nil:
			look(t.JamInfo.End)
		case t.Box != nil:
			look(t.Box.Out)
		}
	}
	for _, m := range f.Marks {
		look(timeline.OnFilm(m.Footage, m.Film))
	}
	return last
}

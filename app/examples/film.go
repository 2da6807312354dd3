package examples

import (
	"errors"
	"time"

	"whistlecut/app"
	"whistlecut/timeline"
	"whistlecut/timeline/whistle"
)

// shownAt is where the best film shows a place.
func shownAt(s *app.Session, p timeline.Place) (timeline.FilmSpot, bool) {
	list := s.Bout.Alignment.Films(p)
	if len(list) == 0 {
		return timeline.FilmSpot{}, false
	}
	return list[0], true
}

// onFile is the film time of a place in one file.
func onFile(s *app.Session, footage timeline.ID, p timeline.Place) (time.Duration, bool) {
	if p.Footage == footage && footage != "" {
		return p.Film, true
	}
	for _, x := range s.Bout.Alignment.Films(p) {
		if x.Footage == footage {
			return x.Film, true
		}
	}
	return 0, false
}

// notShown says why a place has no film.
func notShown(p timeline.Place) error {
	if !p.HasTime() {
		return errors.New("only its jam is known; place it on the film first")
	}
	return errors.New("no film shows it as far as the jams are placed")
}

// Heard are the whistles that were heard earlier in the bout's films, by footage;
// it never listens itself. It reads parts of the files, so call it in the background.
func Heard(a *app.App, s *app.Session) map[timeline.ID]whistle.Result {
	out := map[timeline.ID]whistle.Result{}
	for id := range s.Facts.Footage {
		path, err := s.Film(id)
		if err != nil {
			continue // a film that is missing was heard nowhere
		}
		if got, ok := a.Heard(path); ok {
			out[id] = got.Result
		}
	}
	return out
}

package app

import (
	"context"
	"fmt"
	"os"
	"strings"

	"whistlecut/timeline"
	"whistlecut/timeline/footage"
)

// FoundFilm is one film of a bout that was looked for.
type FoundFilm struct {
	Footage timeline.ID `json:"footage"`
	Was     string      `json:"was"`           // path as stored
	Now     string      `json:"now"`           // path where it lies; empty: not found
	Why     string      `json:"why,omitempty"` // it was not found
}

// FindMissing looks for the films of a bout that are not where they were, by what
// is in them, in folders and all folders below these, whatever they are called
// now. The new places are stored as one undoable action. Films that lie where they
// should are left out; when none is missing the list is empty. A folder that is
// not there is an error; when ctx ends what was found by then is stored.
func (a *App) FindMissing(ctx context.Context, s *Session, dirs []string) ([]FoundFilm, error) {
	for _, d := range dirs {
		if st, err := os.Stat(d); err != nil || !st.IsDir() {
			return nil, fmt.Errorf("there is no folder %s to look for films in; check the name", d)
		}
	}
	var out []FoundFilm
	var missing []timeline.Footage
	var wanted []footage.Fingerprint
	for _, f := range s.Facts.FootageInOrder() {
		if s.filmFits(f) {
			continue
		}
		missing = append(missing, f)
		if f.Fingerprint != "" {
			wanted = append(wanted, footage.Fingerprint(f.Fingerprint))
		}
	}
	if len(missing) == 0 {
		return nil, nil
	}
	step := a.Step("looking for films in " + strings.Join(dirs, ", "))
	found, err := footage.FindMoved(ctx, dirs, wanted...)
	step(1)
	var changes []timeline.Change
	for _, f := range missing {
		x := FoundFilm{Footage: f.ID, Was: f.Path}
		if path := found[footage.Fingerprint(f.Fingerprint)]; path != "" && f.Fingerprint != "" {
			f.Path = s.relative(path)
			x.Now = f.Path
			changes = append(changes, timeline.SetFootage(f))
		} else if f.Fingerprint == "" {
			x.Why = "the bout does not know what is in it, so it can't be told from others; add it again"
		} else {
			x.Why = "it is in none of the folders; name another one"
		}
		out = append(out, x)
	}
	if e := s.Apply("films found again", changes...); err == nil {
		err = e
	}
	return out, err
}

// filmFits reports whether a footage file lies where the bout says or beside it,
// and is the film that the bout was made with.
func (s *Session) filmFits(f timeline.Footage) bool {
	path, err := s.Film(f.ID)
	if err != nil {
		return false
	}
	if f.Fingerprint == "" {
		return true
	}
	fp, err := footage.FingerprintOf(path)
	return err == nil && string(fp) == f.Fingerprint
}

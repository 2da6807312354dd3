package app

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"

	"whistlecut/timeline"
	"whistlecut/timeline/footage"
)

// AddedFootage says what was understood of the files of one camera.
type AddedFootage struct {
	Camera string      `json:"camera"`
	Files  []AddedFile `json:"files"` // in the order of the film
	// Confidence (0..1) that the order is right, and why.
	Confidence float64  `json:"confidence"`
	Why        []string `json:"why,omitempty"`
}

// AddedFile is one file of a camera.
type AddedFile struct {
	ID     timeline.ID `json:"id"`
	Path   string      `json:"path"`
	Film   string      `json:"length"`
	Frames int         `json:"frames"`
	Sound  bool        `json:"sound"`
	Notes  []string    `json:"notes,omitempty"`
}

// AddFootage probes the files of one camera, puts them in order by content and
// stores them in the bout; chapters of one recording are joined. The same file is
// added once. With keepOrder the files stay in the order given.
func (a *App) AddFootage(ctx context.Context, s *Session, camera string, paths []string, keepOrder bool) (AddedFootage, error) {
	added := AddedFootage{Camera: camera, Confidence: 1}
	files := make([]*footage.File, len(paths))
	step := a.Step("reading the footage")
	for i, p := range paths {
		f, err := a.openNamed(ctx, p)
		if err != nil {
			return added, err
		}
		files[i] = f
		step(float64(i+1) / float64(len(paths)+1))
	}
	order := make([]int, len(files))
	for i := range order {
		order[i] = i
	}
	joined := map[[2]int]bool{} // from file, to file: the recording goes on
	if len(files) > 1 {
		o, err := footage.Order(ctx, a.Runner, files)
		if err != nil {
			return added, err
		}
		if !keepOrder {
			order, added.Confidence, added.Why = o.Order, o.Confidence, o.Why
		}
		for _, j := range o.Joints {
			joined[[2]int{j.From, j.To}] = j.Continuous && j.Confidence >= sureJoint
		}
	}
	step(1)
	next := 1.0
	for _, f := range s.Facts.Footage {
		if f.Camera == camera && f.Order >= next {
			next = f.Order + 1
		}
	}
	var changes []timeline.Change
	for k, i := range order {
		f := files[i]
		follows := k > 0 && joined[[2]int{order[k-1], i}]
		id := timeline.ImportID("footage", string(f.Fingerprint))
		out := AddedFile{ID: id, Path: f.Path, Film: Clock(f.Index.Duration()), Frames: f.Index.Len(), Sound: f.Info.HasSound()}
		if !out.Sound {
			out.Notes = append(out.Notes, "no sound track: whistles cannot be heard")
		}
		if f.Index.Variable() {
			out.Notes = append(out.Notes, "variable frame rate")
		}
		if r := f.Info.Video.Rotation; r != 0 {
			out.Notes = append(out.Notes, "turned by "+strconv.Itoa(r)+" degrees when shown")
		}
		if n := f.Index.Playable(); n < f.Index.Len() {
			out.Notes = append(out.Notes, fmt.Sprintf("broken off: the last %d frames are missing from the file", f.Index.Len()-n))
		}
		if follows {
			out.Notes = append(out.Notes, "goes on without a gap")
		}
		added.Files = append(added.Files, out)
		if old, ok := s.Facts.Footage[id]; ok {
			// A known file that was moved keeps its place and its settings.
			if abs := s.relative(f.Path); abs != old.Path {
				old.Path = abs
				changes = append(changes, timeline.SetFootage(old))
			}
			continue
		}
		changes = append(changes, timeline.SetFootage(timeline.Footage{
			ID: id, Path: s.relative(f.Path), Fingerprint: string(f.Fingerprint),
			Camera: camera, Order: next, Duration: f.Index.Duration(), Joined: follows,
		}))
		next++
	}
	return added, s.Apply("footage of camera "+camera, changes...)
}

// sureJoint is how sure two files have to follow each other to be taken for
// chapters of one recording: a wrong joint would shift a whole file.
const sureJoint = 0.9

// openNamed opens a film that somebody named.
func (a *App) openNamed(ctx context.Context, path string) (*footage.File, error) {
	if err := fileThere(path); err != nil {
		return nil, err
	}
	return footage.Open(ctx, a.Runner, path)
}

// fileThere says what is wrong with a name that is no file's.
func fileThere(path string) error {
	switch st, err := os.Stat(path); {
	case errors.Is(err, fs.ErrNotExist):
		return fmt.Errorf("there is no file %s; check the name", path)
	case err == nil && st.IsDir():
		return fmt.Errorf("%s is a folder; name the films in it one by one", path)
	}
	return nil
}

// relative is the path as it is stored: relative to the bout file when the film
// lies beside or below it, so that the folder can move; absolute otherwise.
func (s *Session) relative(path string) string {
	abs, err := filepath.Abs(path)
	if err != nil {
		return path
	}
	base, err := filepath.Abs(filepath.Dir(s.Path))
	if err != nil {
		return abs
	}
	rel, err := filepath.Rel(base, abs)
	if err != nil || !filepath.IsLocal(rel) {
		return abs
	}
	return filepath.ToSlash(rel)
}

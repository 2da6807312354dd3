package reels

import (
	"errors"
	"fmt"
	"maps"
	"path/filepath"
	"slices"
	"time"

	"whistlecut/app"
	"whistlecut/timeline"
	"whistlecut/timeline/footage"
)

// otherOf says where a clip of another bout comes from.
func otherOf(of *app.Session, c timeline.Clip, shown map[string]string) *timeline.OtherBout {
	f := of.Facts.Footage[c.Footage]
	film, err := of.Film(c.Footage)
	if err != nil {
		film = f.Path // it is said when it is wanted
	}
	o := &timeline.OtherBout{
		Bout: whole(of.Path), Title: boutTitle(of), Film: whole(film), Fingerprint: f.Fingerprint, Shown: shown,
		Length: f.Duration, Colours: [2]string{of.Facts.Teams[0].Colour, of.Facts.Teams[1].Colour},
	}
	if o.Fingerprint == "" {
		if got, err := footage.FingerprintOf(film); err == nil {
			o.Fingerprint = string(got)
		}
	}
	o.Drawings = brought(of.Facts, c)
	return o
}

// near is how far from a clip drawings are brought along: its margins may grow.
const near = time.Minute

// brought are the drawings that come with a clip: those near it, and all that hide
// something on its film, however far the clip will be made longer.
func brought(f timeline.Facts, c timeline.Clip) []timeline.Tag {
	shown := c.Shown()
	list := drawn(f, c.Footage, timeline.TimeRange{Start: shown.Start - near, End: shown.End + near})
	for _, t := range timeline.SortTags(f.Tags) {
		if t.Drawing != nil && t.Drawing.Shape == timeline.ShapeHide && t.Place.Footage == c.Footage && !slices.ContainsFunc(list, func(x timeline.Tag) bool { return x.ID == t.ID }) {
			list = append(list, t)
		}
	}
	return list
}

// boutTitle names a bout: its title and day, its teams, or its file.
func boutTitle(s *app.Session) string {
	if line := boutLine(s).In(""); line != "" {
		return line
	}
	return filepath.Base(s.Path)
}

func whole(path string) string {
	if full, err := filepath.Abs(path); err == nil {
		return full
	}
	return path
}

// Sketches are the drawings over a clip, as facts that hold nothing else: those of
// the open bout, or those that a clip of another bout has brought along.
func Sketches(f timeline.Facts, c timeline.Clip) timeline.Facts {
	if c.Other == nil {
		return f
	}
	out := timeline.Facts{Tags: map[timeline.ID]timeline.Tag{}}
	for _, t := range c.Other.Drawings {
		out.Tags[t.ID] = t
	}
	for i, colour := range c.Other.Colours {
		out.Teams[i].Colour = colour
	}
	return out
}

// OtherFilm is the path of the film of a clip of another bout: where it was, else
// beside this bout or beside that one. Cameras name their files alike, so that
// elsewhere only the same file will do; note says that another one lies now where it
// was. The error says what is missing and what to do.
func OtherFilm(s *app.Session, o timeline.OtherBout) (path, note string, err error) {
	dir, base := filepath.Dir(s.Path), filepath.Base(o.Film)
	for _, p := range []string{o.Film, filepath.Join(dir, o.Film), filepath.Join(dir, base), filepath.Join(filepath.Dir(o.Bout), base)} {
		if !isFile(p) {
			continue
		}
		if got, err := footage.FingerprintOf(p); err == nil && o.Fingerprint != "" && string(got) != o.Fingerprint {
			if p != o.Film {
				continue
			}
			note = fmt.Sprintf("%s is another file than the one that was chosen from %s", filepath.Base(p), o.Title)
		}
		return p, note, nil
	}
	return "", "", fmt.Errorf("the film %s of %s is missing; put it back, or beside %s", o.Film, o.Title, filepath.Base(s.Path))
}

// TakeParts puts parts of a reel of another bout behind the last part of a reel of
// s, with captions, speeds, held pictures and drawings. A second camera is left out.
func TakeParts(s, of *app.Session, reel timeline.Reel, parts []timeline.Part) (Collected, error) {
	var out Collected
	if of == s {
		return out, errors.New("these parts are of this bout: choose another one")
	}
	order := 0.0
	for _, p := range s.Facts.ReelParts(reel.ID) {
		order = max(order, p.Order)
	}
	all := moments(of)
	for _, p := range parts {
		order++
		p.ID, p.Reel, p.Order = s.File.Log().NewID(), reel.ID, order
		p.Caption = maps.Clone(p.Caption)
		if p.Clip != nil {
			c := *p.Clip
			if c.Other == nil {
				c.Other = otherOf(of, c, labels(of, all, c))
			}
			if c.Beside != "" {
				c.Beside = ""
				out.Notes = append(out.Notes, "the second camera of a clip is left out: it belongs to the other bout")
			}
			p.Clip = &c
		}
		out.Parts = append(out.Parts, p)
		out.Changes = append(out.Changes, timeline.SetPart(p))
	}
	out.Notes = slices.Compact(out.Notes)
	return out, nil
}

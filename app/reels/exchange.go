package reels

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"time"

	"whistlecut/app"
	"whistlecut/timeline"
)

// File is a reel as JSON, to be written by hand or by another program and taken
// in with Import. Times are nanoseconds, as everywhere in the bout. The drawings of its clips come with it.
type File struct {
	Reel     timeline.Reel   `json:"reel"`
	Parts    []timeline.Part `json:"parts"`
	Drawings []timeline.Tag  `json:"drawings,omitempty"`
}

// Export is a reel with its parts and the drawings its clips show.
func Export(f timeline.Facts, reel timeline.ID) File {
	out := File{Reel: f.Reels[reel], Parts: f.ReelParts(reel)}
	for _, t := range timeline.SortTags(f.Tags) {
		if t.Drawing != nil && slices.ContainsFunc(out.Parts, func(p timeline.Part) bool { return shows(p, t) }) {
			out.Drawings = append(out.Drawings, t)
		}
	}
	return out
}

// shows reports whether a drawing is to be seen in a part.
func shows(p timeline.Part, t timeline.Tag) bool {
	if p.Clip == nil || p.Clip.Other != nil || t.Drawing == nil || t.Place.Footage != p.Clip.Footage {
		return false
	}
	shown := p.Clip.Shown()
	return t.Place.Film < shown.End && t.Drawing.End.Film >= shown.Start
}

// Write writes a reel as JSON.
func (x File) Write(w io.Writer) error {
	e := json.NewEncoder(w)
	e.SetIndent("", "  ")
	e.SetEscapeHTML(false)
	return e.Encode(x)
}

// Import takes a reel in from JSON: records with the same IDs are replaced, those
// without get new ones. Footage may be named by path or base name. Nothing is
// changed when anything is wrong.
func Import(s *app.Session, data []byte) (timeline.Reel, []timeline.Change, error) {
	var x File
	d := json.NewDecoder(bytes.NewReader(data))
	d.DisallowUnknownFields()
	if err := d.Decode(&x); err != nil {
		return x.Reel, nil, fmt.Errorf("cannot read the reel: %w", err)
	}
	if x.Reel.Name == "" {
		return x.Reel, nil, errors.New("cannot take in the reel: it has no name")
	}
	if x.Reel.ID == "" {
		x.Reel.ID = timeline.ImportID("reel", x.Reel.Name)
	}
	if err := timeline.CheckReel(x.Reel); err != nil {
		return x.Reel, nil, fmt.Errorf("cannot take in the reel: %w", err)
	}
	out := []timeline.Change{timeline.SetReel(x.Reel)}
	var errs []error
	var stays []timeline.ID
	for i, p := range x.Parts {
		p.Reel = x.Reel.ID
		if p.ID == "" {
			p.ID = timeline.ImportID("reel part", string(p.Reel), fmt.Sprint(i))
		}
		if p.Order == 0 {
			p.Order = float64(i + 1)
		}
		var err error
		if p.Clip != nil && p.Clip.Other == nil {
			c := *p.Clip
			c.Footage, err = footageNamed(s.Facts, string(c.Footage))
			if err == nil && c.Beside != "" {
				c.Beside, err = footageNamed(s.Facts, string(c.Beside))
			}
			p.Clip = &c
		}
		if err == nil {
			err = timeline.CheckPart(p)
		}
		if err != nil {
			errs = append(errs, fmt.Errorf("parts[%d]: %w", i, err))
			continue
		}
		stays = append(stays, p.ID)
		out = append(out, timeline.SetPart(p))
	}
	for i, t := range x.Drawings {
		if t.ID == "" {
			t.ID = timeline.ImportID("reel drawing", string(x.Reel.ID), fmt.Sprint(i))
		}
		if t.Kind == "" {
			t.Kind = timeline.KindDrawing
		}
		footage, err := footageNamed(s.Facts, string(t.Place.Footage))
		if err == nil {
			t.Place.Footage = footage
			if t.Drawing != nil {
				drawn := *t.Drawing
				drawn.End.Footage = footage
				t.Drawing = &drawn
			}
			err = timeline.CheckTag(t)
		}
		if err != nil {
			errs = append(errs, fmt.Errorf("drawings[%d]: %w", i, err))
			continue
		}
		out = append(out, timeline.SetTag(t))
	}
	if err := errors.Join(errs...); err != nil {
		return x.Reel, nil, fmt.Errorf("cannot take in the reel: %w", err)
	}
	for _, p := range s.Facts.ReelParts(x.Reel.ID) {
		if !slices.Contains(stays, p.ID) {
			out = append(out, timeline.DeletePart(p.ID))
		}
	}
	return x.Reel, out, nil
}

// footageNamed is a footage file by ID, path or base name.
func footageNamed(f timeline.Facts, name string) (timeline.ID, error) {
	if _, ok := f.Footage[timeline.ID(name)]; ok {
		return timeline.ID(name), nil
	}
	var found []timeline.ID
	for _, x := range f.FootageInOrder() {
		if x.Path == name || filepath.Base(x.Path) == filepath.Base(name) {
			found = append(found, x.ID)
		}
	}
	switch len(found) {
	case 1:
		return found[0], nil
	case 0:
		return "", fmt.Errorf("%q is not footage of this bout", name)
	}
	return "", fmt.Errorf("%q names %d files of this bout; give more of the path", name, len(found))
}

// Length is how long a reel runs.
func Length(parts []timeline.Part) time.Duration {
	var sum time.Duration
	for _, p := range parts {
		sum += p.Length()
	}
	return sum
}

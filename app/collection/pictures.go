package collection

import (
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/zeebo/xxh3"

	"whistlecut/timeline"
)

// Stills and previews lie in a folder beside the index, so that an example can be
// looked at while its film is away. A picture's name follows from what it shows,
// drawings included: when something is to be hidden later, the older picture
// belongs to nobody any more and is deleted.

const (
	stillEnd   = ".jpg"
	previewEnd = ".mp4"
)

// pictureDir is the folder of stills and previews.
func (x *Index) pictureDir() string { return x.path + ".pictures" }

// pictureName names the pictures of an example. It tells nothing to a person who
// sees the file: no skater, team, code or verdict.
func pictureName(bout string, f timeline.Facts, t timeline.Tag) string {
	film := f.Footage[t.Place.Footage]
	of := cmp.Or(film.Fingerprint, bout) // a film that is known finds its pictures when the bout was moved
	shown := stretchOf(t)
	list := drawings(f, t.Place.Footage, shown)
	for i, d := range list {
		// Only what is seen of it counts.
		drawing := *d.Drawing
		drawing.End = timeline.OnFilm("", min(drawing.End.Film, shown.End))
		list[i] = timeline.Tag{Place: timeline.OnFilm("", max(d.Place.Film, shown.Start)), Drawing: &drawing}
	}
	drawn, err := json.Marshal(list)
	if err != nil {
		return "" // drawings are plain numbers and words
	}
	h := xxh3.HashString128(fmt.Sprint(of, "\n", t.ID, "\n", t.Place, "\n", t.Example.End.Film, "\n", f.Teams[0].Colour, f.Teams[1].Colour, "\n", string(drawn)))
	return fmt.Sprintf("%016x%016x", h.Hi, h.Lo)
}

// stretchOf is the film of an example.
func stretchOf(t timeline.Tag) timeline.TimeRange {
	return timeline.TimeRange{Start: t.Place.Film, End: max(t.Place.Film, t.Example.End.Film)}
}

// drawings lists what is drawn on a stretch of film, by the time it appears.
func drawings(f timeline.Facts, film timeline.ID, shown timeline.TimeRange) []timeline.Tag {
	var out []timeline.Tag
	for _, t := range timeline.SortTags(f.Tags) {
		if t.Drawing != nil && t.Place.Footage == film && t.Place.Film <= shown.End && t.Drawing.End.Film >= shown.Start {
			out = append(out, t)
		}
	}
	return out
}

// pictures adds the files that show an entry, where there are any.
func (x *Index) pictures(e *Entry) {
	name := e.Still
	e.Still = ""
	if name == "" {
		return
	}
	if p := filepath.Join(x.pictureDir(), name+stillEnd); exists(p) {
		e.Still = p
	}
	if p := filepath.Join(x.pictureDir(), name+previewEnd); exists(p) {
		e.Preview = p
	}
}

func exists(path string) bool {
	info, err := os.Stat(path)
	return err == nil && info.Size() > 0
}

// picture is one file in the folder of pictures.
type picture struct {
	name string // with its ending
	size int64
	time int64
}

// listPictures lists the folder, the oldest file first. No folder is no error.
func (x *Index) listPictures() (out []picture, total int64, err error) {
	list, err := os.ReadDir(x.pictureDir())
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, 0, err
	}
	for _, d := range list {
		info, err := d.Info()
		if err != nil || d.IsDir() {
			continue // it went away meanwhile, or is none of ours
		}
		if end := filepath.Ext(d.Name()); end != stillEnd && end != previewEnd || strings.HasPrefix(d.Name(), ".") {
			continue // being written
		}
		out = append(out, picture{d.Name(), info.Size(), info.ModTime().UnixNano()})
		total += info.Size()
	}
	slices.SortFunc(out, func(a, b picture) int { return cmp.Or(cmp.Compare(a.time, b.time), cmp.Compare(a.name, b.name)) })
	return out, total, nil
}

// tidyPictures deletes the pictures that belong to no example any more.
func (x *Index) tidyPictures(ctx context.Context) error {
	list, _, err := x.listPictures()
	if err != nil || len(list) == 0 {
		return err
	}
	if x.write == nil {
		return errShut
	}
	rows, err := x.write.QueryContext(ctx, "SELECT still FROM entry WHERE kind = 'example' AND still <> ''")
	if err != nil {
		return err
	}
	defer rows.Close()
	wanted := map[string]bool{}
	for rows.Next() {
		var s string
		if err := rows.Scan(&s); err != nil {
			return err
		}
		wanted[s] = true
	}
	if err := rows.Err(); err != nil {
		return err
	}
	for _, p := range list {
		if !wanted[strings.TrimSuffix(p.name, filepath.Ext(p.name))] {
			err = errors.Join(err, x.removePicture(p))
		}
	}
	return err
}

func (x *Index) removePicture(p picture) error {
	err := os.Remove(filepath.Join(x.pictureDir(), p.name))
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	return err
}

// DeletePictures deletes all stills and previews. It returns how many there were.
func (x *Index) DeletePictures() (n int, err error) {
	x.mu.RLock()
	defer x.mu.RUnlock()
	list, _, err := x.listPictures()
	for _, p := range list {
		if e := x.removePicture(p); e != nil {
			err = errors.Join(err, e)
			continue
		}
		n++
	}
	if err != nil {
		err = fmt.Errorf("cannot delete the pictures of the collection: %w", err)
	}
	return n, err
}

// shrinkPictures deletes the oldest pictures until they take no more than so many bytes.
func (x *Index) shrinkPictures(limit int64) (total int64, err error) {
	list, total, err := x.listPictures()
	for _, p := range list {
		if err != nil || total <= limit {
			break
		}
		if err = x.removePicture(p); err == nil {
			total -= p.size
		}
	}
	return total, err
}

package collection

import (
	"context"
	"errors"
	"fmt"
	"image"
	"image/jpeg"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"time"

	"whistlecut/app"
	"whistlecut/app/reels"
	"whistlecut/export/overlay"
	"whistlecut/export/reel"
	"whistlecut/timeline"
	"whistlecut/timeline/footage"
	"whistlecut/timeline/footage/ffmpeg"
)

// Sizes of pictures, in pixels and seconds.
const (
	stillWidth, stillHeight     = 480, 480
	previewWidth, previewHeight = 320, 320
	longestPreview              = 10 * time.Second
	stillQuality                = 80
)

// What one picture may take, in bytes: so much must be left below the limit.
const (
	roomForStill   = 64 << 10
	roomForPreview = 400 << 10
)

// DefaultPictureBytes is how much room stills and previews may take when nothing
// else is said: some ten thousand stills, or two thousand with previews.
const DefaultPictureBytes = 500 << 20

// PictureOptions say which pictures are made.
type PictureOptions struct {
	Previews  bool  // a small silent film of each example, too
	Sensitive bool  // of sensitive examples, too
	Bytes     int64 // most room that all pictures may take; 0 is DefaultPictureBytes
}

// PictureReport is what MakePictures did.
type PictureReport struct {
	Made int `json:"made"`
	// Missing is how many examples have no still after it, sensitive ones left out not counted.
	Missing int   `json:"missing,omitempty"`
	Bytes   int64 `json:"bytes"` // all pictures together
	// Notices are sentences: films that are away, a limit that was reached.
	Notices []string `json:"notices,omitempty"`
}

// MakePictures makes the stills, and if asked the previews, of all examples whose
// film is there, and deletes those that belong to none. Bouts that changed since
// they were indexed are left to the next Update. What is hidden on the film is
// hidden on them. After a cancel the finished ones stay.
func (x *Index) MakePictures(ctx context.Context, a *app.App, o PictureOptions) (r PictureReport, err error) {
	defer func() { err = worded("make pictures for", x.path, err) }()
	x.mu.RLock()
	defer x.mu.RUnlock()
	if o.Bytes <= 0 {
		o.Bytes = DefaultPictureBytes
	}
	if err := x.tidyPictures(ctx); err != nil {
		return r, err
	}
	if r.Bytes, err = x.shrinkPictures(o.Bytes); err != nil {
		return r, err
	}
	todo, of, err := x.withoutPictures(ctx, o)
	if err != nil || of == 0 {
		return r, err
	}
	if err := os.MkdirAll(x.pictureDir(), 0o700); err != nil {
		return r, err
	}
	p := photographer{x: x, ctx: ctx, a: a, o: o, r: &r, step: a.Step("taking stills"), of: of}
	for _, bout := range slices.Sorted(keys(todo)) {
		if err := ctx.Err(); err != nil {
			return r, err
		}
		if err := p.bout(bout, todo[bout]); err != nil {
			return r, err
		}
	}
	p.step(1)
	if p.full > 0 {
		r.Notices = append(r.Notices, fmt.Sprintf("the pictures take %.1f MB of the %.1f MB they may; for %d examples there was no room", float64(r.Bytes)/1e6, float64(o.Bytes)/1e6, p.full))
	}
	return r, nil
}

func keys[K comparable, V any](m map[K]V) func(func(K) bool) {
	return func(yield func(K) bool) {
		for k := range m {
			if !yield(k) {
				return
			}
		}
	}
}

// wanted is an example that lacks a picture.
type wanted struct {
	tag            timeline.ID
	name           string
	still, preview bool // missing
}

// withoutPictures lists, by bout, the examples that lack a picture.
func (x *Index) withoutPictures(ctx context.Context, o PictureOptions) (todo map[string][]wanted, of int, err error) {
	defer rescue(&err)
	if x.write == nil {
		return nil, 0, errShut
	}
	rows, err := x.write.QueryContext(ctx, `SELECT b.path, e.key, e.still FROM entry e JOIN bout b ON b.id = e.bout
		WHERE e.kind = 'example' AND e.still <> '' AND b.state = ? AND (e.sensitive = 0 OR ?) ORDER BY e.bout, e.place`, Here, o.Sensitive)
	if err != nil {
		return nil, 0, err
	}
	defer rows.Close()
	todo = map[string][]wanted{}
	for rows.Next() {
		var bout string
		var w wanted
		if err := rows.Scan(&bout, &w.tag, &w.name); err != nil {
			return nil, 0, err
		}
		w.still = !exists(filepath.Join(x.pictureDir(), w.name+stillEnd))
		w.preview = o.Previews && !exists(filepath.Join(x.pictureDir(), w.name+previewEnd))
		if w.still || w.preview {
			todo[bout] = append(todo[bout], w)
			of++
		}
	}
	return todo, of, rows.Err()
}

// photographer takes pictures of one bout after the other.
type photographer struct {
	x        *Index
	ctx      context.Context
	a        *app.App
	o        PictureOptions
	r        *PictureReport
	step     func(float64)
	of, done int
	full     int // examples without a picture for want of room
}

// bout takes the pictures of one bout. A film that cannot be used is a notice; the
// error is one of the index's folder, or a cancel.
func (p *photographer) bout(path string, list []wanted) error {
	s, err := p.a.Open(path, true)
	if err != nil {
		p.notice(list, "%s: %s", filepath.Base(path), inWords(err, path))
		return nil
	}
	defer s.Close()
	films := map[timeline.ID]*footage.File{}
	for _, w := range list {
		if err := p.ctx.Err(); err != nil {
			return err
		}
		t, ok := s.Facts.Tags[w.tag]
		if !ok || t.Example == nil || pictureName(path, s.Facts, t) != w.name {
			p.next() // the bout has changed; the next update knows
			continue
		}
		film, known := films[t.Place.Footage]
		if !known {
			film, err = p.open(s, t.Place.Footage)
			films[t.Place.Footage] = film
			if err != nil {
				if p.ctx.Err() != nil {
					return p.ctx.Err()
				}
				p.r.Notices = append(p.r.Notices, fmt.Sprintf("%s: %v", filepath.Base(path), err))
			}
		}
		if film == nil {
			if w.still {
				p.r.Missing++
			}
			p.next()
			continue
		}
		if err := p.take(s, film, t, w); err != nil {
			return err
		}
		p.next()
	}
	return nil
}

func (p *photographer) open(s *app.Session, id timeline.ID) (*footage.File, error) {
	path, err := s.Film(id)
	if err != nil {
		return nil, err
	}
	return footage.Open(p.ctx, p.a.Runner, path)
}

func (p *photographer) next() {
	p.done++
	p.step(float64(p.done) / float64(p.of))
}

func (p *photographer) notice(list []wanted, format string, args ...any) {
	p.r.Notices = append(p.r.Notices, fmt.Sprintf(format, args...))
	for _, w := range list {
		if w.still {
			p.r.Missing++
		}
		p.next()
	}
}

// take makes what one example lacks.
func (p *photographer) take(s *app.Session, film *footage.File, t timeline.Tag, w wanted) error {
	for _, x := range []struct {
		lacks bool
		room  int64
		end   string
		make  func(path string) error
	}{
		{w.still, roomForStill, stillEnd, func(path string) error { return p.still(s, film, t, path) }},
		{w.preview, roomForPreview, previewEnd, func(path string) error { return p.preview(s, film, t, path) }},
	} {
		if !x.lacks {
			continue
		}
		if p.r.Bytes+x.room > p.o.Bytes {
			p.full++
			if w.still {
				p.r.Missing++
			}
			return nil
		}
		path := filepath.Join(p.x.pictureDir(), w.name+x.end)
		if err := x.make(path); err != nil {
			if p.ctx.Err() != nil {
				return p.ctx.Err()
			}
			var disk *fs.PathError
			if errors.As(err, &disk) {
				return err
			}
			if x.end == stillEnd {
				p.r.Missing++
			}
			p.r.Notices = append(p.r.Notices, fmt.Sprintf("%s: an example at %s has no picture: %v", filepath.Base(s.Path), app.Clock(t.Place.Film), err))
			return nil
		}
		if info, err := os.Stat(path); err == nil {
			p.r.Bytes += info.Size()
			p.r.Made++
		}
	}
	return nil
}

// still takes the picture at which an example begins, with what is drawn on it.
func (p *photographer) still(s *app.Session, film *footage.File, t timeline.Tag, path string) error {
	at := t.Place.Film
	img, err := reel.Still(p.ctx, film, at, stillWidth, stillHeight)
	if err != nil {
		return err
	}
	var list []timeline.Drawing
	// What is seen while the frame stands, though it begins or ends within it: a thing
	// to be hidden is rather hidden too long.
	for _, d := range drawings(s.Facts, t.Place.Footage, timeline.TimeRange{Start: at, End: at}) {
		list = append(list, *d.Drawing)
	}
	var painter overlay.Painter
	painter.Paint(img, list, overlay.TeamColours(s.Facts.Teams[0].Colour, s.Facts.Teams[1].Colour))
	return ffmpeg.Whole(path, func(temp string) error {
		f, err := os.OpenFile(temp, os.O_WRONLY|os.O_TRUNC, 0o600)
		if err != nil {
			return err
		}
		return errors.Join(jpeg.Encode(f, img, &jpeg.Options{Quality: stillQuality}), f.Close())
	})
}

// preview makes a small silent film of an example, with what is drawn on it.
func (p *photographer) preview(s *app.Session, film *footage.File, t timeline.Tag, path string) error {
	shown := stretchOf(t)
	shown.End = min(max(shown.End, shown.Start+time.Second), shown.Start+longestPreview)
	size := reel.Fit(film.Info.Video.Width, film.Info.Video.Height, image.Rect(0, 0, previewWidth, previewHeight))
	w, h := (size.Dx()+1)&^1, (size.Dy()+1)&^1
	r := reel.Reel{
		Out: path, Width: w, Height: h, Reencode: true, Files: map[string]*footage.File{film.Path: film},
		Sections: []reel.Section{{Film: &reel.Film{
			Path: film.Path, From: shown.Start, To: shown.End, Mute: true,
			Layers: reels.DrawnOver(s.Facts, t.Place.Footage, shown, reel.Fit(film.Info.Video.Width, film.Info.Video.Height, image.Rect(0, 0, w, h)), func(timeline.Drawing) bool { return true }),
		}}},
	}
	_, err := r.Make(p.ctx, p.a.Runner)
	return err
}

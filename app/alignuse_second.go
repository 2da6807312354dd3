package app

import (
	"context"
	"encoding/binary"
	"io"
	"math"
	"slices"
	"time"

	"whistlecut/timeline"
	"whistlecut/timeline/align"
	"whistlecut/timeline/footage"
	"whistlecut/timeline/whistle"
)

// second places the jams on a further camera: each of its files is put in step
// with the first camera's by sound; a camera of which no file fits is placed by
// its own whistles.
func (a *App) second(ctx context.Context, s *Session, main, other *camera, jams []align.Placed, known []align.Known) ([]align.Placed, []CameraStep, error) {
	var placed []align.Placed
	var steps []CameraStep
	found := false
	for _, f := range other.films {
		step := CameraStep{Camera: other.name, Footage: f.Footage}
		for _, m := range main.films {
			got, ok := align.InStep(m.Blasts, f.Blasts)
			if !ok {
				continue
			}
			got = a.refine(ctx, s, m, f, got)
			found, step.Found = true, true
			step.Offset, step.Confidence = got.Offset, got.Confidence
			placed = append(placed, carried(jams, m, f, got)...)
		}
		steps = append(steps, step)
	}
	if found || len(known) == 0 {
		return placed, steps, nil
	}
	// Out of step the cameras filmed different parts of the bout.
	var left []align.Known
	for _, k := range known {
		sure := slices.ContainsFunc(jams, func(p align.Placed) bool {
			return p.Jam == k.ID && p.Footage != "" && p.Confidence > 0.7
		})
		if !sure || s.pinnedOn(k.ID, other) {
			left = append(left, k)
		}
	}
	if len(left) == 0 {
		return placed, steps, nil
	}
	res, err := align.Place(ctx, align.Input{Films: other.films, Jams: left, Pins: s.pins(), Rules: s.Facts.Rules})
	return res.Jams, steps, err
}

// pinnedOn reports whether a person set an edge of the jam on the camera's film.
func (s *Session) pinnedOn(jam timeline.ID, c *camera) bool {
	return slices.ContainsFunc(s.pins(), func(p align.Pin) bool {
		return p.Jam == jam && slices.ContainsFunc(c.films, func(f align.Film) bool { return f.Footage == p.Footage })
	})
}

// carried takes the jams placed on film m over to film f.
func carried(jams []align.Placed, m, f align.Film, step align.Step) []align.Placed {
	on := func(t time.Duration) bool { return t >= f.From && t < f.From+f.Length }
	var out []align.Placed
	for _, j := range jams {
		if j.Footage != m.Footage {
			continue
		}
		end := j.EndFootage == m.Footage
		j.Footage, j.Start = f.Footage, step.Second(j.Start)
		j.End = step.Second(j.End)
		j.EndFootage = ""
		if end && on(j.End) {
			j.EndFootage = f.Footage
		}
		j.StartSeries, j.EndSeries, j.Hand = -1, -1, false
		j.Confidence *= step.Confidence
		if on(j.Start) {
			out = append(out, j)
		}
	}
	return out
}

const (
	refineWindows = 10
	refineLength  = 2 * time.Second
)

// refine makes a step exact by the sound round loud blasts that lie far apart. A
// step that can't be refined stays as it is.
func (a *App) refine(ctx context.Context, s *Session, m, f align.Film, step align.Step) align.Step {
	first, err := a.openFilm(ctx, s, m.Footage)
	if err != nil {
		return step
	}
	second, err := a.openFilm(ctx, s, f.Footage)
	if err != nil {
		return step
	}
	var windows []align.Window
	for _, b := range spreadBlasts(f, refineWindows) {
		from := max(b.Start-refineLength/2, 0)
		at := step.First(from)
		if at < m.From || at+refineLength > m.From+m.Length {
			continue
		}
		x, err := samples(ctx, first, at-s.Facts.Footage[m.Footage].SoundOffset, refineLength)
		if err != nil {
			continue
		}
		y, err := samples(ctx, second, from-s.Facts.Footage[f.Footage].SoundOffset, refineLength)
		if err != nil {
			continue
		}
		windows = append(windows, align.Window{Second: from, First: x, Sample: y, Rate: whistle.Rate})
	}
	return align.Refine(step, windows)
}

func (a *App) openFilm(ctx context.Context, s *Session, id timeline.ID) (*footage.File, error) {
	path, err := s.Film(id)
	if err != nil {
		return nil, err
	}
	return footage.Open(ctx, a.Runner, path)
}

// spreadBlasts picks the surest blast of each of n stretches of a film.
func spreadBlasts(f align.Film, n int) []whistle.Blast {
	best := make([]whistle.Blast, n)
	for _, b := range f.Blasts {
		i := int(float64(n) * float64(b.Start-f.From) / float64(max(f.Length, 1)))
		if i >= 0 && i < n && b.Confidence > best[i].Confidence {
			best[i] = b
		}
	}
	var out []whistle.Blast
	for _, b := range best {
		if b.Confidence > 0 {
			out = append(out, b)
		}
	}
	return out
}

// samples reads a stretch of a film's sound, mono.
func samples(ctx context.Context, f *footage.File, from, length time.Duration) ([]float32, error) {
	r, err := f.Sound(ctx, footage.SoundFormat{Rate: whistle.Rate, Channels: 1, Float: true}, from, from+length)
	if err != nil {
		return nil, err
	}
	b, err := io.ReadAll(r)
	if cerr := r.Close(); err == nil && len(b) == 0 {
		err = cerr
	}
	if err != nil {
		return nil, err
	}
	out := make([]float32, len(b)/4)
	for i := range out {
		out[i] = math.Float32frombits(binary.LittleEndian.Uint32(b[4*i:]))
	}
	return out, nil
}

package reel

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"whistlecut/export/clip"
	"whistlecut/timeline/footage"
	"whistlecut/timeline/footage/ffmpeg"
	"whistlecut/timeline/footage/mp4"
)

// encode makes a section's picture by encoding all its frames.
func (m *making) encode(ctx context.Context, j *job) (made, error) {
	pictures, err := os.MkdirTemp(m.dir.dir, ".pictures-*")
	if err != nil {
		return made{}, err
	}
	defer os.RemoveAll(pictures)
	job := ffmpeg.Job{
		Total:    m.form.time(j.frames),
		Progress: func(_ time.Duration, part float64) { m.meter.section(j, 0.98*part) },
	}
	run := start(m.runner.Run)
	args := []string{"-y"}
	if j.course == nil {
		job.Doing, job.Subject = "encode a card of", m.Out
		path := filepath.Join(pictures, "card.png")
		if err := savePNG(path, j.wish.Card.Image, true); err != nil {
			return made{}, err
		}
		args = append(args, cardArgs(m.form, j.frames, m.look, path, j.wish.Card.Image.Bounds().Size())...)
	} else {
		job.Doing, job.Subject = "encode a stretch of", j.source.Path
		layers, err := saveLayers(pictures, j)
		if err != nil {
			return made{}, err
		}
		tracks := []clip.FeedTrack{{Source: j.source, Shown: j.course.shown(j.source, 0, j.course.first, j.course.last)}}
		var beside *footage.Video
		if j.beside != nil {
			shift := j.wish.Film.Beside.From - j.source.Time(j.course.first)
			tracks = append(tracks, clip.FeedTrack{Source: j.beside, Shown: j.course.shown(j.beside, shift, 0, j.beside.Frames()-1)})
			beside = &j.beside.File().Info.Video
		}
		feed, err := clip.NewFeed(m.form.Rate, tracks...)
		if err != nil {
			return made{}, err
		}
		args = append(args, filmArgs(m.form, j.frames, m.look, feed, j.source.File().Info.Video, beside, layers)...)
		run = func(ctx context.Context, job ffmpeg.Job) error { return feed.Run(ctx, m.runner, job) }
	}
	res := made{Method: Encoded, Why: j.why, Encoded: j.frames}
	if m.base != nil {
		return res, m.encodeAsFilm(ctx, j, args, job, run)
	}
	args = append(args, pictureArgs(m.form, j.frames)...)
	// A section is taken for whole only when its note is written, so it needs no
	// other name until then.
	path := m.dir.picture(j.name)
	job.Args = append(args, ffmpeg.Local(path))
	if err := run(ctx, job); err != nil {
		return made{}, err
	}
	return res, m.dir.explained(hasFrames(path, j.frames))
}

// hasFrames looks whether a film is whole and has so many frames.
func hasFrames(path string, frames int) error {
	film, err := mp4.Open(path)
	if err != nil {
		return err
	}
	n := 0
	if v := film.Video(); v != nil {
		n = v.Samples.Len()
	}
	if n != frames || film.Short != nil {
		return fmt.Errorf("the encoder gave %d frames instead of %d", n, frames)
	}
	return nil
}

// saveLayers writes the pictures of the layers that are drawn at all.
func saveLayers(dir string, j *job) ([]drawing, error) {
	var out []drawing
	for i, l := range j.wish.Film.Layers {
		from, to, ok := j.course.drawn(j.source, l)
		if !ok {
			continue
		}
		d := drawing{path: filepath.Join(dir, fmt.Sprintf("%d.png", i)), x: l.X, y: l.Y, from: from, to: to, all: from == 0 && to == j.frames-1}
		if err := savePNG(d.path, l.Image, false); err != nil {
			return nil, err
		}
		out = append(out, d)
	}
	return out, nil
}

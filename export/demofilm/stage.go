package demofilm

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"whistlecut/export/demofilm/picture"
	"whistlecut/export/demofilm/sound"
	"whistlecut/timeline/footage/ffmpeg"
	"whistlecut/timeline/simulate"
)

// Staged is what Stage made.
type Staged struct {
	Dir   string
	Files []string // paths: the first camera's files in order, then the second's
	Truth string   // path of the truth's JSON
	// Film is the length of all files together, Took the time it took to make them.
	Film, Took time.Duration
	Told       Truth // the truth itself
}

// TruthName is the name of the truth beside the films.
const TruthName = "truth.json"

// RenderSound makes the sound of a game without a picture; see package sound
// for what the options mean. It is read as a stream, in constant memory.
func RenderSound(g *simulate.Game, o sound.Options) (*sound.Stream, error) {
	return sound.New(sound.NewSchedule(g.Whistles(), g.Duration()), o)
}

// Stage makes the camera files of a game in dir, which is made if it is not
// there. Files appear under their names when they are whole; after an error or
// a cancel none of this call's files is left.
func Stage(ctx context.Context, runner *ffmpeg.Runner, dir string, g *simulate.Game, o Options) (Staged, error) {
	began := time.Now()
	o = o.withDefaults(g)
	if err := o.check(); err != nil {
		return Staged{}, err
	}
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return Staged{}, fmt.Errorf("cannot stage a film in %s: %w; choose another folder", dir, err)
	}
	takes := plan(g, o)
	st := &stager{runner: runner, dir: dir, game: g, o: o, takes: takes, halls: map[picture.Place]*picture.Hall{}}
	st.staged = Staged{Dir: dir, Truth: filepath.Join(dir, TruthName), Told: newTruth(g, o, takes)}
	for _, t := range takes {
		st.total += t.frames
	}
	err := st.run(ctx)
	if err != nil {
		for _, f := range st.staged.Files {
			err = errors.Join(err, os.Remove(f))
		}
		return Staged{}, err
	}
	st.staged.Took = time.Since(began)
	return st.staged, nil
}

// stager is one call of Stage.
type stager struct {
	runner *ffmpeg.Runner
	dir    string
	game   *simulate.Game
	o      Options
	takes  []take
	halls  map[picture.Place]*picture.Hall
	total  int // frames of all takes
	done   int // frames of finished takes
	told   time.Time
	staged Staged
}

func (s *stager) run(ctx context.Context) error {
	for i, t := range s.takes {
		path := filepath.Join(s.dir, t.name)
		if err := s.film(ctx, i, t, path); err != nil {
			return err
		}
		s.staged.Files = append(s.staged.Files, path)
		s.staged.Film += t.length()
		s.done += t.frames
	}
	return s.staged.Told.write(s.staged.Truth)
}

func (s *stager) film(ctx context.Context, index int, t take, path string) error {
	soundFile, err := s.sound(ctx, t)
	if soundFile != "" {
		defer func() { _ = os.Remove(soundFile) }() // a temporary file of ours
	}
	if err != nil {
		return err
	}
	hall, err := s.hall(t.place)
	if err != nil {
		return err
	}
	f := &frames{ctx: ctx, game: s.game, take: t, hall: hall, drawn: func(n int) { s.progress(index, t, n) }}
	for range s.o.Workers {
		p, err := picture.NewPainter(hall, s.game.Teams)
		if err != nil {
			return err
		}
		p.Code = s.o.Code
		f.painters = append(f.painters, p)
	}
	return s.runner.WriteFile(ctx, path, func(temp string) ffmpeg.Job {
		return pictureJob(f, t, s.o, soundFile, temp)
	})
}

// hall paints a place once.
func (s *stager) hall(place picture.Place) (*picture.Hall, error) {
	if h, ok := s.halls[place]; ok {
		return h, nil
	}
	h, err := picture.NewHall(place, s.o.Width, s.o.Height)
	if err == nil {
		s.halls[place] = h
	}
	return h, err
}

// sound makes the sound of a take in a temporary file.
func (s *stager) sound(ctx context.Context, t take) (path string, err error) {
	o := s.o.Sound
	o.Start, o.Length = t.start, t.game(t.length())-t.start
	o.Drift = (t.speed - 1) * 1e6
	o.Rate, o.Part = 0, sound.All
	o.Mic = &sound.Mic{X: t.place.X, Y: t.place.Y, Z: t.place.Z, Facing: t.place.Facing}
	stream, err := RenderSound(s.game, o)
	if err != nil {
		return "", err
	}
	s.staged.Told.addSound(t.name, stream.Truth())
	file, err := os.CreateTemp(s.dir, ".sound-*.m4a")
	if err != nil {
		return "", fmt.Errorf("cannot stage a film in %s: %w; choose another folder", s.dir, err)
	}
	if err := file.Close(); err != nil {
		return file.Name(), fmt.Errorf("cannot stage a film in %s: %w", s.dir, err)
	}
	return file.Name(), s.runner.Run(ctx, soundJob(stream, stream.PCM(), t, file.Name()))
}

func (s *stager) progress(index int, t take, n int) {
	if s.o.Progress == nil || time.Since(s.told) < patience && n != t.frames-1 {
		return
	}
	s.told = time.Now()
	s.o.Progress(Progress{
		File: t.name, Index: index, Of: len(s.takes),
		Fraction: float64(s.done+n+1) / float64(max(1, s.total)),
	})
}

package app

import (
	"context"
	"fmt"
	"path/filepath"
	"slices"
	"time"

	"whistlecut/timeline"
	"whistlecut/timeline/align"
	"whistlecut/timeline/whistle"
)

// AlignOptions of Align.
type AlignOptions struct {
	DryRun bool // place, but write nothing
}

// AlignReport says where the jams are.
type AlignReport struct {
	// Jams by period and number, as placed on the film of the camera that hears best.
	Jams    []align.Placed
	Signals []align.Heard
	// Camera is whose sound was gone by.
	Camera string
	// Steps says how the other cameras were put in step.
	Steps []CameraStep
	// Proposed: the bout had no jams, so these were found by ear and numbered.
	Proposed bool
	Notes    []string
	Written  int // records changed
}

// CameraStep is one further camera in step with the first.
type CameraStep struct {
	Camera  string
	Footage timeline.ID
	// Offset is added to the film time of the footage to get the first camera's
	// time since its first film began; Found is false when nothing fits.
	Offset     time.Duration
	Confidence float64
	Found      bool
}

// Align listens to all footage and places the bout's jams on it by what the
// sheet, the tags and the hand-set marks tell; without jams it proposes some. It
// writes the placing as one undoable action.
func (a *App) Align(ctx context.Context, s *Session, o AlignOptions) (AlignReport, error) {
	cameras, notes, err := a.listenToAll(ctx, s)
	rep := AlignReport{Notes: notes}
	if err != nil {
		return rep, err
	}
	if len(cameras) == 0 {
		return rep, nil
	}
	main := &cameras[0]
	rep.Camera = main.name
	jams, extra, err := s.knownJams()
	if err != nil {
		return rep, err
	}
	rep.Notes = append(rep.Notes, extra...)
	rep.Proposed = len(jams) == 0
	res, err := align.Place(ctx, align.Input{Films: main.films, Jams: jams, Pins: s.pins(), Rules: s.Facts.Rules})
	if err != nil {
		return rep, err
	}
	if rep.Proposed {
		res.Jams = slices.DeleteFunc(res.Jams, func(p align.Placed) bool { return p.Confidence < leastWritten })
		if len(res.Jams) == 0 && len(res.Notes) == 0 {
			res.Notes = append(res.Notes, "no jam was recognised: what was heard does not sound like a bout")
		}
		for i := range res.Jams {
			p := &res.Jams[i]
			p.Jam = timeline.ImportID("jam", fmt.Sprint(p.Period), fmt.Sprint(p.Number))
		}
	}
	rep.Signals = res.Signals
	rep.Notes = append(rep.Notes, res.Notes...)
	placed := slices.Clone(res.Jams)
	rep.Jams = slices.Clone(res.Jams)
	for i := range cameras[1:] {
		more, steps, err := a.second(ctx, s, main, &cameras[1+i], res.Jams, jams)
		if err != nil {
			return rep, err
		}
		rep.Steps = append(rep.Steps, steps...)
		placed = append(placed, more...)
		fillIn(rep.Jams, more)
	}
	if o.DryRun {
		return rep, nil
	}
	changes := s.placingChanges(placed, cameras, rep.Proposed)
	rep.Written = len(changes)
	return rep, s.Apply("jams lined up by ear", changes...)
}

// fillIn gives jams that the first camera does not show their place on another.
func fillIn(jams, more []align.Placed) {
	for i := range jams {
		for _, m := range more {
			if jams[i].Footage == "" && m.Footage != "" && m.Jam == jams[i].Jam {
				jams[i] = m
			}
		}
	}
}

// camera is one camera's film with what was heard on it.
type camera struct {
	name  string
	films []align.Film
	heard float64 // sum of the confidence of all series
	sound bool
}

// listenToAll hears every footage file that is there, cameras that hear best first.
func (a *App) listenToAll(ctx context.Context, s *Session) ([]camera, []string, error) {
	var cameras []camera
	var notes []string
	for _, f := range s.Facts.FootageInOrder() {
		path, err := s.Film(f.ID)
		if err != nil {
			notes = append(notes, err.Error())
			continue
		}
		heard, err := a.listen(ctx, path, whistle.Options{Least: leastForJams})
		if err != nil {
			if ctx.Err() != nil {
				return nil, notes, err
			}
			notes = append(notes, err.Error())
			continue
		}
		if heard.Note != "" {
			notes = append(notes, filepath.Base(path)+": "+heard.Note)
		}
		if len(cameras) == 0 || cameras[len(cameras)-1].name != f.Camera {
			cameras = append(cameras, camera{name: f.Camera})
		}
		c := &cameras[len(cameras)-1]
		film := filmOf(f, heard)
		film.Follows = f.Joined && len(c.films) > 0
		c.films = append(c.films, film)
		c.sound = c.sound || !heard.Silent
		for _, x := range film.Series {
			c.heard += x.Confidence
		}
	}
	slices.SortStableFunc(cameras, func(x, y camera) int {
		switch {
		case x.heard > y.heard:
			return -1
		case x.heard < y.heard:
			return 1
		}
		return 0
	})
	return cameras, notes, nil
}

// soundTravel is how much later than it is seen a whistle is heard at a camera, at
// 343 m/s over the 20 m between the officials and a place by the track or low on
// the stand (common practice, no source). Measured on staged bouts: 55 to 62 ms.
const soundTravel = 55 * time.Millisecond

// filmOf is a footage file as the aligner sees it: its range, sound in step with
// the picture. A sound offset that was set says all of it; without one the sound's
// way through the hall is taken off.
func filmOf(f timeline.Footage, heard Listened) align.Film {
	length := max(f.Duration, heard.Length)
	out := align.Film{Footage: f.ID, Length: length}
	if f.Range != (timeline.TimeRange{}) {
		out.From, out.Length = f.Range.Start, f.Range.Duration()
	}
	end := out.From + out.Length
	shift := f.SoundOffset
	if shift == 0 {
		shift = -soundTravel
	}
	for _, b := range heard.Blasts {
		b.Start, b.End = b.Start+shift, b.End+shift
		out.Blasts = append(out.Blasts, b) // all of them, since series name them by index
	}
	for _, x := range heard.Series {
		x.Start, x.End = x.Start+shift, x.End+shift
		if x.Start >= out.From-soundTravel && x.Start < end {
			x.Start = max(x.Start, out.From)
			out.Series = append(out.Series, whistle.Series(x))
		}
	}
	return out
}

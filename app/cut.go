package app

import (
	"context"
	"errors"
	"fmt"
	"strconv"
	"strings"
	"time"

	"whistlecut/export/clip"
	"whistlecut/timeline"
)

// CutOptions say how moments become clips.
type CutOptions struct {
	Dir      string
	Name     string       // template; "" is the usual one
	Margins  clip.Margins // film shown before and after
	Captions bool
	Reencode bool
}

// DefaultMargins is how much film is shown round a moment of each kind: enough
// to see what led to it (common practice, no source).
func DefaultMargins() clip.Margins {
	return clip.Margins{
		Default: clip.Margin{Before: 5 * time.Second, After: 3 * time.Second},
		ByKind: map[string]clip.Margin{
			string(timeline.KindJam):      {Before: 3 * time.Second, After: 2 * time.Second},
			string(timeline.KindPenalty):  {Before: 8 * time.Second, After: 4 * time.Second},
			string(timeline.KindTrip):     {Before: 12 * time.Second, After: 2 * time.Second},
			string(timeline.KindStarPass): {Before: 8 * time.Second, After: 5 * time.Second},
			string(timeline.SitPowerJam):  {Before: 4 * time.Second, After: 2 * time.Second},
		},
	}
}

// CutReport says what was cut and what could not be.
type CutReport struct {
	Clips   []clip.Clip
	NotShot []timeline.Moment // moments that no film shows
}

// Cut cuts the moments of a bout that a selection picks.
func (a *App) Cut(ctx context.Context, s *Session, sel timeline.Selection, o CutOptions) (CutReport, error) {
	return a.CutMoments(ctx, s, timeline.Find(s.Bout, s.Facts, sel), o)
}

// CutMoments cuts the moments of a bout that are given.
func (a *App) CutMoments(ctx context.Context, s *Session, wanted []timeline.Moment, o CutOptions) (CutReport, error) {
	var rep CutReport
	files := clip.Files{}
	var moments []clip.Moment
	missing := map[timeline.ID]error{}
	for _, m := range wanted {
		if len(m.Film) == 0 {
			rep.NotShot = append(rep.NotShot, m)
			continue
		}
		on := m.Film[0]
		path, err := s.Film(on.Footage)
		if err != nil {
			missing[on.Footage] = err
			continue
		}
		if files[path] == nil {
			f, err := a.openNamed(ctx, path)
			if err != nil {
				return rep, err
			}
			files[path] = f
		}
		moments = append(moments, clipMoment(m, path, on))
	}
	var lost []error
	for _, err := range missing {
		lost = append(lost, err)
	}
	if len(moments) == 0 {
		if len(lost) > 0 {
			return rep, errors.Join(lost...)
		}
		if len(rep.NotShot) > 0 {
			return rep, errors.New("that is tagged, and none of it is on film as far as the jams are placed; place them with: whistlecut align " + s.Path)
		}
		return rep, errors.New("nothing of that is tagged in this bout")
	}
	step := a.Step("cutting")
	b := clip.Batch{
		Moments: moments, Margins: o.Margins, Dir: o.Dir, Name: o.Name, Captions: o.Captions,
		Reencode: o.Reencode, Files: files, Progress: func(p clip.Progress) { step(p.Fraction) },
	}
	var err error
	rep.Clips, err = b.Run(ctx, a.Runner)
	return rep, errors.Join(append(lost, err)...)
}

// clipMoment is a moment as the cutter and its captions need it.
func clipMoment(m timeline.Moment, path string, on timeline.FilmStretch) clip.Moment {
	return clip.Moment{Footage: path, From: on.From, To: on.To, Kind: MarginKind(m), Labels: Labels(m)}
}

// Labels are the words of a moment for names of files and for the bar under a
// clip: period, jam, clock, score, side, skater, kind, code.
func Labels(m timeline.Moment) map[string]string {
	kind := MarginKind(m)
	labels := map[string]string{"kind": kind}
	if m.Code != "" {
		labels["kind"] += " " + m.Code
		labels["code"] = m.Code
	}
	if m.Number > 0 {
		labels["period"], labels["jam"] = strconv.Itoa(m.Period), strconv.Itoa(m.Number)
	}
	if m.ClockKnown {
		left := m.Clock.Round(time.Second)
		labels["clock"] = fmt.Sprintf("%d:%02d", int(left.Minutes()), int(left.Seconds())%60)
	}
	if m.Number > 0 {
		labels["score"] = m.Score[0].String() + " : " + m.Score[1].String()
	}
	if m.Side != timeline.NoSide {
		labels["side"] = m.Side.String()
	}
	if m.Who != "" {
		labels["skater"] = strings.TrimSpace(string(m.Who) + " " + m.Name)
		if Against(m) {
			labels["skater"] = "against " + labels["skater"]
		}
	}
	return labels
}

// Against reports whether the skater a moment names is not of the moment's side:
// in a power jam she is the opposing jammer, who is penalised.
func Against(m timeline.Moment) bool {
	return m.Who != "" && m.Side != timeline.NoSide && m.Skater.Side != timeline.NoSide && m.Skater.Side != m.Side
}

// CutWindow cuts one window of any film, from film time from up to to, into dir.
func (a *App) CutWindow(ctx context.Context, path string, from, to time.Duration, o CutOptions) (clip.Clip, error) {
	if to <= from {
		return clip.Clip{}, fmt.Errorf("the window ends at %s, which is not after its start at %s", Clock(to), Clock(from))
	}
	f, err := a.openNamed(ctx, path)
	if err != nil {
		return clip.Clip{}, err
	}
	if o.Name == "" {
		o.Name = "{film} {from}"
	}
	step := a.Step("cutting")
	b := clip.Batch{
		Moments: []clip.Moment{{
			Footage: path, From: from, To: to, Kind: "window",
			Labels: map[string]string{"from": strings.ReplaceAll(Clock(from), ":", "-") + " to " + strings.ReplaceAll(Clock(to), ":", "-")},
		}},
		Dir: o.Dir, Name: o.Name, Reencode: o.Reencode, Files: clip.Files{path: f},
		Progress: func(p clip.Progress) { step(p.Fraction) },
	}
	clips, err := b.Run(ctx, a.Runner)
	if err != nil {
		return clip.Clip{}, err
	}
	return clips[0], nil
}

package app

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"

	"whistlecut/export/demofilm"
	"whistlecut/timeline"
	"whistlecut/timeline/footage/ffmpeg"
	"whistlecut/timeline/sheet"
	"whistlecut/timeline/sheet/plant"
	"whistlecut/timeline/simulate"
)

// StageOptions say what demo bout to stage.
type StageOptions struct {
	Dir      string
	Seed     uint64
	Jams     int // jams a period; 0 plays full periods
	Periods  int // 0: as the rules say
	Width    int // of the film; 0: 1280
	Height   int // 0: 720
	Mistakes int // planted in the sheet
	Events   bool
	Film     demofilm.Options // sound conditions; size and progress are set here
}

// StagedBout says what lies where.
type StagedBout struct {
	Bout     string          `json:"bout"`
	Sheet    string          `json:"sheet"`
	Truth    string          `json:"truth"`
	Films    []string        `json:"films"`
	Jams     int             `json:"jams"`
	Teams    [2]string       `json:"teams"` // home, away
	Score    [2]int          `json:"score"`
	Film     string          `json:"film_length"`
	Took     string          `json:"filming_took"`
	Times    float64         `json:"times_real_time"`
	Planted  []StagedMistake `json:"planted"`
	Examples int             `json:"examples"` // for a quiz; put in by the caller
	Problems []string        `json:"problems,omitempty"`
}

// StagedMistake is one mistake planted in the official sheet.
type StagedMistake struct {
	Cause  sheet.Cause   `json:"cause"`
	Period int           `json:"period"`
	Jam    int           `json:"jam"`
	Side   timeline.Side `json:"side"` // none: both teams' rows
	Text   string        `json:"text"`
}

// Where is the place of a mistake as people say it.
func (m StagedMistake) Where() string {
	side := m.Side.String()
	if m.Side == timeline.NoSide {
		side = "both teams"
	}
	return fmt.Sprintf("period %d, jam %d, %s", m.Period, m.Jam, side)
}

// Stage plays an invented bout, films it, writes its official sheet with planted
// mistakes and makes the bout file with footage, sheet, tags and alignment.
func (a *App) Stage(ctx context.Context, o StageOptions) (StagedBout, error) {
	out := StagedBout{Bout: filepath.Join(o.Dir, "demo"+Ext), Sheet: filepath.Join(o.Dir, "official sheet.xlsx")}
	if _, err := os.Stat(out.Bout); err == nil {
		return out, fmt.Errorf("%s is there already; choose another folder or remove it", out.Bout)
	}
	game := simulate.Play(o.Seed, simulate.Options{Jams: o.Jams, Periods: o.Periods, PassEvents: o.Events})
	out.Jams, out.Score = len(game.Truth.Jams), game.Truth.Score
	for i, t := range game.Facts().Teams {
		out.Teams[i] = t.Name
	}
	film := o.Film
	film.Width, film.Height = o.Width, o.Height
	step := a.Step("filming the demo bout")
	film.Progress = func(p demofilm.Progress) { step(p.Fraction) }
	staged, err := demofilm.Stage(ctx, a.Runner, o.Dir, game, film)
	if err != nil {
		return out, err
	}
	out.Films, out.Truth = staged.Files, staged.Truth
	out.Film, out.Took = Clock(staged.Film), Clock(staged.Took)
	out.Times = staged.Film.Seconds() / max(staged.Took.Seconds(), 1e-9)
	paper, planted := plant.Plant(plant.Sheet(game), o.Seed, o.Mistakes)
	for _, p := range planted {
		out.Planted = append(out.Planted, StagedMistake{Cause: p.Cause, Period: p.Period, Jam: p.Jam, Side: p.Side, Text: p.Text})
	}
	var b bytes.Buffer
	if err := sheet.WriteXLSX(&b, paper); err != nil {
		return out, err
	}
	if err := ffmpeg.Whole(out.Sheet, func(temp string) error { return os.WriteFile(temp, b.Bytes(), 0o644) }); err != nil {
		return out, err
	}
	return out, a.stageBout(ctx, game, staged, out)
}

// stageBout makes the bout file of a staged game: what a careful person would
// have tagged, with each camera's jams pinned where the truth says.
func (a *App) stageBout(ctx context.Context, game *simulate.Game, staged demofilm.Staged, out StagedBout) (err error) {
	s, err := a.Create(out.Bout)
	if err != nil {
		return err
	}
	defer func() {
		if e := s.Close(); err == nil {
			err = e
		}
	}()
	if err := s.Apply("the staged bout", timeline.FactsChanges(game.Facts())...); err != nil {
		return err
	}
	byCamera := map[string][]string{}
	var cameras []string
	id := map[string]timeline.ID{}
	for _, f := range staged.Told.Files {
		if byCamera[f.Camera] == nil {
			cameras = append(cameras, f.Camera)
		}
		byCamera[f.Camera] = append(byCamera[f.Camera], filepath.Join(staged.Dir, f.Name))
	}
	for _, c := range cameras {
		added, err := a.AddFootage(ctx, s, c, byCamera[c], false)
		if err != nil {
			return err
		}
		for _, f := range added.Files {
			id[filepath.Base(f.Path)] = f.ID
		}
	}
	var marks []timeline.Change
	for _, j := range staged.Told.Jams {
		for _, on := range j.On {
			marks = append(marks, timeline.SetMark(timeline.SyncMark{
				ID: timeline.ImportID("staged", string(j.ID), on.File), Jam: j.ID, Edge: timeline.EdgeStart,
				Footage: id[on.File], Film: seconds(on.Start), Hand: true,
			}))
		}
	}
	if err := s.Apply("jams placed on the film", marks...); err != nil {
		return err
	}
	r, err := a.ReadSheet(out.Sheet, "")
	if err != nil {
		return err
	}
	return s.PutSheet(r)
}

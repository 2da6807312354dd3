package app

import (
	"context"
	"errors"
	"fmt"
	"os"

	"whistlecut/timeline"
)

// NewOptions say what a new bout starts from. Everything is optional: film
// without a sheet, a sheet without film, or nothing yet.
type NewOptions struct {
	Path      string
	Title     string
	Date      string // YYYY-MM-DD
	Venue     string
	Home      string // team names
	Away      string
	Edition   string // of the rules; "" is the newest
	Cameras   []Camera
	Sheet     string // file
	Mapping   string // corrected mapping of the sheet
	KeepOrder bool   // leave the footage in the order given
}

// Camera is the files of one camera.
type Camera struct {
	Name  string
	Files []string
}

// NewReport says what a new bout holds.
type NewReport struct {
	Path     string         `json:"path"`
	Cameras  []AddedFootage `json:"cameras,omitempty"`
	Sheet    *SheetReading  `json:"sheet,omitempty"`
	JamsMade int            `json:"jams_from_sheet"`
}

// NewBout makes a bout file. On an error the file is not left behind. With a
// sheet and no tags, the sheet's jams become jam tags without a place on film,
// so that they can be aligned and tagged.
func (a *App) NewBout(ctx context.Context, o NewOptions) (rep NewReport, err error) {
	rules, ok := timeline.Edition(o.Edition)
	if o.Edition == "" {
		all := timeline.Editions()
		rules, ok = all[len(all)-1], true
	}
	if !ok {
		return rep, fmt.Errorf("there is no edition %q of the rules; known are 2013, 2014, 2015, 2017, 2019 and 2025", o.Edition)
	}
	// The sheet is read first: nothing is made when it can't be.
	if o.Sheet != "" {
		r, err := a.ReadSheet(o.Sheet, o.Mapping)
		if err != nil {
			return rep, err
		}
		rep.Sheet = &r
	}
	s, err := a.Create(o.Path)
	if err != nil {
		return rep, err
	}
	rep.Path = s.Path
	defer func() {
		err = errors.Join(err, s.Close())
		if err != nil {
			err = errors.Join(err, os.Remove(s.Path))
		}
	}()
	changes := []timeline.Change{
		timeline.SetRules(rules),
		timeline.SetInfo(timeline.Info{Title: o.Title, Date: o.Date, Venue: o.Venue}),
	}
	for _, t := range []struct {
		side timeline.Side
		name string
	}{{timeline.Home, o.Home}, {timeline.Away, o.Away}} {
		if t.name != "" {
			changes = append(changes, timeline.SetTeam(t.side, timeline.Team{Name: t.name}))
		}
	}
	if err := s.Apply("a new bout", changes...); err != nil {
		return rep, err
	}
	for _, c := range o.Cameras {
		added, err := a.AddFootage(ctx, s, c.Name, c.Files, o.KeepOrder)
		if err != nil {
			return rep, err
		}
		rep.Cameras = append(rep.Cameras, added)
	}
	if rep.Sheet != nil {
		if err := s.PutSheet(*rep.Sheet); err != nil {
			return rep, err
		}
		if rep.JamsMade, err = s.jamsFromSheet(*rep.Sheet); err != nil {
			return rep, err
		}
	}
	return rep, nil
}

// jamsFromSheet makes a jam tag for every jam the sheet names and the bout lacks.
func (s *Session) jamsFromSheet(r SheetReading) (int, error) {
	changes := s.jamChanges(r)
	return len(changes), s.Apply("jams of the sheet", changes...)
}

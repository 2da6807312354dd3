package app

import (
	"encoding/json"
	"fmt"

	"whistlecut/timeline"
	"whistlecut/timeline/sheet"
)

// ReadSheetData reads a sheet that is in memory already, as ReadSheet does. With a
// mapping given it is read by that one alone.
func (a *App) ReadSheetData(name string, data []byte, given *sheet.Mapping) (SheetReading, error) {
	r := SheetReading{Name: name, Data: data}
	return r, r.understand(given)
}

// TakeSheet puts a sheet into the bout with its jams, as one undoable action. It
// returns how many jams were made.
func (s *Session) TakeSheet(r SheetReading) (made int, err error) {
	changes, made, err := s.SheetEdits(r)
	if err != nil {
		return 0, err
	}
	return made, s.Apply("official sheet "+r.Name, changes...)
}

// SheetEdits are the edits of TakeSheet. They make the jams that the sheet names
// and the bout lacks, and take out those that an earlier reading of a sheet made,
// that this one does not name and that nothing else of the bout rests on.
func (s *Session) SheetEdits(r SheetReading) (changes []timeline.Change, made int, err error) {
	changes, err = s.sheetChanges(r)
	if err != nil {
		return nil, 0, err
	}
	jams := s.jamChanges(r)
	changes = append(changes, jams...)
	return append(changes, s.staleJams(r)...), len(jams), nil
}

// staleJams are jams made from a sheet that this one does not name and nobody
// has worked on.
func (s *Session) staleJams(r SheetReading) []timeline.Change {
	named := map[timeline.ID]bool{}
	for _, row := range r.Sheet.Rows {
		named[sheetJamID(max(row.Period, 1), row.Jam)] = true
	}
	used := map[timeline.ID]bool{}
	for _, m := range s.Facts.Marks {
		used[m.Jam] = true
	}
	for _, j := range s.Bout.Jams {
		for _, id := range j.Tags {
			if id != j.ID {
				used[j.ID] = true
			}
		}
	}
	var out []timeline.Change
	for id, t := range s.Facts.Tags {
		if t.Kind == timeline.KindJam && t.Source == "sheet" && t.Place == timeline.JamAlone(id) && !named[id] && !used[id] {
			out = append(out, timeline.DeleteTag(id))
		}
	}
	return out
}

// sheetJamID is the ID of a jam made from a sheet. It follows from period and
// number, so that two people who start from the same sheet can merge their work.
func sheetJamID(period, number int) timeline.ID {
	return timeline.ImportID("jam", fmt.Sprint(period), fmt.Sprint(number))
}

// sheetChanges are the edits that store a sheet with its mapping, and team names
// and rosters that the bout lacks.
func (s *Session) sheetChanges(r SheetReading) ([]timeline.Change, error) {
	m, err := json.Marshal(r.Mapping)
	if err != nil {
		return nil, err
	}
	changes := []timeline.Change{timeline.SetSheet(timeline.StoredSheet{Name: r.Name, Data: r.Data, Mapping: m})}
	for _, side := range timeline.Sides {
		team, paper := s.Facts.Teams[side.Index()], r.Sheet.Teams[side.Index()]
		before := team
		if team.Name == "" && paper.Name.State == timeline.CellKnown {
			team.Name = paper.Name.Value
		}
		if len(team.Roster) == 0 {
			for _, l := range paper.Roster {
				if l.Number.State == timeline.CellKnown {
					team.Roster = append(team.Roster, timeline.Skater{Number: l.Number.Value, Name: l.Name.Value})
				}
			}
		}
		if team.Name != before.Name || len(team.Roster) != len(before.Roster) {
			changes = append(changes, timeline.SetTeam(side, team))
		}
	}
	return changes, nil
}

// jamChanges are the edits that make the jams a sheet names and the bout lacks.
func (s *Session) jamChanges(r SheetReading) []timeline.Change {
	type jam struct{ period, number int }
	have := map[jam]bool{}
	for _, j := range s.Bout.Jams {
		have[jam{j.Period, j.Number}] = true
	}
	var changes []timeline.Change
	for _, row := range r.Sheet.Rows {
		k := jam{max(row.Period, 1), row.Jam}
		if row.Jam <= 0 || have[k] {
			continue
		}
		have[k] = true
		id := sheetJamID(k.period, k.number)
		changes = append(changes, timeline.SetTag(timeline.Tag{
			ID: id, Kind: timeline.KindJam, Place: timeline.JamAlone(id), Source: "sheet",
			JamInfo: &timeline.JamInfo{Period: k.period, Order: float64(k.number)},
		}))
	}
	return changes
}

package app

import (
	"fmt"
	"path/filepath"
	"time"

	"whistlecut/timeline"
)

// SetByHand pins the start of a jam to a film time of one footage file, named by
// its path or its base name. The jam is made when period and number are the
// next of the bout. A hand-set place is a hard fact that moves its neighbours.
func (s *Session) SetByHand(period, number int, file string, at time.Duration) error {
	var found *timeline.Footage
	for _, f := range s.Facts.FootageInOrder() {
		if f.Path == file || filepath.Base(f.Path) == filepath.Base(file) {
			if found != nil {
				return fmt.Errorf("%s names two files of this bout; give more of the path", file)
			}
			found = &f
		}
	}
	if found == nil {
		return fmt.Errorf("%s is not footage of this bout", file)
	}
	if found.Duration > 0 && (at < 0 || at >= found.Duration) {
		return fmt.Errorf("%s is %s long, so no jam starts at %s in it", found.Path, Clock(found.Duration), Clock(at))
	}
	var changes []timeline.Change
	jam, next := timeline.ID(""), 1
	for _, j := range s.Bout.Jams {
		if j.Period == period {
			next = j.Number + 1
			if j.Number == number {
				jam = j.ID
			}
		}
	}
	if jam == "" {
		if number != next {
			return fmt.Errorf("the bout has no jam %d in period %d; the next that can be made there is %d", number, period, next)
		}
		jam = timeline.ImportID("jam", fmt.Sprint(period), fmt.Sprint(number))
		changes = append(changes, timeline.SetTag(timeline.Tag{
			ID: jam, Kind: timeline.KindJam, Place: timeline.JamAlone(jam),
			JamInfo: &timeline.JamInfo{Period: period, Order: float64(number)},
		}))
	}
	// One hand mark per jam, edge and file: setting it again moves it.
	changes = append(changes, timeline.SetMark(timeline.SyncMark{
		ID: timeline.ImportID("hand", string(jam), string(timeline.EdgeStart), string(found.ID)), Jam: jam,
		Edge: timeline.EdgeStart, Footage: found.ID, Film: at, Hand: true,
	}))
	return s.Apply(fmt.Sprintf("jam %d.%d starts at %s of %s", period, number, Clock(at), found.Path), changes...)
}

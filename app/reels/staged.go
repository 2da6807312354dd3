package reels

import (
	"cmp"
	"slices"
	"time"

	"whistlecut/app"
	"whistlecut/timeline"
)

// stagedClips is how many clips the reel of a staged bout has.
const stagedClips = 12

// Staged is a reel for a staged bout, as a coach would have made it: power jams,
// star passes and penalties, captions in two languages, a picture held with a
// drawing, slow motion, talking points.
func Staged(s *app.Session) []timeline.Change {
	r, _ := New(s, "Film session", "en", "es")
	r.Target, r.Bar, r.Burned = 5*time.Minute, true, true
	var moments []timeline.Moment
	add := func(most int, sel timeline.Selection) {
		sel.OnFilm = true
		for _, m := range timeline.Find(s.Bout, s.Facts, sel) {
			if most == 0 || len(moments) >= stagedClips {
				return
			}
			if m.State == timeline.FilmShown {
				moments, most = append(moments, m), most-1
			}
		}
	}
	add(2, timeline.Selection{Situations: []timeline.SituationKind{timeline.SitPowerJam}})
	add(3, timeline.Selection{Kinds: []timeline.Kind{timeline.KindStarPass}})
	add(stagedClips, timeline.Selection{Kinds: []timeline.Kind{timeline.KindPenalty}})
	add(stagedClips, timeline.Selection{Kinds: []timeline.Kind{timeline.KindTrip}})
	slices.SortStableFunc(moments, func(a, b timeline.Moment) int {
		return cmp.Or(cmp.Compare(a.Period, b.Period), cmp.Compare(a.Number, b.Number), cmp.Compare(a.Range.Start, b.Range.Start))
	})
	got := Collect(s, r, moments, CollectOptions{Margins: app.DefaultMargins(), Captions: true, Cards: true})
	changes := []timeline.Change{timeline.SetReel(r)}
	clips := 0
	for _, p := range got.Parts {
		if p.Clip != nil {
			clips++
			c := *p.Clip
			at := c.Range.Start
			switch clips {
			case 2:
				// The act is held and pointed at, where it is in the bout that is staged
				// when nothing else is asked for.
				c.Freezes = []timeline.Freeze{{At: at, Length: 3 * time.Second}}
				p.Point = "Who closes the inside when the pack speeds up?"
				for _, d := range []timeline.Drawing{
					{Shape: timeline.ShapeRing, Points: []timeline.Point{{X: 0.77, Y: 0.42}, {X: 0.88, Y: 0.7}}},
					{Shape: timeline.ShapeArrow, Points: []timeline.Point{{X: 0.6, Y: 0.3}, {X: 0.76, Y: 0.48}}},
				} {
					d.End = timeline.OnFilm(c.Footage, at+500*time.Millisecond)
					changes = append(changes, timeline.SetTag(timeline.Tag{
						ID: s.File.Log().NewID(), Kind: timeline.KindDrawing, Place: timeline.OnFilm(c.Footage, at), Drawing: &d,
					}))
				}
			case 3:
				c.Speeds = []timeline.Speed{{Range: timeline.TimeRange{Start: max(0, at-time.Second), End: at + time.Second}, Rate: 0.5}}
				p.Point = "Watch her hips, not her hands."
				p.Private = "Ask the blockers first."
			}
			p.Clip = &c
		}
		changes = append(changes, timeline.SetPart(p))
	}
	if clips == 0 {
		return nil
	}
	return changes
}

package numbers

import (
	"maps"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"whistlecut/timeline"
	"whistlecut/timeline/simulate"
)

// Whatever is made unseen, unsure or untimed in a bout, what is then said of it is
// still true: ranges take the truth in, unless the number says that it is not known.
func TestWhatIsNotSeenWidens(t *testing.T) {
	var bouts []*simulate.Game
	for seed := uint64(11); seed < 14; seed++ {
		bouts = append(bouts, simulate.Play(seed, simulate.Options{PeriodLength: 4 * time.Minute, Rates: simulate.Rates{Penalties: 4}}))
	}
	rapid.Check(t, func(t *rapid.T) {
		g := rapid.SampledFrom(bouts).Draw(t, "game")
		f := g.Facts()
		for _, id := range slices.Sorted(maps.Keys(f.Tags)) {
			x := f.Tags[id]
			switch x.Kind {
			case timeline.KindTrip:
				switch rapid.IntRange(0, 9).Draw(t, "trip") {
				case 0:
					x.Seen = timeline.NotSeen
				case 1:
					x.Seen = timeline.Unsure
				case 2:
					x.Place = timeline.JamAlone(x.Jam)
				}
			case timeline.KindBox:
				box := *x.Box
				switch rapid.IntRange(0, 9).Draw(t, "box") {
				case 0:
					x.Place = timeline.JamAlone(x.Jam)
				case 1:
					box.Out = timeline.Place{}
				case 2:
					if !box.Out.IsZero() {
						box.Out = timeline.JamAlone(box.Out.Jam)
					}
				}
				x.Box = &box
			case timeline.KindLead, timeline.KindPenalty:
				if rapid.IntRange(0, 9).Draw(t, "time") == 0 {
					x.Place = timeline.JamAlone(x.Jam)
				}
			}
			f.Tags[id] = x
		}
		src := SourceOf(f)
		r := ReportOf(src)
		for n := range timeline.Sides {
			if !r.Score[n].Contains(g.Truth.Score[n]) {
				t.Fatalf("score %v, the game has %d", r.Score[n], g.Truth.Score[n])
			}
			for _, k := range r.Sides[n].Skaters {
				want := truthOf(g, k.Skater, false)
				rec := k.Record
				if !rec.All.For.Contains(want.points) || !rec.All.Against.Contains(want.against) {
					t.Fatalf("%s: %v : %v, the game has %d : %d", k.Skater, rec.All.For, rec.All.Against, want.points, want.against)
				}
				// A release that the rules give instead of a tag may be off by the hand that
				// timed it in the game, so only stays that were tagged are held to it.
				if computed(src, k.Skater) {
					continue
				}
				if rec.Conceded.Known() && !rec.Conceded.Contains(want.conceded) {
					t.Fatalf("%s: conceded %v by %s, the game has %d", k.Skater, rec.Conceded.Range, rec.Conceded.Basis, want.conceded)
				}
				if rec.Jamming.Lead.Low > want.leads || rec.Jamming.Lead.High < want.leads {
					t.Fatalf("%s: leads %+v, the game has %d", k.Skater, rec.Jamming.Lead, want.leads)
				}
			}
		}
	})
}

func computed(src Source, who timeline.SkaterRef) bool {
	return slices.ContainsFunc(src.Bout.Visits, func(v timeline.Visit) bool {
		return v.Skater == who && (v.Computed || v.OutJam < 0)
	})
}

// Facts of which any tags are missing never stop the numbers.
func TestAnythingMayBeMissing(t *testing.T) {
	g := simulate.Play(21, simulate.Options{PeriodLength: 3 * time.Minute, PassEvents: true, Rates: simulate.Rates{Penalties: 4, StarPasses: 3}})
	rapid.Check(t, func(t *rapid.T) {
		f := g.Facts()
		keep := rapid.IntRange(0, 10).Draw(t, "tenths kept")
		for _, id := range slices.Sorted(maps.Keys(f.Tags)) {
			if rapid.IntRange(0, 9).Draw(t, "tag") >= keep {
				delete(f.Tags, id)
			}
		}
		src := SourceOf(f)
		r := ReportOf(src)
		if len(r.Steps) < r.Jams {
			t.Fatalf("%d steps of %d jams", len(r.Steps), r.Jams)
		}
		for _, side := range r.Sides {
			for _, k := range side.Skaters {
				p, err := PageOf([]Source{src}, Name{Team: side.Name, Number: k.Skater.Number})
				if err != nil {
					t.Fatal(err)
				}
				if p.Record.Conceded.Low > p.Record.Conceded.High || p.Record.OnTrackFor.Low > p.Record.All.For.High {
					t.Fatalf("%+v", p.Record)
				}
			}
		}
	})
}

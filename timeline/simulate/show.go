package simulate

import (
	"math"
	"sort"
	"time"

	"whistlecut/timeline"
)

// Scene is the whole hall at a moment since the game's start, smooth between
// the ticks of play; moments outside the game show its first or last.
func (g *Game) Scene(t time.Duration) Scene {
	t = max(0, min(t, g.length))
	sc := Scene{At: t, Phase: PhaseBefore}
	if i := sort.Search(len(g.phases), func(i int) bool { return g.phases[i].at > t }) - 1; i >= 0 {
		p := g.phases[i]
		sc.Phase = p.phase
		if p.jam >= 0 {
			g.showJam(&sc, g.Truth.Jams[p.jam])
		}
	}
	sc.Clock, sc.ClockRuns = g.clock.at(t)
	n := float64(t) / float64(tick)
	i := 0
	for side, team := range g.Teams {
		for _, s := range team.Roster {
			sc.Skaters = append(sc.Skaters, g.figure(i, n, timeline.Sides[side], s))
			i++
		}
	}
	sounding := g.sounding(t)
	for _, role := range Crew {
		x := g.film.tracks[i].at(n)
		sc.Officials = append(sc.Officials, Official{
			Role: role, Pos: x.pos, Heading: math.Remainder(x.face, 2*math.Pi), Signal: sounding[role],
		})
		i++
	}
	return sc
}

func (g *Game) showJam(sc *Scene, j *Jam) {
	sc.Period, sc.Jam = j.Period, j.Number
	if sc.Phase == PhaseJam && sc.At < j.End {
		sc.Running, sc.JamTime = true, sc.At-j.Start
	} else if sc.Phase == PhaseJam {
		sc.Phase = PhaseLineup
	}
	for side := range j.Sides {
		s := &j.Sides[side]
		sc.Score[side] = s.Before
		for _, t := range s.Trips {
			if sc.At-j.Start >= t.End {
				sc.Score[side] += len(t.Points)
			}
		}
	}
}

func (g *Game) figure(i int, n float64, side timeline.Side, s timeline.Skater) Figure {
	x := g.film.tracks[i].at(n)
	perSecond := float64(time.Second) / float64(tick)
	return Figure{
		SkaterRef: timeline.SkaterRef{Side: side, Number: s.Number},
		Name:      s.Name, Role: x.flags.role,
		Pos: x.pos, Spot: SpotAt(x.pos),
		Heading: math.Remainder(x.face, 2*math.Pi),
		Speed:   x.speed * perSecond,
		Star:    x.flags.wears&wearsStar != 0, Stripe: x.flags.wears&wearsStripe != 0,
		Holds: x.flags.wears&holdsStar != 0, Lead: x.flags.wears&isLead != 0,
		Stance: x.flags.stance, Where: x.flags.where,
	}
}

// sounding lists who blows a whistle at a moment.
func (g *Game) sounding(t time.Duration) map[OfficialRole]bool {
	on := map[OfficialRole]bool{}
	// No series lasts as long as 5 s: look back no further. The list is in order of
	// blowing, echoes up to 3 s early.
	i := sort.Search(len(g.whistles), func(i int) bool { return g.whistles[i].At() > t-10*time.Second })
	for ; i < len(g.whistles) && g.whistles[i].At() < t+10*time.Second; i++ {
		for _, b := range g.whistles[i].Blasts {
			if b.Contains(t) {
				on[g.whistles[i].By] = true
			}
		}
	}
	return on
}

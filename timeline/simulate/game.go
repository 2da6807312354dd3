package simulate

import (
	"fmt"
	"math/rand/v2"
	"time"

	"whistlecut/timeline"
)

// Game is a bout that was played.
type Game struct {
	Seed    uint64
	Options Options // with every default filled in
	Teams   [2]timeline.Team
	Truth   Truth

	length   time.Duration
	whistles []Whistle
	phases   []phaseMark
	clock    clock
	film     film
}

// Duration is the game's length from the lead-in to a while after the last whistle.
func (g *Game) Duration() time.Duration { return g.length }

// phaseMark says what goes on from a moment on.
type phaseMark struct {
	at    time.Duration
	phase Phase
	jam   int // index into Truth.Jams of the running or last jam, -1 before the first
}

// hall is a game while it is played.
type hall struct {
	g         *Game
	opt       Options
	rng       *rand.Rand
	n         int64 // ticks since the game's start
	skaters   []*skater
	byTeam    [2][]*skater
	officials []*official
	jam       *jam // running
	next      []lineFoul
	score     [2]int
	period    int
	number    int
	began     time.Duration // first jam start of the period
	timeouts  [2]int        // left
	reviews   [2]int
	coin      float64 // whose wall lines up in front
}

// Play plays a whole game. Equal seeds and options give equal games.
func Play(seed uint64, opt Options) *Game {
	opt = opt.withDefaults()
	rng := rand.New(rand.NewPCG(seed, 0x57a11e))
	g := &Game{Seed: seed, Options: opt, Teams: inventTeams(rng, opt.Rules.Roster)}
	if len(opt.Teams[0].Roster) >= 5 && len(opt.Teams[1].Roster) >= 5 {
		g.Teams = opt.Teams
	}
	h := &hall{g: g, opt: opt, rng: rng}
	h.enter()
	h.playGame()
	g.length = h.now()
	g.film.close(h.n)
	return g
}

func jamID(period, number int) timeline.ID {
	return timeline.ID(fmt.Sprintf("p%dj%02d", period, number))
}

func (h *hall) now() time.Duration { return time.Duration(h.n) * tick }

// enter puts everybody at the bench and the officials in their places.
func (h *hall) enter() {
	for t, team := range h.g.Teams {
		for i, s := range team.Roster {
			k := &skater{
				SkaterRef: timeline.SkaterRef{Side: timeline.Sides[t], Number: s.Number},
				name:      s.Name, team: t, seat: i, up: true,
				speed: clamp(1+0.06*h.rng.NormFloat64(), 0.85, 1.15),
				skill: clamp(1+0.15*h.rng.NormFloat64(), 0.7, 1.4),
				rash:  clamp(0.25+0.75*h.rng.ExpFloat64(), 0.25, 4.5),
			}
			spot := benchSpot(t, i)
			k.s, k.d = spot.S, spot.D
			h.skaters = append(h.skaters, k)
			h.byTeam[t] = append(h.byTeam[t], k)
		}
	}
	h.enterOfficials()
	h.g.film.open(h)
}

// mark notes what goes on from now.
func (h *hall) mark(p Phase) {
	h.g.phases = append(h.g.phases, phaseMark{h.now(), p, len(h.g.Truth.Jams) - 1})
}

// wait lets time pass between jams.
func (h *hall) wait(d time.Duration) { h.waitTill(h.now() + d) }

func (h *hall) waitTill(t time.Duration) {
	const stride = 2 // ticks at a time: nobody moves fast between jams
	for h.now()+stride*tick <= t {
		h.n += stride
		for _, k := range h.skaters {
			h.moveAside(k, stride*dt)
		}
		h.others(stride * dt)
	}
	if left := int64((t - h.now() + tick/2) / tick); left > 0 {
		h.n += left
	}
}

// others moves who is not in the jam: benches, box and officials, and films everybody.
func (h *hall) others(step float64) {
	for _, o := range h.officials {
		o.move(h, step)
	}
	if h.jam != nil {
		for _, k := range h.skaters {
			if !k.fielded {
				h.moveAside(k, step)
			}
		}
	}
	h.g.film.shoot(h)
}

// moveAside moves a skater who is not in play.
func (h *hall) moveAside(k *skater, step float64) {
	switch k.mode {
	case benched, gone:
		goal := benchSpot(k.team, k.seat)
		if k.v == 0 && k.w == 0 && k.face == 0 && k.d == goal.D {
			return
		}
		if gap := Gap(k.s, goal.S); k.d < Width(k.s)+4 && (gap > 10 || gap < -10) {
			goal.D = Width(k.s) + 7
		}
		k.walk(step, goal, 11)
	case lining:
		k.walk(step, h.startSpot(k), 12)
	case leaving:
		if h.jam == nil && h.toBox(k, step) {
			k.penal.between = true
		}
	case seated:
		k.walk(step, seatSpot(k.team, k.penal.place), 8)
	case standing:
		goal := seatSpot(k.team, k.penal.place)
		goal.D -= 2
		k.walk(step, goal, 5)
	}
}

// playGame runs the periods and, on a tie, overtime.
func (h *hall) playGame() {
	r := h.opt.Rules
	h.timeouts = [2]int{r.Timeouts, r.Timeouts}
	h.mark(PhaseBefore)
	for p := 1; p <= h.opt.Periods; p++ {
		if p > 1 {
			h.mark(PhaseHalftime)
			h.wait(h.opt.HalfTime)
		}
		h.playPeriod(p)
	}
	for h.score[0] == h.score[1] {
		h.g.clock.stop(h.now())
		h.mark(PhaseLineup)
		h.lineUp()
		h.lineupTill(h.now() + r.OvertimeLine)
		h.runJam(true)
	}
	h.blow(WhistlePeriodEnd, JamTimer, false)
	h.mark(PhaseAfter)
	h.wait(12 * time.Second)
	h.g.Truth.Score = h.score
	h.placeVisits()
}

// placeVisits finds the jam of visits that began between jams and were over, for
// their skater, before the next one: a substitute took over, or it was the end.
func (h *hall) placeVisits() {
	for i := range h.g.Truth.Visits {
		v := &h.g.Truth.Visits[i]
		if v.InJam != "" {
			continue
		}
		for _, j := range h.g.Truth.Jams {
			v.InJam, v.In = j.ID, v.SatAt-j.Start
			if j.Start >= v.SatAt {
				break
			}
		}
	}
}

func (h *hall) playPeriod(p int) {
	r := h.opt.Rules
	h.period, h.number = p, 0
	h.reviews = [2]int{r.Reviews, r.Reviews}
	h.g.clock.set(h.now(), h.opt.PeriodLength, p)
	h.lineUp()
	if p == 1 {
		h.wait(h.opt.LeadIn)
	} else {
		h.wait(r.LineupTime)
	}
	for {
		h.runJam(false)
		if h.opt.Jams > 0 && h.number >= h.opt.Jams {
			break
		}
		ended := h.now()
		stopped := h.stoppages()
		if !stopped {
			// The next jam starts 30 s after the last one ended, unless the clock is
			// out by then (Rules 1.1).
			start := ended + r.LineupTime
			if h.g.clock.left(start) <= 0 {
				break
			}
			h.mark(PhaseLineup)
			h.lineUp()
			h.lineupTill(start)
			continue
		}
		if h.g.clock.left(h.now()) <= 0 {
			break
		}
		h.mark(PhaseLineup)
		h.lineUp()
		h.lineupTill(h.now() + seconds(18+8*h.rng.Float64()))
	}
	h.clearBenches()
	h.mark(PhaseLineup)
	h.wait(3 * time.Second)
	h.g.clock.stop(h.now())
	if p < h.opt.Periods {
		h.blow(WhistlePeriodEnd, JamTimer, false)
	}
}

// runJam plays the lined-up jam.
func (h *hall) runJam(overtime bool) {
	h.number++
	j := &Jam{
		ID:     jamID(h.period, h.number),
		Period: h.period, Number: h.number, Overtime: overtime, Start: h.now(),
	}
	if h.number == 1 {
		h.began = j.Start
	}
	j.BoutTime = j.Start - h.began
	if !overtime {
		h.g.clock.start(j.Start)
	}
	j.ClockAtStart = h.g.clock.left(j.Start)
	h.g.Truth.Jams = append(h.g.Truth.Jams, j)
	h.mark(PhaseJam)
	m := h.field(j)
	h.jam = m
	m.play()
	h.jam = nil
	// The clock of ticks runs on to the first tick after the end.
	for h.now() < j.End {
		h.n++
	}
	j.ClockAtEnd = h.g.clock.left(j.End)
	for side := range j.Sides {
		j.Sides[side].Before = h.score[side]
		h.score[side] += j.Sides[side].Points
	}
	h.afterJam(m)
}

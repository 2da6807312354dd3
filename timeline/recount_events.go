package timeline

import (
	"slices"
	"time"
)

// RecountEvents counts one jam from physical events alone, by the rules given.
// Earned or not, lead, trips and points all follow from the events. It never
// panics: events that can't have happened as told are reported in Problems.
// Events are taken in order of At; equal times keep their order.
//
// Rule sections in the reasons are numbered as in the 2025 edition, whatever
// edition is counted by.
//
// Each rule has its file: earned.go (2.5), nott.go (2.5, 3.3), trip.go (3.2),
// jamend.go (3.2, 3.3), lap.go (the opposing jammer, to 2019), lead.go (2.2.2),
// starpass.go (2.2.4), track.go (who is where).
func RecountEvents(rules RuleSet, start JamStart, events []Event) JamCount {
	c := newJamCounter(rules, start, events)
	order := make([]int, len(events))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		return int(sign(events[a].At - events[b].At))
	})
	for n, i := range order {
		c.at(i)
		if c.ended {
			c.afterEnd(events[i])
			continue
		}
		c.apply(events[i])
		c.noteChances()
		c.settleNotOnTrack()
		if last := n == len(order)-1; last || events[order[n+1]].At != events[i].At {
			c.giveLead() // simultaneous passes are weighed together (2.2.2)
		}
	}
	return c.finish()
}

func sign(d time.Duration) time.Duration {
	switch {
	case d < 0:
		return -1
	case d > 0:
		return 1
	}
	return 0
}

// jamCounter is the state of a jam while its events are counted.
type jamCounter struct {
	rules    RuleSet
	overtime bool
	events   []Event
	count    JamCount

	skaters []onTrack // every skater of the jam; index is her name below
	byRef   map[SkaterRef]int
	order   ordering
	sides   [2]*sideTrips

	noPack  bool
	pack    []SkaterRef  // who is in the pack, as told last; empty when not told
	holders map[int]bool // who has hold of a star that is off the helmet
	laps    lapping
	leadFor *sideTrips // the side whose jammer became lead; nil so far

	event int           // index of the event being applied; -1 at the start
	now   time.Duration // its time
	ended bool
	// noJammerAt is when a penalised jammer sat with no opposing jammer; nil so far.
	noJammerAt *time.Duration
}

// sideTrips is one side's jammer position while the jam runs.
type sideTrips struct {
	side    Side
	count   *SideCount
	jammer  int // the skater who is jammer now; none without
	starter int // the jammer at the whistle
	pivot   int
	trip    trip

	extra       int  // blockers fielded beyond four
	eligible    bool // may still become lead
	passed      bool // a star pass was completed (once per jam)
	pendingPass int  // 2013: the pivot who holds the star lawfully, not yet on her helmet
	exitOnEntry bool // went past the front out of bounds: the trip ends when she is back in
}

const none = -1

func (c *jamCounter) at(i int) {
	c.event = i
	c.now = c.events[i].At
}

// problem reports the event being applied as impossible.
func (c *jamCounter) problem(text string) {
	p := EventProblem{Event: c.event, At: c.now, Text: text}
	if c.event >= 0 {
		p.Tags = c.events[c.event].Tags
	}
	c.count.Problems = append(c.count.Problems, p)
}

func (c *jamCounter) status(s *sideTrips, who int, st Status, why Reason) {
	s.count.Status = append(s.count.Status, StatusChange{At: c.now, Who: c.skaters[who].ref.Number, Status: st, Why: why})
}

// apply lets one event happen.
func (c *jamCounter) apply(e Event) {
	switch e.What {
	case EvNoPack:
		c.noPack, c.pack = true, nil
		return
	case EvPack:
		c.noPack, c.pack = false, e.Pack
		return
	case EvJamEnds:
		if e.At < 0 {
			c.problem("the jam can't end before it starts; left out")
			return
		}
		c.giveLead()
		c.jamEnds()
		return
	}
	who, ok := c.find(e.Who)
	if !ok {
		return
	}
	if e.At < 0 && !beforeStart(e.What) {
		c.problem("before the jam-start whistle nobody gains anything; left out")
		return
	}
	if c.skaters[who].gone == goneAbsent && e.What != EvPenalised {
		c.problem(c.name(who) + " was not on the track at the whistle and is not in this jam (C2.2.6.C); left out")
		return
	}
	switch e.What {
	case EvPass:
		c.pass(who, e)
	case EvZone:
		c.moveTo(who, e.Zone)
	case EvDown, EvUp, EvOut, EvIn, EvTakesOff, EvLands:
		c.posture(who, e)
	case EvStarOff, EvStarOn, EvStripeOff, EvStripeOn, EvStarGrip, EvStarRelease, EvStarLost, EvStarTaken:
		c.star(who, e)
	case EvPenalised:
		c.penalised(who, e)
	case EvSits, EvStands, EvFreed, EvLeavesBox:
		c.boxVisit(who, e)
	case EvReturns, EvOn:
		c.comesBack(who, e)
	case EvOff:
		c.leavesTrack(who)
	case EvCalls:
		c.giveLead()
		c.calls(who)
	default:
		c.problem("an event of kind " + quote(string(e.What)) + " is not known; left out")
	}
}

// beforeStart reports whether an event of this kind can matter in the line-up.
func beforeStart(k EventKind) bool {
	switch k {
	case EvPenalised, EvStarOff, EvStarOn, EvStripeOff, EvStripeOn, EvSits, EvStands, EvFreed, EvZone, EvDown, EvUp:
		return true
	}
	return false
}

// afterEnd takes what is told after the end of the fourth blast: penalties and
// the box go on between jams, nothing else counts.
func (c *jamCounter) afterEnd(e Event) {
	switch e.What {
	case EvPenalised, EvSits, EvStands, EvFreed, EvLeavesBox, EvReturns, EvOff, EvOn, EvStarOff, EvStarOn, EvStripeOff, EvStripeOn, EvUp, EvDown, EvOut, EvIn:
	case EvJamEnds:
		c.problem("the jam had already ended; left out")
	default:
		c.problem("after the end of the fourth blast nothing counts; left out")
	}
}

func quote(s string) string { return "“" + s + "”" }

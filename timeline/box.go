package timeline

import (
	"cmp"
	"slices"
	"time"
)

// BoxMove is one thing that matters to a penalty's clock.
type BoxMove string

// The moves. Penalty time runs only in jams, from sitting on (Rules 4.4).
const (
	// BoxPenalised: a penalty is assessed; the skater owes one more.
	BoxPenalised BoxMove = "penalised"
	// BoxSits: she takes a seat (or is first seen seated).
	BoxSits BoxMove = "sits"
	// BoxRises: she rises too early: her clock stops until she sits again.
	BoxRises BoxMove = "rises early"
	// BoxStays: told to stand for the last seconds, she clearly does not: her clock
	// stops until BoxStands.
	BoxStays  BoxMove = "does not stand"
	BoxStands BoxMove = "stands"
	// BoxLeaves: she leaves the box. Before her time is served that is leaving early.
	BoxLeaves BoxMove = "leaves"
	// BoxCancelled: a penalty was withdrawn (a review, the wrong skater).
	BoxCancelled BoxMove = "penalty withdrawn"
)

// BoxEvent is one move of one skater on the jam-time axis: in jam Jam (index
// into the jams given to ServeBox) at jam time At. A negative At is before that
// jam's start whistle, between jams.
type BoxEvent struct {
	Jam     int
	At      time.Duration
	Skater  SkaterRef
	Role    Role // Jammer, Pivot or Blocker: penalty time belongs to role and skater (Rules 4)
	What    BoxMove
	Penalty ID // the penalty assessed, served or withdrawn; may be empty
	// For is whose penalty it is when Skater serves it for somebody else: a captain for
	// the team, a substitute, the new jammer for the old one (4.4, 4.5, C2.2.4.F). It
	// counts toward For's foul-out, and For sits out until it is served.
	For  SkaterRef
	Tags []ID
}

// BoxServed is one stay in the box as the rules make it: when she was, or would
// be, released and what she still owes.
type BoxServed struct {
	Skater    SkaterRef
	Role      Role
	Penalties []ID // penalties this stay was for, in order; empty IDs left out
	Count     int  // how many penalties this stay was for
	InJam     int
	In        time.Duration // jam time of sitting; negative: before the jam started
	// Released reports whether her time was up, at OutJam and Out; otherwise she is
	// still in at the last jam's end, or left early then.
	Released bool
	Left     bool // left before release
	SentBack bool // no seat: queued and told to go back to play (4.4.1)
	OutJam   int
	Out      time.Duration
	Owed     time.Duration // on sitting down, and penalties added since
	Served   time.Duration // jam time served in this stay
	Forgiven time.Duration // taken off by the two-jammer rule
	Remains  time.Duration // still owed at the end of the stay
	// For lists those whose penalties she served in their place; they sit out until then.
	For []SkaterRef
	Why []Reason
}

// BoxCount is what ServeBox works out.
type BoxCount struct {
	Stays []BoxServed // by time of sitting down
	// Owed is what each skater still owes after the last jam.
	Owed map[SkaterRef]time.Duration
	// Fouls counts penalties per skater; FouledOut says at which BoxEvent she fouled out.
	Fouls     map[SkaterRef]int
	FouledOut map[SkaterRef]int
	// JamEnds are jams that ended because a penalised jammer sat and there was no
	// opposing jammer (4.4.2).
	JamEnds  []BoxJamEnd
	Problems []EventProblem // Event is the index into the events given
}

// BoxJamEnd is a jam ended by a jammer sitting down.
type BoxJamEnd struct {
	Jam int
	At  time.Duration
	Why Reason
}

// BoxJam is one jam on the jam-time axis.
type BoxJam struct {
	// Length is its jam time; 0 when not known, then it is taken to end with the last
	// event in it.
	Length time.Duration
	// NoJammer marks sides that fielded no jammer in this jam.
	NoJammer [2]bool
}

// ServeBox works out every stay in the penalty box over consecutive jams: when
// each skater is released, what she owes and why, the two-jammer rule included
// (Rules 4.4; boxswap.go). Penalty time runs on the jam-time axis: the jams one
// after the other, nothing between them. Events need not be sorted; equal
// moments keep their order. It never panics; what can't have happened as told is
// reported in Problems.
//
// A BoxSits without a penalty known to be owed is taken to be for one.
func ServeBox(rules RuleSet, jams []BoxJam, events []BoxEvent) BoxCount {
	jams = lengths(jams, events)
	b := newBoxKeeper(rules, jams)
	for _, i := range b.inOrder(events) {
		e := events[i]
		if e.Jam < 0 || e.Jam >= len(jams) {
			b.event = i
			b.problem(e, "jam "+itoa(e.Jam)+" is none of the jams given; left out")
			continue
		}
		b.advance(momentOf(e, jams))
		b.event = i
		b.apply(e)
	}
	b.event = -1
	if n := len(jams); n > 0 {
		b.advance(boxMoment{n - 1, max(0, jams[n-1].Length)})
	}
	return b.finish()
}

// lengths fills in the lengths that are not known.
func lengths(jams []BoxJam, events []BoxEvent) []BoxJam {
	out := slices.Clone(jams)
	for _, e := range events {
		if e.Jam >= 0 && e.Jam < len(jams) && jams[e.Jam].Length <= 0 {
			out[e.Jam].Length = max(out[e.Jam].Length, e.At, 0)
		}
	}
	return out
}

// boxMoment is a point of the jam-time axis: so far into one jam.
type boxMoment struct {
	jam int
	at  time.Duration
}

// momentOf places an event on the axis: before the whistle is the jam's start,
// after its end the next jam's start (the last jam's end).
func momentOf(e BoxEvent, jams []BoxJam) boxMoment {
	m := boxMoment{e.Jam, max(0, e.At)}
	if length := max(0, jams[e.Jam].Length); m.at > length {
		if e.Jam+1 < len(jams) {
			return boxMoment{e.Jam + 1, 0}
		}
		m.at = length
	}
	return m
}

// inOrder sorts the events by moment; equal moments keep their order.
func (b *boxKeeper) inOrder(events []BoxEvent) []int {
	order := make([]int, len(events))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(x, y int) int {
		a, c := events[x], events[y]
		return cmp.Or(cmp.Compare(a.Jam, c.Jam), cmp.Compare(a.At, c.At))
	})
	return order
}

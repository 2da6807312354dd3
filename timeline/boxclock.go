package timeline

import (
	"fmt"
	"strconv"
	"time"
)

// boxKeeper keeps the penalty box while its events are gone through.
type boxKeeper struct {
	rules RuleSet
	jams  []BoxJam
	count BoxCount
	stays []*BoxServed
	now   boxMoment
	event int

	skaters map[SkaterRef]*boxSkater
	order   []*boxSkater // in order of appearance, so that results do not depend on map order
}

// boxSkater is one skater's dealings with the box.
type boxSkater struct {
	ref  SkaterRef
	role Role // of the stay or the last penalty
	owes []*boxPenalty
	stay *BoxServed // nil when she is not in the box

	risen   bool // rose early: the clock stands until she sits
	staying bool // told to stand, did not: the clock stands until she does
	stood   bool // stands for the last seconds: her seat is free
}

// boxPenalty is one penalty with its own clock.
type boxPenalty struct {
	id     ID
	whose  SkaterRef     // who else it was called on; zero when it is her own
	time   time.Duration // what is to be served in all
	served time.Duration
	// paired: its time was set by the two-jammer rule with one of the opposing
	// jammer's penalties; it can't shrink again (C4.4.2.A).
	paired bool
}

func (p *boxPenalty) left() time.Duration { return p.time - p.served }

func newBoxKeeper(rules RuleSet, jams []BoxJam) *boxKeeper {
	return &boxKeeper{
		rules: rules, jams: jams, event: -1, skaters: map[SkaterRef]*boxSkater{},
		count: BoxCount{Owed: map[SkaterRef]time.Duration{}, Fouls: map[SkaterRef]int{}, FouledOut: map[SkaterRef]int{}},
	}
}

// boxTolerance is how far people's marks of sitting, standing and leaving may be
// off before a skater counts as having stood or left early (common practice, no
// source).
const boxTolerance = time.Second

func (b *boxKeeper) problem(e BoxEvent, text string) {
	b.count.Problems = append(b.count.Problems, EventProblem{Event: b.event, At: e.At, Text: text, Tags: e.Tags})
}

func (b *boxKeeper) skater(ref SkaterRef) *boxSkater {
	s, ok := b.skaters[ref]
	if !ok {
		s = &boxSkater{ref: ref}
		b.skaters[ref] = s
		b.order = append(b.order, s)
	}
	return s
}

func (s *boxSkater) left() time.Duration {
	var d time.Duration
	for _, p := range s.owes {
		d += p.left()
	}
	return d
}

// running reports whether her clock runs while a jam does.
func (s *boxSkater) running() bool {
	return s.stay != nil && !s.risen && !s.staying
}

// current is the penalty she is serving: the first with time left.
func (s *boxSkater) current() *boxPenalty {
	for _, p := range s.owes {
		if p.left() > 0 {
			return p
		}
	}
	return nil
}

func (s *boxSkater) why(text, section string) {
	s.stay.Why = append(s.stay.Why, Reason{Text: text, Section: section})
}

// advance runs the clocks to a later moment; whoever's time is up on the way is
// released.
func (b *boxKeeper) advance(to boxMoment) {
	for b.now.jam < to.jam {
		b.run(max(0, b.jams[b.now.jam].Length) - b.now.at)
		b.now = boxMoment{b.now.jam + 1, 0}
	}
	b.run(to.at - b.now.at)
	b.now.at = max(b.now.at, to.at)
}

// run lets so much jam time pass from now.
func (b *boxKeeper) run(d time.Duration) {
	if d <= 0 {
		return
	}
	for _, s := range b.order {
		if !s.running() {
			continue
		}
		rest := d
		for rest > 0 {
			p := s.current()
			if p == nil {
				break
			}
			step := min(rest, p.left())
			p.served += step
			s.stay.Served += step
			rest -= step
		}
		if s.current() == nil {
			b.release(s, boxMoment{b.now.jam, b.now.at + d - rest})
		}
	}
}

// release ends a stay whose time is up.
func (b *boxKeeper) release(s *boxSkater, at boxMoment) {
	s.stay.Released = true
	s.stay.OutJam, s.stay.Out = at.jam, at.at
	s.why(fmt.Sprintf("released after %v of jam time", s.stay.Served), "4.4")
	b.leave(s)
}

// leave closes a stay.
func (b *boxKeeper) leave(s *boxSkater) {
	s.stay.Remains = s.left()
	s.stay = nil
	s.risen, s.staying, s.stood = false, false, false
	if s.left() == 0 {
		s.owes = nil
	}
}

func itoa(n int) string { return strconv.Itoa(n) }

package timeline

// pass lets who's hips go from behind to ahead of whom's and judges it.
func (c *jamCounter) pass(who int, e Event) {
	whom, ok := c.find(e.Whom)
	if !ok {
		return
	}
	a, b := &c.skaters[who], &c.skaters[whom]
	switch {
	case who == whom:
		c.problem(c.name(who) + " can't pass herself; left out")
		return
	case a.gone != "":
		c.problem(c.name(who) + " is " + string(a.gone) + " and can't pass anybody; left out")
		return
	case b.gone != "":
		c.problem(c.name(whom) + " is " + string(b.gone) + " and can't be passed; left out")
		return
	}
	s := c.sideOf(who)
	blocker := c.skaters[whom].role != Jammer
	// In from the front she may have come in behind some; that is not told.
	if c.isJammer(who) && blocker && c.order.isAhead(who, whom) && !s.trip.back {
		c.problem(c.name(who) + " was already ahead of " + c.name(whom) + "; taken as a re-pass after dropping back unseen")
	}
	c.inferZone(who, whom, e)
	earned, why := c.earned(who, whom, e)
	c.count.Passes = append(c.count.Passes, PassCount{
		Event: c.event, At: c.now, Who: a.ref, Whom: b.ref, Earned: earned, Why: why,
	})
	c.order.put(who, whom)
	if c.isJammer(whom) { // whoever gets ahead of a jammer is to be passed again
		v := c.sideOf(whom)
		a.cameBehind[v.side.Index()] = false
		delete(v.trip.noChance, who)
	}
	if !c.isJammer(who) {
		return
	}
	switch {
	case !blocker:
		if b.ref.Side != a.ref.Side {
			c.jammersPass(s, who, whom, earned, why)
		}
	case !earned:
		s.trip.tried[whom] = why
	default:
		c.passEarned(s, whom, PointPass, why)
	}
}

// earned judges one pass (2.5): a jammer earns it wearing the star, stars
// showing, upright and in bounds; or when the opponent goes clockwise behind the
// jammer, who need only be in bounds. What the passed one does (down, out of
// bounds, out of play, penalised but still on the track) makes no difference
// (2.5, C2.5.A, C3.3.E).
func (c *jamCounter) earned(who, whom int, e Event) (bool, Reason) {
	a, b := &c.skaters[who], &c.skaters[whom]
	no := func(text, section string) (bool, Reason) {
		return false, Reason{Text: "not earned: " + text, Section: section, Tags: e.Tags}
	}
	switch {
	case !c.isJammer(who):
		return no("only a jammer's passes count", "2.5")
	case a.sent:
		return no("the jammer was penalised and no longer counts as on the track", "3.4")
	case b.sent && !b.inBounds:
		return no("off to the box and out of bounds, she counts as not on the track", "2.5")
	case !a.star:
		return no("the star was not on the jammer's helmet, showing", "2.5")
	case !a.inBounds && a.airborne:
		return no("in the air from out of bounds, or first down out of bounds", "2.5")
	case !a.inBounds:
		return no("the jammer was out of bounds", "2.5")
	}
	if e.Moved == MovedPassed {
		return true, Reason{Text: "earned: she went clockwise behind the jammer, who was in bounds", Section: "2.5", Tags: e.Tags}
	}
	switch {
	case !a.upright && a.airborne:
		return no("the jammer came down otherwise than on a skate", "2.5")
	case !a.upright:
		return no("the jammer was not upright", "2.5")
	}
	text := "earned: upright, in bounds, star showing"
	if a.airborne {
		text = "earned: in the air, with the status she took off with; first touchdown in bounds on a skate"
	}
	return true, Reason{Text: text, Section: "2.5", Tags: e.Tags}
}

// passEarned notes an earned pass on a blocker. It counts toward lead whichever
// side she is on; an opponent can be a point, and brings those not on the track
// with her.
func (c *jamCounter) passEarned(s *sideTrips, whom int, kind PointKind, why Reason) {
	if s.trip.back {
		return // on the trip before, nothing is earned (3.2)
	}
	t := &s.trip
	t.passed[whom] = true
	if c.skaters[whom].ref.Side == s.side {
		return
	}
	c.score(s, whom, kind, why)
	if c.skaters[whom].role != Jammer && !t.open {
		t.open = true
		t.openedBy = c.name(whom)
	}
}

// score notes a point on an opponent, once per opponent and trip (3.1). On the
// initial trip it is worth nothing, except in overtime (3.2, 1.5.1).
func (c *jamCounter) score(s *sideTrips, on int, kind PointKind, why Reason) {
	t := &s.trip
	if t.scored[on] {
		return
	}
	t.scored[on] = true
	if t.number > 1 || c.overtime {
		t.points = append(t.points, PointCount{On: c.skaters[on].ref, At: c.now, Kind: kind, Why: why})
	}
}

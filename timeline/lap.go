package timeline

// lapping keeps which jammer is in position to lap the other: she passed last,
// or started in front (3.1 to January 2019). A penalty ends it until both are in
// the game again (3.4); then whoever is ahead has it.
type lapping struct {
	by     Side
	off    bool    // a jammer is penalised
	missed [2]bool // lapped without earning it: a re-pass earns the point (3.1)
}

func newLapping(c *jamCounter) lapping {
	h, a := c.sides[0].jammer, c.sides[1].jammer
	if h == none || a == none {
		return lapping{}
	}
	if c.skaters[h].gone != "" || c.skaters[a].gone != "" {
		return lapping{off: true}
	}
	return lapping{by: c.foremost(h, a)}
}

// foremost returns the side whose jammer is ahead of the other, or NoSide.
func (c *jamCounter) foremost(h, a int) Side {
	switch {
	case c.order.isAhead(h, a):
		return Home
	case c.order.isAhead(a, h):
		return Away
	}
	return NoSide
}

// jammersPass is one jammer passing the other.
func (c *jamCounter) jammersPass(s *sideTrips, who, whom int, earned bool, why Reason) {
	if !c.rules.LapJammer || c.laps.off {
		return
	}
	i := s.side.Index()
	lapped := c.laps.by == s.side
	repass := c.laps.missed[i]
	c.laps.by = s.side
	if !lapped && !repass {
		return
	}
	c.laps.missed[i] = !earned
	if !earned || s.trip.back {
		return
	}
	point := PointCount{On: c.skaters[whom].ref, At: c.now, Kind: PointLap, Why: Reason{
		Text: "lapped the opposing jammer: " + why.Text, Section: "3.1", Tags: why.Tags,
	}}
	switch {
	case c.rules.LapJammerInitial: // independent of trips
		s.count.Laps = append(s.count.Laps, point)
	case (s.trip.number > 1 || c.overtime) && !s.trip.scored[whom]:
		s.trip.scored[whom] = true
		s.trip.points = append(s.trip.points, point)
	}
}

// jammerLeaves ends the lapping position.
func (c *jamCounter) jammerLeaves() {
	c.laps = lapping{off: true}
}

// jammersBack sets the lapping position anew once both jammers are in the game.
func (c *jamCounter) jammersBack() {
	h, a := c.sides[0].jammer, c.sides[1].jammer
	if h == none || a == none {
		return
	}
	for _, j := range []int{h, a} {
		if c.skaters[j].gone != "" || c.skaters[j].sent {
			return
		}
	}
	c.laps = lapping{by: c.foremost(h, a)}
}

package timeline

import (
	"strings"
	"testing"
	"time"
)

func TestWhy(t *testing.T) {
	c := recountScript(t, "2025", redWhite().with(inBox, "W1"), `
		@2 R passes R1 R2 W2 R3 W3 RP WP
		@4 R exits
		@5 R round
		@10 R passes W2
		@11 R down
		@12 R passes W3
		@13 R up
		@20 R star off
		@30 jam ends`)
	points := []struct {
		trip  int
		on    string
		point bool
		says  string
		sect  string
		ok    bool
	}{
		{2, "W2", true, "upright, in bounds, star showing", "2.5", true},
		{2, "W1", true, "in the box", "2.5", true},
		{2, "W3", false, "not upright", "2.5", true},
		{2, "WP", false, "not passed", "3.1", true},
		{1, "W2", false, "", "", false},
		{7, "W2", false, "", "", false},
	}
	for _, p := range points {
		point, why, ok := c.WhyPoint(Home, p.trip, scriptRef(p.on))
		if point != p.point || ok != p.ok || !strings.Contains(why.Text, p.says) || why.Section != p.sect {
			t.Errorf("trip %d, %s: point %v because %q (%s), known %v", p.trip, p.on, point, why.Text, why.Section, ok)
		}
	}
	for _, l := range []struct {
		side Side
		at   float64
		lead bool
		says string
	}{
		{Home, 1, false, "not lead yet"},
		{Home, 15, true, "first to be ahead of the foremost"},
		{Home, 25, false, "took off the star"},
		{Away, 25, false, "the other jammer became lead first"},
	} {
		lead, why := c.IsLead(l.side, time.Duration(l.at*float64(time.Second)))
		if lead != l.lead || !strings.Contains(why.Text, l.says) || why.Section != "2.2.2" {
			t.Errorf("%v at %v s: lead %v because %q (%s)", l.side, l.at, lead, why.Text, why.Section)
		}
	}
	st, ok := c.WhyStatus(Home, 6*time.Second, StatusInitial, StatusTrip)
	if !ok || st.Status != StatusInitial || st.At != 4*time.Second {
		t.Errorf("status %+v, %v; want the initial trip completed at 4 s", st, ok)
	}
	if _, ok := c.WhyStatus(Away, time.Minute, StatusLead); ok {
		t.Error("white has been lead")
	}
	if _, _, ok := c.WhyPoint(NoSide, 2, scriptRef("W2")); ok {
		t.Error("a point for no side")
	}
}

// TestCallAfterFullTime: hips tapped when the two minutes are over end nothing.
func TestCallAfterFullTime(t *testing.T) {
	c := recountScript(t, "2025", redWhite(), `
		@2 R passes R1 W1 R2 W2 R3 W3 RP WP
		@120.5 R calls
		@121.2 jam ends`)
	if c.Ended != EndTime || c.Sides[0].Called {
		t.Errorf("ended %q, called %v", c.Ended, c.Sides[0].Called)
	}
}

// TestStarTakenBack: by 2013 a jammer who puts the star on again has not passed
// it, whatever the pivot does later.
func TestStarTakenBack(t *testing.T) {
	c := recountScript(t, "2013", redWhite(), `
		R within
		R star off
		R releases star to RP
		RP releases star to R
		R star on
		RP star on
		jam ends`)
	if c.Sides[0].NewJammer != "" {
		t.Errorf("new jammer %q", c.Sides[0].NewJammer)
	}
}

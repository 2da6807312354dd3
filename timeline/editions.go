package timeline

import "time"

// Editions lists the published rule sets, oldest first. Each call returns fresh
// values, so an edited copy never changes another.
func Editions() []RuleSet {
	return []RuleSet{
		edition2013(), edition2014(), edition2015(), edition2017(), edition2019(), edition2025(),
	}
}

// In is the rule set an edition's letters and sections are read by: this one where it
// is of that edition, for it may be edited, else the published one.
func (r RuleSet) In(edition string) (RuleSet, bool) {
	if r.Edition == edition {
		return r, true
	}
	return Edition(edition)
}

// Edition returns the published rule set of that name ("2013", ... "2025").
func Edition(name string) (RuleSet, bool) {
	for _, r := range Editions() {
		if r.Edition == name {
			return r, true
		}
	}
	return RuleSet{}, false
}

// edition2025 is the edition with a 30-second window for a review after a
// period's last jam. The Rules of Flat Track Roller Derby, 1.1 (periods, jams,
// line-up), 1.3 (timeouts, reviews), 1.5.1 (overtime), 3.1 (points), 4.4
// (penalty time), 4.5 (foul-out).
func edition2025() RuleSet {
	return RuleSet{
		Edition:           "2025",
		Source:            "The Rules of Flat Track Roller Derby, 2025",
		Periods:           2,
		PeriodLength:      30 * time.Minute,
		JamLength:         2 * time.Minute,
		LineupTime:        30 * time.Second,
		OvertimeLine:      time.Minute,
		PenaltyTime:       30 * time.Second,
		StandTime:         10 * time.Second,
		FoulOut:           7,
		Timeouts:          3,
		Reviews:           1,
		TimeoutLength:     time.Minute,
		Roster:            15, // sanctioned games, officials' training material 2024
		PointsPerTrip:     blockersPerSide,
		StarPassOnRelease: true,
		LeadSurvivesPlay:  true,
		// An inference from "equal time per penalty" and "one jammer always free" (4.4.2).
		CancelEachPenalty: true,
		ReviewWindow:      30 * time.Second,
		ReviewAsTimeout:   true,
		Codes:             codes2017(),
	}
}

// edition2019 (1 February 2019): only blockers are lapped, four points per trip
// (2019 release note).
func edition2019() RuleSet {
	r := edition2025()
	r.Edition = "2019"
	r.Source = "The Rules of Flat Track Roller Derby, 1 February 2019"
	r.ReviewWindow = 0 // the window is dated to the 2025 change
	return r
}

// edition2017 (15 February 2017): the rewrite. Lead is kept when the cover is
// lost in play (list of gameplay changes 2017). The opposing jammer is still
// lapped: five points per trip.
func edition2017() RuleSet {
	r := edition2019()
	r.Edition = "2017"
	r.Source = "The Rules of Flat Track Roller Derby, 15 February 2017"
	r.PointsPerTrip = blockersPerSide + 1
	r.LapJammer = true
	r.BoxedJammerNOTT = true
	return r
}

// edition2015 (1 January 2015): a review may be used as a timeout (rules news
// 2014). Lead is lost when the cover comes off in play.
func edition2015() RuleSet {
	r := edition2017()
	r.Edition = "2015"
	r.Source = "The Rules of Flat Track Roller Derby, 1 January 2015"
	r.LapJammerInitial = true
	r.LeadSurvivesPlay = false
	// Both seated at the same moment: ten seconds each, then both out (2014, 6.3.2);
	// no change found for 2015.
	r.BothSeatedServe = 10 * time.Second
	r.Roster = 14 // from memory
	r.Codes = codes2013()
	return r
}

// edition2014 (1 April 2014): penalties of 30 seconds (6.1.2), the star is
// passed on release (men's association note 2014).
func edition2014() RuleSet {
	r := edition2015()
	r.Edition = "2014"
	r.Source = "The Rules of Flat Track Roller Derby, 1 March 2014"
	r.ReviewAsTimeout = false
	return r
}

// edition2013 (1 January 2013): no minors, one start whistle (releases 2012);
// penalties of 60 seconds (2013, 7.1); lap points on the opposing jammer also on
// the initial trip, independent of trips (8.3); the star is passed when the pivot
// wears it.
func edition2013() RuleSet {
	r := edition2014()
	r.Edition = "2013"
	r.Source = "The Rules of Flat Track Roller Derby, 1 January 2013"
	r.PenaltyTime = time.Minute
	r.StarPassOnRelease = false
	r.BothSeatedServe = 0 // no source seen for this edition
	return r
}

// codes2017 are the letters from 2017 on (groups: Rules 4.1-4.3; letters from
// memory).
func codes2017() []PenaltyCode {
	return []PenaltyCode{
		{"B", "back block", "4.1.1"},
		{"A", "high block", "4.1.1"},
		{"L", "low block", "4.1.1"},
		{"H", "head block", "4.1.2"},
		{"F", "forearm", "4.1.2"},
		{"E", "leg block", "4.1.2"},
		{"C", "illegal contact", "4.1.3"},
		{"D", "direction", "4.1.3"},
		{"M", "multiplayer", "4.1.4"},
		{"P", "illegal position", "4.2.1"},
		{"X", "cut", "4.2.2"},
		{"N", "interference", "4.2.3"},
		{"I", "illegal procedure", "4.2.4"},
		{"G", "misconduct", "4.3"},
	}
}

// codes2013 are the letters of 2013 to 2016, when C was direction of game play
// (penalty-code sheet 2015; the other letters from memory).
func codes2013() []PenaltyCode {
	return []PenaltyCode{
		{"B", "back block", "5.1"},
		{"A", "high block", "5.2"},
		{"L", "low block", "5.3"},
		{"E", "elbows", "5.4"},
		{"F", "forearms and hands", "5.5"},
		{"H", "blocking with the head", "5.6"},
		{"M", "multiplayer block", "5.7"},
		{"O", "out of bounds block", "5.8"},
		{"C", "direction of game play", "5.9"},
		{"P", "out of play", "5.10"},
		{"X", "cutting the track", "5.11"},
		{"S", "skating out of bounds", "5.12"},
		{"I", "illegal procedure", "5.13"},
		{"N", "insubordination", "5.14"},
		{"Z", "delay of game", "5.15"},
		{"G", "misconduct", "5.16"},
	}
}

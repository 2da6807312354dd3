package timeline

import "time"

// RuleSet is one edition of the rules as a value: every number and choice that
// the recount uses. Editions lists the published ones; any value can be edited
// (juniors, short periods).
type RuleSet struct {
	Edition string `json:"edition"` // "2013", "2014", "2015", "2017", "2019", "2025"
	Source  string `json:"source,omitempty"`

	Periods       int           `json:"periods"`
	PeriodLength  time.Duration `json:"period_length"`
	JamLength     time.Duration `json:"jam_length"`
	LineupTime    time.Duration `json:"line_up_time"` // least time between jams
	OvertimeLine  time.Duration `json:"overtime_line_up_time"`
	PenaltyTime   time.Duration `json:"penalty_time"`
	StandTime     time.Duration `json:"stand_time"` // last part of a penalty served standing
	FoulOut       int           `json:"foul_out"`   // penalties that foul a skater out
	Timeouts      int           `json:"timeouts"`   // per team and game
	Reviews       int           `json:"reviews"`    // per team and period
	TimeoutLength time.Duration `json:"timeout_length"`
	Roster        int           `json:"roster"`

	// PointsPerTrip is the usual most a trip can score: opposing blockers, plus the
	// opposing jammer where LapJammer.
	PointsPerTrip int `json:"points_per_trip"`
	// LapJammer: passing the opposing jammer can score (to January 2019).
	LapJammer bool `json:"lap_jammer"`
	// BoxedJammerNOTT: a boxed opposing jammer is among those not on the track (to January 2019).
	BoxedJammerNOTT bool `json:"boxed_jammer_nott"`
	// LapJammerInitial: the opposing jammer's lap point counts on the initial trip too,
	// independent of trips (2013).
	LapJammerInitial bool `json:"lap_jammer_initial"`
	// StarPassOnRelease: the pivot is jammer on release of the star (from April 2014);
	// before, when she has it on her helmet.
	StarPassOnRelease bool `json:"star_pass_on_release"`
	// LeadSurvivesPlay: lead is kept when the star is lost through play or an
	// opponent (from 2017).
	LeadSurvivesPlay bool `json:"lead_survives_play"`
	// CancelEachPenalty is the uncertain two-jammer case: with unequal penalties owed,
	// one of each is cancelled and the arriving jammer is freed at once. The sources
	// differ, so it can be switched.
	CancelEachPenalty bool `json:"cancel_each_penalty"`
	// ReviewWindow is how long after a period's last jam a review may be asked for.
	ReviewWindow time.Duration `json:"review_window"`

	Codes []PenaltyCode `json:"codes"`
}

// PenaltyCode is a letter of the penalty sheet and the penalty it stands for.
// Letters changed between editions: never map across years.
type PenaltyCode struct {
	Letter  string `json:"letter"`
	Name    string `json:"name"`
	Section string `json:"section,omitempty"`
}

// Editions lists the published rule sets, oldest first.
func Editions() []RuleSet { return nil }

// Edition returns the published rule set of that name ("2013", ... "2025").
func Edition(name string) (RuleSet, bool) {
	for _, r := range Editions() {
		if r.Edition == name {
			return r, true
		}
	}
	return RuleSet{}, false
}

// Check reports the first number of the rule set that no game could be played by.
func (r RuleSet) Check() error { return nil }

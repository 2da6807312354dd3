package timeline

import (
	"fmt"
	"time"
)

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
	// independent of trips (from 2013, until points were grouped by trips in 2017).
	LapJammerInitial bool `json:"lap_jammer_initial"`
	// StarPassOnRelease: the pivot is jammer on release of the star (from April 2014);
	// before, when she has it on her helmet.
	StarPassOnRelease bool `json:"star_pass_on_release"`
	// LeadSurvivesPlay: lead is kept when the star comes off in play (from 2017).
	// Removal by an opponent never cost lead.
	LeadSurvivesPlay bool `json:"lead_survives_play"`
	// CancelEachPenalty is the uncertain two-jammer case: with unequal penalties owed,
	// one of each is cancelled and the arriving jammer is freed at once. The sources
	// differ, so it can be switched.
	CancelEachPenalty bool `json:"cancel_each_penalty"`
	// BothSeatedServe is what each jammer serves when both take their seats at the same
	// moment (10 s in 2014); zero frees both at once.
	BothSeatedServe time.Duration `json:"both_seated_serve,omitempty"`
	// ReviewWindow is how long after a period's last jam a review may be asked for.
	ReviewWindow time.Duration `json:"review_window"`
	// ReviewAsTimeout: a review may be spent as a timeout (from 2015).
	ReviewAsTimeout bool `json:"review_as_timeout"`

	Codes []PenaltyCode `json:"codes"`
}

// PenaltyCode is a letter of the penalty sheet and the penalty it stands for.
// Letters changed between editions: never map across years.
type PenaltyCode struct {
	Letter  string `json:"letter"`
	Name    string `json:"name"`
	Section string `json:"section,omitempty"`
}

// blockersPerSide is how many blockers a side fields, the pivot included (2.2).
const blockersPerSide = 4

// Code returns the penalty that a letter stands for in this edition.
func (r RuleSet) Code(letter string) (PenaltyCode, bool) {
	for _, c := range r.Codes {
		if c.Letter == letter {
			return c, true
		}
	}
	return PenaltyCode{}, false
}

// Check reports the first number of the rule set that no game could be played
// by, as a sentence; nil when there is none.
func (r RuleSet) Check() error {
	positive := []struct {
		name  string
		value time.Duration
	}{
		{"period length", r.PeriodLength},
		{"jam length", r.JamLength},
		{"penalty time", r.PenaltyTime},
	}
	for _, p := range positive {
		if p.value <= 0 {
			return fmt.Errorf("rule set %q: %s is %v; it must be more than nothing", r.Edition, p.name, p.value)
		}
	}
	notNegative := []struct {
		name  string
		value time.Duration
	}{
		{"line-up time", r.LineupTime},
		{"overtime line-up time", r.OvertimeLine},
		{"standing time", r.StandTime},
		{"timeout length", r.TimeoutLength},
		{"time both jammers serve", r.BothSeatedServe},
		{"review window", r.ReviewWindow},
	}
	for _, p := range notNegative {
		if p.value < 0 {
			return fmt.Errorf("rule set %q: %s is %v; it can't be negative", r.Edition, p.name, p.value)
		}
	}
	counts := []struct {
		name  string
		value int
		least int
	}{
		{"number of periods", r.Periods, 1},
		{"penalties to foul out", r.FoulOut, 1},
		{"timeouts per game", r.Timeouts, 0},
		{"reviews per period", r.Reviews, 0},
		{"roster size", r.Roster, 1},
		{"points per trip", r.PointsPerTrip, 1},
	}
	for _, c := range counts {
		if c.value < c.least {
			return fmt.Errorf("rule set %q: %s is %d; the least is %d", r.Edition, c.name, c.value, c.least)
		}
	}
	switch {
	case r.JamLength > r.PeriodLength:
		return fmt.Errorf("rule set %q: a jam of %v is longer than the period of %v", r.Edition, r.JamLength, r.PeriodLength)
	case r.StandTime > r.PenaltyTime:
		return fmt.Errorf("rule set %q: standing for %v of a penalty of %v is not possible", r.Edition, r.StandTime, r.PenaltyTime)
	case r.BothSeatedServe > r.PenaltyTime:
		return fmt.Errorf("rule set %q: both jammers can't serve %v of a penalty of %v", r.Edition, r.BothSeatedServe, r.PenaltyTime)
	case (r.BoxedJammerNOTT || r.LapJammerInitial) && !r.LapJammer:
		return fmt.Errorf("rule set %q: points on a boxed jammer or on the initial trip need the opposing jammer to be lapped at all", r.Edition)
	}
	seen := map[string]bool{}
	for _, c := range r.Codes {
		if c.Letter == "" || seen[c.Letter] {
			return fmt.Errorf("rule set %q: penalty letter %q is empty or used twice", r.Edition, c.Letter)
		}
		seen[c.Letter] = true
	}
	return nil
}

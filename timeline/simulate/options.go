package simulate

import (
	"time"

	"whistlecut/timeline"
)

// Options say what game to play. The zero value is a full bout by the current
// rules between two invented teams.
type Options struct {
	// Rules is the rule set; the zero value (no Edition) is the 2025 edition. Of
	// editions before 2019 a game takes the numbers, but jammers are not lapped for
	// points and the star is passed on release: Game.Options.Rules says what was
	// played by.
	Rules timeline.RuleSet
	// Periods and PeriodLength override the rule set's when set.
	Periods      int
	PeriodLength time.Duration
	// Jams, when set, ends each period after so many jams, whatever the clock says.
	Jams int
	// LeadIn is the time before the first jam-start whistle (0: 30 s) and HalfTime
	// the break between periods (0: 2 min; demo films need no longer one).
	LeadIn, HalfTime time.Duration
	// Teams replaces the invented teams when both have a roster of five or more.
	Teams [2]timeline.Team
	// PassEvents makes Facts carry every physical event as a tag, for a recount at
	// pass level.
	PassEvents bool
	// Rates make things more or less frequent than in a usual bout.
	Rates Rates
}

// Rates multiply how often things happen: 0 is usual (1), a negative value is
// never, 2 twice as often.
type Rates struct {
	Penalties   float64
	StarPasses  float64
	OutOfBounds float64 // jammers knocked out of bounds
	Falls       float64
	Injuries    float64
	Timeouts    float64 // team and official timeouts
	Reviews     float64
	Splits      float64 // teams pulling the pack apart
}

func rate(r float64) float64 {
	switch {
	case r == 0:
		return 1
	case r < 0:
		return 0
	}
	return r
}

// withDefaults fills in what was left open.
func (o Options) withDefaults() Options {
	if o.Rules.Edition == "" {
		o.Rules, _ = timeline.Edition("2025")
	}
	o.Rules.LapJammer, o.Rules.BoxedJammerNOTT, o.Rules.LapJammerInitial = false, false, false
	o.Rules.PointsPerTrip = 4
	o.Rules.StarPassOnRelease = true
	if o.Periods == 0 {
		o.Periods = o.Rules.Periods
	}
	if o.PeriodLength == 0 {
		o.PeriodLength = o.Rules.PeriodLength
	}
	if o.LeadIn == 0 {
		o.LeadIn = 30 * time.Second
	}
	if o.HalfTime == 0 {
		o.HalfTime = 2 * time.Minute
	}
	return o
}

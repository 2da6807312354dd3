package sheet

// Cause is the simplest mistake of pen or tag that explains a finding.
type Cause string

// The causes. Each explains all that follows from it: a wrong trip digit
// explains the totals below it.
const (
	CauseTripDigit     Cause = "trip digit"
	CauseShifted       Cause = "shifted column"
	CauseWrongJammer   Cause = "wrong jammer"
	CauseSwappedTeams  Cause = "swapped teams"
	CauseMissingRow    Cause = "missing jam row"
	CauseDoubledRow    Cause = "doubled jam row"
	CauseStarPass      Cause = "star-pass row credited wrongly"
	CauseLead          Cause = "lead mark"
	CauseLost          Cause = "lost mark"
	CauseCall          Cause = "call mark"
	CauseInj           Cause = "injury mark"
	CauseNI            Cause = "no-initial mark"
	CauseRunning       Cause = "running total slip"
	CauseJamTotal      Cause = "jam total slip"
	CausePenMissing    Cause = "penalty missing"
	CausePenExtra      Cause = "penalty not among the tags"
	CausePenJam        Cause = "penalty in the wrong jam"
	CausePenCode       Cause = "penalty wrong code"
	CausePenSkater     Cause = "penalty on another skater"
	CauseOut           Cause = "foul-out or expulsion mark"
	CauseBoxedMissing  Cause = "boxed skater left out of line-up"
	CauseBoxedRole     Cause = "boxed skater in another role"
	CauseFouledFielded Cause = "fouled-out skater fielded"
	CauseUnknown       Cause = "unknown number"
	CauseLineup        Cause = "line-up differs"
	CauseDuration      Cause = "jam duration differs"
	CauseOther         Cause = "other"
)

// Causes lists all causes, for menus and tables.
var Causes = []Cause{
	CauseTripDigit, CauseShifted, CauseWrongJammer, CauseSwappedTeams, CauseMissingRow, CauseDoubledRow,
	CauseStarPass, CauseLead, CauseLost, CauseCall, CauseInj, CauseNI, CauseRunning, CauseJamTotal,
	CausePenMissing, CausePenExtra, CausePenJam, CausePenCode, CausePenSkater, CauseOut,
	CauseBoxedMissing, CauseBoxedRole, CauseFouledFielded, CauseUnknown, CauseLineup, CauseDuration, CauseOther,
}

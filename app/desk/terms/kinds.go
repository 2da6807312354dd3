package terms

import (
	"whistlecut/app/desk/words"
	"whistlecut/timeline"
)

// Kind names a kind of tag in the language spoken.
func Kind(k timeline.Kind) string {
	switch k {
	case timeline.KindJam:
		return words.T("jam")
	case timeline.KindLineup:
		return words.T("line-up")
	case timeline.KindLead:
		return words.T("lead")
	case timeline.KindLost:
		return words.T("lost")
	case timeline.KindCall:
		return words.T("call-off")
	case timeline.KindStarPass:
		return words.T("star pass")
	case timeline.KindTrip:
		return words.T("trip")
	case timeline.KindEvent:
		return words.T("single pass or act")
	case timeline.KindPenalty:
		return words.T("penalty")
	case timeline.KindBox:
		return words.T("time in the box")
	case timeline.KindTimeout:
		return words.T("timeout")
	case timeline.KindReview:
		return words.T("official review")
	case timeline.KindInjury:
		return words.T("injury")
	case timeline.KindNote:
		return words.T("note")
	case timeline.KindMark:
		return words.T("mark")
	case timeline.KindDrawing:
		return words.T("drawing")
	case timeline.KindExample:
		return words.T("example")
	}
	return string(k)
}

// Situation names a situation.
func Situation(s timeline.SituationKind) string {
	switch s {
	case timeline.SitPowerJam:
		return words.T("power jam")
	case timeline.SitShort:
		return words.T("short-handed")
	case timeline.SitNoLead:
		return words.T("no lead")
	case timeline.SitLeadLost:
		return words.T("lead lost")
	case timeline.SitStarPass:
		return words.T("after a star pass")
	case timeline.SitFullTime:
		return words.T("full two minutes")
	case timeline.SitCalled:
		return words.T("called off")
	case timeline.SitLastJam:
		return words.T("last jam of a period")
	case timeline.SitNearFoulOut:
		return words.T("one from fouling out")
	case timeline.SitLeadChange:
		return words.T("lead change in the score")
	case timeline.SitTied:
		return words.T("score tied")
	case timeline.SitNoPivot:
		return words.T("no pivot")
	case timeline.SitInjury:
		return words.T("ended by injury")
	case timeline.SitOvertime:
		return words.T("overtime")
	case timeline.SitScoreless:
		return words.T("scoreless jam")
	case timeline.SitBigJam:
		return words.T("ten points or more")
	}
	return string(s)
}

package timeline

// Kinds lists the kinds of tag in the order a menu shows them.
func Kinds() []Kind {
	return []Kind{
		KindJam, KindLineup, KindLead, KindLost, KindCall, KindStarPass, KindTrip, KindEvent, KindPenalty,
		KindBox, KindTimeout, KindReview, KindInjury, KindNote, KindMark, KindDrawing, KindExample,
	}
}

// SituationKinds lists the situations that Derive finds, in the order a menu shows them.
func SituationKinds() []SituationKind {
	return []SituationKind{
		SitPowerJam, SitShort, SitNoLead, SitLeadLost, SitStarPass, SitFullTime, SitCalled, SitLastJam,
		SitNearFoulOut, SitLeadChange, SitTied, SitNoPivot, SitInjury, SitOvertime, SitScoreless, SitBigJam,
	}
}

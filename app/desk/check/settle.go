package check

import (
	"slices"
	"strings"

	"whistlecut/app/desk/terms"
	"whistlecut/app/desk/words"
	"whistlecut/timeline"
)

// mostSettle is how many of the trips that would settle a score are named.
const mostSettle = 4

// settleText names the trips whose points would settle a score that the tags leave
// open: those of a jam and side where one is given, else of the whole bout, the one
// that settles most first. "" when the score is sure.
func settleText(b *timeline.Bout, jam timeline.ID, side timeline.Side) string {
	var list []string
	more := 0
	for _, s := range b.Settle {
		if jam != "" && (s.Jam != jam || side != timeline.NoSide && s.Side != side) {
			continue
		}
		t, ok := settling(b, s)
		if !ok || slices.Contains(list, t) {
			continue
		}
		if len(list) == mostSettle {
			more++
			continue
		}
		list = append(list, t)
	}
	if len(list) == 0 {
		return ""
	}
	text := words.T("The score is a range; these trips would settle it: {.list}", "list", strings.Join(list, "; "))
	if more > 0 {
		text += "; " + words.N(more, "{.n} more", "{.n} more")
	}
	return text + "."
}

// settling is one trip that would settle the score: which, and how many points it
// leaves open.
func settling(b *timeline.Bout, s timeline.Settle) (string, bool) {
	j, ok := b.Jam(s.Jam)
	if !ok || s.Side == timeline.NoSide {
		return "", false
	}
	for _, tr := range j.Sides[s.Side.Index()].Trips {
		mine := len(tr.Tags) == 0 && s.Tag == "" || slices.Contains(tr.Tags, s.Tag)
		if tr.Points.Sure() || !mine || tr.Points.High-tr.Points.Low != s.Gain {
			continue
		}
		what := words.T("{.low} to {.high}", "low", tr.Points.Low, "high", tr.Points.High)
		if len(tr.Tags) == 0 {
			what += ", " + words.T("not tagged")
		}
		return words.T("{.jam} {.side}, trip {.trip} ({.points})", "jam", placeText(j.Period, j.Number), "side", terms.Side(s.Side), "trip", tr.Number, "points", what), true
	}
	return "", false
}

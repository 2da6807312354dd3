package terms

import (
	"fmt"

	"whistlecut/timeline"
)

// Unknown stands where a score is not known: that is no nought.
const Unknown = "–"

// Span writes points that are sure as one number, others as "3–7".
func Span(r timeline.Range) string {
	if r.Sure() {
		return fmt.Sprint(r.Low)
	}
	return fmt.Sprintf("%d–%d", r.Low, r.High)
}

// Score writes a side's score up to a jam ("" for the whole bout). Where nobody
// tagged points of the side till then it is Unknown.
func Score(b *timeline.Bout, until timeline.ID, side timeline.Side, r timeline.Range) string {
	for i := range b.Jams {
		if b.Jams[i].Sides[side.Index()].Logged {
			return Span(r)
		}
		if b.Jams[i].ID == until {
			break
		}
	}
	return Unknown
}

package examples

import (
	"fmt"

	"whistlecut/timeline"
)

// ChangeKind is a way in which two editions differ for what an example is about.
type ChangeKind string

// The ways. What is not listed here may have changed all the same: see
// [ChangeEdition].
const (
	// ChangeEdition: it was judged by another edition, and of the rule it rests on
	// nothing is known to have changed.
	ChangeEdition ChangeKind = "edition"
	// ChangeUnknown: the edition it was judged by is not known here.
	ChangeUnknown ChangeKind = "unknown edition"
	ChangeLetter  ChangeKind = "letter"  // the letter stands for another penalty now, or for none
	ChangeMoved   ChangeKind = "moved"   // the penalty has another letter
	ChangeGone    ChangeKind = "gone"    // no penalty of that name
	ChangeSection ChangeKind = "section" // it stands elsewhere in the rules
	ChangePoints  ChangeKind = "points"  // points a trip can score
	ChangeLap     ChangeKind = "lap"     // whether passing the opposing jammer scores
	ChangeLead    ChangeKind = "lead"    // whether lead survives a cover that comes off in play
	ChangeStar    ChangeKind = "star"    // when the star is passed
)

// Change is one thing that differs between the edition an example was judged by
// (Then) and another one (Now).
type Change struct {
	Kind ChangeKind `json:"kind"`
	Code string     `json:"code,omitempty"` // the penalty's letter then
	Then string     `json:"then,omitempty"`
	Now  string     `json:"now,omitempty"`
}

// String is the change as a sentence without a full stop.
func (c Change) String() string {
	switch c.Kind {
	case ChangeUnknown:
		return fmt.Sprintf("it was judged by the rules of %s, which are not known here", c.Then)
	case ChangeLetter:
		if c.Now == "" {
			return fmt.Sprintf("%s was %s; no penalty has that letter now", c.Code, c.Then)
		}
		return fmt.Sprintf("%s was %s; it is %s now", c.Code, c.Then, c.Now)
	case ChangeMoved:
		return fmt.Sprintf("%s was %s; it has the letter %s now", c.Then, c.Code, c.Now)
	case ChangeGone:
		return fmt.Sprintf("%s (%s) is no penalty of that name now", c.Then, c.Code)
	case ChangeSection:
		return fmt.Sprintf("%s stood in section %s; it stands in %s now", c.Code, c.Then, c.Now)
	case ChangePoints:
		return fmt.Sprintf("a trip could score %s points; it can score %s now", c.Then, c.Now)
	case ChangeLap:
		return fmt.Sprintf("passing the opposing jammer: %s; now: %s", c.Then, c.Now)
	case ChangeLead:
		return fmt.Sprintf("lead when the cover comes off in play: %s; now: %s", c.Then, c.Now)
	case ChangeStar:
		return fmt.Sprintf("the star is passed %s; now: %s", c.Then, c.Now)
	}
	return fmt.Sprintf("it was judged by the rules of %s, not of %s", c.Then, c.Now)
}

// Changes lists what changed for an example between the edition it was judged by and
// another one; none when both are the same. What the editions say of it is all that
// timeline.Editions tells: letters, names and sections of penalties, points, lead,
// the star. It is no comparison of their wording.
func Changes(x timeline.Example, now timeline.RuleSet) []Change {
	if x.Edition == now.Edition {
		return nil
	}
	then, ok := timeline.Edition(x.Edition)
	if !ok {
		return []Change{{Kind: ChangeUnknown, Then: x.Edition, Now: now.Edition}}
	}
	var out []Change
	switch x.Ask {
	case timeline.AskPenalty, timeline.AskWarning:
		out = codeChanges(x, then, now)
	case timeline.AskPass:
		if then.PointsPerTrip != now.PointsPerTrip {
			out = append(out, Change{Kind: ChangePoints, Then: fmt.Sprint(then.PointsPerTrip), Now: fmt.Sprint(now.PointsPerTrip)})
		}
		if then.LapJammer != now.LapJammer {
			out = append(out, Change{Kind: ChangeLap, Then: scores(then.LapJammer), Now: scores(now.LapJammer)})
		}
	case timeline.AskLead:
		if then.LeadSurvivesPlay != now.LeadSurvivesPlay {
			out = append(out, Change{Kind: ChangeLead, Then: kept(then.LeadSurvivesPlay), Now: kept(now.LeadSurvivesPlay)})
		}
		if then.StarPassOnRelease != now.StarPassOnRelease {
			out = append(out, Change{Kind: ChangeStar, Then: passed(then.StarPassOnRelease), Now: passed(now.StarPassOnRelease)})
		}
	}
	if len(out) == 0 {
		out = []Change{{Kind: ChangeEdition, Then: x.Edition, Now: now.Edition}}
	}
	return out
}

// codeChanges compares the penalties that verdicts and call name.
func codeChanges(x timeline.Example, then, now timeline.RuleSet) (out []Change) {
	seen := map[string]bool{"": true}
	for _, a := range append(x.Verdicts[:len(x.Verdicts):len(x.Verdicts)], x.Called) {
		if seen[a.Code] {
			continue
		}
		seen[a.Code] = true
		was, ok := then.Code(a.Code)
		if !ok {
			continue // a letter that its own edition does not have
		}
		is, has := now.Code(a.Code)
		switch {
		case has && is.Name == was.Name:
			if is.Section != was.Section {
				out = append(out, Change{Kind: ChangeSection, Code: a.Code, Then: was.Section, Now: is.Section})
			}
			continue
		case has:
			out = append(out, Change{Kind: ChangeLetter, Code: a.Code, Then: was.Name, Now: is.Name})
		default:
			out = append(out, Change{Kind: ChangeLetter, Code: a.Code, Then: was.Name})
		}
		moved := Change{Kind: ChangeGone, Code: a.Code, Then: was.Name}
		for _, c := range now.Codes {
			if c.Name == was.Name {
				moved.Kind, moved.Now = ChangeMoved, c.Letter
			}
		}
		out = append(out, moved)
	}
	return out
}

func scores(yes bool) string {
	if yes {
		return "it scores"
	}
	return "it does not score"
}

func kept(yes bool) string {
	if yes {
		return "kept"
	}
	return "lost"
}

func passed(onRelease bool) string {
	if onRelease {
		return "on release"
	}
	return "when the pivot wears it"
}

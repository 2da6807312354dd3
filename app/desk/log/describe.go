package log

import (
	"fmt"
	"strings"

	"whistlecut/app/desk/terms"
	"whistlecut/app/desk/words"
	"whistlecut/app/logging"
	"whistlecut/timeline"
)

// who is a skater as a tag names her, or a question mark.
func who(w timeline.Who) string {
	switch {
	case w.Number == "" || w.Seen == timeline.NotSeen:
		return "?"
	case w.Seen == timeline.Unsure:
		return string(w.Number) + "?"
	}
	return string(w.Number)
}

// describe says what a tag says, in a few words. jammer is whom it is about where
// the tag names nobody.
func describe(t timeline.Tag, jammer timeline.Number, rules timeline.RuleSet) string {
	name := who(t.Who)
	switch t.Kind {
	case timeline.KindLead, timeline.KindLost, timeline.KindCall, timeline.KindTrip, timeline.KindStarPass:
		if t.Who.Number == "" {
			name = string(jammer)
		}
		if name == "" {
			name = terms.Side(t.Side)
		}
	}
	text := kindText(t, name, rules)
	switch t.Seen {
	case timeline.NotSeen:
		if t.Kind != timeline.KindTrip {
			text = words.T("{.what}, not seen", "what", text)
		}
	case timeline.Unsure:
		text = words.T("{.what}, unsure", "what", text)
	}
	return text
}

func kindText(t timeline.Tag, name string, rules timeline.RuleSet) string {
	switch t.Kind {
	case timeline.KindJam:
		if t.Source == "listener" {
			return words.T("jam start, heard ({.sure})", "sure", fmt.Sprintf("%.2f", t.Confidence))
		}
		return words.T("jam start")
	case timeline.KindLineup:
		return lineupText(t)
	case timeline.KindLead:
		return words.T("{.who} lead", "who", name)
	case timeline.KindLost:
		return words.T("{.who} lost", "who", name)
	case timeline.KindCall:
		return words.T("{.who} calls it off", "who", name)
	case timeline.KindInjury:
		return words.T("injury")
	case timeline.KindStarPass:
		if t.StarPass == nil || !t.StarPass.Complete {
			return words.T("{.who} star pass, not completed", "who", name)
		}
		return words.T("{.who} star pass to {.to}", "who", name, "to", who(t.StarPass.To))
	case timeline.KindTrip:
		return tripText(t, name)
	case timeline.KindPenalty:
		return penaltyText(t, name, rules)
	case timeline.KindBox:
		return boxText(t, name)
	case timeline.KindTimeout:
		return stopText(t, words.T("official timeout"), words.T("timeout"))
	case timeline.KindReview:
		text := stopText(t, words.T("official review"), words.T("official review"))
		if t.Review != nil && t.Review.Retained {
			text += ", " + words.T("retained")
		}
		return text
	case timeline.KindMark:
		return strings.TrimSpace(words.T("mark") + " " + t.Note)
	case timeline.KindNote:
		return t.Note
	}
	return string(t.Kind)
}

func tripText(t timeline.Tag, name string) string {
	switch {
	case t.Trip == nil:
		return name
	case t.Trip.Number == 1 && t.Trip.Open:
		return words.T("{.who} initial trip not completed (NI)", "who", name)
	case t.Trip.Number == 1 && t.Trip.Points == 0:
		return words.T("{.who} initial trip", "who", name)
	case t.Seen == timeline.NotSeen:
		return words.T("{.who} trip {.trip}: not seen", "who", name, "trip", t.Trip.Number)
	}
	return words.N(t.Trip.Points, "{.who} trip {.trip}: {.n} point", "{.who} trip {.trip}: {.n} points", "who", name, "trip", t.Trip.Number)
}

// stopText is a timeout or review: the officials' own, or a side's; and that it has
// ended.
func stopText(t timeline.Tag, official, ofSide string) string {
	text := official
	if t.Side != timeline.NoSide {
		text = words.T("{.what}, {.side}", "what", ofSide, "side", terms.Side(t.Side))
	}
	if t.Timeout != nil && !t.Timeout.End.IsZero() || t.Review != nil && !t.Review.End.IsZero() {
		text += ", " + words.T("over")
	}
	return text
}

func lineupText(t timeline.Tag) string {
	if t.Lineup == nil {
		return words.T("line-up")
	}
	text := words.T("jammer {.who}", "who", who(t.Lineup.Jammer))
	if t.Lineup.Pivot.Number != "" {
		text += " · " + words.T("pivot {.who}", "who", who(t.Lineup.Pivot))
	}
	for _, b := range t.Lineup.Blockers {
		text += " · " + who(b)
	}
	return text
}

func penaltyText(t timeline.Tag, name string, rules timeline.RuleSet) string {
	code := words.T("code ?")
	if p := t.Penalty; p != nil && p.Code != "" {
		code = p.Code
		if c, ok := rules.Code(p.Code); ok {
			code += " " + terms.Penalty(c.Name)
		}
	}
	text := words.T("{.who} penalty: {.code}", "who", name, "code", code)
	if t.Penalty != nil && t.Penalty.Act.Footage != "" && t.Penalty.Act.Footage == t.Place.Footage {
		text += ", " + words.T("act {.before} s before", "before", fmt.Sprintf("%.1f", (t.Place.Film-t.Penalty.Act.Film).Seconds()))
	}
	return text
}

func boxText(t timeline.Tag, name string) string {
	switch b := t.Box; {
	case b != nil && !b.Out.IsZero():
		return words.T("{.who} box: sat, left", "who", name)
	case b != nil && !b.Stand.IsZero():
		return words.T("{.who} box: stands", "who", name)
	}
	return words.T("{.who} box: sits", "who", name)
}

// label is an action for the history.
func label(d logging.Did, v logging.View) string {
	what := describe(d.Tag, "", v.Bout.Rules)
	switch d.What {
	case logging.JamStart:
		return words.T("jam {.jam} of period {.period} starts", "jam", d.Jam, "period", d.Period)
	case logging.JamEnd:
		return words.T("jam {.jam} ends", "jam", d.Jam)
	case logging.EndGone:
		return words.T("end of jam {.jam} taken out", "jam", d.Jam)
	case logging.Changed:
		if d.Tag.Kind == timeline.KindJam {
			return words.T("how jam {.jam} ended", "jam", d.Jam)
		}
	case logging.Removed:
		return words.T("removed: {.what}", "what", what)
	case logging.Moved:
		return words.T("moved: {.what}", "what", what)
	}
	return what
}

// endText says how a jam ended.
func endText(e timeline.Ended) string {
	switch e {
	case timeline.EndTime:
		return words.T("jam end: full time")
	case timeline.EndCalled:
		return words.T("jam end: called off")
	case timeline.EndInjury:
		return words.T("jam end: injury")
	case timeline.EndOfficial:
		return words.T("jam end: officials")
	case timeline.EndNoJammer:
		return words.T("jam end: no jammer left")
	}
	return words.T("jam end")
}

// sentence words what the machine has to say.
func (t *Task) sentence(s logging.Say) string {
	side := terms.Side(s.Side)
	switch s.What {
	case logging.NoFilm:
		return words.T("No film is open. Add footage in Align.")
	case logging.NoJam:
		return words.T("No jam has started here: {.key} starts one.", "key", t.keyName("log.edge"))
	case logging.TooSoon:
		return words.T("Jam {.jam} has only just started.", "jam", s.Jam)
	case logging.StartsSoon:
		return words.T("Jam {.jam} starts a moment from here, as it is placed. Choose its start to move it.", "jam", s.Jam)
	case logging.OtherCamera:
		return words.T("Nothing tells how this camera lies to the one with the jams. Place one of them here in Align.")
	case logging.AlreadyLead:
		return words.T("{.side} has lead already.", "side", side)
	case logging.AlreadyLost:
		return words.T("{.side}: lost is logged already.", "side", side)
	case logging.AlreadyCalled:
		return words.T("{.side} has called this jam off already.", "side", side)
	case logging.AlreadyInjury:
		return words.T("An injury is logged in this jam already.")
	case logging.NothingChosen:
		return words.T("Choose a tag first, with {.up} and {.down}.", "up", t.keyName("log.up"), "down", t.keyName("log.down"))
	case logging.NothingAsked:
		return words.T("No number is asked for. {.key} asks for the jammers.", "key", t.keyName("log.jammers"))
	case logging.NothingOffered:
		return words.T("{.side}: nothing is offered.", "side", side)
	case logging.NothingOpen:
		return words.T("Everything is settled.")
	case logging.NoPenalty:
		return words.T("There is no penalty to give a code.")
	case logging.NoSuchCode:
		return words.T("{.letter} is no penalty code of this edition.", "letter", s.Text)
	case logging.TooMany:
		return words.T("A trip can't score so many points by these rules.")
	case logging.NotThat:
		return words.T("That is no value of the chosen tag.")
	case logging.JamInUse:
		return words.T("This jam has tags. Remove them before the jam.")
	case logging.ActAfterCall:
		return words.T("The act can't come after its call. Go back on the film first.")
	case logging.NothingRecent:
		return words.T("Nothing was logged a moment ago. Choose a tag first.")
	case logging.BackToFront:
		return words.T("That can't be: it would end before it begins.")
	case logging.WhoCalled:
		return words.T("Who called it off? Any key of the upper row: home, of the lower: away.")
	case logging.WhoseTimeout:
		return words.T("Whose timeout? Any key of the upper row: home, of the lower: away, {.key}: the officials.", "key", t.keyName("log.edge"))
	case logging.WhoseReview:
		return words.T("Whose review? Any key of the upper row: home, of the lower: away.")
	case logging.NextNotSeen:
		return words.T("The next entry will be not seen. {.key} takes that back.", "key", t.keyName("log.notseen"))
	case logging.NextSeen:
		return words.T("The next entry counts as seen.")
	case logging.ThroughOnly:
		return words.T("{.side}: the initial trip is logged; the other side has lead.", "side", side)
	case logging.NotOnRoster:
		return words.T("{.number} is on no roster line of {.side}; logged all the same.", "number", s.Number, "side", side)
	}
	return ""
}

// asks words what number is wanted.
func asks(p logging.Prompt) string {
	side := terms.Side(p.Side)
	switch p.Asks {
	case logging.AskJammer:
		return words.T("Jammer, {.side}:", "side", side)
	case logging.AskPivot:
		return words.T("Pivot, {.side}:", "side", side)
	case logging.AskBlocker:
		return words.T("Blocker {.n}, {.side}:", "n", p.N+1, "side", side)
	case logging.AskNewJammer:
		return words.T("Star to, {.side}:", "side", side)
	case logging.AskPenalised:
		return words.T("Penalty of, {.side}:", "side", side)
	case logging.AskBox:
		return words.T("In the box, {.side}:", "side", side)
	}
	return words.T("Skater, {.side}:", "side", side)
}

// offered words what the sheet expects.
func offered(o logging.Offer) string {
	switch o.Act {
	case logging.Lead:
		return words.T("lead")
	case logging.Lost:
		return words.T("lost")
	case logging.Star:
		if o.Number != "" {
			return words.T("star pass to {.to}", "to", o.Number)
		}
		return words.T("star pass")
	case logging.Trip:
		return words.N(o.Points, "trip {.trip}: {.n} point", "trip {.trip}: {.n} points", "trip", o.Trip)
	case logging.CallOff:
		return words.T("call-off")
	case logging.Injury:
		return words.T("injury")
	}
	return ""
}

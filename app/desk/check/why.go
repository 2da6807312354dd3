package check

import (
	"fmt"
	"regexp"
	"strings"

	"whistlecut/app/desk/words"
	"whistlecut/timeline"
	"whistlecut/timeline/sheet"
)

// reasonsOf are the recount's reasons for what the tags have in a finding.
func reasonsOf(b *timeline.Bout, f sheet.Finding) []timeline.Reason {
	switch f.Table {
	case sheet.KindPenalties:
		var out []timeline.Reason
		if f.Cause == sheet.CauseOut || f.Cause == sheet.CausePenMissing || f.Cause == sheet.CausePenExtra {
			out = b.WhyFoulOut(timeline.SkaterRef{Side: f.Side, Number: f.Skater})
		}
		return out
	case sheet.KindLineups:
		if f.Cause == sheet.CauseBoxedMissing || f.Cause == sheet.CauseBoxedRole {
			return boxReasons(b, f)
		}
		return nil
	case sheet.KindClock:
		if w := b.WhyEnded(f.JamID); w.Text != "" {
			return []timeline.Reason{w}
		}
		return nil
	}
	switch f.Cause {
	case sheet.CauseTripDigit:
		if w := b.WhyTrip(f.JamID, f.Side, f.N); len(w) > 0 {
			return w
		}
		return b.WhyPoints(f.JamID, f.Side)
	case sheet.CauseShifted, sheet.CauseJamTotal:
		return b.WhyPoints(f.JamID, f.Side)
	case sheet.CauseLead, sheet.CauseLost, sheet.CauseCall, sheet.CauseNI, sheet.CauseStarPass, sheet.CauseWrongJammer:
		return b.WhyStatus(f.JamID, f.Side)
	case sheet.CauseInj:
		if w := b.WhyEnded(f.JamID); w.Text != "" {
			return []timeline.Reason{w}
		}
	}
	return nil
}

// boxReasons are those of the visit that a skater was in the box for when the jam
// started.
func boxReasons(b *timeline.Bout, f sheet.Finding) []timeline.Reason {
	for i := range b.Jams {
		if b.Jams[i].ID != f.JamID {
			continue
		}
		for _, v := range b.Visits {
			if v.Skater == (timeline.SkaterRef{Side: f.Side, Number: f.Skater}) && v.InJam >= 0 && v.InJam <= i && (v.OutJam < 0 || v.OutJam >= i) {
				return v.Why
			}
		}
	}
	return nil
}

// whyText puts reasons into one line: "Why: 3 as tagged (3.1); ...".
func whyText(reasons []timeline.Reason) string {
	var parts []string
	for _, r := range reasons {
		t := reasonText(r.Text)
		if r.Section != "" {
			t = fmt.Sprintf("%s (%s)", t, r.Section)
		}
		parts = append(parts, t)
	}
	if len(parts) == 0 {
		return ""
	}
	if n := len(parts); n > 6 {
		parts = append(parts[:6], words.N(n-6, "{.n} reason more", "{.n} reasons more"))
	}
	return words.T("Why: {.reasons}.", "reasons", strings.Join(parts, "; "))
}

var (
	whyTripOf    = regexp.MustCompile(`^trip (\d+): (.+)$`)
	whyAsTagged  = regexp.MustCompile(`^(\d+) as tagged$`)
	whyNotSeen   = regexp.MustCompile(`^not seen: 0 to (\d+)$`)
	whyUnsure    = regexp.MustCompile(`^unsure: (\d+), one either way$`)
	whyNotTagged = regexp.MustCompile(`^not tagged, though a later trip is: it counts 0 to (\d+)$`)
	whyTooMany   = regexp.MustCompile(`^(\d+) points are not possible on a trip: 0 to (\d+)$`)
	whyPassed    = regexp.MustCompile(`^star pass completed: (.+) is jammer from the release on and goes on with the trip$`)
	whyFouls     = regexp.MustCompile(`^(\d+) penalties; (\d+) foul a skater out$`)
	whyFouled    = regexp.MustCompile(`^fouled out: (\d+) penalties are recorded$`)
	whyServed    = regexp.MustCompile(`^served ([\d.]+) s of jam time; penalties owed: (\d+) s(; nobody tagged the release, it follows from the rules)?$`)
	whyByTags    = regexp.MustCompile(`^(.+) is jammer because her tags are a jammer's; no line-up names one$`)
)

// reasonText is a reason in the language spoken. What a recount of single passes
// says is in English everywhere.
func reasonText(text string) string {
	if s, ok := boxText(text); ok {
		return s
	}
	if m := whyTripOf.FindStringSubmatch(text); m != nil {
		return words.T("trip {.n}: {.why}", "n", m[1], "why", reasonText(m[2]))
	}
	if m := whyAsTagged.FindStringSubmatch(text); m != nil {
		return words.T("{.points} as tagged", "points", m[1])
	}
	if m := whyNotSeen.FindStringSubmatch(text); m != nil {
		return words.T("not seen: 0 to {.most}", "most", m[1])
	}
	if m := whyUnsure.FindStringSubmatch(text); m != nil {
		return words.T("unsure: {.points}, one either way", "points", m[1])
	}
	if m := whyNotTagged.FindStringSubmatch(text); m != nil {
		return words.T("not tagged, though a later trip is: it counts 0 to {.most}", "most", m[1])
	}
	if m := whyTooMany.FindStringSubmatch(text); m != nil {
		return words.T("{.points} points are not possible on a trip: 0 to {.most}", "points", m[1], "most", m[2])
	}
	if m := whyPassed.FindStringSubmatch(text); m != nil {
		return words.T("star pass completed: {.who} is jammer from the release on and goes on with the trip", "who", m[1])
	}
	if m := whyFouls.FindStringSubmatch(text); m != nil {
		return words.T("{.n} penalties; {.most} foul a skater out", "n", m[1], "most", m[2])
	}
	if m := whyFouled.FindStringSubmatch(text); m != nil {
		return words.T("fouled out: {.n} penalties are recorded", "n", m[1])
	}
	if m := whyServed.FindStringSubmatch(text); m != nil {
		s := words.T("served {.served} s of jam time; penalties owed: {.owed} s", "served", m[1], "owed", m[2])
		if m[3] != "" {
			s += "; " + words.T("nobody tagged the release, it follows from the rules")
		}
		return s
	}
	if m := whyByTags.FindStringSubmatch(text); m != nil {
		return words.T("{.who} is jammer because her tags are a jammer's; no line-up names one", "who", m[1])
	}
	switch text {
	case "nobody logged this side's trips in this jam":
		return words.T("nobody logged this side's trips in this jam")
	case "no trip beyond the initial one is tagged; the initial trip scores nothing", "no trip is tagged beyond the initial one, which scores nothing":
		return words.T("no trip beyond the initial one is tagged; the initial trip scores nothing")
	case "no lead, call-off or star pass of this side is tagged in this jam":
		return words.T("no lead, call-off or star pass of this side is tagged in this jam")
	case "lead, as tagged":
		return words.T("lead, as tagged")
	case "lost, as tagged":
		return words.T("lost, as tagged")
	case "called off, as tagged":
		return words.T("called off, as tagged")
	case "lead is lost by a penalty":
		return words.T("lead is lost by a penalty")
	case "lead is lost when the jammer takes her star off to pass it":
		return words.T("lead is lost when the jammer takes her star off to pass it")
	case "the jam was called off, and only lead can do that":
		return words.T("the jam was called off, and only lead can do that")
	case "as tagged":
		return words.T("as tagged")
	case "a call-off is tagged":
		return words.T("a call-off is tagged")
	case "an injury is tagged and nothing else that ended the jam":
		return words.T("an injury is tagged and nothing else that ended the jam")
	case "it ran its full length":
		return words.T("it ran its full length")
	case "expelled by the head referee, as tagged":
		return words.T("expelled by the head referee, as tagged")
	}
	return text
}

package check

import (
	"regexp"

	"whistlecut/app/desk/words"
)

var (
	boxReleased = regexp.MustCompile(`^released after (\S+) of jam time$`)
	boxMore     = regexp.MustCompile(`^one more penalty while in the box: (\S+) more$`)
	boxOwes     = regexp.MustCompile(`^owes (\S+) of jam time, from sitting down on$`)
	boxRose     = regexp.MustCompile(`^rose with (\S+) to serve: the clock stands until she is seated$`)
	boxLeft     = regexp.MustCompile(`^left early with (\S+) to serve$`)
	boxBoth     = regexp.MustCompile(`^both jammers seated at the same moment: each serves (\S+)$`)
	boxAsLong   = regexp.MustCompile(`^the opposing jammer had served (\S+): she serves as long for this penalty$`)
	boxDone     = regexp.MustCompile(`^the opposing jammer sat down: done with this penalty after (\S+)$`)
)

// boxText is a reason of the box's clock in the language spoken.
func boxText(text string) (string, bool) {
	if m := boxReleased.FindStringSubmatch(text); m != nil {
		return words.T("released after {.time} of jam time", "time", m[1]), true
	}
	if m := boxMore.FindStringSubmatch(text); m != nil {
		return words.T("one more penalty while in the box: {.time} more", "time", m[1]), true
	}
	if m := boxOwes.FindStringSubmatch(text); m != nil {
		return words.T("owes {.time} of jam time, from sitting down on", "time", m[1]), true
	}
	if m := boxRose.FindStringSubmatch(text); m != nil {
		return words.T("rose with {.time} to serve: the clock stands until she is seated", "time", m[1]), true
	}
	if m := boxLeft.FindStringSubmatch(text); m != nil {
		return words.T("left early with {.time} to serve", "time", m[1]), true
	}
	if m := boxBoth.FindStringSubmatch(text); m != nil {
		return words.T("both jammers seated at the same moment: each serves {.time}", "time", m[1]), true
	}
	if m := boxAsLong.FindStringSubmatch(text); m != nil {
		return words.T("the opposing jammer had served {.time}: she serves as long for this penalty", "time", m[1]), true
	}
	if m := boxDone.FindStringSubmatch(text); m != nil {
		return words.T("the opposing jammer sat down: done with this penalty after {.time}", "time", m[1]), true
	}
	switch text {
	case "a penalty was withdrawn":
		return words.T("a penalty was withdrawn"), true
	case "sat down between jams: the clock starts with the next jam":
		return words.T("sat down between jams: the clock starts with the next jam"), true
	case "no penalty is known: taken to be for one":
		return words.T("no penalty is known: taken to be for one"), true
	case "told to stand and clearly did not: the clock stands until she does":
		return words.T("told to stand and clearly did not: the clock stands until she does"), true
	case "still serving when the last jam ended":
		return words.T("still serving when the last jam ended"), true
	case "the opposing jammer owes more than one: one penalty of each is cancelled":
		return words.T("the opposing jammer owes more than one: one penalty of each is cancelled"), true
	case "the opposing jammer sat down: one penalty of each is cancelled":
		return words.T("the opposing jammer sat down: one penalty of each is cancelled"), true
	case "two blockers of her team are seated: queued and sent back to play":
		return words.T("two blockers of her team are seated: queued and sent back to play"), true
	}
	return "", false
}

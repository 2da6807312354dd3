package strip

import (
	"fmt"
	"strings"
	"time"

	"whistlecut/app/desk/terms"
	"whistlecut/timeline"
	"whistlecut/timeline/whistle"
)

// Words is every text of the strip, so that the caller can translate it. Start
// from English and replace.
type Words struct {
	Home, Away, Heard string // names of the lanes
	NotSeen           string // in place of points nobody saw
	NoFilm            string // said when there is no footage
	NoJams            string // said when there is footage and no jam
	Gap               string // between two files
	More              func(n int) string
	Jam               func(period, number int) string
	// Jams is what hovering over a jam says, with the score after it.
	JamTip   func(period, number int, home, away timeline.Range, length time.Duration) string
	Trip     func(skater string, number int, points timeline.Range, open bool) string
	InBox    func(skater string) string
	BoxTip   func(skater string, length time.Duration, computed bool) string
	Lead     func(skater string) string
	Lost     func(skater string) string
	Call     func(skater string) string
	StarPass func(from, to string, complete bool) string
	Penalty  func(skater, code, words string) string
	Injury   func(skater string) string
	Timeout  func(side timeline.Side) string
	Review   func(side timeline.Side) string
	Note     func(kind timeline.Kind, text string) string
	Event    func(skater, what string) string
	Series   func(kind whistle.Kind, confidence float64) string
	// Where names a moment: the jam and the time in it (jam is "" between jams), and
	// the film time.
	Where func(jam string, inJam, film time.Duration) string
}

// English is the words in English.
func English() Words {
	return Words{
		Home: "home", Away: "away", Heard: "heard", NotSeen: "?", Gap: "camera off",
		NoFilm: "No film yet. Add footage, and the bout appears here.",
		NoJams: "No jams yet. Align the whistles heard, or log a jam start.",
		More:   func(n int) string { return fmt.Sprintf("and %d more", n) },
		Jam:    func(_, number int) string { return fmt.Sprintf("Jam %d", number) },
		JamTip: func(period, number int, home, away timeline.Range, length time.Duration) string {
			return fmt.Sprintf("Period %d, jam %d, %s long: %s to %s after it", period, number, terms.Clock(length, 0), home, away)
		},
		Trip: func(skater string, number int, points timeline.Range, open bool) string {
			s := fmt.Sprintf("trip %d: %s", number, plural(points))
			if number == 1 {
				s = "initial trip"
			}
			if open {
				s += ", not completed"
			}
			return strings.TrimSpace(skater + " " + s)
		},
		InBox: func(skater string) string { return skater + " in box" },
		BoxTip: func(skater string, length time.Duration, computed bool) string {
			s := fmt.Sprintf("%s in the box for %s", skater, terms.Clock(length, 0))
			if computed {
				s += " by the rules"
			}
			return s
		},
		Lead: func(skater string) string { return strings.TrimSpace(skater + " lead") },
		Lost: func(skater string) string { return strings.TrimSpace(skater + " lost lead") },
		Call: func(skater string) string { return strings.TrimSpace(skater + " calls it off") },
		StarPass: func(from, to string, complete bool) string {
			s := strings.TrimSpace(from + " passes the star to " + to)
			if !complete {
				s += ", not completed"
			}
			return s
		},
		Penalty: func(skater, code, words string) string {
			return strings.TrimSpace(strings.Join([]string{skater, "penalty", code, words}, " "))
		},
		Injury:  func(skater string) string { return strings.TrimSpace(skater + " injury") },
		Timeout: func(side timeline.Side) string { return ofSide(side, "timeout") },
		Review:  func(side timeline.Side) string { return ofSide(side, "review") },
		Note: func(kind timeline.Kind, text string) string {
			if text == "" {
				return string(kind)
			}
			return text
		},
		Event:  func(skater, what string) string { return strings.TrimSpace(skater + " " + what) },
		Series: func(kind whistle.Kind, confidence float64) string { return heardEnglish(kind, confidence) },
		Where: func(jam string, inJam, film time.Duration) string {
			if jam == "" {
				return "film " + terms.Clock(film, 2)
			}
			return fmt.Sprintf("%s %s, film %s", jam, terms.Clock(inJam, 2), terms.Clock(film, 2))
		},
	}
}

func ofSide(side timeline.Side, what string) string {
	if side == timeline.NoSide {
		return "official " + what
	}
	return side.String() + " " + what
}

func plural(points timeline.Range) string {
	if points == timeline.Exactly(1) {
		return "1 point"
	}
	return points.String() + " points"
}

func heardEnglish(kind whistle.Kind, confidence float64) string {
	sounds := map[whistle.Kind]string{
		whistle.Short: "one short blast", whistle.Pair: "two short blasts", whistle.Four: "four short blasts",
		whistle.Long: "one long blast", whistle.Rolling: "rolling blast",
	}
	s, ok := sounds[kind]
	if !ok {
		s = "blasts"
	}
	return fmt.Sprintf("%s heard, %.0f per cent sure", s, confidence*100)
}

package phrase

import (
	"testing"

	"whistlecut/app"
	"whistlecut/app/desk/words"
	"whistlecut/timeline"
)

func TestMoment(t *testing.T) {
	editions := timeline.Editions()
	rules := editions[len(editions)-1]
	s := &app.Session{Bout: timeline.Bout{Rules: rules}}
	penalty := timeline.Moment{Kind: timeline.KindPenalty, Code: "B", Who: "052", Name: "Ada Lovebrace", Period: 2, Number: 7}
	power := timeline.Moment{
		Situation: timeline.SitPowerJam, Side: timeline.Home, Who: "9", Name: "Ñandú",
		Skater: timeline.SkaterRef{Side: timeline.Away, Number: "9"},
	}
	for _, c := range []struct {
		name, code, want string
		m                timeline.Moment
	}{
		{"English", "en", "Penalty B, back block: 052 Ada Lovebrace", penalty},
		{"Spanish", "es", "Falta B, back block: 052 Ada Lovebrace", penalty},
		{"German", "de", "Strafe B, Back Block: 052 Ada Lovebrace", penalty},
		{"a language nobody wrote", "xx", "Penalty B, back block: 052 Ada Lovebrace", penalty},
		{"the other jammer", "fr", "Power jam: contre 9 Ñandú", power},
		{"a mark in a person's words", "es", "¡Mira!", timeline.Moment{Kind: timeline.KindMark, Note: "¡Mira!"}},
		{"a code not seen", "en", "Penalty, code not seen", timeline.Moment{Kind: timeline.KindPenalty}},
	} {
		if got := Moment(s, c.m, c.code); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
	if got := Place(penalty, "de"); got != "Periode 2, Jam 7" {
		t.Errorf("place is %q", got)
	}
}

// TestEveryWordIsTranslated: all kinds and situations are named in every language.
func TestEveryWordIsTranslated(t *testing.T) {
	var list []string
	for _, k := range timeline.SituationKinds() {
		if situations[k] == "" {
			t.Errorf("situation %s has no name", k)
		}
		list = append(list, situations[k])
	}
	for _, k := range kinds {
		list = append(list, k)
	}
	list = append(list, "Period {.period}, jam {.jam}", "against {.who}")
	for _, l := range words.Languages[1:] {
		texts, err := words.Texts(l.Code)
		if err != nil {
			t.Fatal(err)
		}
		for _, w := range list {
			if texts[w].Other == "" {
				t.Errorf("%s: %q is not translated", l.Name, w)
			}
		}
	}
}

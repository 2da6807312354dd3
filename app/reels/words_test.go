package reels

import (
	"testing"

	"whistlecut/app/desk/words"
)

// TestWordsOfPacks: what others read is there in every language.
func TestWordsOfPacks(t *testing.T) {
	for _, l := range words.Languages[1:] {
		texts, err := words.Texts(l.Code)
		if err != nil {
			t.Fatal(err)
		}
		for _, w := range []string{
			"Play all", "Jams, points and penalties on paper (PDF)", consentNote, "Period {.period}", "period clock {.clock}", "score {.home} – {.away}",
			"Fielded in these clips and a minor or not agreed: {.names}. Hide them (a drawing of the shape hide) or leave the clip out.",
		} {
			if texts[w].Other == "" {
				t.Errorf("%s lacks %q", l.Name, w)
			}
		}
	}
}

package collection

import (
	"time"

	"whistlecut/timeline"
)

// sample is two bouts made by hand. Ada Lace skates for the Home Team with 052 in
// spring and with 17 for the Guests in autumn; Ζωή Ρόδα and Ёлка Élan are there for
// their letters.
func sample() (spring, autumn timeline.Facts) {
	rules := func(edition string) timeline.RuleSet {
		r, _ := timeline.Edition(edition)
		return r
	}
	jam := func(id timeline.ID, order float64) timeline.Tag {
		return timeline.Tag{ID: id, Kind: timeline.KindJam, Place: timeline.JamAlone(id), JamInfo: &timeline.JamInfo{Period: 1, Order: order, End: timeline.InJam(id, time.Minute)}}
	}
	penalty := func(id, jam timeline.ID, at int, side timeline.Side, number timeline.Number, code, words string) timeline.Tag {
		return timeline.Tag{
			ID: id, Kind: timeline.KindPenalty, Place: timeline.InJam(jam, time.Duration(at)*time.Second), Jam: jam,
			Side: side, Who: timeline.Who{Number: number}, Penalty: &timeline.PenaltyInfo{Code: code, Words: words},
		}
	}
	example := func(id timeline.ID, at int, x timeline.Example) timeline.Tag {
		x.End = timeline.OnFilm("film", time.Duration(at+4)*time.Second)
		if x.Ask == "" {
			x.Ask = timeline.AskPenalty
		}
		return timeline.Tag{ID: id, Kind: timeline.KindExample, Place: timeline.OnFilm("film", time.Duration(at)*time.Second), Example: &x}
	}
	yes := func(code, section string) timeline.Answer {
		return timeline.Answer{Choice: timeline.ChoiceYes, Code: code, Section: section}
	}
	no := timeline.Answer{Choice: timeline.ChoiceNo}
	facts := func(info timeline.Info, edition string, home, away timeline.Team, tags ...timeline.Tag) timeline.Facts {
		f := timeline.Facts{
			Info: info, Rules: rules(edition), Teams: [2]timeline.Team{home, away}, Tags: map[timeline.ID]timeline.Tag{},
			Footage: map[timeline.ID]timeline.Footage{"film": {ID: "film", Path: "/films/" + info.Date + ".mp4", Camera: "inside", Duration: time.Hour}},
		}
		for _, t := range tags {
			f.Tags[t.ID] = t
		}
		return f
	}
	home := timeline.Team{Name: "Home Team", Roster: []timeline.Skater{{Number: "052", Name: "Ada Lace"}, {Number: "9", Name: "Ζωή Ρόδα"}, {Number: "44", Name: "Kit", Minor: true}}}
	guests := timeline.Team{Name: "Guests", Roster: []timeline.Skater{{Number: "17", Name: "Ёлка Élan"}, {Number: "052", Name: "Other One"}}}
	jams := []timeline.Tag{jam("j1", 1), jam("j2", 2)}
	spring = facts(timeline.Info{Title: "Spring \"Open\"", Date: "2026-03-14", Venue: "Größe Hall"}, "2025", home, guests, append(
		jams,
		penalty("b1", "j1", 10, timeline.Home, "052", "B", "from behind, no initiation"),
		penalty("b2", "j1", 30, timeline.Away, "052", "B", ""),
		penalty("x1", "j2", 12, timeline.Home, "052", "X", ""),
		timeline.Tag{ID: "n1", Kind: timeline.KindNote, Place: timeline.JamAlone("j2"), Jam: "j2", Note: "L'arrière-pack était loin; naïve"},
		timeline.Tag{ID: "m1", Kind: timeline.KindMark, Place: timeline.OnFilm("film", 5*time.Minute)},
		timeline.Tag{ID: "i1", Kind: timeline.KindInjury, Place: timeline.InJam("j2", 20*time.Second), Jam: "j2"},
		timeline.Tag{ID: "s1", Kind: timeline.KindStarPass, Place: timeline.InJam("j2", 40*time.Second), Jam: "j2", Side: timeline.Home, Who: timeline.Who{Number: "052"}, StarPass: &timeline.StarPassInfo{To: timeline.Who{Number: "9"}, Complete: true}},
		withPeople(example("e1", 100, timeline.Example{Called: yes("B", ""), Verdicts: []timeline.Answer{no}, Difficulty: 4, Impact: timeline.ImpactNone, Words: "contact, yet no effect", Edition: "2025", Source: "b1"}), timeline.Home, "052"),
		example("e2", 200, timeline.Example{Called: yes("C", ""), Verdicts: []timeline.Answer{yes("C", "4.1.3"), {Choice: timeline.ChoiceWarning}}, Difficulty: 2, Impact: timeline.ImpactSome, Edition: "2025"}),
		example("e3", 300, timeline.Example{Ask: timeline.AskPass, Asked: timeline.Words{"": "Was the third one earned?"}, Edition: "2019"}),
		example("e4", 400, timeline.Example{Verdicts: []timeline.Answer{yes("M", "4.1.4")}, Difficulty: 5, Sensitive: true, Edition: "2025"}),
		withPeople(example("e5", 500, timeline.Example{Verdicts: []timeline.Answer{yes("", "4.10.2")}, Difficulty: 1, Edition: "2025"}), timeline.Home, "44"),
	)...)
	autumn = facts(timeline.Info{Title: "Autumn", Date: "2026-10-02"}, "2015", timeline.Team{Name: "Home Team B", Roster: []timeline.Skater{{Number: "1", Name: "Nobody"}}},
		timeline.Team{Name: "Guests", Roster: []timeline.Skater{{Number: "17", Name: "Ada Lace"}}}, append(
			jams,
			penalty("b1", "j1", 10, timeline.Away, "17", "B", ""),
			penalty("c1", "j2", 10, timeline.Away, "17", "C", "stopped on the track"),
			penalty("c2", "j2", 50, timeline.Home, "1", "C", ""),
		)...)
	return spring, autumn
}

func withPeople(t timeline.Tag, side timeline.Side, number timeline.Number) timeline.Tag {
	t.Side, t.Who = side, timeline.Who{Number: number}
	return t
}

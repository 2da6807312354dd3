package logging

import (
	"testing"

	"whistlecut/timeline"
)

func (b *bench) typed(digits string) *bench {
	b.t.Helper()
	for _, r := range digits {
		b.do(Key{Act: Digit, N: int(r - '0')})
	}
	return b
}

func TestJammers(t *testing.T) {
	b := plain(t).started()
	p, more, ok := b.m.Prompt(b.view())
	b.want(ok && p.Asks == AskJammer && p.Side == timeline.Home && more == 1, "asks %+v", p)
	// 7 begins 73, too: it waits for Enter; 404 does not.
	b.typed("7")
	p, _, _ = b.m.Prompt(b.view())
	b.want(p.Typed == "7" && len(b.jam().Tags) == 0, "typed %+v", p)
	b.do(edge())
	b.want(b.home().Jammer.Number == "7" && b.jam().Duration == 0, "jammer %+v; Enter closed the number, not the jam", b.home().Jammer)
	b.typed("19")
	b.want(b.away().Jammer.Number == "19", "away jammer %+v", b.away().Jammer)
	_, _, ok = b.m.Prompt(b.view())
	b.want(!ok, "nothing more is asked")
	b.do(Key{Act: Digit, N: 4})
	b.said(NothingAsked)

	b.do(Key{Act: Jammers}).typed("40").do(Key{Act: Backspace}).typed("04")
	b.want(b.home().Jammer.Number == "404", "jammer %+v", b.home().Jammer)
	b.do(Key{Act: NotSeen})
	b.want(b.away().Jammer == timeline.Who{Seen: timeline.NotSeen}, "away jammer %+v", b.away().Jammer)
}

func TestNumbers(t *testing.T) {
	for name, c := range map[string]struct {
		typed string
		want  timeline.Number
		said  Sentence
	}{
		"sole":                   {"404", "404", Silent},
		"zero is not two zeros":  {"0\n", "0", Silent},
		"two zeros":              {"00", "00", Silent},
		"one that begins others": {"7\n", "7", Silent},
		"not on the roster":      {"555\n", "555", NotOnRoster},
		"dropped by Escape":      {"55\x1b", "", Silent},
	} {
		t.Run(name, func(t *testing.T) {
			b := plain(t).started()
			for _, r := range c.typed {
				switch r {
				case '\n':
					b.do(edge())
				case '\x1b':
					b.do(Key{Act: Leave})
				default:
					b.do(Key{Act: Digit, N: int(r - '0')})
				}
			}
			b.said(c.said)
			b.want(b.home().Jammer.Number == c.want, "jammer %q", b.home().Jammer.Number)
		})
	}
}

func TestLetters(t *testing.T) {
	rules, _ := timeline.Edition("2013")
	b := newBench(t, rules, [2]timeline.Team{{Name: "A", Roster: []timeline.Skater{{Number: "K9"}, {Number: "12"}}}, {Name: "B"}})
	b.started().typed("9")
	b.want(b.home().Jammer.Number == "K9", "a number with a letter is found by its digits: %+v", b.home().Jammer)
	b.at(seconds(120)).do(side(Penalty, timeline.Home)).do(Key{Act: Code, Letter: "Q"})
	b.said(NoSuchCode)
	b.typed("12").do(Key{Act: Code, Letter: "Z"})
	tag := b.facts.Tags[b.home().Penalties[0]]
	b.want(tag.Who.Number == "12" && tag.Penalty.Code == "Z", "penalty %+v", tag)
	// Five points were possible before 2019: a digit mends the trip just logged.
	b.do(points(timeline.Home, 4), Key{Act: NotSeen}).do(Key{Act: Leave})
	b.m.prompts = nil
	b.typed("5")
	b.want(b.home().Points == timeline.Exactly(5), "points %v", b.home().Points)
}

func TestLineups(t *testing.T) {
	b := plain(t).started().do(Key{Act: Lineups})
	b.typed("73").typed("404").typed("7").do(edge()).do(Key{Act: NotSeen}).typed("00")
	h := b.home()
	b.want(h.Jammer.Number == "73" && h.Pivot.Number == "404" && len(h.Blockers) == 3 && h.Blockers[0].Number == "7" && h.Blockers[2].Number == "00", "home %+v", h.Lineup)
	p, _, _ := b.m.Prompt(b.view())
	b.want(p.Asks == AskJammer && p.Side == timeline.Away, "then away: %+v", p)
	// With the pivot known, the star pass needs no number.
	b.at(seconds(120)).do(side(Star, timeline.Home))
	p, _, _ = b.m.Prompt(b.view())
	b.want(p.Asks == AskNewJammer && p.Guess == "404" && h.StarPass == false, "guess %+v", p)
	b.do(side(Confirm, timeline.Home))
	b.want(b.home().NewJammer == "404" && len(b.bout.Problems) == 0, "new jammer %q, problems %v", b.home().NewJammer, b.bout.Problems)
}

func TestPenaltyAndBox(t *testing.T) {
	home := timeline.Home
	b := plain(t).started().at(seconds(120)).do(side(Penalty, home)).typed("404").do(Key{Act: Code, Letter: "B"})
	tag := b.facts.Tags[b.home().Penalties[0]]
	b.want(tag.Who.Number == "404" && tag.Penalty.Code == "B" && tag.Place == timeline.OnFilm(film, seconds(120)), "penalty %+v", tag)
	// The act was earlier: choose the call, go back, the same key.
	b.do(Key{Act: Choose, N: 1}).at(seconds(117)).do(side(Penalty, home))
	tag = b.facts.Tags[tag.ID]
	b.want(tag.Penalty.Act == timeline.OnFilm(film, seconds(117)) && tag.Place.Film == seconds(120), "act %+v", tag.Penalty)
	b.at(seconds(122)).do(side(Penalty, home))
	b.said(ActAfterCall)
	b.do(Key{Act: Leave})

	// Her number stands to reason: confirm it.
	b.at(seconds(130)).do(side(Box, home))
	p, _, _ := b.m.Prompt(b.view())
	b.want(p.Asks == AskBox && p.Guess == "404", "asks %+v", p)
	b.do(side(Confirm, home))
	b.want(len(b.bout.Visits) == 1 && b.bout.Visits[0].Skater.Number == "404", "visits %+v", b.bout.Visits)
	// The key and her number again: she stands, and leaves.
	b.at(seconds(150)).do(side(Box, home)).typed("404")
	b.at(seconds(160)).do(side(Box, home)).typed("404")
	b.want(len(b.bout.Visits) == 1, "one visit: %+v", b.bout.Visits)
	v := b.facts.Tags[b.bout.Visits[0].Tag].Box
	b.want(v.Stand == timeline.OnFilm(film, seconds(150)) && v.Out == timeline.OnFilm(film, seconds(160)), "visit %+v", v)
	// Out of the box, the next time is another visit.
	b.at(seconds(170)).do(side(Box, home)).typed("404")
	b.want(len(b.bout.Visits) == 2, "two visits: %+v", b.bout.Visits)
}

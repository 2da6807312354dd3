package logging

import (
	"fmt"
	"time"

	"whistlecut/timeline"
	"whistlecut/timeline/sheet"
)

const film timeline.ID = "film"

// tester is what a test and a property test have in common.
type tester interface {
	Helper()
	Errorf(format string, args ...any)
	Fatalf(format string, args ...any)
	Fatal(args ...any)
}

// bench is a bout that keys are pressed on, with its history.
type bench struct {
	t     tester
	m     *Machine
	log   *timeline.Log
	facts timeline.Facts
	bout  timeline.Bout
	now   Now
	paper *sheet.Sheet
	ids   int
	out   Outcome // of the last key
}

// newBench starts with rosters and one film.
func newBench(t tester, rules timeline.RuleSet, teams [2]timeline.Team) *bench {
	b := &bench{t: t, log: timeline.NewLog("tester", "session")}
	b.m = &Machine{NewID: func() timeline.ID {
		b.ids++
		return timeline.ID(fmt.Sprintf("tag-%03d", b.ids))
	}}
	b.now.Footage = film
	b.apply(
		timeline.SetRules(rules), timeline.SetTeam(timeline.Home, teams[0]), timeline.SetTeam(timeline.Away, teams[1]),
		timeline.SetFootage(timeline.Footage{ID: film, Path: "hall.mp4", Camera: "hall", Order: 1, Duration: 5 * time.Hour}),
	)
	return b
}

// plain is a bench with small rosters and the newest rules.
func plain(t tester) *bench {
	rules, _ := timeline.Edition("2025")
	team := func(name string, ns ...timeline.Number) (x timeline.Team) {
		x.Name = name
		for _, n := range ns {
			x.Roster = append(x.Roster, timeline.Skater{Number: n})
		}
		return x
	}
	return newBench(t, rules, [2]timeline.Team{team("Lanterns", "73", "7", "404", "0", "00"), team("Larks", "19", "8", "61")})
}

func (b *bench) apply(changes ...timeline.Change) {
	b.t.Helper()
	if len(changes) > 0 {
		if _, _, err := b.log.Apply("", changes...); err != nil {
			b.t.Fatal(err)
		}
	}
	b.derive()
}

func (b *bench) derive() {
	b.facts = b.log.Facts()
	b.bout = timeline.Derive(b.facts)
	b.m.Moved(b.view())
}

func (b *bench) view() View { return View{Facts: b.facts, Bout: b.bout, Now: b.now, Sheet: b.paper} }

// at puts the film to a time.
func (b *bench) at(film time.Duration) *bench {
	b.now.Film = film
	b.m.Moved(b.view())
	return b
}

func (b *bench) press(k Key) Outcome {
	b.t.Helper()
	b.out = b.m.Press(b.view(), k)
	for _, c := range b.out.Changes {
		if c.Record.Collection == timeline.ColTag && c.Value != nil && b.out.Did.Tag.ID == c.Record.Key {
			if err := timeline.CheckTag(b.out.Did.Tag); err != nil {
				b.t.Fatalf("%+v stores a tag that cannot be: %v", k, err)
			}
		}
	}
	b.apply(b.out.Changes...)
	return b.out
}

// do presses keys one after the other.
func (b *bench) do(keys ...Key) *bench {
	b.t.Helper()
	for _, k := range keys {
		b.press(k)
	}
	return b
}

// number types a skater's number, closed by Enter where the roster leaves it open.
func (b *bench) number(n timeline.Number) *bench {
	b.t.Helper()
	_, more, _ := b.m.Prompt(b.view())
	for _, r := range string(n) {
		b.press(Key{Act: Digit, N: int(r - '0')})
	}
	if p, left, ok := b.m.Prompt(b.view()); ok && left == more && p.Typed != "" {
		b.press(Key{Act: JamEdge})
	}
	return b
}

func (b *bench) undo() {
	b.t.Helper()
	if _, err := b.log.Undo(); err != nil {
		b.t.Fatal(err)
	}
	b.derive()
}

func side(a Act, s timeline.Side) Key   { return Key{Act: a, Side: s} }
func points(s timeline.Side, n int) Key { return Key{Act: Trip, Side: s, N: n} }
func edge() Key                         { return Key{Act: JamEdge} }
func seconds(s float64) time.Duration   { return time.Duration(s * float64(time.Second)) }
func (b *bench) jam() timeline.Jam      { b.t.Helper(); return b.bout.Jams[len(b.bout.Jams)-1] }
func (b *bench) home() timeline.JamSide { return b.jam().Sides[0] }
func (b *bench) away() timeline.JamSide { return b.jam().Sides[1] }
func (b *bench) started() *bench        { b.t.Helper(); return b.at(seconds(100)).do(edge()) }
func (b *bench) said(s Sentence)        { b.t.Helper(); b.want(b.out.Say.What == s, "said %+v", b.out.Say) }

func (b *bench) want(ok bool, f string, a ...any) {
	b.t.Helper()
	if !ok {
		b.t.Errorf(f, a...)
	}
}

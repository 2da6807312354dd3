package timeline

import (
	"strings"
	"testing"
	"time"
)

// A stay as a test expects it: who, in and out on the jam-time axis of the jam
// she went in or came out.
type wantStay struct {
	who     string
	outJam  int
	out     float64 // seconds; -1: still in
	owed    float64 // on sitting down
	remains float64
	state   string // "released" (default), "left", "sent back", "in"
}

type boxRow struct {
	id      string
	source  string
	edition string // 2025 when empty
	edit    func(*RuleSet)
	jams    []BoxJam
	events  []BoxEvent
	want    []wantStay
	jamEnds int
}

func boxAt(jam int, at float64, who string, what BoxMove) BoxEvent {
	role := Jammer
	if len(who) > 1 {
		role = Blocker
	}
	return BoxEvent{Jam: jam, At: time.Duration(at * float64(time.Second)), Skater: scriptRef(who), Role: role, What: what}
}

// penalisedAndSits is a penalty called and the skater seated, both then.
func penalisedAndSits(jam int, at float64, who string, penalties int) []BoxEvent {
	var e []BoxEvent
	for range penalties {
		e = append(e, boxAt(jam, at, who, BoxPenalised))
	}
	return append(e, boxAt(jam, at, who, BoxSits))
}

func boxEvents(groups ...[]BoxEvent) []BoxEvent {
	var all []BoxEvent
	for _, g := range groups {
		all = append(all, g...)
	}
	return all
}

func moves(e ...BoxEvent) []BoxEvent { return e }

func longJams(seconds ...float64) []BoxJam {
	var jams []BoxJam
	for _, s := range seconds {
		jams = append(jams, BoxJam{Length: time.Duration(s * float64(time.Second))})
	}
	return jams
}

var twoJammerRows = []boxRow{
	{
		id: "1 one jammer", source: "Rules 2025, 4.4: 30 s of jam time from sitting", jams: longJams(120),
		events: penalisedAndSits(0, 0, "W", 1),
		want:   []wantStay{{who: "W", out: 30, owed: 30}},
	},
	{
		id: "2 swap", source: "Rules 2025, 4.4.2; C4.4.2.A", jams: longJams(120),
		events: boxEvents(penalisedAndSits(0, 0, "W", 1), penalisedAndSits(0, 25, "R", 1), penalisedAndSits(0, 35, "W", 1)),
		want:   []wantStay{{who: "W", out: 25, owed: 30}, {who: "R", out: 50, owed: 30}, {who: "W", out: 65, owed: 30}},
	},
	{
		id: "2 swap, leaving early", source: "C4.4.2.A: 15 that can't shrink, and 30", jams: longJams(120),
		events: boxEvents(penalisedAndSits(0, 0, "W", 1), penalisedAndSits(0, 25, "R", 1), penalisedAndSits(0, 35, "W", 1),
			moves(boxAt(0, 35, "R", BoxLeaves), boxAt(0, 36, "R", BoxPenalised))),
		want: []wantStay{{who: "W", out: 25, owed: 30}, {who: "R", out: 35, owed: 30, remains: 15, state: "left"}, {who: "W", out: 65, owed: 30}},
	},
	{
		id: "2 swap, left early and back", source: "C4.4.2.A, the 30 still swap: W out at once after 5, R 15 + 5", jams: longJams(120),
		events: boxEvents(penalisedAndSits(0, 0, "W", 1), penalisedAndSits(0, 25, "R", 1), penalisedAndSits(0, 35, "W", 1),
			moves(boxAt(0, 35, "R", BoxLeaves)), penalisedAndSits(0, 40, "R", 1)),
		want: []wantStay{
			{who: "W", out: 25, owed: 30},
			{who: "R", out: 35, owed: 30, remains: 15, state: "left"},
			{who: "W", out: 40, owed: 30},
			{who: "R", out: 60, owed: 45},
		},
	},
	{
		id: "2 swap, second set", source: "referee forum 2020: sets of penalties", jams: longJams(120),
		events: boxEvents(penalisedAndSits(0, 0, "W", 1), penalisedAndSits(0, 25, "R", 1), penalisedAndSits(0, 35, "W", 1), penalisedAndSits(0, 60, "R", 1)),
		want: []wantStay{
			{who: "W", out: 25, owed: 30}, {who: "R", out: 50, owed: 30}, {who: "W", out: 60, owed: 30}, {who: "R", out: 85, owed: 30},
		},
	},
	{
		id: "3 same instant", source: "Rules 2025, 4.4.2", jams: longJams(120),
		events: boxEvents(penalisedAndSits(0, 40, "W", 1), penalisedAndSits(0, 40, "R", 1)),
		want:   []wantStay{{who: "W", out: 40, owed: 30}, {who: "R", out: 40, owed: 30}},
	},
	{
		id: "3 both between jams", source: "C4.4.2.B: both out at the jam's start", jams: longJams(60, 120),
		events: boxEvents(penalisedAndSits(1, -20, "W", 1), penalisedAndSits(1, -10, "R", 1)),
		want:   []wantStay{{who: "W", outJam: 1, out: 0, owed: 30}, {who: "R", outJam: 1, out: 0, owed: 30}},
	},
	{
		id: "4 sits between jams", source: "C4.4.2.C: R out at the start whistle, W owes 15", jams: longJams(60, 120),
		events: boxEvents(penalisedAndSits(0, 45, "R", 1), penalisedAndSits(1, -10, "W", 1)),
		want:   []wantStay{{who: "R", outJam: 1, out: 0, owed: 30}, {who: "W", outJam: 1, out: 15, owed: 30}},
	},
	{
		id: "4 sits after the fourth blast", source: "C4.4.2.C, told by the time of the jam before", jams: longJams(60, 120),
		events: boxEvents(penalisedAndSits(0, 45, "R", 1), penalisedAndSits(0, 66, "W", 1)),
		want:   []wantStay{{who: "R", outJam: 1, out: 0, owed: 30}, {who: "W", outJam: 1, out: 15, owed: 30}},
	},
	{
		id: "5 left early, the other alone", source: "C4.4.2.D: R out, W owes 15 + x", jams: longJams(120),
		events: boxEvents(penalisedAndSits(0, 0, "W", 1), moves(boxAt(0, 15, "W", BoxLeaves)),
			penalisedAndSits(0, 20, "R", 1), penalisedAndSits(0, 32, "W", 1)),
		want: []wantStay{
			{who: "W", out: 15, owed: 30, remains: 15, state: "left"}, {who: "R", out: 32, owed: 30}, {who: "W", out: 59, owed: 45},
		},
	},
	{
		id: "6 no opposing jammer", source: "Rules 2025, 4.4.2: the jam ends on sitting",
		jams:   []BoxJam{{Length: 50 * time.Second, NoJammer: [2]bool{true, false}}, {Length: 120 * time.Second}},
		events: penalisedAndSits(0, 50, "W", 1), jamEnds: 1,
		want: []wantStay{{who: "W", outJam: 1, out: 30, owed: 30}},
	},
	{
		id: "7 two against one, cancelled", source: "inference from 4.4.2, switched on", jams: longJams(120),
		events: boxEvents(penalisedAndSits(0, 0, "W", 2), penalisedAndSits(0, 10, "R", 1)),
		want:   []wantStay{{who: "W", out: 30, owed: 60}, {who: "R", out: 10, owed: 30}},
	},
	{
		id: "7 two against one, not cancelled", source: "the other reading of 4.4.2, switched off", jams: longJams(120),
		edit:   func(r *RuleSet) { r.CancelEachPenalty = false },
		events: boxEvents(penalisedAndSits(0, 0, "W", 2), penalisedAndSits(0, 10, "R", 1)),
		want:   []wantStay{{who: "W", out: 40, owed: 60}, {who: "R", out: 20, owed: 30}},
	},
	{
		id: "7 second of two being served", source: "4.4.2: only one is left to pair", jams: longJams(120),
		events: boxEvents(penalisedAndSits(0, 0, "W", 2), penalisedAndSits(0, 40, "R", 1)),
		want:   []wantStay{{who: "W", out: 40, owed: 60}, {who: "R", out: 50, owed: 30}},
	},
	{
		id: "7 one against two", source: "4.4.2: equal time per penalty", jams: longJams(120),
		events: boxEvents(penalisedAndSits(0, 0, "W", 1), penalisedAndSits(0, 10, "R", 2)),
		want:   []wantStay{{who: "W", out: 10, owed: 30}, {who: "R", out: 50, owed: 60}},
	},
	{
		id: "2013 swap on 60 s", source: "rule commentaries 2011-14", edition: "2013", jams: longJams(120),
		events: boxEvents(penalisedAndSits(0, 0, "W", 1), penalisedAndSits(0, 17, "R", 1)),
		want:   []wantStay{{who: "W", out: 17, owed: 60}, {who: "R", out: 34, owed: 60}},
	},
	{
		id: "2013 over a minute", source: "rule commentaries 2011-14: out at once if the other owes over a minute", edition: "2013", jams: longJams(120),
		events: boxEvents(penalisedAndSits(0, 0, "W", 2), penalisedAndSits(0, 20, "R", 1)),
		want:   []wantStay{{who: "W", out: 60, owed: 120}, {who: "R", out: 20, owed: 60}},
	},
	{
		id: "2014 same instant", source: "Rules 1 March 2014, 6.3.2: ten seconds each", edition: "2014", jams: longJams(120),
		events: boxEvents(penalisedAndSits(0, 40, "W", 1), penalisedAndSits(0, 40, "R", 1)),
		want:   []wantStay{{who: "W", out: 50, owed: 30}, {who: "R", out: 50, owed: 30}},
	},
}

var boxRuleRows = []boxRow{
	{
		id: "30 s of jam time", source: "Rules 2025, 4.4", jams: longJams(120),
		events: penalisedAndSits(0, 12, "W1", 1),
		want:   []wantStay{{who: "W1", out: 42, owed: 30}},
	},
	{
		id: "paused between jams", source: "Rules 2025, 4.4", jams: longJams(60, 120),
		events: penalisedAndSits(0, 48, "W1", 1),
		want:   []wantStay{{who: "W1", outJam: 1, out: 18, owed: 30}},
	},
	{
		id: "sat between jams", source: "Rules 2025, 4.4: starts with the next jam", jams: longJams(60, 120),
		events: penalisedAndSits(1, -12, "W1", 1),
		want:   []wantStay{{who: "W1", outJam: 1, out: 30, owed: 30}},
	},
	{
		id: "over more than two jams", source: "Rules 2025, 4.4", jams: longJams(60, 10, 120),
		events: penalisedAndSits(0, 50, "W1", 1),
		want:   []wantStay{{who: "W1", outJam: 2, out: 10, owed: 30}},
	},
	{
		id: "rising early stops the clock", source: "Rules 2025, 4.4", jams: longJams(120),
		events: boxEvents(penalisedAndSits(0, 0, "W1", 1), moves(boxAt(0, 10, "W1", BoxRises), boxAt(0, 18, "W1", BoxSits))),
		want:   []wantStay{{who: "W1", out: 38, owed: 30}},
	},
	{
		id: "standing with more than the last seconds to go", source: "Rules 2025, 4.4", jams: longJams(120),
		events: boxEvents(penalisedAndSits(0, 0, "W1", 1), moves(boxAt(0, 15, "W1", BoxStands), boxAt(0, 20, "W1", BoxSits), boxAt(0, 25, "W1", BoxStands))),
		want:   []wantStay{{who: "W1", out: 35, owed: 30}},
	},
	{
		id: "not standing stops the clock", source: "Rules 2025, 4.4", jams: longJams(120),
		events: boxEvents(penalisedAndSits(0, 0, "W1", 1), moves(boxAt(0, 22, "W1", BoxStays), boxAt(0, 26, "W1", BoxStands))),
		want:   []wantStay{{who: "W1", out: 34, owed: 30}},
	},
	{
		id: "third blocker sent back", source: "Rules 2025, 4.4.1", jams: longJams(120),
		events: boxEvents(penalisedAndSits(0, 0, "W1", 1), penalisedAndSits(0, 5, "W2", 1), penalisedAndSits(0, 15, "W3", 1), moves(boxAt(0, 31, "W3", BoxSits))),
		want: []wantStay{
			{who: "W1", out: 30, owed: 30},
			{who: "W2", out: 35, owed: 30},
			{who: "W3", out: 15, owed: 30, remains: 30, state: "sent back"},
			{who: "W3", out: 61, owed: 30},
		},
	},
	{
		id: "standing frees the seat", source: "Rules 2025, 4.4.1", jams: longJams(120),
		events: boxEvents(penalisedAndSits(0, 0, "W1", 1), penalisedAndSits(0, 5, "W2", 1), moves(boxAt(0, 20, "W1", BoxStands)), penalisedAndSits(0, 21, "W3", 1)),
		want:   []wantStay{{who: "W1", out: 30, owed: 30}, {who: "W2", out: 35, owed: 30}, {who: "W3", out: 51, owed: 30}},
	},
	{
		id: "standing a moment early frees it too", source: "Rules 2025, 4.4.1; marks are not exact to the second", jams: longJams(120),
		events: boxEvents(penalisedAndSits(0, 0, "W1", 1), penalisedAndSits(0, 5, "W2", 1), moves(boxAt(0, 19.4, "W1", BoxStands)), penalisedAndSits(0, 19.6, "W3", 1)),
		want:   []wantStay{{who: "W1", out: 30, owed: 30}, {who: "W2", out: 35, owed: 30}, {who: "W3", out: 49.6, owed: 30}},
	},
	{
		id: "in the last seconds she stands, told or not", source: "Rules 2025, 4.4, 4.4.1", jams: longJams(120),
		events: boxEvents(penalisedAndSits(0, 0, "W1", 1), penalisedAndSits(0, 5, "W2", 1), penalisedAndSits(0, 21, "W3", 1)),
		want:   []wantStay{{who: "W1", out: 30, owed: 30}, {who: "W2", out: 35, owed: 30}, {who: "W3", out: 51, owed: 30}},
	},
	{
		id: "the other team's seats are its own", source: "Rules 2025, 4.4.1", jams: longJams(120),
		events: boxEvents(penalisedAndSits(0, 0, "W1", 1), penalisedAndSits(0, 5, "W2", 1), penalisedAndSits(0, 6, "R1", 1), penalisedAndSits(0, 7, "W", 1)),
		want: []wantStay{
			{who: "W1", out: 30, owed: 30}, {who: "W2", out: 35, owed: 30}, {who: "R1", out: 36, owed: 30}, {who: "W", out: 37, owed: 30},
		},
	},
	{
		id: "leaving early", source: "Rules 2025, 4.4: the rest is still owed", jams: longJams(120),
		events: boxEvents(penalisedAndSits(0, 0, "W1", 1), moves(boxAt(0, 12, "W1", BoxLeaves), boxAt(0, 14, "W1", BoxPenalised), boxAt(0, 20, "W1", BoxSits))),
		want:   []wantStay{{who: "W1", out: 12, owed: 30, remains: 18, state: "left"}, {who: "W1", out: 68, owed: 48}},
	},
	{
		id: "another penalty while seated", source: "Rules 2025, 4.4", jams: longJams(120),
		events: boxEvents(penalisedAndSits(0, 0, "W1", 1), moves(boxAt(0, 12, "W1", BoxPenalised))),
		want:   []wantStay{{who: "W1", out: 60, owed: 60}},
	},
	{
		id: "withdrawn", source: "Rules 2025, 1.3.2, 4.4: a review takes a penalty back", jams: longJams(60, 120),
		events: boxEvents(penalisedAndSits(0, 50, "W1", 1), moves(boxAt(1, -5, "W1", BoxCancelled))),
		want:   []wantStay{{who: "W1", outJam: 1, out: 0, owed: 30}},
	},
	{
		id: "still in at the end", source: "Rules 2025, 4.4", jams: longJams(20),
		events: penalisedAndSits(0, 5, "W1", 1),
		want:   []wantStay{{who: "W1", out: -1, owed: 30, remains: 15, state: "in"}},
	},
	{
		id: "C2.2.4.F", source: casebook + "C2.2.4.F: the new jammer serves, the old one sits out", jams: longJams(60, 120),
		events: boxEvents(penalisedAndSits(0, 50, "R", 1), moves(BoxEvent{
			Jam: 1, At: -20 * time.Second, Skater: scriptRef("R"), For: scriptRef("R3"), Role: Jammer, What: BoxPenalised,
		})),
		want: []wantStay{{who: "R", outJam: 1, out: 50, owed: 60}},
	},
}

func TestBoxTwoJammers(t *testing.T) { runBoxRows(t, twoJammerRows) }

func TestBoxRules(t *testing.T) { runBoxRows(t, boxRuleRows) }

func runBoxRows(t *testing.T, rows []boxRow) {
	for _, row := range rows {
		t.Run(row.id, func(t *testing.T) {
			edition := row.edition
			if edition == "" {
				edition = "2025"
			}
			rules, ok := Edition(edition)
			if !ok || row.source == "" {
				t.Fatalf("edition %q known %v, source %q", edition, ok, row.source)
			}
			if row.edit != nil {
				row.edit(&rules)
			}
			got := ServeBox(rules, row.jams, row.events)
			if len(got.Stays) != len(row.want) {
				t.Fatalf("%d stays, want %d: %+v", len(got.Stays), len(row.want), got.Stays)
			}
			for i, w := range row.want {
				checkStay(t, got.Stays[i], w)
			}
			if len(got.JamEnds) != row.jamEnds {
				t.Errorf("%d jams ended by sitting, want %d", len(got.JamEnds), row.jamEnds)
			}
			for _, p := range got.Problems {
				t.Errorf("problem: %s", p.Text)
			}
		})
	}
}

func checkStay(t *testing.T, got BoxServed, w wantStay) {
	t.Helper()
	if got.Skater != scriptRef(w.who) {
		t.Errorf("stay of %v, want %s", got.Skater, w.who)
	}
	sec := func(d time.Duration) float64 { return d.Seconds() }
	state := "in"
	switch {
	case got.SentBack:
		state = "sent back"
	case got.Left:
		state = "left"
	case got.Released:
		state = "released"
	}
	want := w.state
	if want == "" {
		want = "released"
	}
	if state != want {
		t.Errorf("%s: %s, want %s", w.who, state, want)
	}
	if w.out >= 0 && (got.OutJam != w.outJam || sec(got.Out) != w.out) {
		t.Errorf("%s out in jam %d at %v, want jam %d at %v s", w.who, got.OutJam, got.Out, w.outJam, w.out)
	}
	if sec(got.Owed) != w.owed || sec(got.Remains) != w.remains {
		t.Errorf("%s owed %v with %v left, want %v s and %v s", w.who, got.Owed, got.Remains, w.owed, w.remains)
	}
	if got.Released && got.Served+got.Forgiven != got.Owed {
		t.Errorf("%s served %v and was let off %v of %v", w.who, got.Served, got.Forgiven, got.Owed)
	}
	if len(got.Why) == 0 {
		t.Errorf("%s: no why", w.who)
	}
	for _, r := range got.Why {
		if r.Text == "" || !strings.HasPrefix(r.Section, "4.4") {
			t.Errorf("%s: why %q has section %q", w.who, r.Text, r.Section)
		}
	}
}

func TestFoulOut(t *testing.T) {
	rules, _ := Edition("2025")
	var e []BoxEvent
	for i := range 7 {
		e = append(e, boxAt(0, float64(i), "W1", BoxPenalised))
	}
	forAnother := boxAt(0, 8, "W2", BoxPenalised)
	forAnother.For = scriptRef("W3")
	got := ServeBox(rules, longJams(120), append(e, forAnother))
	if got.Fouls[scriptRef("W1")] != 7 || got.Fouls[scriptRef("W3")] != 1 || got.Fouls[scriptRef("W2")] != 0 {
		t.Errorf("fouls %v", got.Fouls)
	}
	if at, ok := got.FouledOut[scriptRef("W1")]; !ok || at != 6 || len(got.FouledOut) != 1 {
		t.Errorf("fouled out %v, want W1 by event 6 alone", got.FouledOut)
	}
	if got.Owed[scriptRef("W1")] != 210*time.Second || got.Owed[scriptRef("W2")] != 30*time.Second {
		t.Errorf("owed %v", got.Owed)
	}
	taken := ServeBox(rules, longJams(120), append(e, boxAt(0, 9, "W1", BoxCancelled)))
	if len(taken.FouledOut) != 0 || taken.Fouls[scriptRef("W1")] != 6 {
		t.Errorf("after a penalty was withdrawn: fouls %v, fouled out %v", taken.Fouls, taken.FouledOut)
	}
}

func TestBoxForAnother(t *testing.T) {
	row := boxRuleRows[len(boxRuleRows)-1]
	rules, _ := Edition("2025")
	got := ServeBox(rules, row.jams, row.events)
	if f := got.Stays[0].For; len(f) != 1 || f[0] != scriptRef("R3") || got.Fouls[scriptRef("R3")] != 1 {
		t.Errorf("served for %v, fouls %v; want R3", f, got.Fouls)
	}
}

func TestBoxProblems(t *testing.T) {
	rules, _ := Edition("2025")
	for name, e := range map[string]BoxEvent{
		"no such jam":         boxAt(3, 0, "W1", BoxSits),
		"sits for no penalty": boxAt(0, 0, "W1", BoxSits),
		"stands outside":      boxAt(0, 0, "W1", BoxStands),
		"nothing to withdraw": boxAt(0, 0, "W1", BoxCancelled),
		"unknown move":        boxAt(0, 0, "W1", "hops"),
		"no side":             {What: BoxSits},
	} {
		if got := ServeBox(rules, longJams(120), []BoxEvent{e}); len(got.Problems) != 1 {
			t.Errorf("%s: problems %v, want one", name, got.Problems)
		}
	}
}

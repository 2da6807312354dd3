package timeline

import (
	"fmt"
	"maps"
	"slices"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// clock gives each call a time one second after the last.
func clock() func() time.Time {
	t := time.Date(2025, 5, 3, 19, 0, 0, 0, time.UTC)
	return func() time.Time { t = t.Add(time.Second); return t }
}

func newTestLog(author string) *Log {
	l := NewLog(author, author+"1")
	l.SetClock(clock())
	return l
}

func note(id ID, text string) Tag {
	return Tag{ID: id, Kind: KindNote, Place: JamAlone("j1"), Note: text}
}

func mustApply(t testing.TB, l *Log, label string, changes ...Change) ID {
	t.Helper()
	group, _, err := l.Apply(label, changes...)
	if err != nil {
		t.Fatal(err)
	}
	return group
}

func mustAdd(t testing.TB, l *Log, edits ...Edit) {
	t.Helper()
	if _, err := l.Add(edits...); err != nil {
		t.Fatal(err)
	}
}

// state is all that a log says of the bout, for comparing.
type state struct {
	Facts     Facts
	Conflicts []Conflict
}

func stateOf(l *Log) state { return state{l.Facts(), l.Conflicts()} }

// genChange draws a change from a few records and values, so that clashes are common.
func genChange(t *rapid.T) Change {
	n := rapid.IntRange(0, 3).Draw(t, "value")
	text := fmt.Sprint("v", n)
	id := ID(rapid.SampledFrom([]string{"a", "b", "c"}).Draw(t, "key"))
	switch rapid.IntRange(0, 8).Draw(t, "what") {
	case 0:
		return SetInfo(Info{Title: text})
	case 1:
		return SetTeam(Sides[n%2], Team{Name: text})
	case 2:
		return SetFootage(Footage{ID: id, Path: text})
	case 3:
		return DeleteTag(id)
	case 4:
		return Change{Record: Record{Collection: "drawing list", Key: id}, Value: []byte(`{"n":"` + text + `"}`)}
	case 5:
		return SetSheet(StoredSheet{Name: text, Data: []byte{byte(n)}})
	}
	return SetTag(note(id, text))
}

// genWorld makes the logs of a few people who work and now and then take in
// each other's edits.
func genWorld(t *rapid.T) []*Log {
	names := []string{"Ada", "Bea", "Cleo"}
	logs := make([]*Log, len(names))
	for i, n := range names {
		logs[i] = newTestLog(n)
	}
	for range rapid.IntRange(0, 40).Draw(t, "steps") {
		l := logs[rapid.IntRange(0, 2).Draw(t, "who")]
		switch rapid.IntRange(0, 9).Draw(t, "do") {
		case 0:
			if _, err := l.Add(logs[rapid.IntRange(0, 2).Draw(t, "from")].Edits()...); err != nil {
				t.Fatal(err)
			}
		case 1, 2:
			if _, err := l.Undo(); err != nil {
				t.Fatal(err)
			}
		case 3:
			if _, err := l.Redo(); err != nil {
				t.Fatal(err)
			}
		default:
			var changes []Change
			for range rapid.IntRange(1, 3).Draw(t, "changes") {
				changes = append(changes, genChange(t))
			}
			if _, _, err := l.Apply("edit", changes...); err != nil {
				t.Fatal(err)
			}
		}
	}
	return logs
}

func union(t *rapid.T, logs ...*Log) *Log {
	u := NewLog("union", "union")
	for _, l := range logs {
		if _, err := u.Add(l.Edits()...); err != nil {
			t.Fatal(err)
		}
	}
	return u
}

func same(t *rapid.T, what string, a, b *Log) {
	t.Helper()
	if d := cmp.Diff(stateOf(a), stateOf(b)); d != "" {
		t.Fatalf("%s: states differ:\n%s", what, d)
	}
	if d := cmp.Diff(a.Edits(), b.Edits()); d != "" {
		t.Fatalf("%s: edits differ:\n%s", what, d)
	}
	if d := cmp.Diff(a.History(), b.History()); d != "" {
		t.Fatalf("%s: histories differ:\n%s", what, d)
	}
}

func TestMergeLaws(t *testing.T) {
	conflicts := 0
	rapid.Check(t, func(t *rapid.T) {
		w := genWorld(t)
		a, b, c := w[0], w[1], w[2]
		ab := union(t, a, b)
		same(t, "commutative", ab, union(t, b, a))
		same(t, "associative", union(t, ab, c), union(t, a, union(t, b, c)))
		same(t, "idempotent", ab, union(t, ab, a, ab, b))
		conflicts += len(ab.Conflicts())
	})
	if conflicts == 0 {
		t.Error("no drawn merge had a conflict: the property was not tried on any")
	}
}

func TestFoldIsIndependentOfArrivalOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		all := union(t, genWorld(t)...)
		shuffled := rapid.Permutation(all.Edits()).Draw(t, "order")
		one := NewLog("x", "x")
		for _, e := range shuffled {
			if _, err := one.Add(e); err != nil {
				t.Fatal(err)
			}
		}
		same(t, "one by one in another order", all, one)
	})
}

func TestIncrementalFoldEqualsFoldFromScratch(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		for _, l := range genWorld(t) {
			same(t, l.Author(), l, union(t, l))
		}
	})
}

// TestUndoRestoresExactly undoes a run of actions one by one and compares the
// state after each with the one before the action, then redoes them all.
func TestUndoRestoresExactly(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := newTestLog("Dot")
		// Others' work first, with its conflicts, which Dot may decide.
		for _, w := range genWorld(t) {
			if _, err := l.Add(w.Edits()...); err != nil {
				t.Fatal(err)
			}
		}
		states := []state{stateOf(l)}
		for range rapid.IntRange(1, 8).Draw(t, "actions") {
			group, _, err := l.Apply("edit", genChange(t), genChange(t))
			if err != nil {
				t.Fatal(err)
			}
			if group != "" {
				states = append(states, stateOf(l))
			}
		}
		at := len(states) - 1
		for range rapid.IntRange(1, 30).Draw(t, "moves") {
			back := rapid.Bool().Draw(t, "back")
			step, err := l.Undo()
			if !back {
				// Take the probing undo back first, so that both ways are walked from here.
				if len(step.Edits) > 0 {
					if _, err := l.Redo(); err != nil {
						t.Fatal(err)
					}
				}
				step, err = l.Redo()
			}
			if err != nil {
				t.Fatal(err)
			}
			switch {
			case len(step.Skipped) > 0:
				t.Fatalf("skipped %v though nobody else was at work", step.Skipped)
			case len(step.Edits) == 0:
				want := 0
				if !back {
					want = len(states) - 1
				}
				if at != want {
					t.Fatalf("nothing to do at %d of %d", at, len(states)-1)
				}
			case back:
				at--
			default:
				at++
			}
			if d := cmp.Diff(states[at], stateOf(l)); d != "" {
				t.Fatalf("state %d is not what it was:\n%s", at, d)
			}
		}
	})
}

func TestUndoLeavesAloneWhatOthersChangedSince(t *testing.T) {
	ada, bea := newTestLog("Ada"), newTestLog("Bea")
	mustApply(t, ada, "first", SetTag(note("a", "one")), SetTag(note("b", "one")))
	mustAdd(t, bea, ada.Edits()...)
	mustApply(t, bea, "Bea's word", SetTag(note("a", "Bea")))
	mustAdd(t, ada, bea.Edits()...)

	step, err := ada.Undo()
	if err != nil {
		t.Fatal(err)
	}
	if len(step.Skipped) != 1 || step.Skipped[0].By != "Bea" || step.Skipped[0].Record.Key != "a" || step.Skipped[0].Label != "Bea's word" {
		t.Errorf("skipped %+v, want record a by Bea", step.Skipped)
	}
	if tags := ada.Facts().Tags; len(tags) != 1 || tags["a"].Note != "Bea" {
		t.Errorf("after the undo: %v, want only Bea's a", tags)
	}

	// Bea takes hers back: a is Ada's again, as if untouched, but the undo is spent.
	if _, err := bea.Undo(); err != nil {
		t.Fatal(err)
	}
	mustAdd(t, ada, bea.Edits()...)
	if got := ada.Facts().Tags["a"].Note; got != "one" {
		t.Errorf("a is %q after Bea's undo, want one", got)
	}
	if _, ok := ada.CanUndo(); ok {
		t.Error("the undone action can be undone a second time")
	}
}

func TestUndoOfWhatIsWhollyTakenOverGoesOnNextTime(t *testing.T) {
	ada, bea := newTestLog("Ada"), newTestLog("Bea")
	mustApply(t, ada, "older", SetTag(note("b", "one")))
	mustApply(t, ada, "newer", SetTag(note("a", "one")))
	mustAdd(t, bea, ada.Edits()...)
	mustApply(t, bea, "", SetTag(note("a", "Bea")))
	mustAdd(t, ada, bea.Edits()...)
	step, err := ada.Undo()
	if err != nil || len(step.Edits) != 0 || step.Label != "newer" || len(step.Skipped) != 1 {
		t.Fatalf("first undo: %+v, %v; want newer, nothing but a skipped record", step, err)
	}
	if label, _ := ada.CanUndo(); label != "older" {
		t.Errorf("the next undo is of %q, want older", label)
	}
	if step, _ = ada.Undo(); step.Label != "older" || len(step.Edits) != 1 {
		t.Errorf("second undo: %+v, want older", step)
	}
}

func TestConflictsAndDeciding(t *testing.T) {
	ada, bea := newTestLog("Ada"), newTestLog("Bea")
	mustApply(t, ada, "", SetTag(note("a", "base")), SetTag(note("c", "base")))
	mustAdd(t, bea, ada.Edits()...)
	mustApply(t, ada, "", SetTag(note("a", "Ada")), DeleteTag("c"), SetTag(note("d", "equal")))
	mustApply(t, bea, "", SetTag(note("a", "Bea")), SetTag(note("c", "Bea")), SetTag(note("d", "equal")))
	mustAdd(t, ada, bea.Edits()...)
	mustAdd(t, bea, ada.Edits()...)

	got := ada.Conflicts()
	if len(got) != 2 || got[0].Record.Key != "a" || got[1].Record.Key != "c" {
		t.Fatalf("conflicts %+v, want a and c (d was set alike)", got)
	}
	who := []string{got[0].Versions[0].Author, got[0].Versions[1].Author}
	if !slices.Equal(who, []string{"Ada", "Bea"}) || got[0].Versions[0].Stands || !got[0].Versions[1].Stands {
		t.Errorf("versions of a: %+v", got[0].Versions)
	}
	if got[1].Versions[0].Value != nil {
		t.Errorf("Ada's deletion of c shows as %s", got[1].Versions[0].Value)
	}
	if note := ada.Facts().Tags["a"].Note; note != "Bea" {
		t.Errorf("%q stands, want Bea", note)
	}
	mustApply(t, ada, "decide", SetTag(note("a", "Bea")), DeleteTag("c"))
	if got := ada.Conflicts(); len(got) != 0 {
		t.Errorf("conflicts after deciding: %+v", got)
	}
	mustAdd(t, bea, ada.Edits()...)
	if got := bea.Conflicts(); len(got) != 0 {
		t.Errorf("Bea's conflicts after Ada decided: %+v", got)
	}
	if _, err := ada.Undo(); err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(got, ada.Conflicts()); d != "" {
		t.Errorf("undoing the decision does not bring the conflict back as it was:\n%s", d)
	}
}

func TestFactsIsASnapshot(t *testing.T) {
	l := newTestLog("Ada")
	mustApply(t, l, "", SetTag(note("a", "one")))
	before := l.Facts()
	kept := maps.Clone(before.Tags)
	mustApply(t, l, "", SetTag(note("a", "two")), SetTag(note("b", "two")))
	if d := cmp.Diff(kept, before.Tags); d != "" {
		t.Errorf("a later edit changed facts handed out before:\n%s", d)
	}
}

func TestApplyRefuses(t *testing.T) {
	cases := []struct {
		name   string
		change Change
		want   string
	}{
		{"a tag without an ID", SetTag(Tag{Kind: KindNote}), `cannot apply "x": tag: "" is no record key`},
		{"a tag without its payload", SetTag(Tag{ID: "a", Kind: KindTrip}), `cannot apply "x": tag a: trip: it is missing; a tag of kind "trip" needs it`},
		{"a tag with another kind's payload", SetTag(Tag{ID: "a", Kind: KindNote, Box: &BoxInfo{}}), `cannot apply "x": tag a: box: a tag of kind "note" has no such field`},
		{"a key that is not the ID", Change{Record{ColTag, "b"}, []byte(`{"id":"a","kind":"note","place":{}}`)}, `cannot apply "x": tag b: id: "a" differs from the record's key`},
		{"a third team", Change{Record{ColTeam, "third"}, []byte(`{}`)}, `cannot apply "x": team: the key is "third", want home or away`},
		{"broken JSON", Change{Record{ColInfo, "it"}, []byte(`{"title":`)}, `cannot apply "x": the value is not valid JSON: json: error calling MarshalJSON for type json.RawMessage: unexpected end of JSON input`},
		{"a deep wrong value", Change{Record{ColTag, "a"}, []byte(`{"id":"a","kind":"line-up","place":{},"line_up":{"blockers":[{},{"seen":"maybe"}]}}`)}, `cannot apply "x": tag a: line_up.blockers[1].seen: certainty "maybe": want sure, unsure or not seen`},
		{"a text for a number", Change{Record{ColTag, "a"}, []byte(`{"id":"a","kind":"trip","trip":{"points":"4"}}`)}, `cannot apply "x": tag a: trip.points: found string, want a whole number in range`},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			l := newTestLog("Ada")
			_, _, err := l.Apply("x", SetInfo(Info{Title: "also there"}), c.change)
			if err == nil || err.Error() != c.want {
				t.Errorf("error %v\nwant  %s", err, c.want)
			}
			if l.Len() != 0 {
				t.Error("a part of the refused action was applied")
			}
		})
	}
}

func TestUnknownCollectionsAreKept(t *testing.T) {
	l := newTestLog("Ada")
	rec := Record{"reel", "r1"}
	mustApply(t, l, "", Change{rec, []byte(`{"clips": [1, 2]}`)})
	if got := string(l.Facts().Extra["reel/r1"]); got != `{"clips":[1,2]}` {
		t.Errorf("extra record is %s", got)
	}
	mustApply(t, l, "", Change{Record: rec})
	if got := l.Facts().Extra; got != nil {
		t.Errorf("after deletion extra is %v", got)
	}
}

func TestChangeThatChangesNothingMakesNoEdit(t *testing.T) {
	l := newTestLog("Ada")
	mustApply(t, l, "", SetTag(note("a", "one")))
	if group := mustApply(t, l, "", SetTag(note("a", "one")), DeleteTag("b")); group != "" || l.Len() != 1 {
		t.Errorf("group %q, %d edits; want none and 1", group, l.Len())
	}
}

func TestAddRefusesTwoVersionsOfOneEdit(t *testing.T) {
	l := newTestLog("Ada")
	mustApply(t, l, "", SetTag(note("a", "one")))
	forged := l.Edits()[0]
	forged.Author = "Eve"
	if _, err := l.Add(forged); err == nil {
		t.Error("a changed edit under a known ID was taken in")
	}
}

func TestCircleOfParentsLeavesAHead(t *testing.T) {
	e := func(id ID, seq int64, parent ID) Edit {
		return Edit{ID: id, Seq: seq, Group: id, Parents: []ID{parent}, Record: Record{ColInfo, "it"}, Value: []byte(`{"title":"` + string(id) + `"}`)}
	}
	l := newTestLog("Ada")
	mustAdd(t, l, e("x", 1, "y"), e("y", 1, "x"))
	if len(l.Conflicts()) != 1 || l.Facts().Info.Title != "y" {
		t.Errorf("title %q, conflicts %v; want y and one", l.Facts().Info.Title, l.Conflicts())
	}
}

func TestImportID(t *testing.T) {
	if ImportID("a", "bc") == ImportID("ab", "c") || ImportID("a") == ImportID("a", "") {
		t.Error("different parts give one ID")
	}
	if got, want := ImportID("jam", "1", "3"), ImportID("jam", "1", "3"); got != want {
		t.Errorf("%s and %s for the same parts", got, want)
	}
}

// bigLog is a log of n trip tags, made by one import.
func bigLog(b testing.TB, n int) *Log {
	l := newTestLog("Ada")
	changes := make([]Change, n)
	for i := range changes {
		changes[i] = SetTag(Tag{
			ID: ID(fmt.Sprint("t", i)), Kind: KindTrip, Place: OnFilm("f1", time.Duration(i)*time.Second),
			Side: Sides[i%2], Who: Who{Number: "17"}, Trip: &TripInfo{Number: 2, Points: i % 5},
		})
	}
	mustApply(b, l, "import", changes...)
	return l
}

func BenchmarkApplyOneOf20000(b *testing.B) {
	l := bigLog(b, 20000)
	for i := 0; b.Loop(); i++ {
		mustApply(b, l, "edit", SetTag(note("t7", fmt.Sprint(i))))
	}
}

// BenchmarkApplyAndFactsOf20000 also takes a snapshot each time, as a window does.
func BenchmarkApplyAndFactsOf20000(b *testing.B) {
	l := bigLog(b, 20000)
	for i := 0; b.Loop(); i++ {
		mustApply(b, l, "edit", SetTag(note("t7", fmt.Sprint(i))))
		if len(l.Facts().Tags) != 20000 {
			b.Fatal("tags lost")
		}
	}
}

func BenchmarkLoad20000(b *testing.B) {
	edits := bigLog(b, 20000).Edits()
	for b.Loop() {
		mustAdd(b, NewLog("x", "x"), edits...)
	}
}

func BenchmarkUndoImportOf20000(b *testing.B) {
	for b.Loop() {
		b.StopTimer()
		l := bigLog(b, 20000)
		b.StartTimer()
		if s, err := l.Undo(); err != nil || len(s.Edits) != 20000 {
			b.Fatal(err, len(s.Edits))
		}
	}
}

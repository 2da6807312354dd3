package timeline

import (
	"bytes"
	"encoding/json"
	"math"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

func TestHistoryRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := union(t, genWorld(t)...)
		data, err := ExportHistory(l)
		if err != nil {
			t.Fatal(err)
		}
		in, err := ImportJSON(data)
		if err != nil {
			t.Fatal(err)
		}
		again := NewLog("x", "x")
		if _, err := again.Add(in.Edits...); err != nil {
			t.Fatal(err)
		}
		same(t, "read back", l, again)
	})
}

func TestFactsRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := union(t, genWorld(t)...).Facts()
		data, err := ExportFacts(f)
		if err != nil {
			t.Fatal(err)
		}
		in, err := ImportJSON(data)
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(compacted(f), compacted(in.Facts)); d != "" {
			t.Fatalf("read back:\n%s", d)
		}
		l := newTestLog("Ada")
		if _, _, err := l.Apply("import", in.Changes()...); err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(compacted(f), compacted(l.Facts())); d != "" {
			t.Fatalf("brought into an empty bout:\n%s", d)
		}
		if group, _, err := l.Apply("import again", in.Changes()...); err != nil || group != "" {
			t.Fatalf("importing the same again made edits (%v)", err)
		}
	})
}

// compacted removes the indentation that raw records take on in an export.
func compacted(f Facts) Facts {
	for k, v := range f.Extra {
		f.Extra[k], _ = normalValue(v)
	}
	return f
}

// fullTags is one tag of every kind with every field set that can be.
func fullTags() []Tag {
	at := OnFilm("f1", 65_340*time.Millisecond)
	later := OnFilm("f1", 90*time.Second)
	w := Who{Number: "00", Seen: Unsure}
	base := func(id ID, k Kind, s Side) Tag {
		return Tag{ID: id, Kind: k, Place: at, Jam: "j1", Side: s, Who: w, Note: "<b> & ñ", Source: "listener", Confidence: 0.25}
	}
	jam := base("j1", KindJam, NoSide)
	jam.JamInfo = &JamInfo{Period: 1, Order: 2.5, Overtime: true, End: later, Ended: EndCalled}
	lineup := base("l1", KindLineup, Home)
	lineup.Lineup = &LineupInfo{Jammer: w, Pivot: Who{Number: "0"}, Blockers: []Who{{Number: "7"}, {Seen: NotSeen}, {Number: "8"}}}
	trip := base("t1", KindTrip, Away)
	trip.Trip = &TripInfo{Number: 2, Points: 4, Open: true, Start: OnFilm("f1", time.Second)}
	event := base("e1", KindEvent, Home)
	event.Event = &Event{
		At: -time.Second, What: EvPass, Who: SkaterRef{Home, "0"}, Whom: SkaterRef{Away, "9"}, By: ByOpponent,
		Code: "B", Zone: ZoneAhead, Moved: MovedPassed, Tags: []ID{"t1"}, Note: "n",
	}
	star := base("s1", KindStarPass, Home)
	star.StarPass = &StarPassInfo{To: w, Complete: true}
	penalty := base("p1", KindPenalty, Home)
	penalty.Penalty = &PenaltyInfo{Code: "X", Seen: Unsure, Act: JamAlone("j1"), Words: "cut", Expelled: true, Served: w}
	box := base("b1", KindBox, Home)
	box.Box = &BoxInfo{Stand: later, Out: later, Penal: []ID{"p1"}, Role: Pivot}
	timeout := base("o1", KindTimeout, NoSide)
	timeout.Timeout = &TimeoutInfo{End: later, Clock: 12 * time.Minute, AfterJam: "j1"}
	review := base("r1", KindReview, Away)
	review.Review = &ReviewInfo{End: later, Clock: time.Minute, AfterJam: "j1", Retained: true, Subject: "s", Outcome: "o"}
	drawing := base("x7", KindDrawing, NoSide)
	drawing.Place = OnFilm("f1", time.Second)
	drawing.Drawing = &Drawing{
		Shape: ShapeMarker, Points: []Point{{0.25, 0.5}}, End: OnFilm("f1", 2*time.Second),
		Colour: "#12aBcd", Width: 0.01, Text: "t", Number: 3,
	}
	example := base("x8", KindExample, NoSide)
	example.Place = OnFilm("f1", time.Second)
	example.Example = &Example{
		Ask: AskPenalty, Asked: Words{"": "What do you call?"}, End: OnFilm("f1", 3*time.Second), Signal: OnFilm("f1", 2*time.Second),
		Called: Answer{ChoiceYes, "X", "4.2.2"}, Verdicts: []Answer{{ChoiceYes, "X", "4.2.2"}, {ChoiceWarning, "I", ""}},
		Impact: ImpactSome, Difficulty: 3, Angle: "inside", Words: "w", Sensitive: true, Edition: "2025", Source: "p1", By: "me",
	}
	return []Tag{
		example, drawing, jam, lineup, trip, event, star, penalty, box, timeout, review,
		base("x1", KindLead, Home), base("x2", KindLost, Home), base("x3", KindCall, Home), base("x4", KindInjury, NoSide),
		base("x5", KindNote, NoSide), base("x6", KindMark, NoSide),
	}
}

func TestTagsRoundTrip(t *testing.T) {
	tags := map[ID]Tag{}
	kinds := map[Kind]bool{}
	for _, tag := range fullTags() {
		if err := CheckTag(tag); err != nil {
			t.Errorf("%s: %v", tag.ID, err)
		}
		tags[tag.ID], kinds[tag.Kind] = tag, true
	}
	if len(kinds) != len(tagKinds) {
		t.Errorf("%d kinds tried of %d", len(kinds), len(tagKinds))
	}
	data, err := ExportTags(tags)
	if err != nil {
		t.Fatal(err)
	}
	in, err := ImportJSON(data)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(SortTags(tags), in.Tags); d != "" {
		t.Errorf("read back:\n%s", d)
	}
	bare, _ := json.Marshal(SortTags(tags))
	if in, err = ImportJSON(bare); err != nil || len(in.Tags) != len(tags) {
		t.Errorf("a bare list gives %d tags, %v", len(in.Tags), err)
	}
}

func TestTagsWithoutIDsAreTheSameRecordsForEverybody(t *testing.T) {
	list := []byte(`[{"kind":"mark","place":{"footage":"f","film":1}},{"kind":"mark","place":{"footage":"f","film":1}},{"kind":"note","place":{},"note":"x"}]`)
	one, err := ImportJSON(list)
	if err != nil {
		t.Fatal(err)
	}
	two, _ := ImportJSON([]byte(strings.Replace(string(list), `"note":"x"`, "\n \"note\" : \"x\"", 1)))
	if d := cmp.Diff(one, two); d != "" {
		t.Errorf("IDs differ between two reads:\n%s", d)
	}
	if one.Tags[0].ID == one.Tags[1].ID || one.Tags[0].ID == "" {
		t.Errorf("two equal marks got the IDs %q and %q", one.Tags[0].ID, one.Tags[1].ID)
	}
}

func TestImportErrorsSayWhere(t *testing.T) {
	cases := []struct{ name, data, want string }{
		{"nothing", ``, `not valid JSON: line 1, column 1: unexpected end of JSON input`},
		{"a syntax slip", "[\n  {\"kind\": \"note\"},\n  {\"kind\" \"note\"}\n]", `tags: not valid JSON: line 3, column 11: invalid character '"' after object key`},
		{"another program's file", `{"format":"other","schema":1}`, `format: found "other", want "whistlecut": this is no file of Whistlecut`},
		{"a newer file", `{"format":"whistlecut","schema":2,"what":"tags","tags":[]}`, `schema: found 2, this version reads up to 1: use the newer version of Whistlecut that wrote it`},
		{"no schema", `{"format":"whistlecut","what":"tags","tags":[]}`, `schema: found 0, want 1`},
		{"unknown content", `{"format":"whistlecut","schema":1,"what":"reels"}`, `what: found "reels", want history, facts or tags`},
		{"content missing", `{"format":"whistlecut","schema":1,"what":"tags"}`, `tags: it is missing`},
		{"a field of another type", `[{"id":"a","kind":"note","place":{}},{"id":"b","kind":"trip","trip":{"number":"2"}}]`, `tags[1].trip.number: found string, want a whole number in range`},
		{"a word nobody knows", `[{"id":"a","kind":"lead","side":"left"}]`, `tags[0].side: side "left": want home, away or none`},
		{"a kind nobody knows", `[{"id":"a","kind":"goal"}]`, `tags[0] (a).kind: "goal" is no kind of tag; want one of jam, line-up, lead, lost, call, star pass, trip, event, penalty, box, timeout, review, injury, note, mark, drawing, example`},
		{"an id twice", `[{"id":"a","kind":"note"},{"id":"a","kind":"mark"}]`, `tags[1] (a): the id stands twice, also at tags[0]`},
		{"points out of range", `[{"id":"a","kind":"trip","side":"home","trip":{"number":2,"points":40}}]`, `tags[0] (a).trip.points: 40 is outside 0..9`},
		{"two tags wrong", `[{"id":"a","kind":"trip"},{"id":"b","kind":"note","confidence":2}]`, "tags[0] (a).trip: it is missing; a tag of kind \"trip\" needs it\ntags[1] (b).confidence: 2 is outside 0..1"},
		{"facts: key and id differ", `{"format":"whistlecut","schema":1,"what":"facts","facts":{"footage":{"f1":{"id":"f2"}}}}`, `facts.footage.f1.id: found "f2", want the key it stands under`},
		{"facts: deep", `{"format":"whistlecut","schema":1,"what":"facts","facts":{"marks":{"m":{"id":"m","film":1.5}}}}`, `facts.marks.m.film: found number 1.5, want a whole number in range`},
		{"history: no seq", `{"format":"whistlecut","schema":1,"what":"history","edits":[{"id":"x","group":"x"}]}`, `edits[0]: edit "x": seq 0 is out of range`},
		{"history: record wrong", `{"format":"whistlecut","schema":1,"what":"history","edits":[{"id":"x","seq":1,"group":"x","record":{"collection":"tag","key":"t"},"value":{"id":"t","kind":"box"}}]}`, `edits[0]: edit "x": tag t: box: it is missing; a tag of kind "box" needs it`},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			_, err := ImportJSON([]byte(c.data))
			if want := "cannot import the JSON: " + c.want; err == nil || err.Error() != want {
				t.Errorf("error %v\nwant  %s", err, want)
			}
		})
	}
}

func TestImportIgnoresFieldsItDoesNotKnow(t *testing.T) {
	in, err := ImportJSON([]byte("\xEF\xBB\xBF" + `{"format":"whistlecut","schema":1,"what":"tags","by":"x","tags":[{"id":"a","kind":"note","mood":{"deep":[1]}}]}`))
	if err != nil || len(in.Tags) != 1 {
		t.Errorf("%d tags, %v", len(in.Tags), err)
	}
}

func TestCheckTagRefuses(t *testing.T) {
	full := map[Kind]Tag{}
	for _, tag := range fullTags() {
		full[tag.Kind] = tag
	}
	cases := []struct {
		name   string
		kind   Kind
		change func(*Tag)
		want   string
	}{
		{"no ID", KindNote, func(t *Tag) { t.ID = "" }, "id: it is missing"},
		{"no payload", KindJam, func(t *Tag) { t.JamInfo = nil }, `jam: it is missing; a tag of kind "jam" needs it`},
		{"payload of another kind", KindLead, func(t *Tag) { t.Trip = &TripInfo{} }, `trip: a tag of kind "lead" has no such field`},
		{"no side", KindTrip, func(t *Tag) { t.Side, t.Who = NoSide, Who{} }, `side: it is missing; a tag of kind "trip" needs home or away unless it is marked unsure or not seen`},
		{"place in two forms", KindNote, func(t *Tag) { t.Place.Jam = "j1" }, "place: it is both on film and in a jam; want one of them"},
		{"film time without film", KindNote, func(t *Tag) { t.Place = Place{Film: 1} }, "place.footage: it is missing; a film time needs it"},
		{"film time before the film", KindNote, func(t *Tag) { t.Place.Film = -1 }, "place.film: -1ns is outside 0s..240h0m0s"},
		{"two jams", KindNote, func(t *Tag) { t.Place = JamAlone("j2") }, `jam_id: "j1" is another jam than the place's, "j2"`},
		{"confidence no number", KindNote, func(t *Tag) { t.Confidence = math.NaN() }, "confidence: NaN is outside 0..1"},
		{"order no number", KindJam, func(t *Tag) { t.JamInfo.Order = math.Inf(1) }, "jam.order: +Inf is out of range"},
		{"jam ends before it starts", KindJam, func(t *Tag) { t.JamInfo.End.Film = 1 }, "jam.end: it ends before it begins"},
		{"jam ended by a word nobody knows", KindJam, func(t *Tag) { t.JamInfo.Ended = "rain" }, `jam.ended: "rain" is unknown; want one of time, called, injury, officials, no jammer`},
		{"five blockers", KindLineup, func(t *Tag) { t.Lineup.Blockers = make([]Who, 5) }, "line_up.blockers: 5 blockers, at most 4 can be fielded"},
		{"one skater twice", KindLineup, func(t *Tag) { t.Lineup.Blockers[2].Number = "7" }, "line_up.blockers[2]: number 7 is fielded twice, also as line_up.blockers[0]"},
		{"seen number though not seen", KindLead, func(t *Tag) { t.Who = Who{"7", NotSeen} }, "who.number: number 7 is given though the skater was not seen; use unsure"},
		{"a space in a number", KindLead, func(t *Tag) { t.Who.Number = " 7" }, `who.number: number " 7" has a space at its edge`},
		{"text that is none", KindNote, func(t *Tag) { t.Note = "\xff" }, "note: it is not valid UTF-8 text"},
		{"event nobody knows", KindEvent, func(t *Tag) { t.Event.What = "dance" }, `event.what: "dance" is unknown; want one of ` + wordList(eventKinds)},
		{"pass of nobody", KindEvent, func(t *Tag) { t.Event.Whom = SkaterRef{} }, "event: a pass needs who and whom"},
		{"clock below zero", KindTimeout, func(t *Tag) { t.Timeout.Clock = -time.Second }, "timeout.clock: -1s is outside 0s..24h0m0s"},
		{"left the box before sitting", KindBox, func(t *Tag) { t.Box.Out.Film = 0 }, "box.out: it ends before it begins"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			tag := clone(t, full[c.kind])
			c.change(&tag)
			err := CheckTag(tag)
			if err == nil || err.Error() != c.want {
				t.Errorf("error %v\nwant  %s", err, c.want)
			}
		})
	}
}

func clone(t *testing.T, tag Tag) Tag {
	b, err := json.Marshal(tag)
	if err != nil {
		t.Fatal(err)
	}
	var out Tag
	if err := json.Unmarshal(b, &out); err != nil {
		t.Fatal(err)
	}
	return out
}

// FuzzImportJSON reads arbitrary bytes; what is accepted must survive being
// written and read again.
func FuzzImportJSON(f *testing.F) {
	// Small seeds: the fuzzer spends its time on changing them, not on shrinking them.
	for _, tag := range fullTags() {
		b, err := json.Marshal([]Tag{tag})
		if err != nil {
			f.Fatal(err)
		}
		f.Add(b)
	}
	l := newTestLog("Ada")
	mustApply(f, l, "a", SetTeam(Home, Team{Name: "H"}), Change{Record{"reel", "r"}, []byte(`[1]`)})
	mustApply(f, l, "b", SetSheet(StoredSheet{Data: []byte{1}}), SetFootage(Footage{ID: "f1"}))
	if _, err := l.Undo(); err != nil {
		f.Fatal(err)
	}
	for _, export := range []func() ([]byte, error){
		func() ([]byte, error) { return ExportHistory(l) },
		func() ([]byte, error) { return ExportFacts(l.Facts()) },
	} {
		data, err := export()
		if err != nil {
			f.Fatal(err)
		}
		var small bytes.Buffer
		if err := json.Compact(&small, data); err != nil {
			f.Fatal(err)
		}
		f.Add(small.Bytes())
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		in, err := ImportJSON(data)
		if err != nil {
			return
		}
		l := newTestLog("Ada")
		if in.What == ExchangeHistory {
			if _, err := l.Add(in.Edits...); err != nil {
				return // two versions of one edit
			}
			out, err := ExportHistory(l)
			if err != nil {
				t.Fatal(err)
			}
			again, err := ImportJSON(out)
			if err != nil {
				t.Fatalf("what was written is not read: %v\n%s", err, out)
			}
			if d := cmp.Diff(l.Edits(), again.Edits); d != "" {
				t.Fatalf("read back:\n%s", d)
			}
			return
		}
		if _, _, err := l.Apply("import", in.Changes()...); err != nil {
			t.Fatalf("what was read is not applied: %v", err)
		}
		out, err := ExportFacts(l.Facts())
		if err != nil {
			t.Fatal(err)
		}
		again, err := ImportJSON(out)
		if err != nil {
			t.Fatalf("what was written is not read: %v\n%s", err, out)
		}
		if group, edits, err := l.Apply("import", again.Changes()...); err != nil || group != "" {
			t.Fatalf("read back it is not the same: %v %v", edits, err)
		}
	})
}

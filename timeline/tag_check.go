package timeline

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"
	"unicode/utf8"
)

// FieldError says which field of a record is wrong, and how. The path is as the
// JSON has it: "trip.points", "line_up.blockers[2].number".
type FieldError struct {
	Path string
	Text string
}

func (e *FieldError) Error() string {
	if e.Path == "" {
		return e.Text
	}
	return e.Path + ": " + e.Text
}

func fieldErr(path, format string, args ...any) error {
	return &FieldError{Path: path, Text: fmt.Sprintf(format, args...)}
}

// underPath puts a path before that of a field error.
func underPath(path string, err error) error {
	if f, ok := err.(*FieldError); ok {
		return &FieldError{Path: joinPath(path, f.Path), Text: f.Text}
	}
	return fieldErr(path, "%s", err)
}

// Bounds of what CheckTag lets in. They are far beyond any bout and only keep
// out values that are mistakes of unit or sign; common practice, no source.
const (
	longestFilm    = 240 * time.Hour
	longestJamTime = 24 * time.Hour
	longestID      = 200
	longestNumber  = 12     // letters of a skater's number
	longestCode    = 12     // letters of a penalty code
	longestNote    = 20_000 // letters of a note
	mostPoints     = 9      // one digit in a box of the score sheet
	mostTrips      = 99
	mostPeriods    = 9
)

// tagKinds are the kinds of tag this version knows.
var tagKinds = []Kind{
	KindJam, KindLineup, KindLead, KindLost, KindCall, KindStarPass, KindTrip, KindEvent, KindPenalty,
	KindBox, KindTimeout, KindReview, KindInjury, KindNote, KindMark, KindDrawing, KindExample,
}

// sidedKinds are the kinds that say something of one team; only a tag that is
// not sure may leave the team open.
var sidedKinds = []Kind{KindLineup, KindLead, KindLost, KindCall, KindStarPass, KindTrip, KindPenalty, KindBox}

// CheckTag checks a tag that comes from outside: exactly the payload of its
// kind, known words, one form of place, times and numbers that can be. The error
// is a *FieldError and names the field.
func CheckTag(t Tag) error {
	if !slices.Contains(tagKinds, t.Kind) {
		return fieldErr("kind", "%q is no kind of tag; want one of %s", t.Kind, wordList(tagKinds))
	}
	c := &checker{}
	c.id("id", t.ID, true)
	c.keep(checkPayload(t))
	c.place("place", t.Place)
	c.id("jam_id", t.Jam, false)
	if t.Place.Footage == "" && t.Place.Jam != "" && t.Jam != "" && t.Jam != t.Place.Jam {
		c.fail("jam_id", "%q is another jam than the place's, %q", t.Jam, t.Place.Jam)
	}
	c.side("side", t.Side)
	if t.Side == NoSide && slices.Contains(sidedKinds, t.Kind) && t.Seen == Sure && t.Who.Seen == Sure {
		c.fail("side", "it is missing; a tag of kind %q needs home or away unless it is marked unsure or not seen", t.Kind)
	}
	c.who("who", t.Who)
	c.seen("seen", t.Seen)
	c.text("note", t.Note, longestNote)
	c.text("source", t.Source, longestID)
	if !(t.Confidence >= 0 && t.Confidence <= 1) { // also no number at all
		c.fail("confidence", "%v is outside 0..1", t.Confidence)
	}
	if c.err == nil {
		c.payload(t)
	}
	return c.err
}

// checkPayload checks that exactly the payload of the tag's kind is set.
func checkPayload(t Tag) error {
	if t.Kind == "" {
		return fieldErr("kind", "it is missing")
	}
	for _, p := range []struct {
		name string
		set  bool
		kind Kind
	}{
		{"jam", t.JamInfo != nil, KindJam},
		{"line_up", t.Lineup != nil, KindLineup},
		{"trip", t.Trip != nil, KindTrip},
		{"event", t.Event != nil, KindEvent},
		{"star_pass", t.StarPass != nil, KindStarPass},
		{"penalty", t.Penalty != nil, KindPenalty},
		{"box", t.Box != nil, KindBox},
		{"timeout", t.Timeout != nil, KindTimeout},
		{"review", t.Review != nil, KindReview},
		{"drawing", t.Drawing != nil, KindDrawing},
		{"example", t.Example != nil, KindExample},
	} {
		switch {
		case p.set && p.kind != t.Kind:
			return fieldErr(p.name, "a tag of kind %q has no such field", t.Kind)
		case !p.set && p.kind == t.Kind:
			return fieldErr(p.name, "it is missing; a tag of kind %q needs it", t.Kind)
		}
	}
	return nil
}

func (c *checker) payload(t Tag) {
	switch t.Kind {
	case KindJam:
		p := t.JamInfo
		c.whole("jam.period", p.Period, 1, mostPeriods)
		if math.IsNaN(p.Order) || math.Abs(p.Order) > 1e9 {
			c.fail("jam.order", "%v is out of range", p.Order)
		}
		c.place("jam.end", p.End)
		oneOf(c, "jam.ended", p.Ended, EndUnknown, EndTime, EndCalled, EndInjury, EndOfficial, EndNoJammer)
		c.after("jam.end", t.Place, p.End)
	case KindLineup:
		c.lineup(t.Lineup)
	case KindTrip:
		p := t.Trip
		c.whole("trip.number", p.Number, 1, mostTrips)
		c.whole("trip.points", p.Points, 0, mostPoints)
		c.place("trip.start", p.Start)
		c.after("place", p.Start, t.Place)
	case KindEvent:
		c.event(t.Event)
	case KindStarPass:
		c.who("star_pass.to", t.StarPass.To)
	case KindPenalty:
		p := t.Penalty
		c.text("penalty.code", p.Code, longestCode)
		c.seen("penalty.code_seen", p.Seen)
		c.place("penalty.act", p.Act)
		c.text("penalty.words", p.Words, longestNote)
		c.who("penalty.served", p.Served)
	case KindBox:
		p := t.Box
		c.place("box.stand", p.Stand)
		c.place("box.out", p.Out)
		c.after("box.stand", t.Place, p.Stand)
		c.after("box.out", t.Place, p.Out)
		c.ids("box.penalties", p.Penal)
		c.role("box.role", p.Role)
	case KindTimeout:
		c.place("timeout.end", t.Timeout.End)
		c.after("timeout.end", t.Place, t.Timeout.End)
		c.span("timeout.clock", t.Timeout.Clock, 0, longestJamTime)
		c.id("timeout.after_jam", t.Timeout.AfterJam, false)
	case KindReview:
		p := t.Review
		c.place("review.end", p.End)
		c.after("review.end", t.Place, p.End)
		c.span("review.clock", p.Clock, 0, longestJamTime)
		c.id("review.after_jam", p.AfterJam, false)
		c.text("review.subject", p.Subject, longestNote)
		c.text("review.outcome", p.Outcome, longestNote)
	case KindDrawing:
		c.drawing(t)
	case KindExample:
		c.example(t)
	}
}

func (c *checker) lineup(p *LineupInfo) {
	c.who("line_up.jammer", p.Jammer)
	c.who("line_up.pivot", p.Pivot)
	if len(p.Blockers) > 4 { // four when no pivot is fielded (Rules 2.2)
		c.fail("line_up.blockers", "%d blockers, at most 4 can be fielded", len(p.Blockers))
		return
	}
	seen := map[Number]string{}
	once := func(path string, n Number) {
		if n == "" {
			return
		}
		if other, ok := seen[n]; ok {
			c.fail(path, "number %s is fielded twice, also as %s", n, other)
		}
		seen[n] = path
	}
	once("line_up.jammer", p.Jammer.Number)
	once("line_up.pivot", p.Pivot.Number)
	for i, w := range p.Blockers {
		path := fmt.Sprintf("line_up.blockers[%d]", i)
		c.who(path, w)
		once(path, w.Number)
	}
}

var eventKinds = []EventKind{
	EvPass, EvZone, EvNoPack, EvPack, EvDown, EvUp, EvOut, EvIn, EvTakesOff, EvLands, EvStarOff, EvStarOn,
	EvStripeOff, EvStripeOn, EvStarGrip, EvStarRelease, EvStarLost, EvStarTaken, EvPenalised, EvSits, EvStands,
	EvFreed, EvReturns, EvLeavesBox, EvOff, EvOn, EvCalls, EvJamEnds,
}

func (c *checker) event(p *Event) {
	c.span("event.at", p.At, -longestJamTime, longestJamTime)
	oneOf(c, "event.what", p.What, eventKinds...)
	c.skater("event.who", p.Who)
	c.skater("event.whom", p.Whom)
	if p.What == EvPass && (p.Who.IsZero() || p.Whom.IsZero()) {
		c.fail("event", "a pass needs who and whom")
	}
	oneOf(c, "event.by", p.By, BySelf, ByTeammate, ByOpponent, ByPlay, ByOfficial)
	c.text("event.code", p.Code, longestCode)
	oneOf(c, "event.zone", p.Zone, ZoneUnknown, ZoneBehind, ZoneWithin, ZoneAhead)
	oneOf(c, "event.moved", p.Moved, MovedPasser, MovedPassed)
	c.ids("event.tags", p.Tags)
	c.text("event.note", p.Note, longestNote)
}

// checker keeps the first thing that is wrong.
type checker struct{ err error }

func (c *checker) keep(err error) {
	if c.err == nil {
		c.err = err
	}
}

func (c *checker) fail(path, format string, args ...any) { c.keep(fieldErr(path, format, args...)) }

func (c *checker) text(path, s string, most int) {
	if !utf8.ValidString(s) {
		c.fail(path, "it is not valid UTF-8 text")
	} else if n := utf8.RuneCountInString(s); n > most {
		c.fail(path, "%d characters, at most %d are kept", n, most)
	}
}

func (c *checker) id(path string, id ID, needed bool) {
	if needed && id == "" {
		c.fail(path, "it is missing")
	}
	c.text(path, string(id), longestID)
}

func (c *checker) ids(path string, ids []ID) {
	for i, id := range ids {
		c.id(fmt.Sprintf("%s[%d]", path, i), id, true)
	}
}

func (c *checker) number(path string, n Number) {
	c.text(path, string(n), longestNumber)
	if strings.TrimSpace(string(n)) != string(n) {
		c.fail(path, "number %q has a space at its edge", n)
	}
}

func (c *checker) who(path string, w Who) {
	c.number(path+".number", w.Number)
	c.seen(path+".seen", w.Seen)
	if w.Seen == NotSeen && w.Number != "" {
		c.fail(path+".number", "number %s is given though the skater was not seen; use unsure", w.Number)
	}
}

func (c *checker) skater(path string, r SkaterRef) {
	c.side(path+".side", r.Side)
	c.number(path+".number", r.Number)
}

func (c *checker) seen(path string, s Seen) {
	if s > NotSeen {
		c.fail(path, "%d is no certainty", s)
	}
}

func (c *checker) side(path string, s Side) {
	if s > Away {
		c.fail(path, "%d is no side", s)
	}
}

func (c *checker) role(path string, r Role) {
	if r > Blocker {
		c.fail(path, "%d is no role", r)
	}
}

func (c *checker) whole(path string, n, low, high int) {
	if n < low || n > high {
		c.fail(path, "%d is outside %d..%d", n, low, high)
	}
}

func (c *checker) span(path string, d, low, high time.Duration) {
	if d < low || d > high {
		c.fail(path, "%s is outside %s..%s", d, low, high)
	}
}

// place checks that exactly one of a place's forms holds, with a time that can be.
func (c *checker) place(path string, p Place) {
	c.id(path+".footage", p.Footage, false)
	c.id(path+".jam", p.Jam, false)
	switch {
	case p.Footage != "" && (p.Jam != "" || p.InJam || p.Offset != 0):
		c.fail(path, "it is both on film and in a jam; want one of them")
	case p.Footage == "" && p.Film != 0:
		c.fail(path+".footage", "it is missing; a film time needs it")
	case p.Jam == "" && (p.InJam || p.Offset != 0):
		c.fail(path+".jam", "it is missing; a jam time needs it")
	case !p.InJam && p.Offset != 0:
		c.fail(path+".in_jam", "it is not true, but there is an offset")
	}
	c.span(path+".film", p.Film, 0, longestFilm)
	c.span(path+".offset", p.Offset, -longestJamTime, longestJamTime)
}

// after checks that the later of two places is not before the earlier, where
// both are on one clock.
func (c *checker) after(path string, earlier, later Place) {
	film := earlier.Footage != "" && earlier.Footage == later.Footage && later.Film < earlier.Film
	jam := earlier.InJam && later.InJam && earlier.Jam == later.Jam && later.Offset < earlier.Offset
	if film || jam {
		c.fail(path, "it ends before it begins")
	}
}

func oneOf[T ~string](c *checker, path string, got T, want ...T) {
	if !slices.Contains(want, got) {
		c.fail(path, "%q is unknown; want one of %s", got, wordList(want))
	}
}

func wordList[T ~string](list []T) string {
	var out []string
	for _, w := range list {
		if w != "" {
			out = append(out, string(w))
		}
	}
	return strings.Join(out, ", ")
}

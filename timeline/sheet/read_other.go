package sheet

import (
	"strings"
	"time"

	"whistlecut/timeline"
)

// clock reads jam durations and period clock.
func (r *reader) clock() {
	jamCol := r.blk.column(FieldJam, 0)
	if jamCol < 0 {
		return
	}
	r.rows(func() {
		if r.periodLine(jamCol) || isTotalLine(r.text(jamCol)) {
			return
		}
		period, jam, ok := parseJam(r.text(jamCol))
		if !ok {
			return
		}
		filled := false
		for _, f := range [...]Field{FieldDuration, FieldClock, FieldClockEnd} {
			if c := r.blk.column(f, 0); c >= 0 && r.text(c) != "" {
				filled = true
			}
		}
		if !filled {
			return
		}
		c := r.step(timeline.NoSide, period, jam)
		r.s.Clock = append(r.s.Clock, JamClock{
			Period: c.period, Jam: c.jam,
			Duration: r.gameTime(r.blk.column(FieldDuration, 0)),
			Start:    r.gameTime(r.blk.column(FieldClock, 0)),
			End:      r.gameTime(r.blk.column(FieldClockEnd, 0)),
		})
	})
}

func (r *reader) gameTime(c int) timeline.Cell[time.Duration] {
	return cellOf(r, c, "a time", parseGameTime)
}

// timeouts reads timeouts and reviews.
func (r *reader) timeouts() {
	b := r.blk
	r.rows(func() {
		t := Timeout{
			Period: r.period(b.column(FieldPeriod, 0)), AfterJam: r.number(b.column(FieldJam, 0), "a jam number"),
			Clock: r.gameTime(b.column(FieldClock, 0)), Length: r.gameTime(b.column(FieldDuration, 0)),
			Retained: r.mark(b.column(FieldRetained, 0)), Side: r.side(), Kind: r.word(b.column(FieldType, 0)),
		}
		filled := t.Clock.State > timeline.CellBlank || t.Kind.State > timeline.CellBlank || t.Length.State > timeline.CellBlank
		if c := b.column(FieldTeam, 0); c >= 0 && r.text(c) != "" {
			filled = true
		}
		if !filled {
			return
		}
		words := t.Kind.Value
		if t.Side == timeline.NoSide && !officialWord(words) {
			t.Side = r.sideNamed(words)
		}
		if t.Kind.State == timeline.CellKnown {
			t.Kind.Value = timeoutKind(words)
		}
		r.s.Timeouts = append(r.s.Timeouts, t)
	})
}

// timeoutKind reads a timeout's type; an unknown word is kept as it stands.
func timeoutKind(s string) string {
	for _, w := range strings.Fields(plain(s)) {
		switch w {
		case "review", "revision", "uberpruefung", "uberprufung", "ueberpruefung", "or", "rev", "reclamation", "einspruch", "reclamacion":
			return KindReview
		}
	}
	for _, w := range strings.Fields(plain(s)) {
		switch w {
		case "timeout", "to", "tto", "oto", "ot", "time", "muerto", "tiempo", "mort", "temps", "auszeit", "team", "official", "oficial", "officiel", "offiziell", "offizielle":
			return KindTimeout
		}
	}
	return s
}

// box reads box visits.
func (r *reader) box() {
	b := r.blk
	r.rows(func() {
		side := r.side()
		skater := r.skater(b.column(FieldSkater, 0))
		if side == timeline.NoSide || skater.State == timeline.CellBlank {
			return
		}
		v := BoxVisit{
			Side: side, Skater: skater, Period: r.period(b.column(FieldPeriod, 0)),
			Jam: r.number(b.column(FieldJam, 0), "a jam number"), OutJam: r.number(b.column(FieldOutJam, 0), "a jam number"),
			Role: cellOf(r, b.column(FieldRole, 0), "a role", parseRole), Between: r.mark(b.column(FieldBetween, 0)),
			In: r.time(b.column(FieldIn, 0)), Stand: r.time(b.column(FieldStand, 0)), Done: r.time(b.column(FieldDone, 0)),
		}
		r.s.Box = append(r.s.Box, v)
	})
}

// roster reads numbers and names.
func (r *reader) roster() {
	number, name := r.blk.column(FieldSkater, 0), r.blk.column(FieldName, 0)
	r.rows(func() {
		side := r.side()
		s := r.text(number)
		if side == timeline.NoSide || s == "" || !isSkaterNumber(s) {
			return
		}
		t := &r.s.Teams[side.Index()]
		t.Roster = append(t.Roster, RosterLine{Number: r.skater(number), Name: r.word(name)})
	})
}

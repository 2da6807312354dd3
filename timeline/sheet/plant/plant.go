package plant

import (
	"fmt"
	"math/rand/v2"

	"whistlecut/timeline"
	"whistlecut/timeline/sheet"
)

// Planted is one mistake that was put into a sheet.
type Planted struct {
	Cause  sheet.Cause
	Table  sheet.Kind
	Period int
	Jam    int           // the jam it is about, as numbered before any mistake
	Side   timeline.Side // NoSide: both sheets
	Skater timeline.Number
	Text   string
}

func (p Planted) String() string {
	return fmt.Sprintf("%s: period %d, jam %d, %s: %s", p.Cause, p.Period, p.Jam, p.Side, p.Text)
}

// Classes are the kinds of mistake that Plant can make, all of which it chooses
// from when none are named.
var Classes = []sheet.Cause{
	sheet.CauseTripDigit, sheet.CauseShifted, sheet.CauseWrongJammer, sheet.CauseSwappedTeams, sheet.CauseMissingRow,
	sheet.CauseDoubledRow, sheet.CauseStarPass, sheet.CauseLead, sheet.CauseLost, sheet.CauseRunning, sheet.CauseJamTotal,
	sheet.CausePenMissing, sheet.CausePenJam, sheet.CausePenCode, sheet.CauseBoxedMissing, sheet.CauseBoxedRole,
	sheet.CauseFouledFielded, sheet.CauseUnknown,
}

// Plant puts up to n mistakes of the named classes (all without any) into a copy
// of a faultless sheet. Equal seeds give equal mistakes. A class for which the
// sheet has no place (no star pass, nobody fouled out) is passed over.
//
// Mistakes may stand in one jam and even in one row; only what nobody could tell
// apart is avoided: two mistakes in the trips or totals of one line (two wrong
// digits can look like a shift, or cancel), two running total slips in
// neighbouring lines (the second looks like the first put right), anything else
// in or beside a line that is missing, doubled or swapped as a whole, and two
// mistakes at one skater's penalties that share a jam or a code.
func Plant(s sheet.Sheet, seed uint64, n int, classes ...sheet.Cause) (sheet.Sheet, []Planted) {
	if len(classes) == 0 {
		classes = Classes
	}
	p := &planter{s: clone(s), rng: rand.New(rand.NewPCG(seed, 0x51137)), used: map[string]bool{}}
	p.index()
	var out []Planted
	open := append([]sheet.Cause(nil), classes...)
	for len(out) < n && len(open) > 0 {
		k := p.rng.IntN(len(open))
		made, ok := p.plant(open[k])
		if !ok {
			open = append(open[:k:k], open[k+1:]...) // no place left for this class
			continue
		}
		out = append(out, made)
	}
	p.finish()
	return p.s, out
}

// planter is the state of one planting.
type planter struct {
	s    sheet.Sheet
	rng  *rand.Rand
	used map[string]bool
	jams []jamKey
	// Row changes that move other rows wait for finish, so that places stay valid.
	cuts []cut
}

type jamKey struct{ period, jam int }

// cut is a whole line to be left out or doubled at the end.
type cut struct {
	jamKey
	side     timeline.Side
	double   bool
	renumber bool
	carry    bool // the game totals take it in
}

func clone(s sheet.Sheet) sheet.Sheet {
	s.Rows = append([]timeline.JamRow(nil), s.Rows...)
	for i := range s.Rows {
		s.Rows[i].Trips = append([]timeline.Cell[int](nil), s.Rows[i].Trips...)
	}
	s.Penalties = append([]sheet.Penalty(nil), s.Penalties...)
	s.Lineups = append([]sheet.Lineup(nil), s.Lineups...)
	for i := range s.Lineups {
		s.Lineups[i].Blockers = append([]sheet.Slot(nil), s.Lineups[i].Blockers...)
	}
	s.Totals = append([]sheet.Total(nil), s.Totals...)
	return s
}

func (p *planter) index() {
	seen := map[jamKey]bool{}
	for _, r := range p.s.Rows {
		k := jamKey{r.Period, r.Jam}
		if !seen[k] {
			seen[k] = true
			p.jams = append(p.jams, k)
		}
	}
}

func (p *planter) plant(c sheet.Cause) (Planted, bool) {
	make := map[sheet.Cause]func() (Planted, bool){
		sheet.CauseTripDigit:     p.tripDigit,
		sheet.CauseShifted:       p.shifted,
		sheet.CauseWrongJammer:   p.wrongJammer,
		sheet.CauseSwappedTeams:  p.swapped,
		sheet.CauseMissingRow:    func() (Planted, bool) { return p.wholeLine(false) },
		sheet.CauseDoubledRow:    func() (Planted, bool) { return p.wholeLine(true) },
		sheet.CauseStarPass:      p.starPass,
		sheet.CauseLead:          p.lead,
		sheet.CauseLost:          p.lost,
		sheet.CauseRunning:       p.running,
		sheet.CauseJamTotal:      p.jamTotal,
		sheet.CausePenMissing:    p.penMissing,
		sheet.CausePenJam:        p.penJam,
		sheet.CausePenCode:       p.penCode,
		sheet.CauseBoxedMissing:  p.boxedMissing,
		sheet.CauseBoxedRole:     p.boxedRole,
		sheet.CauseFouledFielded: p.fouledFielded,
		sheet.CauseUnknown:       p.unknown,
	}[c]
	if make == nil {
		return Planted{}, false
	}
	for range 60 {
		if m, ok := make(); ok {
			m.Cause = c
			return m, true
		}
	}
	return Planted{}, false
}

func (p *planter) pickJam() jamKey { return p.jams[p.rng.IntN(len(p.jams))] }

func (p *planter) pickSide() timeline.Side { return timeline.Sides[p.rng.IntN(2)] }

func (p *planter) coin() bool { return p.rng.IntN(2) == 0 }

func place(k jamKey, side timeline.Side, what string) string {
	return fmt.Sprintf("%d/%d/%s/%s", k.period, k.jam, side, what)
}

// free reports that nothing was planted there yet, nor in the line as a whole.
func (p *planter) free(k jamKey, side timeline.Side, what string) bool {
	return !p.used[place(k, side, what)] && !p.used[place(k, side, "line")]
}

func (p *planter) take(k jamKey, side timeline.Side, what string) {
	p.used[place(k, side, what)] = true
	p.used[place(k, side, "any")] = true
}

// rows are the indices of a line's rows: first, SP.
func (p *planter) rows(k jamKey, side timeline.Side) []int {
	var out []int
	for i, r := range p.s.Rows {
		if r.Side == side && r.Period == k.period && r.Jam == k.jam && !r.Spacer {
			out = append(out, i)
		}
	}
	return out
}

// carry adds d to the game totals of a side from row i on.
func (p *planter) carry(i, d int) {
	for n := i; n < len(p.s.Rows); n++ {
		if r := &p.s.Rows[n]; r.Side == p.s.Rows[i].Side && r.GameTotal.State == timeline.CellKnown {
			r.GameTotal.Value += d
		}
	}
}

func known(c timeline.Cell[int]) bool { return c.State == timeline.CellKnown }

func (p *planter) made(k jamKey, side timeline.Side, format string, args ...any) Planted {
	return Planted{Table: sheet.KindScore, Period: k.period, Jam: k.jam, Side: side, Text: fmt.Sprintf(format, args...)}
}

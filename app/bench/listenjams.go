package bench

import (
	"context"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"sort"
	"time"

	"whistlecut/export/demofilm/sound"
	"whistlecut/timeline"
	"whistlecut/timeline/align"
	"whistlecut/timeline/simulate"
	"whistlecut/timeline/whistle"
)

// JamsRow is one row of the table of jams placed: a tier of sound and a kind of
// sheet.
type JamsRow struct {
	Tier, Sheet string
	On          int     // jams on film
	Quarter     float64 // share within 0.25 s
	Second      float64 // share within 1 s
	Wrong       int     // placed and more than 1 s off
	SureWrong   int     // of these with confidence 0.9 or more
	Brier       float64 // of the confidence that a jam is within 1 s
	Sure        float64 // share of the placed with confidence 0.9 or more
	SureRight   float64 // share of these within 1 s: the coverage
	Aim         float64 // of Quarter; 0 where only honesty counts
}

// paperKind is how well the sheet was kept.
type paperKind struct {
	name string
	late float64 // share of the bout that the film misses at its beginning
	kept func(r *rand.Rand, d time.Duration) time.Duration
	aims map[string]float64
}

func papers() []paperKind {
	return []paperKind{
		{"durations kept", 0, func(_ *rand.Rand, d time.Duration) time.Duration { return d.Round(time.Second) }, map[string]float64{"easy": 1, "middle": 0.97, "hard": 0.85}},
		// A stopwatch a second or two off, one in twenty read wrong.
		{"loosely kept", 0, func(r *rand.Rand, d time.Duration) time.Duration {
			e := r.NormFloat64() * 1.5
			if r.Float64() < 0.05 {
				e = r.NormFloat64() * 15
			}
			return max(d+time.Duration(e*float64(time.Second)), 5*time.Second).Round(time.Second)
		}, map[string]float64{"easy": 1, "middle": 0.97, "hard": 0.85}},
		{"bare, film late", 0.3, nil, map[string]float64{"easy": 0.5, "middle": 0.5, "hard": 0.5}},
	}
}

// leastForJams is the confidence from which on blasts help in lining up, as the
// program does it (package app).
const leastForJams = 0.12

// jamTally counts one row.
type jamTally struct {
	on, placed, quarter, second, wrong, sureWrong, sure, sureRight int
	brier                                                          float64
}

func (t *jamTally) add(o jamTally) {
	t.on, t.placed, t.quarter, t.second = t.on+o.on, t.placed+o.placed, t.quarter+o.quarter, t.second+o.second
	t.wrong, t.sureWrong, t.sure, t.sureRight = t.wrong+o.wrong, t.sureWrong+o.sureWrong, t.sure+o.sure, t.sureRight+o.sureRight
	t.brier += o.brier
}

func (t *jamTally) row(tier, paper string, aim float64) JamsRow {
	return JamsRow{
		Tier: tier, Sheet: paper, On: t.on, Quarter: ratio(t.quarter, t.on), Second: ratio(t.second, t.on),
		Wrong: t.wrong, SureWrong: t.sureWrong, Brier: t.brier / max(1, float64(t.placed)),
		Sure: ratio(t.sure, t.placed), SureRight: ratio(t.sureRight, t.sure), Aim: aim,
	}
}

// ListenJams measures how well jams are placed by ear under the graded conditions
// and prints a table, the worst bouts below it and what music alone gives.
func ListenJams(ctx context.Context, out io.Writer, o ListenOptions) ([]JamsRow, error) {
	if o.Bouts == 0 {
		o.Bouts = 3
	}
	if o.Jams == 0 {
		o.Jams = 8
	}
	if o.Seed == 0 {
		o.Seed = 2001
	}
	family := sound.Evaluation
	if o.Tuning {
		family = sound.Tuning
	}
	fmt.Fprintf(out, "Jams placed by ear, %d bouts of %d jams a row.\n", o.Bouts, o.Jams)
	fmt.Fprintf(out, "%-9s %-16s %5s %8s %6s %8s %6s %10s %6s %6s %9s\n", "tier", "sheet", "jams", "<0.25 s", "aim", "<1 s", "wrong", "sure wrong", "Brier", "sure", "coverage")
	var rows []JamsRow
	type bout struct {
		name string
		jamTally
	}
	var bouts []bout
	for _, tier := range Tiers() {
		sums := make([]jamTally, len(papers()))
		for i := range o.Bouts {
			take, err := tier.Render(family, o.Seed+uint64(i), o.Jams)
			if err != nil {
				return rows, err
			}
			for p, paper := range papers() {
				one, err := take.jams(ctx, paper)
				if err != nil {
					return rows, err
				}
				sums[p].add(one)
				bouts = append(bouts, bout{fmt.Sprintf("%s, %s, seed %d", tier.Name, paper.name, take.Seed), one})
			}
		}
		for p, paper := range papers() {
			r := sums[p].row(tier.Name, paper.name, paper.aims[tier.Name])
			rows = append(rows, r)
			r.print(out)
		}
	}
	sort.SliceStable(bouts, func(i, j int) bool {
		return ratio(bouts[i].quarter, bouts[i].on) < ratio(bouts[j].quarter, bouts[j].on)
	})
	fmt.Fprintln(out, "\nWorst bouts:")
	for _, b := range bouts[:min(6, len(bouts))] {
		fmt.Fprintf(out, "%-44s %d jams, %d within 0.25 s, %d within 1 s, %d wrong, %d of these sure\n", b.name, b.on, b.quarter, b.second, b.wrong, b.sureWrong)
	}
	return rows, musicOnly(out, family, o.Seed)
}

func (r JamsRow) print(out io.Writer) {
	aim := "-"
	if r.Aim > 0 {
		aim = fmt.Sprintf("%.2f", r.Aim)
	}
	fmt.Fprintf(out, "%-9s %-16s %5d %8.3f %6s %8.3f %6d %10d %6.3f %6.2f %9.3f\n",
		r.Tier, r.Sheet, r.On, r.Quarter, aim, r.Second, r.Wrong, r.SureWrong, r.Brier, r.Sure, r.SureRight)
}

// jams hears the take, or the part of it that is on film, and places its jams.
func (t *Take) jams(ctx context.Context, paper paperKind) (jamTally, error) {
	from := time.Duration(paper.late * float64(t.Length))
	l := whistle.New(whistle.Options{Least: leastForJams})
	if err := l.Write(t.Samples[min(int(from.Seconds()*whistle.Rate), len(t.Samples)):]); err != nil {
		return jamTally{}, err
	}
	heard, err := l.Close()
	if err != nil {
		return jamTally{}, err
	}
	film := align.Film{Footage: "film", Length: heard.Length, Series: heard.Series, Blasts: heard.Blasts}
	r := rand.New(rand.NewPCG(t.Seed, 5))
	res, err := align.Place(ctx, align.Input{Films: []align.Film{film}, Jams: knownOf(t.Game, r, paper)})
	if err != nil {
		return jamTally{}, err
	}
	return gradeJams(t.Game, res, from), nil
}

// knownOf is what a sheet tells of a game's jams.
func knownOf(g *simulate.Game, r *rand.Rand, paper paperKind) []align.Known {
	var out []align.Known
	for _, j := range g.Truth.Jams {
		k := align.Known{ID: j.ID, Period: j.Period, Number: j.Number, Overtime: j.Overtime, Lead: align.No}
		if j.Ended == timeline.EndCalled || j.Ended == timeline.EndInjury {
			k.Ended = j.Ended
		}
		for _, s := range j.Sides {
			if s.Lead {
				k.Lead = align.Yes
			}
		}
		for _, p := range g.Truth.Penalties {
			if p.Jam == j.ID {
				k.Penalties++
			}
		}
		for _, s := range g.Truth.Stoppages {
			if s.AfterJam == j.ID {
				k.Timeouts++
			}
		}
		if paper.kept != nil {
			k.Duration = paper.kept(r, j.Duration())
		}
		out = append(out, k)
	}
	return out
}

func gradeJams(g *simulate.Game, res align.Result, from time.Duration) jamTally {
	var t jamTally
	for i, j := range g.Truth.Jams {
		p := res.Jams[i]
		off := (p.Start - (j.Start - from)).Abs()
		shown := j.Start >= from
		if shown {
			t.on++
		}
		if p.Footage == "" {
			continue
		}
		t.placed++
		right := 0.0
		if shown && off <= time.Second {
			right = 1
			t.second++
			if off <= 250*time.Millisecond {
				t.quarter++
			}
		} else {
			t.wrong++
		}
		if p.Confidence >= 0.9 {
			t.sure++
			t.sureRight += int(right)
			t.sureWrong += int(1 - right)
		}
		t.brier += (p.Confidence - right) * (p.Confidence - right)
	}
	return t
}

// musicOnly hears a hall without a bout and says how sure the surest jam is.
func musicOnly(out io.Writer, family sound.Family, seed uint64) error {
	const length = 15 * time.Minute
	fmt.Fprintln(out, "\nA hall without a bout, 15 minutes each:")
	for _, tier := range Tiers() {
		o := tier.Sound(family, seed)
		o.Rate = whistle.Rate
		st, err := sound.New(sound.NewSchedule(nil, length), o)
		if err != nil {
			return fmt.Errorf("cannot make the sound of a hall without a bout: %w", err)
		}
		l := whistle.New(whistle.Options{Least: leastForJams})
		buf := make([]float32, 8192)
		for {
			n, err := st.Read(buf)
			if werr := l.Write(buf[:n]); werr != nil {
				return werr
			}
			if errors.Is(err, io.EOF) {
				break
			}
			if err != nil {
				return fmt.Errorf("cannot make the sound of a hall without a bout: %w", err)
			}
		}
		heard, err := l.Close()
		if err != nil {
			return err
		}
		film := align.Film{Footage: "film", Length: heard.Length, Series: heard.Series, Blasts: heard.Blasts}
		res, err := align.Place(context.Background(), align.Input{Films: []align.Film{film}})
		if err != nil {
			return err
		}
		most := 0.0
		for _, p := range res.Jams {
			most = max(most, p.Confidence)
		}
		fmt.Fprintf(out, "%-9s %d false blasts, %d series, %d jams proposed, surest %.3f (at most 0.3 allowed)\n", tier.Name, len(heard.Blasts), len(heard.Series), len(res.Jams), most)
	}
	return nil
}

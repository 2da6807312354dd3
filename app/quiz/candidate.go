package quiz

import (
	"cmp"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"time"

	"whistlecut/app"
	"whistlecut/app/examples"
	"whistlecut/timeline"
)

// candidate is an example that can be asked.
type candidate struct {
	bout string
	s    *app.Session
	tag  timeline.Tag
	film string // what tells one film from another, wherever it lies

	// cut is where its clip ends, and ends whether that is settled: an example nobody
	// signalled ends where the others do after their beginning.
	cut    time.Duration
	ends   bool
	length time.Duration
}

func (c *candidate) example() *timeline.Example { return c.tag.Example }

// candidates are the examples of the bouts that are wanted and can be asked, by ID,
// and those that are wanted and cannot.
func candidates(b *Bouts, o Options) (out []*candidate, left []LeftOut) {
	seen := map[timeline.ID]bool{}
	for _, x := range b.list {
		for _, t := range timeline.SortTags(x.s.Facts.Tags) {
			chosen := slices.Contains(o.Chosen, t.ID)
			if t.Example == nil || seen[t.ID] || len(o.Chosen) > 0 && !chosen || len(o.Chosen) == 0 && !o.wants(*t.Example) {
				continue
			}
			c := &candidate{bout: x.path, s: x.s, tag: t, length: o.Length}
			if why := c.fit(o, chosen); why != "" {
				left = append(left, LeftOut{Bout: x.path, Example: t.ID, Why: why})
				continue
			}
			seen[t.ID] = true // two copies of one bout hold the same examples
			out = append(out, c)
		}
	}
	left = slices.DeleteFunc(left, func(l LeftOut) bool { return seen[l.Example] })
	slices.SortFunc(out, func(a, b *candidate) int { return cmp.Compare(a.tag.ID, b.tag.ID) })
	return out, left
}

// wants reports whether an example is of what is to be drawn.
func (o Options) wants(x timeline.Example) bool {
	var first timeline.Answer
	if len(x.Verdicts) > 0 {
		first = x.Verdicts[0]
	}
	under := func(section string) bool { return within(first.Section, section) }
	return (len(o.Ask) == 0 || slices.Contains(o.Ask, x.Ask)) &&
		(len(o.Codes) == 0 || slices.Contains(o.Codes, first.Code)) &&
		(len(o.Rules) == 0 || slices.ContainsFunc(o.Rules, under)) &&
		(o.Edition == "" || x.Edition == o.Edition) &&
		x.Difficulty >= o.Easiest && (o.Hardest == 0 || x.Difficulty <= o.Hardest)
}

// within reports whether a section is another one or stands under it.
func within(section, of string) bool {
	return section == of || strings.HasPrefix(section, of+".")
}

// fit says why an example cannot be asked, "" when it can, and where its clip ends.
func (c *candidate) fit(o Options, chosen bool) string {
	x := c.example()
	switch {
	case len(x.Verdicts) == 0:
		return "it has no verdict yet"
	case x.Sensitive && !o.Sensitive:
		return "it is sensitive, and such were not asked for"
	}
	if _, err := c.s.Film(c.tag.Place.Footage); err != nil {
		return "its film is missing"
	}
	f := c.s.Facts.Footage[c.tag.Place.Footage]
	c.film = cmp.Or(f.Fingerprint, c.bout+"/"+string(f.ID))
	at := c.tag.Place.Film
	last := at + c.length - leastBefore // beyond it too little is seen before the moment
	cut, settled := o.Cuts[c.tag.ID]
	switch {
	case settled && !x.Signal.IsZero() && cut >= x.Signal.Film:
		return "the end chosen for it is not before its signal"
	case settled:
	case !x.Signal.IsZero():
		cut, settled = x.Signal.Film-o.Margin, true
	case x.Called.Choice == timeline.ChoiceYes || x.Called.Choice == timeline.ChoiceWarning:
		return "it was called, and nobody said when anything tells the call"
	default:
		if x.End.Film > last {
			return fmt.Sprintf("it lasts longer than clips of %v show", c.length)
		}
		return ""
	}
	c.cut, c.ends = cut, true
	switch {
	case cut <= at || cut <= 0:
		return "the call is signalled before anything is seen"
	case cut > last:
		return fmt.Sprintf("it lasts longer than clips of %v show", c.length)
	case f.Duration > 0 && cut > f.Duration:
		return "its film ends before"
	}
	return ""
}

// setCuts settles where the clips end that nobody signalled: so long after the
// moment's beginning as another one of the quiz, drawn by the seed, that shows the
// whole moment. So how far a clip goes does not tell whether something was called.
func setCuts(list []*candidate, o Options) {
	r := rand.New(rand.NewPCG(o.Seed, cutStream))
	for _, c := range list {
		if c.ends {
			continue
		}
		at := c.tag.Place.Film
		least := max(c.example().End.Film-at, 0)
		var after []time.Duration
		for _, s := range list {
			if d := s.cut - s.tag.Place.Film; s.ends && s.example().Ask == c.example().Ask && d >= least && !s.example().Signal.IsZero() {
				after = append(after, d)
			}
		}
		d := max(least, usualAfter)
		if len(after) > 0 {
			d = after[r.IntN(len(after))]
		}
		c.cut = at + d
		if f := c.s.Facts.Footage[c.tag.Place.Footage]; f.Duration > 0 {
			c.cut = min(c.cut, f.Duration)
		}
	}
	for _, c := range list {
		c.ends = true
	}
}

// strata are what a quiz is balanced by. The verdict counts twice: there are more
// sections and levels than verdicts, and a group that sees mostly penalties guesses
// penalties.
func (c *candidate) strata() []string {
	x := c.example()
	v := x.Verdicts[0]
	verdict := "verdict " + string(x.Ask) + " " + string(v.Choice)
	return []string{
		verdict, verdict,
		"section " + cmp.Or(v.Section, v.Code, verdict),
		fmt.Sprint("difficulty ", x.Difficulty),
	}
}

// shown is the most film its clip can show, and told what of the film gives it away.
func (c *candidate) shown() timeline.TimeRange {
	at := c.tag.Place.Film
	if c.ends {
		return timeline.TimeRange{Start: c.cut - c.length, End: c.cut}
	}
	return timeline.TimeRange{Start: at - c.length, End: at + c.length - leastBefore}
}

func (c *candidate) told() timeline.TimeRange {
	x, r := c.example(), c.shown()
	r.End = max(r.End, x.Signal.Film, x.End.Film) + afterSignal
	return r
}

// tells reports whether the film of one question gives the other one away: it shows
// the same act or what follows on it, on the same film or on another camera's.
func (c *candidate) tells(o *candidate) bool {
	return c.meets(c.shown(), o, o.told()) || o.meets(o.shown(), c, c.told())
}

func (c *candidate) meets(r timeline.TimeRange, o *candidate, q timeline.TimeRange) bool {
	if c.film == o.film {
		return r.Overlaps(q)
	}
	if c.bout != o.bout {
		return false
	}
	a, ok1 := c.s.Bout.Alignment.GroupAt(c.tag.Place.Footage, r.Start)
	b, ok2 := o.s.Bout.Alignment.GroupAt(o.tag.Place.Footage, q.Start)
	if !ok1 || !ok2 || a.Group != b.Group {
		return false
	}
	return a.At < b.At+q.Duration() && b.At < a.At+r.Duration()
}

// item is the candidate as a question of a plan.
func (c *candidate) item(number int) Item {
	x := *c.example()
	out := Item{
		Number: number, Bout: c.bout, Example: c.tag.ID, Ask: x.Ask, Asked: x.Asked,
		Footage: c.tag.Place.Footage, Shown: timeline.TimeRange{Start: max(c.cut-c.length, 0), End: c.cut},
		Verdicts: slices.Clone(x.Verdicts), Difficulty: x.Difficulty, Impact: x.Impact, Edition: x.Edition,
		Words: x.Words, Called: x.Called, Source: c.source(),
	}
	if x.Ask == timeline.AskPenalty {
		out.Codes = codesOf(c.s, x.Edition)
	}
	return out
}

// codesOf are the letters of an edition: the bout's own where it is that one.
func codesOf(s *app.Session, edition string) []timeline.PenaltyCode {
	r, _ := s.Bout.Rules.In(edition)
	return slices.Clone(r.Codes)
}

// source says for the trainer where an example is from.
func (c *candidate) source() string {
	f := c.s.Facts
	name := f.Info.Title
	if name == "" && f.Teams[0].Name != "" && f.Teams[1].Name != "" {
		name = f.Teams[0].Name + " – " + f.Teams[1].Name
	}
	if j, ok := c.s.Bout.Jam(examples.JamOf(c.s, c.tag)); ok {
		name = strings.TrimPrefix(fmt.Sprintf("%s, P%d J%d", name, j.Period, j.Number), ", ")
	}
	return strings.TrimPrefix(fmt.Sprintf("%s, %s", name, app.Clock(c.tag.Place.Film)), ", ")
}

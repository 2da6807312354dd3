package quiz

import (
	"cmp"
	"errors"
	"fmt"
	"maps"
	"math/rand/v2"
	"slices"
	"strings"
	"time"

	"whistlecut/timeline"
)

// Options say which examples a quiz is of and how long its clips are.
type Options struct {
	Title     string // "" is Quiz
	Languages []string
	Questions int // 0 is 20
	Seed      uint64

	// Chosen are the examples to be asked; none means that they are drawn.
	Chosen []timeline.ID
	// What is drawn; empty takes all.
	Rules   []string            // sections: "4.1" takes 4.1.1, too
	Codes   []string            // letters of the preferred verdict
	Ask     []timeline.Question // what is asked
	Easiest int                 // least difficulty; examples without one are taken when both are 0
	Hardest int                 // greatest difficulty, 0 any
	Edition string              // the verdicts were given by

	Sensitive bool // sensitive examples, too
	Fewer     bool // take what there is when it is less than asked for

	// Cuts end an example's clip at a film time instead of before its signal.
	Cuts map[timeline.ID]time.Duration
	// Length of every clip, 0 is [ClipLength]; Margin how long before the signal it
	// ends, 0 is [SignalMargin].
	Length, Margin time.Duration
}

// What is usual.
const (
	usualQuestions = 20
	// ClipLength is how long every clip of a quiz is: all are equally long, so that
	// length tells nothing.
	ClipLength = 8 * time.Second
	// SignalMargin is how long before the signal a clip ends: an arm is on its way up
	// and breath is taken before a whistle is heard (common practice, no source).
	SignalMargin = 300 * time.Millisecond
	// leastBefore is the least film before the moment itself.
	leastBefore = 2 * time.Second
	// afterSignal is how long after a signal film still gives an example away: the
	// arm stays up, the skater leaves.
	afterSignal = 6 * time.Second
	// usualAfter is how long an uncalled moment goes on where no other tells.
	usualAfter = time.Second
)

// LeftOut is an example that could not be asked, and why.
type LeftOut struct {
	Bout    string      `json:"bout"`
	Example timeline.ID `json:"example"`
	Why     string      `json:"why"`
}

// Drawn is what Draw found.
type Drawn struct {
	Plan Plan
	Left []LeftOut // examples that are not fit to be asked, in no order that matters
	// Spare is how many others could have been asked.
	Spare int
	Notes []string // what is to be said, in sentences
}

// Draw draws a quiz from examples of several bouts. The same seed, options and
// examples give the same questions in the same order, whatever the order of the
// bouts. Examples are balanced by rule section, verdict and difficulty; their order
// is a shuffle that depends on nothing but the seed, so that neither film nor verdict
// nor difficulty can be told from it. No question shows film that gives another one
// away.
func Draw(b *Bouts, o Options) (Drawn, error) {
	o = o.usual()
	var out Drawn
	if err := o.check(); err != nil {
		return out, err
	}
	all, left := candidates(b, o)
	out.Left = left
	chosen, err := o.choose(all, left)
	if err != nil {
		return out, err
	}
	if len(o.Chosen) == 0 {
		chosen = drawn(all, o)
		out.Spare = len(all) - len(chosen)
		if len(chosen) == 0 || len(chosen) < o.Questions && !o.Fewer {
			return out, shortage(len(chosen), len(all), o, left)
		}
		if n := o.Questions - len(chosen); n > 0 {
			out.Notes = append(out.Notes, fmt.Sprintf("there are %d questions instead of %d: no more examples are fit to be asked", len(chosen), o.Questions))
		}
	}
	setCuts(chosen, o)
	rand.New(rand.NewPCG(o.Seed, orderStream)).Shuffle(len(chosen), func(i, j int) { chosen[i], chosen[j] = chosen[j], chosen[i] })
	out.Plan = Plan{ID: NewID(), Title: o.Title, Seed: o.Seed, Made: time.Now().UTC().Truncate(time.Second), Languages: o.Languages}
	editions := map[string]int{}
	for i, c := range chosen {
		out.Plan.Items = append(out.Plan.Items, c.item(i+1))
		editions[c.example().Edition]++
	}
	for _, c := range chosen {
		if e := c.example().Edition; editions[e] > editions[out.Plan.Edition] {
			out.Plan.Edition = e
		}
	}
	if len(editions) > 1 {
		out.Notes = append(out.Notes, fmt.Sprintf("the examples were judged by %d editions of the rules; draw by --edition for one", len(editions)))
	}
	return out, out.Plan.Check()
}

// Streams of the seed: what one draws says nothing about what another does.
const (
	drawStream  = 1
	orderStream = 2
	cutStream   = 3
)

func (o Options) usual() Options {
	if strings.TrimSpace(o.Title) == "" {
		o.Title = "Quiz"
	}
	if len(o.Languages) == 0 {
		o.Languages = []string{"en"}
	}
	o.Questions = cmp.Or(o.Questions, usualQuestions)
	o.Length = cmp.Or(o.Length, ClipLength)
	o.Margin = cmp.Or(o.Margin, SignalMargin)
	return o
}

func (o Options) check() error {
	switch {
	case o.Questions < 1 || o.Questions > mostItems:
		return fmt.Errorf("cannot draw a quiz of %d questions; 1 to %d can be had", o.Questions, mostItems)
	case len(o.Languages) > 2:
		return fmt.Errorf("cannot show %d languages at once; choose one or two", len(o.Languages))
	case o.Length < leastBefore+time.Second || o.Length > time.Minute:
		return fmt.Errorf("cannot make clips of %v; %v to a minute can be had", o.Length, leastBefore+time.Second)
	case o.Margin < 0 || o.Margin > 5*time.Second:
		return fmt.Errorf("cannot end clips %v before the signal; 0 to 5 s can be had", o.Margin)
	}
	return nil
}

// choose finds the chosen examples; nil when they are to be drawn.
func (o Options) choose(all []*candidate, left []LeftOut) ([]*candidate, error) {
	var out []*candidate
	var errs []error
	for _, id := range o.Chosen {
		i := slices.IndexFunc(all, func(c *candidate) bool { return c.tag.ID == id })
		if i < 0 {
			why := "it is no example of these bouts"
			if k := slices.IndexFunc(left, func(l LeftOut) bool { return l.Example == id }); k >= 0 {
				why = left[k].Why
			}
			errs = append(errs, fmt.Errorf("example %s cannot be asked: %s", id, why))
			continue
		}
		for _, c := range out {
			switch {
			case c == all[i]:
				errs = append(errs, fmt.Errorf("example %s is chosen twice", id))
			case c.tells(all[i]):
				errs = append(errs, fmt.Errorf("examples %s and %s cannot be asked in one quiz: the film of one shows the call of the other; leave one out", c.tag.ID, id))
			}
		}
		out = append(out, all[i])
	}
	// The order in which they were chosen must not matter either.
	slices.SortFunc(out, func(a, b *candidate) int { return cmp.Compare(a.tag.ID, b.tag.ID) })
	return out, errors.Join(errs...)
}

// tries is how often another way through the same seed is gone to find as many as
// are asked for.
const tries = 50

// drawn draws as many as are asked for, or as many as can be found.
func drawn(all []*candidate, o Options) []*candidate {
	r := rand.New(rand.NewPCG(o.Seed, drawStream))
	var best []*candidate
	for range tries {
		list := slices.Clone(all)
		r.Shuffle(len(list), func(i, j int) { list[i], list[j] = list[j], list[i] })
		if got := balanced(list, o.Questions); len(got) > len(best) {
			best = got
		}
		if len(best) >= min(o.Questions, len(all)) {
			break
		}
	}
	return best
}

// balanced takes one example after the other, each time one of what there is least
// of so far by section, verdict and difficulty; of equals the first.
func balanced(list []*candidate, most int) []*candidate {
	var out []*candidate
	count := map[string]int{}
	for len(out) < most {
		at, least := -1, 0
		for i, c := range list {
			if c == nil {
				continue
			}
			n := 0
			for _, k := range c.strata() {
				n += count[k]
			}
			if at < 0 || n < least {
				at, least = i, n
			}
		}
		if at < 0 {
			break
		}
		c := list[at]
		list[at] = nil
		if slices.ContainsFunc(out, c.tells) {
			continue
		}
		for _, k := range c.strata() {
			count[k]++
		}
		out = append(out, c)
	}
	return out
}

// shortage says why there are too few.
func shortage(got, fit int, o Options, left []LeftOut) error {
	why := map[string]int{}
	for _, l := range left {
		why[l.Why]++
	}
	var parts []string
	if n := fit - got; n > 0 {
		parts = append(parts, fmt.Sprintf("%d show film that gives another question away", n))
	}
	for _, k := range slices.SortedFunc(maps.Keys(why), func(a, b string) int { return cmp.Or(cmp.Compare(why[b], why[a]), cmp.Compare(a, b)) }) {
		parts = append(parts, fmt.Sprintf("%d: %s", why[k], k))
	}
	text := fmt.Sprintf("cannot draw %d questions: %d can be asked", o.Questions, got)
	if len(parts) > 0 {
		text += "; left out are " + strings.Join(parts, "; ")
	}
	if got > 0 {
		return errors.New(text + ". Ask fewer questions, or name more bouts")
	}
	return errors.New(text + ". Mark examples and give verdicts first, or name other bouts")
}

package main

import (
	"fmt"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"whistlecut/app"
	"whistlecut/app/collection"
	"whistlecut/timeline"
)

type collectFindCmd struct {
	Words []string `arg:"" optional:"" help:"Words that must all stand in notes, reasoning, names or titles; the beginning of a word will do, case and accents do not count."`

	Kind      []string `help:"Kind of tag: ${kinds}." placeholder:"KIND"`
	Situation []string `help:"Situation; with --kind the tags in it: ${situations}." placeholder:"SITUATION"`
	Code      []string `help:"A penalty's letter in its own edition of the rules." placeholder:"LETTER"`
	Rule      []string `help:"A section of the rules with all below it, as 4.1." placeholder:"SECTION"`
	Skater    []string `help:"A skater, as \"home 052\", team and number, or her name." placeholder:"WHO"`
	Team      []string `help:"The skater's team, or the first words of its name." placeholder:"NAME"`
	Bout      []string `help:"Only of this bout file." placeholder:"FILE"`
	Season    string   `help:"Only bouts of that year, as 2026." placeholder:"YEAR"`
	From      string   `help:"Only bouts from that day, month or year on, as 2026-03-14." placeholder:"DATE"`
	To        string   `help:"Only bouts up to that day, month or year." placeholder:"DATE"`
	Edition   []string `help:"Only what is judged by that edition of the rules, as 2025." placeholder:"YEAR"`

	Ask        []string `help:"Examples that ask: ${asks}." placeholder:"QUESTION"`
	Verdict    []string `help:"Examples of which an accepted answer is yes, no or warning; undecided." placeholder:"ANSWER"`
	Called     []string `help:"Examples that were called yes, no or warning on the day; unsaid." placeholder:"ANSWER"`
	Differing  bool     `help:"Examples that were called otherwise than the verdicts."`
	Difficulty string   `help:"Examples of that difficulty, from 1 (easy) to 5 (hard), as 3 or 2-4." placeholder:"RANGE"`
	Impact     []string `help:"Examples with: impact, no impact; unsaid." placeholder:"IMPACT"`
	Outdated   bool     `help:"Examples judged by another edition than the newest, or than --newest; they need another look."`
	Newest     string   `help:"The edition that --outdated compares with." placeholder:"YEAR"`
	Examples   string   `enum:"with,without," default:"" help:"Only moments with or without an example made of them." placeholder:"with|without"`
	Sensitive  string   `enum:"out,in,only" default:"out" help:"Sensitive entries (injuries, minors, expulsions): out, in or only." placeholder:"out|in|only"`

	Sort   string   `enum:"newest,oldest,easiest,hardest,code" default:"newest" help:"newest, oldest, easiest, hardest or code." placeholder:"ORDER"`
	Limit  int      `default:"200" help:"Most entries listed; 0 lists all." placeholder:"N"`
	Offset int      `help:"Entries left out at the beginning." placeholder:"N"`
	Count  []string `help:"Count by this instead of listing: ${facets}." placeholder:"FIELD"`
}

func (collectFindCmd) Help() string {
	return `Fields narrow together; a field that is repeated takes either. The index stands for
what the bouts said when they were read: whistlecut collect update brings it up to date.
Letters changed between editions; the penalty's name finds it in all of them.

Examples:
  whistlecut collect find --kind penalty --code B --skater "Ada Lace" --season 2026
  whistlecut collect find "back block" --kind penalty --situation "power jam"
  whistlecut collect find --verdict no --called yes --rule 4.1 --json
  whistlecut collect find --kind penalty --season 2026 --count code --count team`
}

// query makes the query that the flags ask for.
func (c *collectFindCmd) query() (collection.Query, error) {
	q := collection.Query{
		Words: strings.Join(c.Words, " "), Codes: c.Code, Rules: c.Rule, Skaters: c.Skater, Teams: c.Team, Bouts: c.Bout,
		From: c.From, To: c.To, Editions: c.Edition, Differing: c.Differing, Outdated: c.Outdated, Newest: c.Newest,
		Examples: collection.Has(c.Examples), Sort: collection.Sort(c.Sort), Limit: c.Limit, Offset: c.Offset,
	}
	if c.Sort == "newest" {
		q.Sort = collection.NewestFirst
	}
	if c.Limit <= 0 {
		q.Limit = -1
	}
	if c.Sensitive != "out" {
		q.Sensitive = collection.Sensitive(c.Sensitive)
	}
	var err error
	if q.Kinds, err = choices("--kind", c.Kind, timeline.Kinds(), nil); err != nil {
		return q, err
	}
	if q.Situations, err = choices("--situation", c.Situation, timeline.SituationKinds(), nil); err != nil {
		return q, err
	}
	if q.Asks, err = choices("--ask", c.Ask, timeline.Questions(), nil); err != nil {
		return q, err
	}
	answers := timeline.AskPenalty.Choices()
	if q.Verdicts, err = choices("--verdict", c.Verdict, answers, map[string]timeline.Choice{"undecided": timeline.NoChoice}); err != nil {
		return q, err
	}
	if q.Called, err = choices("--called", c.Called, answers, map[string]timeline.Choice{"unsaid": timeline.NoChoice}); err != nil {
		return q, err
	}
	impacts := []timeline.Impact{timeline.ImpactSome, timeline.ImpactNone}
	if q.Impacts, err = choices("--impact", c.Impact, impacts, map[string]timeline.Impact{"unsaid": timeline.ImpactUnknown}); err != nil {
		return q, err
	}
	if q.Easiest, q.Hardest, err = difficulties(c.Difficulty); err != nil {
		return q, err
	}
	if c.Season != "" {
		if c.From+c.To != "" {
			return q, usage("--season is a year; leave out --from and --to, or say the days by them alone")
		}
		q.From, q.To = c.Season, c.Season
	}
	for _, d := range []struct{ flag, text string }{{"--season", c.Season}, {"--from", c.From}, {"--to", c.To}} {
		if d.text != "" && !isDate(d.text) {
			return q, usage("%s takes a year, a month or a day, as 2026, 2026-03 or 2026-03-14, not %q", d.flag, d.text)
		}
	}
	return q, nil
}

// choices reads words of a list, with other words for some.
func choices[T ~string](flag string, words []string, list []T, other map[string]T) ([]T, error) {
	var out []T
	for _, w := range words {
		v, ok := other[w]
		if !ok {
			if v = T(w); !slices.Contains(list, v) {
				known := join(list)
				for o := range other {
					known += ", " + o
				}
				return nil, usage("%s knows no %q; it takes %s", flag, w, known)
			}
		}
		out = append(out, v)
	}
	return out, nil
}

// difficulties reads "3" or "2-4".
func difficulties(text string) (from, to int, err error) {
	if text == "" {
		return 0, 0, nil
	}
	a, b, ok := strings.Cut(text, "-")
	if !ok {
		b = a
	}
	from, err1 := strconv.Atoi(strings.TrimSpace(a))
	to, err2 := strconv.Atoi(strings.TrimSpace(b))
	if err1 != nil || err2 != nil || from < 1 || to > 5 || from > to {
		return 0, 0, usage("--difficulty takes a number from 1 to 5, or two of them as 2-4, not %q", text)
	}
	return from, to, nil
}

// isDate reports whether a text is a day, a month or a year as they are written
// into bouts.
func isDate(text string) bool {
	const like = "0000-00-00"
	if len(text) != 4 && len(text) != 7 && len(text) != 10 {
		return false
	}
	for i, r := range []byte(text) {
		if digit := r >= '0' && r <= '9'; digit != (like[i] == '0') || !digit && r != '-' {
			return false
		}
	}
	return true
}

func (c *collectFindCmd) Run(e *env, all *collectCmd) error {
	q, err := c.query()
	if err != nil {
		return err
	}
	facets, err := choices("--count", c.Count, collection.Facets(), nil)
	if err != nil {
		return err
	}
	x, err := all.open(e)
	if err != nil {
		return err
	}
	defer x.Close()
	if len(facets) > 0 {
		return c.counts(e, x, q, facets)
	}
	list, err := x.Search(e.ctx, q)
	if err != nil {
		return err
	}
	total, err := x.Count(e.ctx, q)
	if err != nil {
		return err
	}
	left := 0
	if q.Sensitive == collection.SensitiveOut {
		only := q
		only.Sensitive = collection.SensitiveOnly
		if left, err = x.Count(e.ctx, only); err != nil {
			return err
		}
	}
	if e.asJSON {
		if list == nil {
			list = []collection.Entry{}
		}
		return e.printJSON(map[string]any{"entries": list, "total": total, "sensitive_left_out": left})
	}
	printEntries(e, list, total)
	if left > 0 {
		e.printf("%s left out as sensitive; --sensitive in lists them\n", entriesText(left))
	}
	return c.editions(e, x, q)
}

func entriesText(n int) string {
	if n == 1 {
		return "1 entry"
	}
	return fmt.Sprintf("%d entries", n)
}

func printEntries(e *env, list []collection.Entry, total int) {
	if total == 0 {
		e.printf("nothing of that is in the collection\n")
		return
	}
	rows := [][]string{{"date", "bout", "jam", "what", "who", "verdict", "words"}}
	for _, x := range list {
		rows = append(rows, entryRow(x))
	}
	if len(list) > 0 {
		e.table(rows)
	}
	if len(list) == total {
		e.printf("%s\n", entriesText(total))
		return
	}
	e.printf("%d of %s; --limit and --offset list the others\n", len(list), entriesText(total))
}

func entryRow(x collection.Entry) []string {
	jam := "-"
	if x.Jam > 0 {
		jam = fmt.Sprintf("%d.%d", x.Period, x.Jam)
		if x.Timed {
			jam += " " + app.Clock(x.From)
		}
	}
	bout := filepath.Base(x.Bout)
	if x.State != collection.Here {
		bout += " (" + string(x.State) + ")"
	}
	what := string(x.Kind) + string(x.Situation)
	if x.Code != "" {
		what = strings.TrimSpace(what + " " + x.Code + " " + x.CodeName)
	}
	if x.IsExample() && x.Ask != timeline.AskPenalty {
		what += ": " + string(x.Ask)
	}
	return []string{x.Date, bout, jam, what, strings.TrimSpace(x.Team + " " + string(x.Number) + " " + x.Name), verdictText(x), short(x.Note + " " + x.Asked.In("") + " " + x.Words)}
}

// verdictText is what was called and what is accepted, with the difficulty.
func verdictText(x collection.Entry) string {
	if !x.IsExample() {
		return ""
	}
	answer := func(a timeline.Answer) string { return strings.TrimSpace(string(a.Choice) + " " + a.Code) }
	var right []string
	for _, v := range x.Verdicts {
		right = append(right, answer(v))
	}
	text := "undecided"
	if len(right) > 0 {
		text = strings.Join(right, " or ")
	}
	if !x.Called.IsZero() {
		text += ", called " + answer(x.Called)
	}
	if x.Difficulty > 0 {
		text += fmt.Sprintf(", difficulty %d", x.Difficulty)
	}
	return text
}

// short is a text in one line of a table.
func short(text string) string {
	const most = 60
	r := []rune(strings.Join(strings.Fields(text), " "))
	if len(r) <= most {
		return string(r)
	}
	return string(r[:most-1]) + "…"
}

func (c *collectFindCmd) counts(e *env, x *collection.Index, q collection.Query, facets []collection.Facet) error {
	got, err := x.Counts(e.ctx, q, facets...)
	if err != nil {
		return err
	}
	if e.asJSON {
		return e.printJSON(map[string]any{"counts": got})
	}
	for i, f := range facets {
		if i > 0 {
			e.printf("\n")
		}
		rows := [][]string{{string(f), "entries"}}
		for _, n := range got[f] {
			value := n.Value
			if value == "" {
				value = "-"
			}
			rows = append(rows, []string{value, fmt.Sprint(n.N)})
		}
		e.table(rows)
	}
	return nil
}

// editions warns when a letter that was asked for stands for several penalties
// among what was found.
func (c *collectFindCmd) editions(e *env, x *collection.Index, q collection.Query) error {
	if len(q.Codes) == 0 {
		return nil
	}
	got, err := x.Counts(e.ctx, q, collection.FacetCode)
	if err != nil {
		return err
	}
	names := map[string][]string{}
	for _, n := range got[collection.FacetCode] {
		if letter, name, ok := strings.Cut(n.Value, " "); ok && slices.Contains(q.Codes, letter) {
			names[letter] = append(names[letter], name)
		}
	}
	for _, letter := range q.Codes {
		if list := names[letter]; len(list) > 1 {
			slices.Sort(list)
			e.printf("%s is another penalty in other editions of the rules: %s; --edition narrows\n", letter, strings.Join(list, ", "))
		}
	}
	return nil
}

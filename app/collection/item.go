package collection

import (
	"cmp"
	"slices"
	"strings"

	"whistlecut/timeline"
)

// item is an entry as it is taken in: with what is only searched for.
type item struct {
	Entry
	people []person
	text   []string // all that words are looked for in
	codes  []string // letters it is about
}

// taken are the kinds of tag that are entries; of the others those with a note.
var taken = map[timeline.Kind]bool{
	timeline.KindJam: true, timeline.KindStarPass: true, timeline.KindPenalty: true, timeline.KindReview: true,
	timeline.KindInjury: true, timeline.KindNote: true, timeline.KindMark: true, timeline.KindExample: true,
}

// itemsOf lists a bout's entries in the order of the bout.
func itemsOf(f timeline.Facts) []item {
	b := timeline.Derive(f)
	m := maker{f: f, b: b, jams: map[timeline.ID]int{}, during: map[string]int{}, of: map[timeline.ID][]timeline.Tag{}, opinions: map[timeline.ID]int{}}
	for i, j := range b.Jams {
		m.jams[j.ID] = i
	}
	for _, t := range f.Tags {
		if t.Example != nil && t.Example.Source != "" {
			m.of[t.Example.Source] = append(m.of[t.Example.Source], t)
		}
	}
	for _, o := range f.Opinions {
		m.opinions[o.Example]++
	}
	var moments []timeline.Moment
	for _, x := range timeline.Find(b, f, timeline.Selection{Kinds: timeline.Kinds()}) {
		if taken[x.Kind] || strings.TrimSpace(x.Note) != "" {
			moments = append(moments, x)
		}
	}
	for i, k := range timeline.SituationKinds() {
		for _, x := range timeline.Find(b, f, timeline.Selection{Kinds: timeline.Kinds(), Situations: []timeline.SituationKind{k}}) {
			m.during[x.Key] |= 1 << i
		}
	}
	moments = append(moments, timeline.Find(b, f, timeline.Selection{Situations: timeline.SituationKinds()})...)
	slices.SortStableFunc(moments, m.compare)
	out := make([]item, len(moments))
	for i, x := range moments {
		out[i] = m.item(x)
	}
	return out
}

// maker makes the entries of one bout.
type maker struct {
	f        timeline.Facts
	b        timeline.Bout
	jams     map[timeline.ID]int            // index in b.Jams
	during   map[string]int                 // by moment: bits of the situations it lies in
	of       map[timeline.ID][]timeline.Tag // examples by the tag they were made of
	opinions map[timeline.ID]int            // by example
}

// compare orders moments as timeline.Find does, tags before the stretches that
// begin with them.
func (m *maker) compare(x, y timeline.Moment) int {
	nth := func(z timeline.Moment) int {
		if i, ok := m.jams[z.Jam]; ok {
			return i
		}
		return len(m.jams)
	}
	untimed := func(z timeline.Moment) int {
		if z.Timed {
			return 0
		}
		return 1
	}
	return cmp.Or(
		cmp.Compare(nth(x), nth(y)), cmp.Compare(untimed(x), untimed(y)), cmp.Compare(x.Range.Start, y.Range.Start),
		cmp.Compare(x.Situation, y.Situation), cmp.Compare(x.Place.Footage, y.Place.Footage),
		cmp.Compare(x.Place.Film, y.Place.Film), cmp.Compare(x.Key, y.Key),
	)
}

func (m *maker) item(x timeline.Moment) item {
	e := Entry{
		Key: x.Key, Kind: x.Kind, Situation: x.Situation, Period: x.Period, Jam: x.Number, Timed: x.Timed,
		Side: x.Side, Number: x.Who, Name: x.Name, Code: x.Code, Note: x.Note, Edition: m.f.Rules.Edition,
	}
	if x.Timed {
		e.From, e.To = x.Range.Start, x.Range.End
	}
	if x.Side != timeline.NoSide {
		e.Team = m.b.Teams[x.Side.Index()].Name
	}
	it := item{Entry: e}
	if x.Skater.Side != timeline.NoSide {
		it.Team = m.b.Teams[x.Skater.Side.Index()].Name
		it.add(m.person(x.Skater))
	}
	for _, w := range x.Why {
		it.rule(w.Section)
	}
	if len(x.Film) > 0 {
		it.Footage, it.Start, it.End = x.Film[0].Footage, x.Film[0].From, x.Film[0].To
	}
	it.text = append(it.text, string(x.Kind), string(x.Situation), x.Note)
	if x.Situation == "" {
		it.During = situationsOf(m.during[x.Key])
		it.Tag = timeline.ID(x.Key)
		m.tag(&it, m.f.Tags[it.Tag])
	} else {
		it.Sensitive = x.Situation == timeline.SitInjury
	}
	it.Film = m.f.Footage[it.Footage].Path
	it.text = append(it.text, it.Team, string(it.Number), it.Name, it.CodeName, it.Words,
		m.f.Info.Title, m.f.Info.Venue, m.b.Teams[0].Name, m.b.Teams[1].Name)
	return it
}

// tag adds what only the tag tells.
func (m *maker) tag(it *item, t timeline.Tag) {
	switch {
	case t.Penalty != nil:
		it.Words = t.Penalty.Words
		it.Sensitive = t.Penalty.Expelled
		m.code(it, it.Code, it.Edition)
	case t.StarPass != nil && t.Side != timeline.NoSide && t.StarPass.To.Seen != timeline.NotSeen:
		it.also(m.person(timeline.SkaterRef{Side: t.Side, Number: t.StarPass.To.Number}))
	case t.Review != nil:
		it.text = append(it.text, t.Review.Subject, t.Review.Outcome)
		it.Words = strings.Join(strings.Fields(t.Review.Subject+" "+t.Review.Outcome), " ")
	case t.Kind == timeline.KindInjury:
		it.Sensitive = true
	case t.Example != nil:
		m.example(it, t)
	}
	if t.Example == nil {
		made := m.of[it.Tag]
		it.Examples = len(made)
		for _, x := range made {
			it.Sensitive = it.Sensitive || x.Example.Sensitive
		}
	}
}

func (m *maker) example(it *item, t timeline.Tag) {
	x := t.Example
	it.Ask, it.Asked, it.Called, it.Verdicts = x.Ask, x.Asked, x.Called, x.Verdicts
	it.Impact, it.Difficulty, it.Words, it.Edition, it.Source = x.Impact, x.Difficulty, x.Words, x.Edition, x.Source
	it.Differing = !x.Called.IsZero() && len(x.Verdicts) > 0 && !x.Accepts(x.Called)
	it.Opinions = m.opinions[t.ID]
	it.Sensitive = x.Sensitive
	if source, ok := m.f.Tags[x.Source]; ok && source.Penalty != nil {
		it.Sensitive = it.Sensitive || source.Penalty.Expelled
	}
	for _, p := range it.people {
		s, _ := m.b.Teams[p.Side.Index()].Find(p.Number)
		it.Sensitive = it.Sensitive || s.Minor
	}
	it.Footage, it.Start, it.End = t.Place.Footage, t.Place.Film, max(t.Place.Film, x.End.Film)
	for _, a := range append([]timeline.Answer{x.Called}, x.Verdicts...) {
		it.rule(a.Section)
		m.code(it, a.Code, x.Edition)
	}
	it.text = append(it.text, x.Angle, string(x.Ask))
	for _, w := range x.Asked {
		it.text = append(it.text, w)
	}
}

// code adds a penalty's letter; the first one stands for the entry.
func (m *maker) code(it *item, letter, edition string) {
	if letter == "" {
		return
	}
	rules, _ := m.f.Rules.In(edition)
	c, _ := rules.Code(letter)
	if !slices.Contains(it.codes, letter) {
		it.codes = append(it.codes, letter)
		it.text = append(it.text, c.Name)
		it.rule(c.Section)
	}
	if len(it.codes) == 1 {
		it.Code, it.CodeName = letter, c.Name
	}
}

func (m *maker) person(who timeline.SkaterRef) person {
	t := m.b.Teams[who.Side.Index()]
	s, _ := t.Find(who.Number)
	return person{who.Side, who.Number, s.Name, t.Name}
}

func (it *item) rule(s string) {
	if s = section(s); s != "" && !slices.Contains(it.Rules, s) {
		it.Rules = append(it.Rules, s)
	}
}

func (it *item) add(p person) {
	if (p.Number != "" || p.Name != "") && !slices.Contains(it.people, p) {
		it.people = append(it.people, p)
	}
}

// also adds somebody who is not the entry's first person: her words are found, too.
func (it *item) also(p person) {
	it.add(p)
	it.text = append(it.text, string(p.Number), p.Name)
}

func situationsOf(bits int) (out []timeline.SituationKind) {
	for i, k := range timeline.SituationKinds() {
		if bits&(1<<i) != 0 {
			out = append(out, k)
		}
	}
	return out
}

func bitsOf(list []timeline.SituationKind) (bits int) {
	for i, k := range timeline.SituationKinds() {
		if slices.Contains(list, k) {
			bits |= 1 << i
		}
	}
	return bits
}

// searched is all that the index knows an entry by: words of its text, and marks.
func (it *item) searched() string {
	seen := map[string]bool{}
	var b strings.Builder
	put := func(w string) {
		if !seen[w] {
			seen[w] = true
			b.WriteString(w)
			b.WriteByte(' ')
		}
	}
	for _, t := range it.text {
		for _, w := range tokens(t) {
			put(w)
		}
	}
	for _, c := range it.codes {
		put(mark(markCode, c))
	}
	for _, r := range it.Rules {
		for _, s := range sections(r) {
			put(mark(markRule, s))
		}
	}
	for _, v := range it.Verdicts {
		put(mark(markVerdict, string(v.Choice)))
	}
	if it.IsExample() && len(it.Verdicts) == 0 {
		put(mark(markVerdict, string(timeline.NoChoice)))
	}
	teams := []string{it.Team}
	for _, p := range it.people {
		teams = append(teams, p.Team)
		for _, k := range p.keys() {
			put(mark(markSkater, k))
		}
	}
	for _, t := range teams {
		for _, k := range teamKeys(t) {
			put(mark(markTeam, k))
		}
	}
	return b.String()
}

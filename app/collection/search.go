package collection

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"whistlecut/timeline"
)

// condition is what a query asks as SQL over entry and bout, with its arguments.
type condition struct {
	parts []string
	args  []any
}

func (c *condition) add(sql string, args ...any) {
	c.parts = append(c.parts, sql)
	c.args = append(c.args, args...)
}

// among asks for a column to have one of the values.
func among[T any](c *condition, column string, list []T) {
	if len(list) == 0 {
		return
	}
	args := make([]any, len(list))
	for i, v := range list {
		args[i] = v
	}
	c.add(column+" IN (?"+strings.Repeat(",?", len(list)-1)+")", args...)
}

func (c *condition) where() string {
	if len(c.parts) == 0 {
		return "1"
	}
	return strings.Join(c.parts, " AND ")
}

// onlyExamples reports whether some field of the query is of examples alone.
func (q Query) onlyExamples() bool {
	return len(q.Asks)+len(q.Verdicts)+len(q.Called)+len(q.Impacts)+q.Easiest+q.Hardest > 0 || q.Differing || q.Outdated
}

// newest is the edition that Outdated compares with.
func (q Query) newest() string {
	if q.Newest != "" {
		return q.Newest
	}
	all := timeline.Editions()
	return all[len(all)-1].Edition
}

func (q Query) condition() condition {
	var c condition
	if m := q.match(); m != "" {
		c.add("e.id IN (SELECT rowid FROM text WHERE text MATCH ?)", m)
	}
	switch {
	case q.onlyExamples():
		c.add("e.kind = 'example'")
		among(&c, "e.kind", q.Kinds)
	case len(q.Kinds) > 0:
		among(&c, "e.kind", q.Kinds)
	}
	if len(q.Situations) > 0 {
		if len(q.Kinds) > 0 || q.onlyExamples() {
			c.add("e.during & ? <> 0", bitsOf(q.Situations))
		} else {
			c.add("e.situation <> ''")
			among(&c, "e.situation", q.Situations)
		}
	}
	among(&c, "e.ask", q.Asks)
	among(&c, "e.called", q.Called)
	among(&c, "e.impact", q.Impacts)
	if q.Easiest > 0 || q.Hardest > 0 {
		c.add("e.difficulty >= ?", max(q.Easiest, 1))
	}
	if q.Hardest > 0 {
		c.add("e.difficulty <= ?", q.Hardest)
	}
	if q.Differing {
		c.add("e.differing")
	}
	among(&c, "e.edition", q.Editions)
	if q.Outdated {
		c.add("e.edition <> ?", q.newest())
	}
	if len(q.Bouts) > 0 {
		ids := make([]int64, len(q.Bouts))
		for i, p := range q.Bouts {
			ids[i] = boutID(resolve(p))
		}
		among(&c, "e.bout", ids)
	}
	if q.From != "" || q.To != "" {
		c.add("e.day <> ''")
	}
	if q.From != "" {
		c.add("e.day >= ?", q.From)
	}
	if q.To != "" {
		c.add("substr(e.day, 1, ?) <= ?", len(q.To), q.To)
	}
	switch q.Examples {
	case With:
		c.add("(e.kind = 'example' OR e.examples > 0)")
	case Without:
		c.add("(e.kind <> 'example' AND e.examples = 0)")
	}
	switch q.Sensitive {
	case SensitiveOut:
		c.add("e.sensitive = 0")
	case SensitiveOnly:
		c.add("e.sensitive = 1")
	}
	return c
}

// match is what is looked up in the words and marks of the index: groups of which
// each must hold, of each group one word.
func (q Query) match() string {
	var groups []string
	seen := map[string]bool{}
	for _, w := range tokens(q.Words) {
		if g := `"` + w + `"*`; !seen[g] {
			seen[g] = true
			groups = append(groups, g)
		}
	}
	oneOf := func(kind rune, list []string) {
		if len(list) == 0 {
			return
		}
		slices.Sort(list)
		list = slices.Compact(list)
		alt := make([]string, len(list))
		for i, v := range list {
			alt[i] = `"` + mark(kind, v) + `"`
		}
		groups = append(groups, "("+strings.Join(alt, " OR ")+")")
	}
	oneOf(markCode, slices.Clone(q.Codes))
	oneOf(markRule, mapped(q.Rules, section))
	oneOf(markVerdict, mapped(q.Verdicts, func(c timeline.Choice) string { return string(c) }))
	var who []string
	for _, s := range q.Skaters {
		who = append(who, skaterKeys(s)...)
	}
	oneOf(markSkater, who)
	oneOf(markTeam, mapped(q.Teams, keyOf))
	return strings.Join(groups, " AND ")
}

func mapped[T any](list []T, f func(T) string) []string {
	out := make([]string, len(list))
	for i, v := range list {
		out[i] = f(v)
	}
	return out
}

var orders = map[Sort]string{
	NewestFirst:  "e.day DESC, e.bout, e.place",
	OldestFirst:  "e.day, e.bout, e.place",
	EasiestFirst: "e.difficulty = 0, e.difficulty, e.day DESC, e.bout, e.place",
	HardestFirst: "e.difficulty DESC, e.day DESC, e.bout, e.place",
	ByCode:       "e.code = '', e.code, e.day DESC, e.bout, e.place",
}

// Search lists the entries that a query picks, at most its limit.
func (x *Index) Search(ctx context.Context, q Query) (out []Entry, err error) {
	order, ok := orders[q.Sort]
	if !ok {
		return nil, fmt.Errorf("entries cannot be sorted by %q; known are %q", q.Sort, Sorts())
	}
	c := q.condition()
	limit := q.Limit
	if limit == 0 {
		limit = DefaultLimit
	}
	return x.entries(ctx, c, " ORDER BY "+order+" LIMIT ? OFFSET ?", limit, max(q.Offset, 0))
}

// entries reads the entries of a condition.
func (x *Index) entries(ctx context.Context, c condition, tail string, more ...any) (out []Entry, err error) {
	defer func() { err = worded("search", x.path, err) }()
	defer rescue(&err)
	x.mu.RLock()
	defer x.mu.RUnlock()
	if x.read == nil {
		return nil, errShut
	}
	rows, err := x.read.QueryContext(ctx, "SELECT b.path, b.title, b.day, b.state, e."+strings.Join(entryColumns, ", e.")+
		" FROM entry e JOIN bout b ON b.id = e.bout WHERE "+c.where()+tail, append(c.args, more...)...)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	for rows.Next() {
		var e Entry
		if err := scan(rows, &e, &e.Bout, &e.Title, &e.Date, &e.State); err != nil {
			return nil, err
		}
		x.pictures(&e)
		out = append(out, e)
	}
	return out, rows.Err()
}

// Count is how many entries a query picks, whatever its limit and offset.
func (x *Index) Count(ctx context.Context, q Query) (n int, err error) {
	defer func() { err = worded("search", x.path, err) }()
	defer rescue(&err)
	x.mu.RLock()
	defer x.mu.RUnlock()
	if x.read == nil {
		return 0, errShut
	}
	c := q.condition()
	err = x.read.QueryRowContext(ctx, "SELECT count(*) FROM entry e WHERE "+c.where(), c.args...).Scan(&n)
	return n, err
}

// Get finds one tag of one bout, sensitive or not.
func (x *Index) Get(ctx context.Context, bout string, tag timeline.ID) (e Entry, ok bool, err error) {
	var c condition
	c.add("e.bout = ?", boutID(resolve(bout)))
	c.add("e.key = ?", string(tag))
	c.add("e.situation = ''")
	list, err := x.entries(ctx, c, " LIMIT 1")
	if err != nil || len(list) == 0 {
		return Entry{}, false, err
	}
	return list[0], true, nil
}

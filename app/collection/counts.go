package collection

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// facetColumns are the columns a facet is read from.
var facetColumns = map[Facet]string{
	FacetKind: "e.kind", FacetSituation: "e.situation", FacetCode: "trim(e.code || ' ' || e.code_name)", FacetRule: "e.rules",
	FacetAsk: "e.ask", FacetVerdict: "e.verdict", FacetCalled: "e.called", FacetDiffering: "e.differing",
	FacetDifficulty: "e.difficulty", FacetImpact: "e.impact", FacetEdition: "e.edition",
	FacetBout: "e.bout", FacetTeam: "e.team", FacetSkater: "trim(e.team || ' ' || e.number || ' ' || e.name)", FacetYear: "substr(e.day, 1, 4)",
}

// ofExamples are the facets that only examples have.
var ofExamples = []Facet{FacetAsk, FacetVerdict, FacetCalled, FacetDiffering, FacetDifficulty, FacetImpact}

// Counts counts the entries that a query picks by facets, the most frequent value
// first. Facets of examples count examples alone; skaters and teams count entries
// that have one.
func (x *Index) Counts(ctx context.Context, q Query, facets ...Facet) (out map[Facet][]Count, err error) {
	defer func() { err = worded("count in", x.path, err) }()
	defer rescue(&err)
	x.mu.RLock()
	defer x.mu.RUnlock()
	if x.read == nil {
		return nil, errShut
	}
	out = map[Facet][]Count{}
	for _, f := range facets {
		if out[f], err = x.countBy(ctx, q, f); err != nil {
			return nil, err
		}
	}
	return out, nil
}

func (x *Index) countBy(ctx context.Context, q Query, f Facet) ([]Count, error) {
	column, ok := facetColumns[f]
	if !ok {
		return nil, fmt.Errorf("entries cannot be counted by %q; known are %q", f, Facets())
	}
	c := q.condition()
	switch {
	case slices.Contains(ofExamples, f):
		c.add("e.kind = 'example'")
	case f == FacetSkater:
		c.add("(e.number <> '' OR e.name <> '')")
	case f == FacetTeam:
		c.add("e.team <> ''")
	}
	query := "SELECT " + column + ", count(*) FROM entry e WHERE " + c.where() + " GROUP BY 1"
	if f == FacetBout {
		query = "SELECT b.path, n.n FROM (SELECT e.bout AS bout, count(*) AS n FROM entry e WHERE " + c.where() + " GROUP BY e.bout) n JOIN bout b ON b.id = n.bout"
	}
	rows, err := x.read.QueryContext(ctx, query, c.args...)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	sum := map[string]int{}
	for rows.Next() {
		var value string
		var n int
		if err := rows.Scan(&value, &n); err != nil {
			return nil, err
		}
		for _, v := range facetValues(f, value) {
			sum[v] += n
		}
	}
	if err := rows.Err(); err != nil {
		return nil, err
	}
	out := make([]Count, 0, len(sum))
	for v, n := range sum {
		out = append(out, Count{v, n})
	}
	slices.SortFunc(out, func(a, b Count) int { return cmp.Or(cmp.Compare(b.N, a.N), cmp.Compare(a.Value, b.Value)) })
	return out, nil
}

// facetValues are the values of a facet that stand in one column.
func facetValues(f Facet, column string) []string {
	switch f {
	case FacetRule:
		return strings.Fields(column)
	case FacetDiffering:
		if on, err := strconv.ParseBool(column); err == nil && on {
			return []string{"yes"}
		}
		return []string{"no"}
	}
	return []string{column}
}

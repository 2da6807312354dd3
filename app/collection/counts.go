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
	return x.countAll(ctx, q, facets)
}

// countAll counts by all facets in one statement.
func (x *Index) countAll(ctx context.Context, q Query, facets []Facet) (map[Facet][]Count, error) {
	out := map[Facet][]Count{}
	if len(facets) == 0 {
		return out, nil
	}
	sums := map[Facet]map[string]int{}
	columns, counts := []string{}, []string{}
	for i, f := range facets {
		column, ok := facetColumns[f]
		if !ok {
			return nil, fmt.Errorf("entries cannot be counted by %q; known are %q", f, Facets())
		}
		sums[f] = map[string]int{}
		// What does not count by the facet is NULL.
		switch {
		case slices.Contains(ofExamples, f):
			column = "CASE WHEN e.kind = 'example' THEN " + column + " END"
		case f == FacetSkater:
			column = "CASE WHEN e.number <> '' OR e.name <> '' THEN " + column + " END"
		case f == FacetTeam:
			column = "nullif(e.team, '')"
		}
		columns = append(columns, fmt.Sprintf("%s AS f%d", column, i))
		counts = append(counts, fmt.Sprintf("SELECT %d, f%d, count(*) FROM m WHERE f%d IS NOT NULL GROUP BY 2", i, i, i))
	}
	c := q.condition()
	// Words and marks are looked up once for all facets; without any, each facet is
	// counted faster by itself.
	once := "MATERIALIZED"
	if q.match() == "" {
		once = "NOT MATERIALIZED"
	}
	rows, err := x.read.QueryContext(ctx, "WITH m AS "+once+" (SELECT "+strings.Join(columns, ", ")+" FROM entry e WHERE "+c.where()+") "+
		strings.Join(counts, " UNION ALL "), c.args...)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	for rows.Next() {
		var i, n int
		var value string
		if err := rows.Scan(&i, &value, &n); err != nil {
			return nil, err
		}
		for _, v := range facetValues(facets[i], value) {
			sums[facets[i]][v] += n
		}
	}
	if err := rows.Err(); err != nil {
		return nil, err
	}
	if sum, ok := sums[FacetBout]; ok {
		if sums[FacetBout], err = x.byPath(ctx, sum); err != nil {
			return nil, err
		}
	}
	for f, sum := range sums {
		list := make([]Count, 0, len(sum))
		for v, n := range sum {
			list = append(list, Count{v, n})
		}
		slices.SortFunc(list, func(a, b Count) int { return cmp.Or(cmp.Compare(b.N, a.N), cmp.Compare(a.Value, b.Value)) })
		out[f] = list
	}
	return out, nil
}

// byPath are counts by path that were by the bouts' numbers.
func (x *Index) byPath(ctx context.Context, sum map[string]int) (map[string]int, error) {
	rows, err := x.read.QueryContext(ctx, "SELECT id, path FROM bout")
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	out := map[string]int{}
	for rows.Next() {
		var id, path string
		if err := rows.Scan(&id, &path); err != nil {
			return nil, err
		}
		if n, ok := sum[id]; ok {
			out[path] = n
		}
	}
	return out, rows.Err()
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

package numbers

import (
	"cmp"
	"slices"
	"strings"

	"whistlecut/timeline"
)

// Group is a number of blockers that skated jams together, as lined up: whether
// one of them sat in the box for a part of it is not asked, since the jam is the
// unit line-ups are made for (common practice, no source).
type Group struct {
	Skaters []timeline.Number `json:"skaters"` // by number
	Stint   Stint             `json:"stint"`
}

// groups finds who skated together.
func (t *TeamReport) groups(b *timeline.Bout) {
	four, two := map[string]*Group{}, map[string]*Group{}
	add := func(m map[string]*Group, who []timeline.Number, j *timeline.Jam) {
		key := ""
		for _, n := range who {
			key += string(n) + "\x00"
		}
		g := m[key]
		if g == nil {
			g = &Group{Skaters: slices.Clone(who)}
			m[key] = g
		}
		g.Stint.add(j, t.Side)
	}
	for i := range b.Jams {
		j := &b.Jams[i]
		who := blockersOf(&j.Sides[t.Side.Index()])
		if len(who) == 4 {
			add(four, who, j)
		} else {
			t.GroupsUnknown++
		}
		for x := range who {
			for y := x + 1; y < len(who); y++ {
				add(two, []timeline.Number{who[x], who[y]}, j)
			}
		}
	}
	t.Groups, t.Pairs = sortGroups(four), sortGroups(two)
}

// blockersOf lists the blockers of a line-up, pivot among them, whose numbers are known.
func blockersOf(s *timeline.JamSide) []timeline.Number {
	var out []timeline.Number
	for n, r := range s.Lineup {
		if r == timeline.Pivot || r == timeline.Blocker {
			out = append(out, n)
		}
	}
	slices.Sort(out)
	return out
}

// sortGroups puts those first that skated most jams together.
func sortGroups(m map[string]*Group) []Group {
	out := make([]Group, 0, len(m))
	for _, g := range m {
		g.Stint.settle()
		out = append(out, *g)
	}
	slices.SortFunc(out, func(x, y Group) int {
		return cmp.Or(cmp.Compare(y.Stint.Jams, x.Stint.Jams), cmp.Compare(y.Stint.PerJam.Mean, x.Stint.PerJam.Mean), slices.Compare(x.Skaters, y.Skaters))
	})
	return out
}

// Key names the group in one word, for tables.
func (g Group) Key() string {
	var parts []string
	for _, n := range g.Skaters {
		parts = append(parts, string(n))
	}
	return strings.Join(parts, " ")
}

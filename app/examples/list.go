package examples

import (
	"cmp"
	"slices"

	"whistlecut/app"
	"whistlecut/timeline"
)

// Listed is an example with what is asked of it most.
type Listed struct {
	Tag      timeline.Tag
	Period   int // 0 without a jam
	Jam      int // number
	Opinions []timeline.Opinion
	// Changed is what changed between the edition it was judged by and the bout's.
	Changed []Change
}

// List lists the examples of a bout in the order of its film.
func List(s *app.Session) []Listed {
	var out []Listed
	for _, t := range timeline.SortTags(s.Facts.Tags) {
		if t.Example == nil {
			continue
		}
		x := Listed{Tag: t, Opinions: OpinionsOn(s.Facts, t.ID), Changed: Changes(*t.Example, s.Bout.Rules)}
		if j, ok := s.Bout.Jam(JamOf(s, t)); ok {
			x.Period, x.Jam = j.Period, j.Number
		}
		out = append(out, x)
	}
	return out
}

// JamOf is the jam of an example: its own, else the one its film shows; "" for none.
func JamOf(s *app.Session, t timeline.Tag) timeline.ID {
	if t.Jam != "" {
		return t.Jam
	}
	jam, offset, ok := s.Bout.Alignment.JamAt(t.Place.Footage, t.Place.Film)
	if !ok {
		return ""
	}
	if j, ok := s.Bout.Jam(jam); ok && j.Duration > 0 && offset > j.Duration {
		return "" // it is between jams
	}
	return jam
}

// Delete takes an example and the opinions on it out of the bout.
func Delete(f timeline.Facts, example timeline.ID) []timeline.Change {
	out := []timeline.Change{timeline.DeleteTag(example)}
	for _, o := range OpinionsOn(f, example) {
		out = append(out, timeline.DeleteOpinion(o.ID))
	}
	return out
}

// OpinionsOn lists the opinions on an example by who gave them.
func OpinionsOn(f timeline.Facts, example timeline.ID) []timeline.Opinion {
	var out []timeline.Opinion
	for _, o := range f.Opinions {
		if o.Example == example {
			out = append(out, o)
		}
	}
	slices.SortFunc(out, func(a, b timeline.Opinion) int {
		return cmp.Or(cmp.Compare(a.By, b.By), cmp.Compare(a.ID, b.ID))
	})
	return out
}

package clip

import (
	"cmp"
	"slices"
	"strings"
	"time"

	"whistlecut/timeline/footage"
)

// Moment is something on a film that a clip shall show.
type Moment struct {
	Footage string            // path of the film
	From    time.Duration     // film time at which it begins
	To      time.Duration     // film time at which it ends; not after From: an instant
	Kind    string            // "penalty", "power jam"...; chooses the margins
	Labels  map[string]string // for names, captions and the sidecar: period, jam, clock, score, skater...
}

// Margin is how much film a clip shows round a moment.
type Margin struct{ Before, After time.Duration }

// Margins are the margins by kind; kinds not listed have the default.
type Margins struct {
	Default Margin
	ByKind  map[string]Margin
}

// Of gives a kind's margin.
func (m Margins) Of(kind string) Margin {
	if x, ok := m.ByKind[kind]; ok {
		return x
	}
	return m.Default
}

// Window is a stretch of one film to be cut, with the moments it shows in order
// of time.
type Window struct {
	Footage  string
	From, To time.Duration // film time; From may lie before the film, To behind it
	Moments  []Moment
}

// Windows turns moments into windows: each moment with its margins; windows of
// one film that overlap or touch are joined. Films come in the order in which
// the moments name them, the windows of a film in order of time.
func Windows(moments []Moment, margins Margins) []Window {
	var films []string
	byFilm := map[string][]Window{}
	for _, m := range moments {
		if _, ok := byFilm[m.Footage]; !ok {
			films = append(films, m.Footage)
		}
		x := margins.Of(m.Kind)
		byFilm[m.Footage] = append(byFilm[m.Footage], Window{
			Footage: m.Footage, From: m.From - x.Before, To: max(m.From, m.To) + x.After, Moments: []Moment{m},
		})
	}
	var out []Window
	for _, film := range films {
		list := byFilm[film]
		slices.SortStableFunc(list, func(a, b Window) int {
			return cmp.Or(cmp.Compare(a.From, b.From), cmp.Compare(a.To, b.To))
		})
		start := len(out)
		for _, w := range list {
			if n := len(out); n > start && w.From <= out[n-1].To {
				out[n-1].To = max(out[n-1].To, w.To)
				out[n-1].Moments = append(out[n-1].Moments, w.Moments...)
				continue
			}
			out = append(out, w)
		}
	}
	return out
}

// label is what a window says under a name: the moments' different values in
// order, joined by "+", at most three.
func (w Window) label(name string) string {
	var values []string
	for _, m := range w.Moments {
		v := m.Labels[name]
		if name == "kind" && v == "" {
			v = m.Kind
		}
		if v != "" && !slices.Contains(values, v) {
			values = append(values, v)
		}
	}
	if len(values) > 3 {
		return strings.Join(values[:3], "+") + "+"
	}
	return strings.Join(values, "+")
}

// Files are films opened before, by path.
type Files map[string]*footage.File

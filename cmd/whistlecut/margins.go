package main

import (
	"slices"
	"strings"
	"time"

	"whistlecut/app"
	"whistlecut/export/clip"
	"whistlecut/timeline"
)

// marginFlags say how much film is shown round a moment; cut and reel share them.
type marginFlags struct {
	Before []string `help:"Film shown before, in seconds or m:ss: 6 for all, or KIND=6 for one kind." placeholder:"[KIND=]T"`
	After  []string `help:"Film shown after, in the same way." placeholder:"[KIND=]T"`
}

// addTo puts what was asked for over the usual margins.
func (f marginFlags) addTo(margins *clip.Margins) error {
	for _, m := range []struct {
		texts []string
		set   func(*clip.Margin, time.Duration)
	}{
		{f.Before, func(m *clip.Margin, d time.Duration) { m.Before = d }},
		{f.After, func(m *clip.Margin, d time.Duration) { m.After = d }},
	} {
		for _, text := range m.texts {
			if err := setMargin(margins, text, m.set); err != nil {
				return err
			}
		}
	}
	return nil
}

// setMargin reads "6s" or "penalty=6s".
func setMargin(m *clip.Margins, text string, set func(*clip.Margin, time.Duration)) error {
	kind, value, ok := strings.Cut(text, "=")
	if !ok {
		value = kind
	}
	d, err := app.ParseClock(value)
	if err != nil {
		return usage("%w", err)
	}
	if ok {
		if !slices.Contains(timeline.Kinds(), timeline.Kind(kind)) && !slices.Contains(timeline.SituationKinds(), timeline.SituationKind(kind)) {
			return usage("%q sets a margin for %q, which is neither a kind of tag nor a situation", text, kind)
		}
		x := m.Of(kind)
		set(&x, d)
		m.ByKind[kind] = x
		return nil
	}
	set(&m.Default, d)
	for k, x := range m.ByKind {
		set(&x, d)
		m.ByKind[k] = x
	}
	return nil
}

package app

import (
	"testing"
	"time"

	"whistlecut/app/settings"
	"whistlecut/export/clip"
	"whistlecut/timeline"
)

func TestMarginsOf(t *testing.T) {
	usual := DefaultMargins()
	for name, c := range map[string]struct {
		set  *settings.Settings
		kind string
		want clip.Margin
	}{
		"no settings":      {nil, "penalty", usual.Of("penalty")},
		"nothing set":      {&settings.Settings{}, "penalty", usual.Of("penalty")},
		"before alone":     {&settings.Settings{Before: 3 * time.Second}, "penalty", clip.Margin{Before: 3 * time.Second, After: usual.Of("penalty").After}},
		"both, other kind": {&settings.Settings{Before: time.Second, After: 2 * time.Second}, "note", clip.Margin{Before: time.Second, After: 2 * time.Second}},
	} {
		t.Run(name, func(t *testing.T) {
			if got := MarginsOf(c.set).Of(c.kind); got != c.want {
				t.Errorf("got %v, want %v", got, c.want)
			}
		})
	}
}

func TestFilmLength(t *testing.T) {
	s := &Session{Facts: timeline.Facts{Footage: map[timeline.ID]timeline.Footage{"a": {Duration: 100 * time.Second}, "b": {}}}}
	at := func(file timeline.ID, from, to float64) timeline.Moment {
		m := timeline.Moment{Kind: timeline.KindNote}
		if file != "" {
			m.Film = []timeline.FilmStretch{{Footage: file, From: seconds(from), To: seconds(to)}}
		}
		return m
	}
	margins := clip.Margins{Default: clip.Margin{Before: 5 * time.Second, After: 3 * time.Second}}
	for name, c := range map[string]struct {
		moments []timeline.Moment
		want    time.Duration
	}{
		"none":                    {nil, 0},
		"not on film":             {[]timeline.Moment{at("", 0, 0)}, 0},
		"an instant":              {[]timeline.Moment{at("a", 50, 50)}, 8 * time.Second},
		"two that overlap":        {[]timeline.Moment{at("a", 50, 50), at("a", 54, 56)}, 14 * time.Second},
		"the same time elsewhere": {[]timeline.Moment{at("a", 50, 50), at("b", 50, 50)}, 16 * time.Second},
		"at the edges of a file":  {[]timeline.Moment{at("a", 2, 2), at("a", 99, 99)}, 5*time.Second + 6*time.Second},
	} {
		t.Run(name, func(t *testing.T) {
			if got := s.FilmLength(c.moments, margins); got != c.want {
				t.Errorf("got %v, want %v", got, c.want)
			}
			for _, m := range c.moments {
				f, ok := s.Shown(m, margins)
				if ok != (len(m.Film) > 0) || f.From < 0 || f.Footage == "a" && f.To > 100*time.Second {
					t.Errorf("shown %+v %v", f, ok)
				}
			}
		})
	}
}

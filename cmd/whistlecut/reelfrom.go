package main

import (
	"fmt"
	"path/filepath"

	"whistlecut/app"
	"whistlecut/app/reels"
	"whistlecut/timeline"
)

// open opens the bout that moments are taken from.
func (c *reelCmd) open(e *env) (*app.Session, error) {
	a, err1 := filepath.Abs(c.Bout)
	b, err2 := filepath.Abs(c.From)
	if err1 == nil && err2 == nil && a == b {
		return nil, usage("%s is the reel's own bout; leave --from out", c.From)
	}
	return e.app.Open(c.From, true)
}

// takeParts adds the parts of a reel of another bout.
func (c *reelCmd) takeParts(e *env, s, of *app.Session, r timeline.Reel) ([]timeline.Change, error) {
	if c.any() || c.Marks {
		return nil, usage("--from-reel takes a whole reel; leave the other choices out")
	}
	other, err := reels.ByName(of, c.FromReel)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", c.From, err)
	}
	got, err := reels.TakeParts(s, of, r, of.Facts.ReelParts(other.ID))
	if err != nil {
		return nil, err
	}
	if !e.asJSON {
		for _, n := range got.Notes {
			e.printf("%s\n", n)
		}
	}
	return got.Changes, nil
}

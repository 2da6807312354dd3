package main

import (
	"errors"

	"whistlecut/timeline"
)

type mergeCmd struct {
	Bout  string `arg:"" help:"The bout file that takes the work in."`
	Other string `arg:"" help:"The colleague's copy; it is only read."`
}

func (mergeCmd) Help() string {
	return `Both copies must come from the same bout file. Merging twice, or in both
directions, leads to the same bout. Where both people changed the same thing
differently, the later edit stands until somebody decides; each such place is
listed and the exit status is 3.

Example:
  whistlecut merge final.bout "final, Ada's copy.bout"`
}

type conflictJSON struct {
	Collection timeline.Collection `json:"collection"`
	Key        timeline.ID         `json:"key"`
	Versions   []versionJSON       `json:"versions"`
}

type versionJSON struct {
	Author string `json:"author"`
	At     string `json:"at"`
	Label  string `json:"label,omitempty"`
	Value  string `json:"value"`
	Stands bool   `json:"stands"`
}

func (c *mergeCmd) Run(e *env) (err error) {
	s, err := e.app.Open(c.Bout, false)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, s.Close()) }()
	report, err := s.File.Merge(c.Other)
	if err != nil {
		return err
	}
	conflicts := []conflictJSON{}
	for _, x := range report.Conflicts {
		out := conflictJSON{Collection: x.Record.Collection, Key: x.Record.Key}
		for _, v := range x.Versions {
			value := "deleted"
			if v.Value != nil {
				value = string(v.Value)
			}
			out.Versions = append(out.Versions, versionJSON{v.Author, v.At.Format("2006-01-02 15:04:05"), v.Label, value, v.Stands})
		}
		conflicts = append(conflicts, out)
	}
	if e.asJSON {
		if err := e.printJSON(map[string]any{"added": report.Added, "known": report.Known, "conflicts": conflicts}); err != nil {
			return err
		}
	} else {
		e.printf("%s taken in, %d known before, %s in conflict\n", count(report.Added, "edit"), report.Known, count(len(conflicts), "place"))
		for _, x := range conflicts {
			e.printf("\n%s %s\n", x.Collection, x.Key)
			for _, v := range x.Versions {
				stands := "      "
				if v.Stands {
					stands = "stands"
				}
				e.printf("  %s  %s, %s: %s\n          %s\n", stands, v.Author, v.At, v.Label, shorten(v.Value, 100))
			}
		}
	}
	if len(conflicts) > 0 {
		return errDiffers
	}
	return nil
}

// shorten cuts a text to n characters, with an ellipsis.
func shorten(s string, n int) string {
	r := []rune(s)
	if len(r) <= n {
		return s
	}
	return string(r[:n-1]) + "…"
}

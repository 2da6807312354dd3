package main

import (
	"errors"
	"fmt"
	"io"

	"whistlecut/app/boutfile"
	"whistlecut/timeline"
)

type tagsCmd struct {
	Export tagsExportCmd `cmd:"" help:"Write a bout's tags (or everything) as JSON."`
	Import tagsImportCmd `cmd:"" help:"Take in tags (or everything) from JSON; a tag with a known ID is replaced."`
}

type tagsExportCmd struct {
	Bout string `arg:"" help:"The bout file."`
	To   string `arg:"" optional:"" default:"-" help:"File to write; - is standard output."`
	What string `enum:"tags,facts,history" default:"tags" help:"tags, facts (teams, footage, sheet and all else that is stored, too) or history (every edit ever made)." placeholder:"WHAT"`
}

func (tagsExportCmd) Help() string {
	return `Examples:
  whistlecut tags export final.bout tags.json
  whistlecut tags export final.bout --what history everything.json`
}

func (c *tagsExportCmd) Run(e *env) error {
	s, err := e.app.Open(c.Bout, true)
	if err != nil {
		return err
	}
	defer s.Close()
	if c.To != "-" {
		if err := s.File.Export(c.To, c.What); err != nil {
			return err
		}
		e.printf("wrote the %s of %s to %s\n", c.What, c.Bout, c.To)
		return nil
	}
	var data []byte
	switch c.What {
	case timeline.ExchangeTags:
		data, err = timeline.ExportTags(s.Facts.Tags)
	case timeline.ExchangeFacts:
		data, err = timeline.ExportFacts(s.Facts)
	default:
		data, err = timeline.ExportHistory(s.File.Log())
	}
	if err != nil {
		return err
	}
	_, err = e.out.Write(data)
	return err
}

type tagsImportCmd struct {
	Bout string `arg:"" help:"The bout file."`
	From string `arg:"" help:"JSON file to read; - is standard input."`
}

func (tagsImportCmd) Help() string {
	return `The JSON is what tags export writes. The import is one edit that can be undone;
a file with a mistake in it changes nothing.

Example:
  whistlecut tags import final.bout tags.json`
}

func (c *tagsImportCmd) Run(e *env) (err error) {
	s, err := e.app.Open(c.Bout, false)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, s.Close()) }()
	var report boutfile.Report
	if c.From == "-" {
		data, err := io.ReadAll(e.in)
		if err != nil {
			return fmt.Errorf("cannot read standard input: %w", err)
		}
		report, err = s.File.ImportFrom("standard input", data)
		if err != nil {
			return err
		}
	} else if report, err = s.File.Import(c.From); err != nil {
		return err
	}
	if e.asJSON {
		return e.printJSON(map[string]any{"added": report.Added, "known": report.Known, "conflicts": len(report.Conflicts)})
	}
	e.printf("%s taken in, %d known before\n", count(report.Added, "change"), report.Known)
	return nil
}

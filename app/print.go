package app

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"time"

	"whistlecut/export/print"
	"whistlecut/timeline"
	"whistlecut/timeline/footage/ffmpeg"
	"whistlecut/timeline/sheet"
)

// printTo makes a file of what write writes: all of it, or nothing. The folder
// must be there.
func printTo(path string, write func(io.Writer) error) error {
	var b bytes.Buffer
	if err := write(&b); err != nil {
		return fmt.Errorf("%s: %w", path, err)
	}
	return ffmpeg.Whole(path, func(temp string) error { return os.WriteFile(temp, b.Bytes(), 0o644) })
}

// PrintOptions are those of a print made now, in a language ("en", "es", "fr", "de").
func PrintOptions(language string) print.Options {
	return print.Options{Language: language, Made: time.Now()}
}

// PrintSkater prints a skater's page as PDF.
func PrintSkater(path string, p SkaterPage, o print.Options) error {
	return printTo(path, func(w io.Writer) error {
		return print.WriteSkater(w, print.Skater{Page: p.Page, FilmName: p.FilmName, Own: p.Own, Coach: p.Coach}, o)
	})
}

// PrintNumbers prints the bout's numbers with charts as PDF.
func (s *Session) PrintNumbers(path string, o print.Options) error {
	return printTo(path, func(w io.Writer) error { return print.WriteNumbers(w, s.Report(), o) })
}

// NumbersWorkbook writes every table of the bout's numbers as XLSX.
func (s *Session) NumbersWorkbook(path string) error {
	return printTo(path, func(w io.Writer) error { return print.WriteXLSX(w, print.Tables(s.Report())) })
}

// NumbersCSV writes every table of the bout's numbers into a folder, one CSV file
// each, and returns their names. The folder is made if it is not there.
func (s *Session) NumbersCSV(dir string) ([]string, error) {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return nil, fmt.Errorf("cannot make the folder %s: %w; choose another place", dir, err)
	}
	var names []string
	for _, t := range print.Tables(s.Report()) {
		path := filepath.Join(dir, t.FileName())
		if err := printTo(path, func(w io.Writer) error { return print.WriteCSV(w, t) }); err != nil {
			return names, err
		}
		names = append(names, path)
	}
	return names, nil
}

// PrintFindings prints the report of a check as PDF.
func (s *Session) PrintFindings(path string, r sheet.Report, o print.Options) error {
	return printTo(path, func(w io.Writer) error { return print.WriteFindings(w, s.findingsPrint(r), o) })
}

func (s *Session) findingsPrint(r sheet.Report) print.Findings {
	src := s.Source()
	in := print.Findings{
		Title: src.Title, Date: src.Date, Teams: [2]string{s.Bout.Teams[0].Name, s.Bout.Teams[1].Name},
		Compared: r.Compared, Agreed: r.Agreed, Unchecked: len(r.Unchecked), Notes: r.Notes,
	}
	for i, a := range r.Score {
		in.Accounts[i] = print.Account{Tags: a.Tags, Sheet: a.Sheet, SheetKnown: a.SheetKnown, Explained: a.Explained, Unchecked: a.Unchecked}
	}
	for _, f := range r.Findings {
		x := print.Finding{
			Where: f.Where(), Cause: string(f.Cause), Text: f.Text, Sheet: f.Sheet, Tags: f.Tags, Points: f.Points(), Also: f.Also,
			Film: s.filmText(f.Film),
		}
		if f.Resolution != nil {
			x.Decided, x.Note = f.Resolution.Verdict, f.Resolution.Note
		}
		in.Items = append(in.Items, x)
	}
	return in
}

// filmText names a place on film, empty where no film shows it.
func (s *Session) filmText(p timeline.Place) string {
	id, at, ok := s.Bout.Alignment.FilmOf(p)
	if !ok {
		return ""
	}
	return filepath.Base(s.Facts.Footage[id].Path) + " " + Clock(at)
}

// PrintSession prints the agenda of a session with a reel as PDF.
func PrintSession(path string, in print.Session, o print.Options) error {
	return printTo(path, func(w io.Writer) error { return print.WriteSession(w, in, o) })
}

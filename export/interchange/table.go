package interchange

import (
	"encoding/csv"
	"fmt"
	"io"
	"path/filepath"
	"strconv"
	"strings"
	"time"
)

// WriteCSV writes one row for each mark of each film: where it is in seconds and
// in frames, and what it is.
func (b Bout) WriteCSV(w io.Writer) error {
	rows := [][]string{{"camera", "file", "start_s", "end_s", "start_frame", "kind", "period", "jam", "side", "skater", "name", "note"}}
	for i := range b.Films {
		f := &b.Films[i]
		for _, m := range sorted(f.Marks) {
			rows = append(rows, []string{
				f.Camera, filepath.Base(f.Path), seconds(m.At), seconds(max(m.At, m.End)), strconv.Itoa(int(f.Rate.frame(m.At))),
				string(m.Kind), whole(m.Period), whole(m.Jam), m.Side, m.Skater, m.Name, m.Note,
			})
		}
	}
	return table(w, rows)
}

// WriteCSV writes one row for each part of the reel: when it is shown and which
// film it shows, in seconds.
func (r Reel) WriteCSV(w io.Writer) error {
	rows := [][]string{{"part", "what", "start_s", "end_s", "file", "film_start_s", "film_end_s", "title", "caption"}}
	at := time.Duration(0)
	for i, p := range r.Parts {
		row := []string{strconv.Itoa(i + 1), "card", seconds(at), seconds(at + p.Length()), "", "", "", p.Title, p.Caption}
		if n := len(p.Legs); n > 0 {
			row[1], row[4], row[5], row[6] = "clip", filepath.Base(p.Film.Path), seconds(p.Legs[0].From), seconds(p.Legs[n-1].To)
		}
		rows = append(rows, row)
		at += p.Length()
	}
	return table(w, rows)
}

func table(w io.Writer, rows [][]string) error {
	for _, r := range rows {
		for i, c := range r {
			// A spreadsheet would take a name that begins so for a formula.
			if c != "" && strings.ContainsRune("=+-@\t\r", rune(c[0])) {
				if _, err := strconv.ParseFloat(c, 64); err != nil {
					r[i] = "'" + c
				}
			}
		}
	}
	if err := csv.NewWriter(w).WriteAll(rows); err != nil {
		return fmt.Errorf("cannot write the table: %w", err)
	}
	return nil
}

func seconds(d time.Duration) string { return strconv.FormatFloat(d.Seconds(), 'f', 3, 64) }

func whole(n int) string {
	if n == 0 {
		return ""
	}
	return strconv.Itoa(n)
}

package app

import (
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/adrg/xdg"

	"whistlecut/timeline/footage/ffmpeg"
	"whistlecut/timeline/sheet"
)

// maxSheetFile bounds what is read of a sheet's file: no paperwork is larger.
const maxSheetFile = 64 << 20

// SheetReading is an official sheet as understood.
type SheetReading struct {
	Name     string          `json:"name"`
	Data     []byte          `json:"-"`
	Template string          `json:"template,omitempty"` // the kept template that fitted
	Mapping  sheet.Mapping   `json:"mapping"`
	Sheet    sheet.Sheet     `json:"sheet"`
	Problems []sheet.Problem `json:"problems,omitempty"`
}

// ReadSheet reads a sheet's file. mappingFile names a corrected mapping (JSON);
// without one the kept templates are tried, then the columns are recognised.
func (a *App) ReadSheet(path, mappingFile string) (SheetReading, error) {
	r := SheetReading{Name: filepath.Base(path)}
	st, err := os.Stat(path)
	if errors.Is(err, fs.ErrNotExist) {
		return r, fmt.Errorf("there is no file %s; check the name", path)
	}
	if err == nil && st.IsDir() {
		return r, fmt.Errorf("%s is a folder; name the sheet in it", path)
	}
	if err != nil {
		return r, fmt.Errorf("cannot read the sheet %s: %w", path, err)
	}
	if st.Size() > maxSheetFile {
		return r, fmt.Errorf("cannot read the sheet %s: it has %d MB, more than any paperwork of a bout (64 MB); export the sheets of this bout alone", path, st.Size()>>20)
	}
	if r.Data, err = os.ReadFile(path); err != nil {
		return r, fmt.Errorf("cannot read the sheet %s: %w", path, err)
	}
	var m *sheet.Mapping
	if mappingFile != "" {
		b, err := os.ReadFile(mappingFile)
		if err != nil {
			return r, fmt.Errorf("cannot read the mapping %s: %w", mappingFile, err)
		}
		m = new(sheet.Mapping)
		if err := json.Unmarshal(b, m); err != nil {
			return r, fmt.Errorf("cannot read the mapping %s: %w; write one with: whistlecut sheet %s --save-mapping FILE", mappingFile, err, path)
		}
	}
	return r, r.understand(m)
}

// ErrNoTables says that a file can be read but holds no paperwork of a bout.
var ErrNoTables = errors.New("no score, penalty or line-up table was found")

// understand fills in mapping and sheet from the data.
func (r *SheetReading) understand(given *sheet.Mapping) error {
	book, err := sheet.ReadGrid(r.Name, r.Data)
	if err != nil {
		return err
	}
	switch {
	case given != nil:
		r.Mapping = *given
	default:
		r.Mapping = sheet.Recognise(book)
		for _, t := range templates() {
			if m, ok := t.Match(book); ok {
				r.Mapping, r.Template = m, t.Name
				break
			}
		}
	}
	r.Sheet, r.Problems = sheet.Read(book, r.Mapping)
	if r.Sheet.Empty() {
		return fmt.Errorf("%w in %s; name its columns by the trade's words (jam, jammer, lead, trip 2, total), or correct the mapping by hand", ErrNoTables, r.Name)
	}
	return nil
}

// templateDir is where kept templates lie.
func templateDir() string { return filepath.Join(xdg.ConfigHome, "whistlecut", "sheets") }

// templates reads the kept templates by name; unreadable ones are passed over.
func templates() []sheet.Template {
	names, _ := filepath.Glob(filepath.Join(templateDir(), "*.json"))
	slices.Sort(names)
	var out []sheet.Template
	for _, n := range names {
		b, err := os.ReadFile(n)
		if err != nil {
			continue
		}
		var t sheet.Template
		if json.Unmarshal(b, &t) == nil {
			out = append(out, t)
		}
	}
	return out
}

// KeepTemplate keeps a mapping under a name for the next sheets of the same layout.
func (a *App) KeepTemplate(name string, m sheet.Mapping) (path string, err error) {
	clean := strings.Map(func(r rune) rune {
		if strings.ContainsRune(`/\:*?"<>|`, r) || r < ' ' {
			return -1
		}
		return r
	}, strings.TrimSpace(name))
	if clean == "" || strings.HasPrefix(clean, ".") {
		return "", errors.New("a template needs a name of letters or digits")
	}
	if err := os.MkdirAll(templateDir(), 0o755); err != nil {
		return "", fmt.Errorf("cannot keep the template: %w", err)
	}
	path = filepath.Join(templateDir(), clean+".json")
	return path, writeJSON(path, sheet.Template{Name: clean, Mapping: m})
}

// SaveMapping writes a mapping for a person to correct.
func (a *App) SaveMapping(path string, m sheet.Mapping) error { return writeJSON(path, m) }

func writeJSON(path string, v any) error {
	b, err := json.MarshalIndent(v, "", "  ")
	if err != nil {
		return err
	}
	return ffmpeg.Whole(path, func(temp string) error { return os.WriteFile(temp, append(b, '\n'), 0o644) })
}

// PutSheet stores a sheet in the bout with its mapping, and takes over team
// names and rosters that the bout lacks.
func (s *Session) PutSheet(r SheetReading) error {
	changes, err := s.sheetChanges(r)
	if err != nil {
		return err
	}
	return s.Apply("official sheet "+r.Name, changes...)
}

// StoredSheet reads the sheet stored in the bout; ok is false when there is none.
func (s *Session) StoredSheet() (r SheetReading, ok bool, err error) {
	if s.Facts.Sheet == nil {
		return r, false, nil
	}
	r = SheetReading{Name: s.Facts.Sheet.Name, Data: s.Facts.Sheet.Data}
	var m *sheet.Mapping
	if len(s.Facts.Sheet.Mapping) > 0 {
		m = new(sheet.Mapping)
		if err := json.Unmarshal(s.Facts.Sheet.Mapping, m); err != nil {
			return r, true, fmt.Errorf("the column mapping stored with %s is damaged: %w; put the sheet in again", r.Name, err)
		}
	}
	return r, true, r.understand(m)
}

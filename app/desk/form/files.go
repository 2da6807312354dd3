package form

import (
	"os"
	"path/filepath"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/storage"
)

// Endings of the files that are asked for.
var (
	FilmEndings  = []string{".mp4", ".mov", ".mkv", ".avi", ".mts", ".m2ts", ".m4v", ".webm", ".mpg", ".mpeg", ".ts", ".wmv", ".3gp"}
	SheetEndings = []string{".xlsx", ".xlsm", ".ods", ".csv", ".tsv", ".txt"}
	PhotoEndings = []string{".jpg", ".jpeg", ".png"}
)

// Has reports whether a path has one of some endings, in either case.
func Has(path string, endings []string) bool {
	return slices.Contains(endings, strings.ToLower(filepath.Ext(path)))
}

// File asks for one file with one of some endings and hands its path on.
func File(w fyne.Window, endings []string, take func(path string)) {
	f := dialog.NewFileOpen(func(r fyne.URIReadCloser, err error) {
		if err != nil || r == nil {
			return
		}
		_ = r.Close()
		take(r.URI().Path())
	}, w)
	both := slices.Clone(endings)
	for _, e := range endings {
		both = append(both, strings.ToUpper(e))
	}
	f.SetFilter(storage.NewExtensionFileFilter(both))
	f.Resize(inside(w))
	f.Show()
}

// Folder asks for a folder.
func Folder(w fyne.Window, take func(path string)) {
	f := dialog.NewFolderOpen(func(u fyne.ListableURI, err error) {
		if err == nil && u != nil {
			take(u.Path())
		}
	}, w)
	f.Resize(inside(w))
	f.Show()
}

// inside is a size for a large dialog that fits the window.
func inside(w fyne.Window) fyne.Size {
	s := w.Canvas().Size()
	return fyne.NewSize(min(s.Width-48, 900), min(s.Height-48, 560))
}

// In lists the files of a folder with one of some endings, by name.
func In(folder string, endings []string) []string {
	all, err := os.ReadDir(folder)
	if err != nil {
		return nil
	}
	var out []string
	for _, f := range all { // ReadDir sorts by name
		if !f.IsDir() && Has(f.Name(), endings) {
			out = append(out, filepath.Join(folder, f.Name()))
		}
	}
	return out
}

// SplitLines are the lines of a text that say something.
func SplitLines(text string) []string {
	var out []string
	for _, l := range strings.Split(text, "\n") {
		if l = strings.TrimSpace(l); l != "" {
			out = append(out, l)
		}
	}
	return out
}

package form

import (
	"bytes"
	"io"
	"os"
	"path/filepath"
)

// Sorted are dropped files by what they are.
type Sorted struct {
	Films, Sheets, Bouts, Photos []string
	Others                       []string // nothing we can use
}

// Sort tells films, sheets, photos and bout files apart: by the ending of the name,
// and where that says nothing by the first bytes. Folders stand for what is in them.
func Sort(paths []string) Sorted {
	var s Sorted
	for _, p := range paths {
		if st, err := os.Stat(p); err == nil && st.IsDir() {
			s.Films = append(s.Films, In(p, FilmEndings)...)
			continue
		}
		switch {
		case Has(p, []string{".bout"}):
			s.Bouts = append(s.Bouts, p)
		case Has(p, PhotoEndings):
			s.Photos = append(s.Photos, p)
		case Has(p, FilmEndings) && !isText(p):
			s.Films = append(s.Films, p)
		case Has(p, SheetEndings):
			s.Sheets = append(s.Sheets, p)
		default:
			switch content(p) {
			case "film":
				s.Films = append(s.Films, p)
			case "sheet":
				s.Sheets = append(s.Sheets, p)
			default:
				s.Others = append(s.Others, p)
			}
		}
	}
	return s
}

// isText reports whether a file named .ts is a program's text and no film: a
// transport stream begins with the byte 0x47 (ISO/IEC 13818-1).
func isText(path string) bool {
	if filepath.Ext(path) != ".ts" {
		return false
	}
	b := begin(path)
	return len(b) > 0 && b[0] != 0x47
}

// content guesses from the first bytes: boxes of MP4 and QuickTime, Matroska's
// EBML, RIFF with AVI, or a ZIP as spreadsheets are.
func content(path string) string {
	b := begin(path)
	switch {
	case len(b) >= 12 && (bytes.Equal(b[4:8], []byte("ftyp")) || bytes.Equal(b[4:8], []byte("moov")) || bytes.Equal(b[4:8], []byte("mdat"))),
		bytes.HasPrefix(b, []byte{0x1A, 0x45, 0xDF, 0xA3}),
		len(b) >= 12 && bytes.HasPrefix(b, []byte("RIFF")) && bytes.Equal(b[8:12], []byte("AVI ")):
		return "film"
	case bytes.HasPrefix(b, []byte("PK\x03\x04")):
		return "sheet"
	}
	return ""
}

func begin(path string) []byte {
	f, err := os.Open(path)
	if err != nil {
		return nil
	}
	defer f.Close()
	b := make([]byte, 16)
	n, _ := io.ReadFull(f, b)
	return b[:n]
}

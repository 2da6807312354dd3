package sheet

import (
	"bytes"
	"errors"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	xunicode "golang.org/x/text/encoding/unicode"
)

// errBinary is the answer to bytes that are no text in any usual encoding.
var errBinary = errors.New("it is neither a spreadsheet nor text; choose the .xlsx, .ods or .csv of the sheet")

// decodeText turns a text file's bytes into UTF-8 and names the encoding. Order:
// byte order mark, valid UTF-8, the NUL pattern of UTF-16, then the one-byte
// code page under which the other letters make the most sense.
func decodeText(data []byte) (text, name string, err error) {
	switch {
	case bytes.HasPrefix(data, []byte{0xef, 0xbb, 0xbf}):
		return strings.ToValidUTF8(string(data[3:]), "\uFFFD"), "utf-8", nil
	case bytes.HasPrefix(data, []byte{0xff, 0xfe}):
		return decode16(data[2:], xunicode.LittleEndian, "utf-16le")
	case bytes.HasPrefix(data, []byte{0xfe, 0xff}):
		return decode16(data[2:], xunicode.BigEndian, "utf-16be")
	}
	if i := bytes.IndexByte(data, 0); i >= 0 {
		even, odd := nulls(data)
		n := min(len(data), 4096) / 2
		switch {
		case odd > n/2 && even < n/10+1:
			return decode16(data, xunicode.LittleEndian, "utf-16le")
		case even > n/2 && odd < n/10+1:
			return decode16(data, xunicode.BigEndian, "utf-16be")
		}
		return "", "", errBinary
	}
	if utf8.Valid(data) {
		if controls(string(data)) {
			return "", "", errBinary
		}
		return string(data), "utf-8", nil
	}
	text, name = decodePage(data)
	if controls(text) {
		return "", "", errBinary
	}
	return text, name, nil
}

func decode16(data []byte, e xunicode.Endianness, name string) (string, string, error) {
	out, err := xunicode.UTF16(e, xunicode.IgnoreBOM).NewDecoder().Bytes(data)
	if err != nil || controls(string(out)) {
		return "", "", errBinary
	}
	return string(out), name, nil
}

// nulls counts zero bytes at even and odd places of the beginning.
func nulls(data []byte) (even, odd int) {
	for i, b := range data[:min(len(data), 4096)] {
		if b == 0 && i%2 == 0 {
			even++
		} else if b == 0 {
			odd++
		}
	}
	return even, odd
}

// controls reports more control characters than a text has.
func controls(s string) bool {
	n, bad := 0, 0
	for _, r := range s {
		if n++; n > 8192 {
			break
		}
		if (r < 0x20 && r != '\n' && r != '\r' && r != '\t' && r != '\f' && r != 0x1a) || r == 0xfffd || (r > 0x7e && r < 0xa0 && r != 0x85) {
			bad++
		}
	}
	return bad*20 > n
}

// pages are the one-byte code pages still met in exports, likeliest first.
var pages = []struct {
	name string
	enc  encoding.Encoding
}{
	{"windows-1252", charmap.Windows1252},
	{"iso-8859-15", charmap.ISO8859_15},
	{"macintosh", charmap.Macintosh},
	{"cp850", charmap.CodePage850},
}

// usual are the letters and signs beyond ASCII that sheets in English, Spanish,
// French and German hold.
const usual = "áéíóúüñçàâèêëîïôùûœæäößÁÉÍÓÚÜÑÇÀÂÈÊËÎÏÔÙÛŒÄÖ¿¡°ºª’‘“”–—…«»€✓✔×\u00a0"

// decodePage picks the code page under which most letters beyond ASCII are usual
// ones standing where a word has them.
func decodePage(data []byte) (text, name string) {
	best := -1 << 30
	for _, p := range pages {
		out, err := p.enc.NewDecoder().Bytes(data)
		if err != nil {
			continue
		}
		if s := pageScore(string(out)); s > best {
			best, text, name = s, string(out), p.name
		}
	}
	return text, name
}

func pageScore(s string) int {
	score, prev := 0, ' '
	for i, r := range s {
		if i > 1<<16 {
			break
		}
		if r > 0x7e {
			switch {
			case !strings.ContainsRune(usual, r):
				score -= 2
			case unicode.IsUpper(r) && unicode.IsLower(prev):
				score-- // a capital inside a word: the wrong page
			default:
				score++
			}
		}
		prev = r
	}
	return score
}

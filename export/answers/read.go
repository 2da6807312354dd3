package answers

import (
	"bytes"
	"errors"
	"fmt"

	"golang.org/x/text/encoding/unicode"
	"golang.org/x/text/transform"
)

// MostBytes is the size of the largest file that is read for answers.
const MostBytes = 8 << 20

// Read reads answers in any of their forms: the page's JSON file, a filled table (CSV,
// XLSX, ODS), or any text with codes in it, such as a saved chat. name is the file's,
// for messages. Sheets that are sound are returned beside the error, which may join
// several (errors.Join) and says of each what is wrong, where, and what to do.
func Read(name string, data []byte) ([]Sheet, error) {
	if len(data) > MostBytes {
		return nil, fmt.Errorf("the file has %d MB, answers have %d at most; choose another file", len(data)>>20, MostBytes>>20)
	}
	text := data
	if !bytes.HasPrefix(data, []byte("PK")) {
		// Editors of Windows save UTF-16 with a byte order mark.
		if t, _, err := transform.Bytes(unicode.BOMOverride(transform.Nop), data); err == nil {
			text = bytes.TrimSpace(t)
		}
	}
	if len(bytes.TrimSpace(text)) == 0 {
		return nil, errors.New("the file is empty")
	}
	if text[0] == '{' || text[0] == '[' && bytes.Contains(text, []byte(jsonMark)) {
		return readJSON(text)
	}
	list, cells, known, err := readTable(name, data)
	if known {
		return list, err
	}
	if !bytes.HasPrefix(data, []byte("PK")) {
		cells = string(text)
	} else if err != nil {
		return nil, err
	}
	list, err = readCodes(cells)
	if len(list) == 0 && err == nil {
		return nil, errors.New("there are no answers in it; want the file or the code of the answer page, or the table of answers filled in")
	}
	return list, err
}

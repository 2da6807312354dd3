package sheet

import (
	"archive/zip"
	"bytes"
	"errors"
	"fmt"
	"path"
	"strings"
)

// ReadGrid reads a spreadsheet file's bytes as tables of text. What the file is
// follows from its content (XLSX or XLSM, ODS, else delimited text); name is
// used for messages and to name a CSV's table. The error is one sentence that
// says what to do; no file, however broken or hostile, makes it panic or use
// memory beyond the limits above.
func ReadGrid(name string, data []byte) (Book, error) {
	base := path.Base(strings.ReplaceAll(name, `\`, "/"))
	book := Book{Name: base}
	fail := func(format string, args ...any) (Book, error) {
		return Book{Name: base}, fmt.Errorf("read sheet %q: %w", base, fmt.Errorf(format, args...))
	}
	switch {
	case len(data) == 0:
		return fail("the file is empty; choose the sheet again")
	case len(data) > MaxFileBytes:
		return fail("the file has %d MB, more than the %d MB a sheet may have; save only the bout's tables and try again",
			len(data)>>20, MaxFileBytes>>20)
	case bytes.HasPrefix(data, []byte("PK\x03\x04")), bytes.HasPrefix(data, []byte("PK\x05\x06")):
		return readZip(book, data, fail)
	case bytes.HasPrefix(data, []byte{0xd0, 0xcf, 0x11, 0xe0, 0xa1, 0xb1, 0x1a, 0xe1}):
		if bytes.Contains(data, utf16le("EncryptedPackage")) {
			return fail("the spreadsheet is protected by a password; open it in a spreadsheet program, save a copy without the password and choose that")
		}
		return fail("this is the old binary .xls format, which is not read; save it as .xlsx, .ods or .csv and choose that")
	case bytes.HasPrefix(data, []byte("%PDF")):
		return fail("this is a PDF, not a spreadsheet; choose the .xlsx, .ods or .csv, or type the sheet beside it")
	}
	if err := readCSV(&book, data); err != nil {
		return fail("%w", err)
	}
	return book, nil
}

// readZip tells XLSX and ODS apart by their parts and reads the right one.
func readZip(book Book, data []byte, fail func(string, ...any) (Book, error)) (Book, error) {
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil && !errors.Is(err, zip.ErrInsecurePath) {
		return fail("the spreadsheet is cut short or damaged (%v); copy or download it again", err)
	}
	var total uint64
	parts := map[string]*zip.File{}
	for _, f := range z.File {
		total += f.UncompressedSize64
		if total > MaxUnpacked || f.UncompressedSize64 > MaxUnpacked {
			return fail("unpacked it would be larger than %d MB, which no bout's sheet is; save only the bout's tables and try again", MaxUnpacked>>20)
		}
		parts[f.Name] = f
	}
	switch {
	case parts["content.xml"] != nil:
		err = readODS(&book, parts)
	case parts["[Content_Types].xml"] != nil || parts["xl/workbook.xml"] != nil:
		err = readXLSX(&book, data, parts)
	default:
		return fail("it is a zip file without a spreadsheet in it; unpack it and choose the sheet itself")
	}
	if err != nil {
		return fail("%w", err)
	}
	if len(book.Tables) == 0 {
		return fail("it has no tables; choose another file")
	}
	return book, nil
}

func utf16le(s string) []byte {
	b := make([]byte, 0, 2*len(s))
	for i := 0; i < len(s); i++ {
		b = append(b, s[i], 0)
	}
	return b
}

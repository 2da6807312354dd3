package sheet

import (
	"archive/zip"
	"bytes"
	"fmt"
	"hash/crc32"
	"strings"
	"testing"
	"unicode/utf16"

	"github.com/xuri/excelize/v2"
	"golang.org/x/text/encoding/charmap"
)

// TestCSVText: every usual encoding and separator gives the same cells.
func TestCSVText(t *testing.T) {
	want := [][]string{
		{"Période", "Jam", "Équipe", "Pénalité", "Ñandú"},
		{"1", "12", "Héronnes, nuit", "B \"dos\"", "ß"},
		{},
		{"2", "3", "Größe", "x", "línea dos"},
	}
	for _, sep := range []string{",", ";", "\t", "|"} {
		var b strings.Builder
		for _, row := range want {
			for i, c := range row {
				if i > 0 {
					b.WriteString(sep)
				}
				b.WriteString(`"` + strings.ReplaceAll(c, `"`, `""`) + `"`)
			}
			b.WriteString("\r\n")
		}
		text := b.String()
		for _, enc := range []struct {
			name  string
			bytes func() []byte
		}{
			{"utf-8", func() []byte { return []byte(text) }},
			{"utf-8 with mark", func() []byte { return append([]byte{0xef, 0xbb, 0xbf}, text...) }},
			{"utf-16le with mark", func() []byte { return append([]byte{0xff, 0xfe}, utf16Bytes(text, false)...) }},
			{"utf-16be with mark", func() []byte { return append([]byte{0xfe, 0xff}, utf16Bytes(text, true)...) }},
			{"utf-16le", func() []byte { return utf16Bytes(text, false) }},
			{"windows-1252", func() []byte { return pageBytes(t, charmap.Windows1252, text) }},
			{"iso-8859-15", func() []byte { return pageBytes(t, charmap.ISO8859_15, text) }},
			{"macintosh", func() []byte { return pageBytes(t, charmap.Macintosh, text) }},
			{"cp850", func() []byte { return pageBytes(t, charmap.CodePage850, text) }},
		} {
			t.Run(enc.name+" "+sep, func(t *testing.T) {
				book, err := ReadGrid("dir/points.csv", enc.bytes())
				if err != nil {
					t.Fatal(err)
				}
				g := book.Tables[0]
				if g.Name != "points" || book.Comma != sep {
					t.Errorf("table %q, separator %q", g.Name, book.Comma)
				}
				for r := range want {
					for c := range want[r] {
						if g.At(r, c) != want[r][c] {
							t.Errorf("%s is %q, want %q", g.Ref(r, c), g.At(r, c), want[r][c])
						}
					}
				}
			})
		}
	}
}

func utf16Bytes(s string, big bool) []byte {
	var out []byte
	for _, u := range utf16.Encode([]rune(s)) {
		if big {
			out = append(out, byte(u>>8), byte(u))
		} else {
			out = append(out, byte(u), byte(u>>8))
		}
	}
	return out
}

func pageBytes(t *testing.T, m *charmap.Charmap, s string) []byte {
	t.Helper()
	b, err := m.NewEncoder().Bytes([]byte(s))
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func TestCSVOddities(t *testing.T) {
	for _, c := range []struct {
		name, text, cell string
		r, col           int
	}{
		{"named separator", "sep=;\na;b,c\n", "b,c", 1, 1},
		{"line feed in quotes", "a,\"b\nc\",d\n", "b c", 0, 1},
		{"lone quote", "6' 2\",x\n", "6' 2\"", 0, 0},
		{"unclosed quote", "a,\"b\n", "b", 0, 1},
		{"old line ends", "a,b\rc,d\r", "d", 1, 1},
		{"blank lines count", "a\n\n\nb\n", "b", 3, 0},
		{"no-break space", "a,\u00a0b\u202f7 ,c\n", "b 7", 0, 1},
	} {
		t.Run(c.name, func(t *testing.T) {
			book, err := ReadGrid("x.csv", []byte(c.text))
			if err != nil {
				t.Fatal(err)
			}
			if got := book.Tables[0].At(c.r, c.col); got != c.cell {
				t.Errorf("%s is %q, want %q", CellName(c.r, c.col), got, c.cell)
			}
		})
	}
}

// zipOf makes a zip file of parts.
func zipOf(t testing.TB, parts map[string]string) []byte {
	t.Helper()
	var buf bytes.Buffer
	z := zip.NewWriter(&buf)
	for name, text := range parts {
		w, err := z.Create(name)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := w.Write([]byte(text)); err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return buf.Bytes()
}

const odsHead = `<?xml version="1.0"?><office:document-content xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0" xmlns:table="urn:oasis:names:tc:opendocument:xmlns:table:1.0" xmlns:text="urn:oasis:names:tc:opendocument:xmlns:text:1.0"><office:body><office:spreadsheet>`

const odsTail = `</office:spreadsheet></office:body></office:document-content>`

func ods(t testing.TB, tables string) []byte {
	return zipOf(t, map[string]string{
		"mimetype":    "application/vnd.oasis.opendocument.spreadsheet",
		"content.xml": odsHead + tables + odsTail,
	})
}

func TestODS(t *testing.T) {
	book, err := ReadGrid("s.ods", ods(t, `<table:table table:name="Punkte">
		<table:table-row table:number-rows-repeated="2"><table:table-cell/></table:table-row>
		<table:table-header-rows><table:table-row><table:table-cell><text:p>Jam</text:p></table:table-cell><table:table-cell table:number-columns-repeated="2"><text:p>x<text:s text:c="2"/>y</text:p><office:annotation><text:p>no</text:p></office:annotation></table:table-cell></table:table-row></table:table-header-rows>
		<table:table-row><table:table-cell office:value-type="float" office:value="7"/><table:covered-table-cell/><table:table-cell office:time-value="PT00H01M35S"/></table:table-row>
		<table:table-row table:number-rows-repeated="1048000"><table:table-cell table:number-columns-repeated="16384"/></table:table-row>
		</table:table><table:table table:name="zwei"><table:table-row><table:table-cell><text:p>a</text:p><text:p>b</text:p></table:table-cell></table:table-row></table:table>`))
	if err != nil {
		t.Fatal(err)
	}
	g := book.Tables[0]
	for _, c := range []struct {
		at   string
		r, c int
		want string
	}{{"A3", 2, 0, "Jam"}, {"C3", 2, 2, "x y"}, {"A4", 3, 0, "7"}, {"C4", 3, 2, "PT00H01M35S"}} {
		if got := g.At(c.r, c.c); got != c.want {
			t.Errorf("%s is %q, want %q", c.at, got, c.want)
		}
	}
	if len(g.Cells) != 4 || book.Tables[1].At(0, 0) != "a b" {
		t.Errorf("%d rows; second table %q", len(g.Cells), book.Tables[1].Cells)
	}
}

// TestHostileFiles: what can't be read gives a sentence that says what to do.
func TestHostileFiles(t *testing.T) {
	xlsx := workbook(t)
	declared := bombZip("xl/worksheets/sheet1.xml", 500<<20)
	for _, c := range []struct {
		name string
		data []byte
		want string
	}{
		{"empty", nil, "the file is empty"},
		{"million rows", []byte(strings.Repeat("1,2,3,4\n", 1_000_000)), "goes on after row 20000"},
		{"too large", make([]byte, MaxFileBytes+1), "more than the 64 MB"},
		{"text named xlsx is text, binary is not", []byte("\x00\x01\x02\x03garbage\xff\xfe\x00\x00\x01"), "neither a spreadsheet nor text"},
		{"pdf", []byte("%PDF-1.7 ..."), "this is a PDF"},
		{"old xls", append([]byte{0xd0, 0xcf, 0x11, 0xe0, 0xa1, 0xb1, 0x1a, 0xe1}, make([]byte, 600)...), "old binary .xls"},
		{"password", append([]byte{0xd0, 0xcf, 0x11, 0xe0, 0xa1, 0xb1, 0x1a, 0xe1}, utf16le("EncryptedPackage")...), "protected by a password"},
		{"truncated", xlsx[:len(xlsx)/2], "cut short or damaged"},
		{"zip of something else", zipOf(t, map[string]string{"a.txt": "hello"}), "without a spreadsheet in it"},
		{"declared bomb", declared, "unpacked it would be larger"},
		{"ods with a password", zipOf(t, map[string]string{"content.xml": "x", "META-INF/manifest.xml": "<manifest:encryption-data/>"}), "protected by a password"},
		{"ods that is no xml", zipOf(t, map[string]string{"content.xml": "<a><b>"}), "cut short or damaged"},
		{"ods without tables", ods(t, ""), "no tables"},
		{"xlsx without parts", zipOf(t, map[string]string{"[Content_Types].xml": "<x"}), "can't be opened"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := ReadGrid("sheet.xlsx", c.data)
			if err == nil || !strings.Contains(err.Error(), c.want) {
				t.Fatalf("error %v, want %q", err, c.want)
			}
			if !strings.HasPrefix(err.Error(), `read sheet "sheet.xlsx": `) || strings.Contains(err.Error(), "\n") {
				t.Errorf("not one sentence about the file: %q", err)
			}
		})
	}
}

// TestRealPassword: a workbook protected by the library itself.
func TestRealPassword(t *testing.T) {
	f := excelize.NewFile()
	var buf bytes.Buffer
	if err := f.Write(&buf, excelize.Options{Password: "stripe"}); err != nil {
		t.Fatal(err)
	}
	if _, err := ReadGrid("p.xlsx", buf.Bytes()); err == nil || !strings.Contains(err.Error(), "protected by a password") {
		t.Fatal(err)
	}
}

// TestBombs: what repeats or lies about its size stays within the limits.
func TestBombs(t *testing.T) {
	t.Run("ods rows repeated a million times", func(t *testing.T) {
		book, err := ReadGrid("b.ods", ods(t, `<table:table table:name="t"><table:table-row table:number-rows-repeated="1000000"><table:table-cell table:number-columns-repeated="16000"><text:p>x</text:p></table:table-cell></table:table-row></table:table>`))
		if err != nil {
			t.Fatal(err)
		}
		cells := 0
		for _, r := range book.Tables[0].Cells {
			cells += len(r)
		}
		if cells > MaxCells || len(book.Notes) != 1 {
			t.Errorf("%d cells, notes %v", cells, book.Notes)
		}
	})
	t.Run("zip part larger than it says", func(t *testing.T) {
		data := ods(t, `<table:table table:name="t">`+strings.Repeat(`<table:table-row><table:table-cell><text:p>x</text:p></table:table-cell></table:table-row>`, 1000)+`</table:table>`)
		i := bytes.LastIndex(data, []byte("content.xml"))
		copy(data[i-22:], []byte{10, 0, 0, 0}) // the directory's unpacked size
		if _, err := ReadGrid("b.ods", data); err == nil {
			t.Error("a part that lies about its size was read")
		}
	})
	t.Run("xlsx cells in the last column, and in the last row", func(t *testing.T) {
		var rows strings.Builder
		for r := 1; r <= 1200; r++ {
			fmt.Fprintf(&rows, `<row r="%d"><c r="A%d"><v>1</v></c><c r="XFD%d"><f>A1+1</f></c></row>`, r, r, r)
		}
		rows.WriteString(`<row r="1048576"><c r="A1048576"><v>2</v></c></row>`)
		book, err := ReadGrid("b.xlsx", rawWorkbook(t, rows.String()))
		if err != nil {
			t.Fatal(err)
		}
		if g := book.Tables[0]; len(g.Cells) != 1200 || g.Width() > MaxColumns || g.At(1199, 0) != "1" {
			t.Errorf("%d rows, %d columns", len(g.Cells), g.Width())
		}
	})
}

// rawWorkbook is the least of a workbook round rows of a worksheet.
func rawWorkbook(t testing.TB, rows string) []byte {
	const ns = `xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"`
	return zipOf(t, map[string]string{
		"[Content_Types].xml":        `<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="xml" ContentType="application/xml"/><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Override PartName="/xl/workbook.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml"/><Override PartName="/xl/worksheets/sheet1.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml"/></Types>`,
		"_rels/.rels":                `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/officeDocument" Target="xl/workbook.xml"/></Relationships>`,
		"xl/workbook.xml":            `<workbook ` + ns + ` xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"><sheets><sheet name="S" sheetId="1" r:id="rId1"/></sheets></workbook>`,
		"xl/_rels/workbook.xml.rels": `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet" Target="worksheets/sheet1.xml"/></Relationships>`,
		"xl/worksheets/sheet1.xml":   `<worksheet ` + ns + `><sheetData>` + rows + `</sheetData></worksheet>`,
	})
}

// bombZip is a zip whose one part claims to be that large.
func bombZip(name string, size uint32) []byte {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	w, err := z.CreateRaw(&zip.FileHeader{Name: name, Method: zip.Deflate, CRC32: crc32.ChecksumIEEE(nil), CompressedSize64: 2, UncompressedSize64: uint64(size)})
	if err == nil {
		_, err = w.Write([]byte{3, 0})
	}
	if err == nil {
		err = z.Close()
	}
	if err != nil {
		panic(fmt.Sprint("test zip: ", err))
	}
	return b.Bytes()
}

func workbook(t testing.TB) []byte {
	t.Helper()
	f := excelize.NewFile()
	for i, v := range []any{"Jam", "Jammer", "2", "Total"} {
		if err := f.SetCellValue("Sheet1", CellName(0, i), v); err != nil {
			t.Fatal(err)
		}
	}
	for r := 1; r < 6; r++ {
		for c, v := range []any{r, "0" + itoa(r), 4} {
			if err := f.SetCellValue("Sheet1", CellName(r, c), v); err != nil {
				t.Fatal(err)
			}
		}
		if err := f.SetCellFormula("Sheet1", CellName(r, 3), "=SUM(C"+itoa(r+1)+":C"+itoa(r+1)+")+0*($A$1)"); err != nil {
			t.Fatal(err)
		}
	}
	var buf bytes.Buffer
	if err := f.Write(&buf); err != nil {
		t.Fatal(err)
	}
	return buf.Bytes()
}

// TestFormulasWithoutValues: plain arithmetic is worked out, anything else noted.
func TestFormulasWithoutValues(t *testing.T) {
	book, err := ReadGrid("f.xlsx", workbook(t))
	if err != nil {
		t.Fatal(err)
	}
	g := book.Tables[0]
	if g.At(1, 3) != "4" || g.At(5, 3) != "4" || g.At(1, 1) != "01" {
		t.Errorf("row 2 is %q, notes %v", g.Cells[1], book.Notes)
	}
	for _, c := range []struct {
		src  string
		want string
		open int
	}{
		{"1+2*3", "7", 0},
		{"-(4-1)/3", "-1", 0},
		{"SUM(A1:A3,10)", "16", 0},
		{"MAX(A1:A3)-MIN(A1:A3)", "2", 0},
		{"IF(A1,1,2)", "", 1},
		{"B1", "", 1}, // itself
		{"1/0", "", 1},
		{"Sheet2!A1", "", 1},
	} {
		g := Grid{Cells: [][]string{{"1", ""}, {"2"}, {"3"}}}
		f := formula{grid: &g, source: map[[2]int]string{{0, 1}: c.src}}
		if open := f.fill(); open != c.open || g.At(0, 1) != c.want {
			t.Errorf("%s is %q with %d open, want %q, %d", c.src, g.At(0, 1), open, c.want, c.open)
		}
	}
}

func TestCellName(t *testing.T) {
	for _, c := range []struct {
		r, c int
		want string
	}{{0, 0, "A1"}, {6, 2, "C7"}, {0, 25, "Z1"}, {9, 26, "AA10"}, {0, 701, "ZZ1"}, {0, 702, "AAA1"}} {
		if got := CellName(c.r, c.c); got != c.want {
			t.Errorf("CellName(%d, %d) = %s, want %s", c.r, c.c, got, c.want)
		}
	}
}

package sheet

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"sort"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"whistlecut/timeline"
)

// judgeDir keeps what outside programs made of our files, with its origin.
var judgeDir = filepath.Join("testdata", "judges")

// judged is the sheet that the recorded judgements are about. Its texts are the
// ones that spreadsheets like to change: leading zeros, numbers that look like
// powers of ten, times, quotes, separators and letters beyond ASCII.
func judged() Sheet {
	num := func(s string) timeline.Cell[timeline.Number] { return timeline.Known(timeline.Number(s)) }
	yes, no, text := timeline.Known(true), timeline.Cell[bool]{State: timeline.CellBlank}, timeline.Known[string]
	row := func(jam int, side timeline.Side, sp bool, who string, lost, lead, call timeline.Cell[bool], total, game int, trips ...int) timeline.JamRow {
		r := timeline.JamRow{
			Period: 1, Jam: jam, Side: side, StarPass: sp, Jammer: num(who), Lost: lost, Lead: lead, Call: call,
			JamTotal: timeline.Known(total), GameTotal: timeline.Known(game),
		}
		for _, n := range trips {
			r.Trips = append(r.Trips, timeline.Known(n))
		}
		return r
	}
	clock := func(d time.Duration) timeline.Cell[time.Duration] { return timeline.Known(d) }
	s := Sheet{Title: `Märzcup, "final"; 2nd leg`}
	s.Teams[0] = Team{Name: text("Höllenhunde, A-Team"), Roster: []RosterLine{{num("007"), text(`Anna "Bolt" Ø`)}, {num("1E5"), text("Ella; O'Neil")}, {num("42"), text("=SUM(A1:A2)")}}}
	s.Teams[1] = Team{Name: text("+Plus Rollers"), Roster: []RosterLine{{num("0"), text("-12")}, {num("3E"), text("Жанна 滑")}, {num("9999"), text("TRUE")}}}
	s.Rows = []timeline.JamRow{
		row(1, timeline.Home, false, "007", no, yes, yes, 7, 7, 4, 3),
		row(1, timeline.Away, false, "0", no, no, no, 0, 0),
		row(2, timeline.Home, false, "1E5", yes, no, no, 4, 11, 4),
		row(2, timeline.Home, true, "42", no, no, no, 3, 14, 3),
		row(2, timeline.Away, false, "3E", no, no, no, 5, 4, 4), // both totals are wrong and must stay so
	}
	s.Totals = []Total{{0, timeline.Home, timeline.Known(14)}, {0, timeline.Away, timeline.Known(4)}}
	one := timeline.Known(1)
	s.Penalties = []Penalty{{timeline.Home, num("007"), text("X"), one, timeline.Known(1)}, {timeline.Away, num("3E"), text("M"), one, timeline.Cell[int]{State: timeline.CellRange, Low: 1, High: 2}}}
	s.Clock = []JamClock{
		{1, 1, clock(2 * time.Minute), clock(30 * time.Minute), clock(28 * time.Minute)},
		{1, 2, clock(61*time.Second + 500*time.Millisecond), clock(27*time.Minute + 30*time.Second), clock(9 * time.Second)},
	}
	return s
}

// cellsOf is what a spreadsheet program should show of each table.
func cellsOf(s Sheet) map[string][][]string {
	all := map[string][][]string{}
	for _, t := range ownTables(s) {
		all[t.name] = trimmed(append([][]string{t.head}, t.rows...))
	}
	all["Whistlecut"] = trimmed([][]string{{ownMark, strconv.Itoa(ownVersion), s.Title}})
	return all
}

// trimmed leaves out empty cells at the ends of rows and empty rows at the end.
func trimmed(rows [][]string) [][]string {
	var out [][]string
	for _, row := range rows {
		n := len(row)
		for n > 0 && row[n-1] == "" {
			n--
		}
		out = append(out, append([]string{}, row[:n]...))
	}
	for len(out) > 0 && len(out[len(out)-1]) == 0 {
		out = out[:len(out)-1]
	}
	return out
}

func rowsOf(t *testing.T, data []byte) [][]string {
	t.Helper()
	r := csv.NewReader(bytes.NewReader(data))
	r.FieldsPerRecord = -1
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return trimmed(rows)
}

// readSheet reads a file as the program does; a problem is an error.
func readSheet(t *testing.T, name string, data []byte) Sheet {
	t.Helper()
	book, err := ReadGrid(name, data)
	if err != nil {
		t.Fatal(err)
	}
	s, problems := Read(book, Recognise(book))
	if len(problems) > 0 {
		t.Errorf("%s: %v", name, problems)
	}
	return s
}

// office is LibreOffice without a window, with settings of its own.
type office struct {
	dir     string
	version string
}

func newOffice(t *testing.T) *office {
	t.Helper()
	if os.Getenv("WHISTLECUT_JUDGES") != "1" {
		t.Skip("outside programs judge with WHISTLECUT_JUDGES=1, as in make judges")
	}
	return &office{dir: t.TempDir(), version: strings.TrimSpace(string(outside(t, "soffice", "--version")))}
}

// outside runs another program and returns what it prints.
func outside(t *testing.T, name string, args ...string) []byte {
	t.Helper()
	var errs bytes.Buffer
	cmd := exec.Command(name, args...)
	cmd.Stderr = &errs
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("%s %s: %v\n%s", name, strings.Join(args, " "), err, errs.Bytes())
	}
	return out
}

// convert turns files into another form and returns the folder they are in.
func (o *office) convert(t *testing.T, to, infilter string, files ...string) string {
	t.Helper()
	out := t.TempDir()
	args := []string{"-env:UserInstallation=file://" + o.dir, "--headless", "--convert-to", to, "--outdir", out}
	if infilter != "" {
		args = append(args, "--infilter="+infilter)
	}
	outside(t, "soffice", append(args, files...)...)
	return out
}

// csvOut asks for every table as UTF-8 with commas, cells as they are shown.
const csvOut = "csv:Text - txt - csv (StarCalc):44,34,76,1,,0,false,true,false,false,false,-1"

// textIn opens a CSV with every column as text.
var textIn = "CSV:44,34,76,1," + func() string {
	var cols []string
	for c := range 40 {
		cols = append(cols, fmt.Sprintf("%d/2", c+1))
	}
	return strings.Join(cols, "/")
}()

// tablesOut reads the CSV files that LibreOffice made of the tables of a workbook.
func tablesOut(t *testing.T, folder, base string) map[string][][]string {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(folder, base+"-*.csv"))
	if err != nil || len(files) == 0 {
		t.Fatalf("no tables: %v", err)
	}
	all := map[string][][]string{}
	for _, f := range files {
		data, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		name := strings.TrimSuffix(strings.TrimPrefix(filepath.Base(f), base+"-"), ".csv")
		all[name] = rowsOf(t, data)
	}
	return all
}

func save(t *testing.T, path string, write func(*bytes.Buffer) error) {
	t.Helper()
	var b bytes.Buffer
	if err := write(&b); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
}

// record keeps a judgement with its origin: which program said it, how, when.
func record(t *testing.T, name, origin string, data []byte) {
	t.Helper()
	if t.Failed() {
		return
	}
	if err := os.MkdirAll(judgeDir, 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(judgeDir, name), data, 0o644); err != nil {
		t.Fatal(err)
	}
	note := fmt.Sprintf("%s: %s; %s\n", name, origin, time.Now().UTC().Format("2006-01-02"))
	path := filepath.Join(judgeDir, "ORIGIN.txt")
	old, err := os.ReadFile(path)
	if err != nil && !os.IsNotExist(err) {
		t.Fatal(err)
	}
	lines := []string{note}
	for l := range strings.Lines(string(old)) {
		if !strings.HasPrefix(l, name+": ") {
			lines = append(lines, l)
		}
	}
	sort.Strings(lines)
	if err := os.WriteFile(path, []byte(strings.Join(lines, "")), 0o644); err != nil {
		t.Fatal(err)
	}
}

func indented(t *testing.T, v any) []byte {
	t.Helper()
	b, err := json.MarshalIndent(v, "", " ")
	if err != nil {
		t.Fatal(err)
	}
	return append(b, '\n')
}

// TestJudgeWorkbook: LibreOffice, which works the formulas out by itself, and
// openpyxl see the very cells that were written.
func TestJudgeWorkbook(t *testing.T) {
	o := newOffice(t)
	dir := t.TempDir()
	sheets := map[string]Sheet{"judged": judged()}
	for seed := range 12 {
		sheets[fmt.Sprintf("drawn%02d", seed)] = rapid.Custom(drawSheet).Example(seed)
	}
	var files []string
	for name, s := range sheets {
		path := filepath.Join(dir, name+".xlsx")
		save(t, path, func(b *bytes.Buffer) error { return WriteXLSX(b, s) })
		files = append(files, path)
	}
	sort.Strings(files)
	shown := o.convert(t, csvOut, "", files...)
	script := filepath.Join("testdata", "judges", "read_workbook.py")
	version := strings.TrimSpace(string(outside(t, "/usr/bin/python3", "-c", "import openpyxl; print(openpyxl.__version__)")))
	for name, s := range sheets {
		want := cellsOf(s)
		got := tablesOut(t, shown, name)
		if d := cmp.Diff(want, got); d != "" {
			t.Errorf("LibreOffice on %s (-written +seen):\n%s", name, d)
		}
		out := outside(t, "/usr/bin/python3", script, filepath.Join(dir, name+".xlsx"))
		var said struct {
			Tables   map[string][][]string
			Formulas map[string]string
		}
		if err := json.Unmarshal(out, &said); err != nil {
			t.Fatalf("%v: %s", err, out)
		}
		for n, rows := range said.Tables {
			said.Tables[n] = trimmed(rows)
		}
		if d := cmp.Diff(want, said.Tables); d != "" {
			t.Errorf("openpyxl on %s (-written +seen):\n%s", name, d)
		}
		if name == "judged" {
			if len(said.Formulas) != 5 {
				t.Errorf("openpyxl sees the formulas %v", said.Formulas)
			}
			record(t, "workbook-libreoffice.json", o.version+", soffice --headless --convert-to '"+csvOut+"', tables put together", indented(t, got))
			record(t, "workbook-openpyxl.json", "openpyxl "+version+", python3 read_workbook.py", indented(t, said))
		}
	}
}

// TestJudgeOfficeFiles: what LibreOffice saves of our files as XLSX and ODS is
// read as the same sheet.
func TestJudgeOfficeFiles(t *testing.T) {
	o := newOffice(t)
	dir := t.TempDir()
	s := judged()
	text, book := filepath.Join(dir, "from-csv.csv"), filepath.Join(dir, "from-xlsx.xlsx")
	save(t, text, func(b *bytes.Buffer) error { return WriteCSV(b, s) })
	save(t, book, func(b *bytes.Buffer) error { return WriteXLSX(b, s) })
	for _, form := range []string{"xlsx", "ods"} {
		for _, c := range []struct{ file, in, how string }{
			{text, textIn, "every column opened as text"},
			{book, "", "of our XLSX"},
		} {
			made := strings.TrimSuffix(filepath.Base(c.file), filepath.Ext(c.file)) + "." + form
			data, err := os.ReadFile(filepath.Join(o.convert(t, form, c.in, c.file), made))
			if err != nil {
				t.Fatal(err)
			}
			if d := cmp.Diff(bare(t, s), bare(t, readSheet(t, made, data))); d != "" {
				t.Errorf("%s (-ours +LibreOffice's):\n%s", made, d)
			}
			record(t, made, o.version+", soffice --headless --convert-to "+form+", "+c.how, data)
		}
	}
}

// TestJudgePlainlyOpened: our CSV opened with LibreOffice's own guesses and saved
// as ODS and XLSX. Leading zeros, a number that looks like a power of ten and a
// name that looks like a formula are lost there; times, which it takes for times
// of day, and all else must come through.
func TestJudgePlainlyOpened(t *testing.T) {
	o := newOffice(t)
	text := filepath.Join(t.TempDir(), "guessed.csv")
	s := judged()
	save(t, text, func(b *bytes.Buffer) error { return WriteCSV(b, s) })
	for _, form := range []string{"xlsx", "ods"} {
		data, err := os.ReadFile(filepath.Join(o.convert(t, form, "CSV:44,34,76,1", text), "guessed."+form))
		if err != nil {
			t.Fatal(err)
		}
		record(t, "guessed."+form, o.version+", soffice --headless --convert-to "+form+", CSV opened with its guesses", data)
		checkGuessed(t, "guessed."+form, data)
	}
}

func checkGuessed(t *testing.T, name string, data []byte) {
	t.Helper()
	want := bare(t, judged())
	lost := map[any]string{"007": "7", "1E5": "1.00E+05", "=SUM(A1:A2)": "0"}
	var guess func(any)
	guess = func(v any) {
		switch v := v.(type) {
		case map[string]any:
			if to, ok := lost[v["value"]]; ok {
				v["value"] = to
			}
			for _, x := range v {
				guess(x)
			}
		case []any:
			for _, x := range v {
				guess(x)
			}
		}
	}
	guess(want)
	if d := cmp.Diff(want, bare(t, readSheet(t, name, data))); d != "" {
		t.Errorf("%s (-ours +LibreOffice's):\n%s", name, d)
	}
}

// TestJudgeLayouts: sheets of other layouts, turned by LibreOffice into the
// other spreadsheet forms, are read as before.
func TestJudgeLayouts(t *testing.T) {
	o := newOffice(t)
	dir := filepath.Join("..", "..", "testdata", "sheets", "layouts")
	data, err := os.ReadFile(filepath.Join(dir, "truth.json"))
	if err != nil {
		t.Fatal(err)
	}
	var truth layoutTruth
	if err := json.Unmarshal(data, &truth); err != nil {
		t.Fatal(err)
	}
	files, err := filepath.Glob(filepath.Join(dir, "[0-9]*s*")) // xlsx, ods, csv, tsv
	if err != nil {
		t.Fatal(err)
	}
	judgedFiles := 0
	for _, from := range []string{".xlsx", ".ods"} {
		var some []string
		for _, f := range files {
			if filepath.Ext(f) == from {
				some = append(some, f)
			}
		}
		for _, to := range []string{"xlsx", "ods"} {
			out := o.convert(t, to, "", some...)
			for _, f := range some {
				made := strings.TrimSuffix(filepath.Base(f), from) + "." + to
				t.Run(filepath.Base(f)+" as "+to, func(t *testing.T) {
					judgedFiles++
					data, err := os.ReadFile(filepath.Join(out, made))
					if err != nil {
						t.Fatal(err)
					}
					book, err := ReadGrid(made, data)
					if err != nil {
						t.Fatal(err)
					}
					s, _ := Read(book, Recognise(book))
					miss, right := truth.misses(s)
					t.Logf("%d values right", right)
					for _, x := range miss {
						t.Error(x)
					}
				})
			}
		}
	}
	if judgedFiles < 10 {
		t.Errorf("only %d files were judged", judgedFiles)
	}
}

// TestRecordedJudges compares what outside programs said when they were last
// asked with what is written and read today.
func TestRecordedJudges(t *testing.T) {
	read := func(name string) []byte {
		data, err := os.ReadFile(filepath.Join(judgeDir, name))
		if err != nil {
			t.Fatalf("%v; make judges records it", err)
		}
		return data
	}
	var shown map[string][][]string
	if err := json.Unmarshal(read("workbook-libreoffice.json"), &shown); err != nil {
		t.Fatal(err)
	}
	var said struct{ Tables map[string][][]string }
	if err := json.Unmarshal(read("workbook-openpyxl.json"), &said); err != nil {
		t.Fatal(err)
	}
	for who, tables := range map[string]map[string][][]string{"LibreOffice": shown, "openpyxl": said.Tables} {
		for name, rows := range tables {
			tables[name] = trimmed(rows)
		}
		if d := cmp.Diff(cellsOf(judged()), tables); d != "" {
			t.Errorf("%s (-written +seen):\n%s", who, d)
		}
	}
	for _, name := range []string{"from-csv.xlsx", "from-csv.ods", "from-xlsx.xlsx", "from-xlsx.ods"} {
		if d := cmp.Diff(bare(t, judged()), bare(t, readSheet(t, name, read(name)))); d != "" {
			t.Errorf("%s (-ours +LibreOffice's):\n%s", name, d)
		}
	}
	for _, name := range []string{"guessed.xlsx", "guessed.ods"} {
		checkGuessed(t, name, read(name))
	}
}

package print

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"whistlecut/timeline/numbers"
)

// judged is what LibreOffice said of a workbook of ours, with where that came from.
type judged struct {
	Program string                `json:"program"`
	Command string                `json:"command"`
	Date    string                `json:"date"`
	Tables  map[string][][]string `json:"tables"`
}

const judgement = "testdata/judge_workbook.json"

// judgedTables are those of a simulated bout and one of texts that spreadsheet
// programs like to change.
func judgedTables() []Table { return append(Tables(numbers.ReportOf(bout(4))), odd) }

// TestJudgeWorkbook has LibreOffice open the workbook of the coach's numbers and
// records what it shows; the normal run holds our tables against the record, see
// TestWorkbookAsJudged.
func TestJudgeWorkbook(t *testing.T) {
	if os.Getenv("WHISTLECUT_JUDGES") != "1" {
		t.Skip("LibreOffice judges with WHISTLECUT_JUDGES=1, as in make judges")
	}
	dir := t.TempDir()
	var b bytes.Buffer
	if err := WriteXLSX(&b, judgedTables()); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(dir, "numbers.xlsx")
	if err := os.WriteFile(path, b.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	run := func(args ...string) string {
		t.Helper()
		out, err := exec.Command("soffice", append([]string{"-env:UserInstallation=file://" + filepath.Join(dir, "settings")}, args...)...).CombinedOutput()
		if err != nil {
			t.Fatalf("soffice: %v\n%s", err, out)
		}
		return strings.TrimSpace(string(out))
	}
	// Every table as UTF-8 with commas, cells as stored and not as shown.
	const form = "csv:Text - txt - csv (StarCalc):44,34,76,1,,0,false,false,false,false,false,-1"
	said := judged{Program: run("--version"), Command: "soffice --headless --convert-to '" + form + "' numbers.xlsx", Date: time.Now().UTC().Format("2006-01-02"), Tables: map[string][][]string{}}
	run("--headless", "--convert-to", form, "--outdir", dir, path)
	files, err := filepath.Glob(filepath.Join(dir, "numbers-*.csv"))
	if err != nil || len(files) == 0 {
		t.Fatalf("LibreOffice made no tables: %v", err)
	}
	for _, name := range files {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		r := csv.NewReader(bytes.NewReader(data))
		r.FieldsPerRecord = -1
		rows, err := r.ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		said.Tables[strings.TrimSuffix(strings.TrimPrefix(filepath.Base(name), "numbers-"), ".csv")] = rows
	}
	compareWithJudge(t, said)
	if t.Failed() {
		return
	}
	data, err := json.MarshalIndent(said, "", " ")
	if err != nil {
		t.Fatal(err)
	}
	if err := os.MkdirAll("testdata", 0o777); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(judgement, append(data, '\n'), 0o666); err != nil {
		t.Fatal(err)
	}
}

// TestWorkbookAsJudged holds the tables against what LibreOffice showed of them when
// it was last asked.
func TestWorkbookAsJudged(t *testing.T) {
	data, err := os.ReadFile(judgement)
	if err != nil {
		t.Fatal(err)
	}
	var said judged
	if err := json.Unmarshal(data, &said); err != nil {
		t.Fatal(err)
	}
	compareWithJudge(t, said)
}

func compareWithJudge(t *testing.T, said judged) {
	t.Helper()
	tables := judgedTables()
	if len(said.Tables) != len(tables) {
		t.Errorf("%s shows %d tables of %d", said.Program, len(said.Tables), len(tables))
	}
	for _, x := range tables {
		got := said.Tables[x.Name]
		if len(got) != len(x.Rows)+1 {
			t.Errorf("%s: %s shows %d rows, want %d", x.Name, said.Program, len(got), len(x.Rows)+1)
			continue
		}
		if d := cmp.Diff(x.Head, got[0][:len(x.Head)]); d != "" {
			t.Errorf("%s, headings (-written +seen):\n%s", x.Name, d)
		}
		for i, row := range x.Rows {
			for k, cell := range row {
				if seen := got[i+1][k]; !sameCell(cell, seen) {
					t.Errorf("%s, row %d, %s: %v was written, %q is seen", x.Name, i+1, x.Head[k], cell, seen)
				}
			}
		}
	}
}

// sameCell compares numbers as numbers: to ten digits, which is what is shown.
func sameCell(cell any, seen string) bool {
	var want float64
	switch v := cell.(type) {
	case nil:
		return seen == ""
	case string:
		return seen == v
	case int:
		want = float64(v)
	case float64:
		want = v
	default:
		return false
	}
	got, err := strconv.ParseFloat(seen, 64)
	diff := got - want
	return err == nil && diff < 1e-9*(1+want*want) && -diff < 1e-9*(1+want*want)
}

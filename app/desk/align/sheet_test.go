package align

import (
	"os"
	"path/filepath"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"whistlecut/app/desk/task/tasktest"
	"whistlecut/timeline/sheet"
)

// Nothing says what the column after the lead is, so it is doubtful.
const foreignSheet = "Home,,,,,,\nJam,Jammer,Lost,Lead,Zyx,Trip 2,Trip 3,Jam total,Game total\n" +
	"1,73,,x,x,4,,4,4\n2,19,,,,3,,3,7\n3,73,x,,,,,0,7\n"

func foreign(t *testing.T) (*Task, *tasktest.Desk) {
	t.Helper()
	x, d := opened(t, tasktest.Options{Seed: 3, NoTags: true})
	d.Win.Resize(fyne.NewSize(700, 620))
	path := filepath.Join(t.TempDir(), "score of saturday.csv")
	if err := os.WriteFile(path, []byte(foreignSheet), 0o600); err != nil {
		t.Fatal(err)
	}
	x.show(atSheet)
	x.sheet.add(path)
	if len(d.Failed) > 0 || d.Opened.Facts.Sheet == nil {
		t.Fatalf("not read: %v", d.Failed)
	}
	return x, d
}

func TestSheetColumns(t *testing.T) {
	x, d := foreign(t)
	if len(d.Opened.Bout.Jams) != 3 {
		t.Errorf("%d jams from the sheet", len(d.Opened.Bout.Jams))
	}
	for i := 1; i < len(x.sheet.rows); i++ {
		if x.sheet.column(x.sheet.rows[i-1]).Certainty > x.sheet.column(x.sheet.rows[i]).Certainty {
			t.Error("the least sure columns come first")
		}
	}
	at := -1
	for i, r := range x.sheet.rows {
		if x.sheet.column(r).Heading == "Zyx" {
			at = i
		}
	}
	if at < 0 {
		t.Fatal("the odd column is not listed")
	}
	x.sheet.list.Choose(at)
	d.Win.Resize(fyne.NewSize(412, 504))
	d.Picture(t, "sheet")

	press(t, d, "Return")
	d.Picture(t, "sheet-choose")
	in := d.Win.Canvas().Focused()
	test.Type(in, "call")
	in.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	if d.Win.Canvas().Overlays().Top() != nil {
		t.Fatal("the choice is still open")
	}
	r := x.sheet.rows
	for _, c := range r {
		if x.sheet.column(c).Heading == "Zyx" && x.sheet.column(c).Field != sheet.FieldCall {
			t.Errorf("read as %s", x.sheet.column(c).Field)
		}
	}
	if row := x.sheet.reading.Sheet.Rows[0]; !row.Call.Value {
		t.Errorf("the call is not read: %+v", row.Call)
	}
	stored, _, err := d.Opened.StoredSheet()
	if err != nil || !stored.Sheet.Rows[0].Call.Value {
		t.Errorf("stored: %v, %+v", err, stored.Sheet.Rows[0].Call)
	}
	if _, err := d.Opened.File.Undo(); err != nil {
		t.Fatal(err)
	}
	if d.Changed(); x.sheet.reading.Sheet.Rows[0].Call.Value {
		t.Error("undo brings the old reading back")
	}
}

func TestSheetTable(t *testing.T) {
	x, d := foreign(t)
	press(t, d, "E")
	in := d.Win.Canvas().Focused()
	test.Type(in, "away, period 2")
	in.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	for _, r := range x.sheet.reading.Sheet.Rows {
		if r.Side.String() != "away" || r.Period != 2 {
			t.Errorf("row of %s, period %d", r.Side, r.Period)
		}
	}
	// The jams of the first reading went with it.
	if len(d.Opened.Bout.Jams) != 3 || d.Opened.Bout.Jams[0].Period != 2 {
		t.Errorf("%d jams, the first of period %d", len(d.Opened.Bout.Jams), d.Opened.Bout.Jams[0].Period)
	}
}

func TestSheetRemove(t *testing.T) {
	x, d := foreign(t)
	press(t, d, "Delete")
	if d.Opened.Facts.Sheet != nil || !x.sheet.page.empty.Visible() {
		t.Error("the sheet is still there")
	}
}

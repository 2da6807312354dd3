package answers

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/xuri/excelize/v2"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"
	"pgregory.net/rapid"

	"whistlecut/timeline"
)

func TestJSONRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawSheet(t)
		for n, a := range s.Given {
			a.Section = rapid.SampledFrom([]string{"", "4.1.1"}).Draw(t, "section")
			s.Given[n] = a
		}
		var b bytes.Buffer
		if err := s.WriteJSON(&b); err != nil {
			t.Fatal(err)
		}
		got, err := Read("a.json", b.Bytes())
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff([]Sheet{s}, got); diff != "" {
			t.Fatal(diff)
		}
	})
}

// fill writes answers of people into a blank table as they would with a
// spreadsheet program, and gives its rows.
func fill(t *testing.T, f Form, people ...[]string) [][]string {
	t.Helper()
	var b bytes.Buffer
	if err := f.WriteCSV(&b); err != nil {
		t.Fatal(err)
	}
	r := csv.NewReader(strings.NewReader(strings.TrimPrefix(b.String(), "\ufeff")))
	r.FieldsPerRecord = -1
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for i := range rows {
		for len(rows[i]) < 2+len(people) {
			rows[i] = append(rows[i], "")
		}
		for c, p := range people {
			// The names stand in the second row, groups in the third, answers from the fifth on.
			at := map[int]int{1: 0, 2: 1, 4: 2, 5: 3, 6: 4}
			if k, ok := at[i]; ok && k < len(p) {
				rows[i][2+c] = p[k]
			}
		}
	}
	return rows
}

func text(t *testing.T, rows [][]string, comma rune) []byte {
	t.Helper()
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	w.Comma = comma
	if err := w.WriteAll(rows); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestTable(t *testing.T) {
	want := []Sheet{
		{Quiz: quizName, Person: "Ann", Group: Before, Given: map[int]timeline.Answer{1: {Choice: timeline.ChoiceYes, Code: "B"}, 2: {Choice: timeline.ChoiceNo}, 4: {Choice: timeline.ChoiceYes}}},
		{Quiz: quizName, Person: "Zoë מ", Group: After, Given: map[int]timeline.Answer{1: {Choice: timeline.ChoiceWarning, Code: "X"}, 4: {Choice: timeline.ChoiceNo}}},
		{Quiz: quizName, Person: "'=1+1", Group: "level 2", Given: map[int]timeline.Answer{1: {Choice: timeline.ChoiceYes}}},
	}
	for _, language := range []string{"en", "es", "fr", "de", "xx"} {
		f := formOf(language)
		rows := fill(
			t, f,
			[]string{"Ann", "vorher", "yes, b", "NON", "Sí"},
			[]string{" Zoë  מ", "después de la formación", "Verwarnung X", "-", "nein"},
			[]string{"'=1+1", "level 2", "ja"}, nil,
		)
		if strings.HasPrefix(rows[5][1], "=") {
			t.Errorf("a question begins like a formula: %q", rows[5][1])
		}
		for name, data := range map[string][]byte{"comma": text(t, rows, ','), "semicolon": text(t, rows, ';'), "tab": text(t, rows, '\t')} {
			got, err := Read("answers.csv", data)
			if err != nil {
				t.Fatalf("%s, %s: %v", language, name, err)
			}
			if diff := cmp.Diff(want, got); diff != "" {
				t.Errorf("%s, %s: %s", language, name, diff)
			}
		}
		x := excelize.NewFile()
		for i, row := range rows {
			for j, c := range row {
				cell, _ := excelize.CoordinatesToCellName(j+1, i+1)
				if err := x.SetCellValue("Sheet1", cell, c); err != nil {
					t.Fatal(err)
				}
			}
		}
		var b bytes.Buffer
		if err := x.Write(&b); err != nil {
			t.Fatal(err)
		}
		got, err := Read("answers.xlsx", b.Bytes())
		if err != nil {
			t.Fatalf("%s, workbook: %v", language, err)
		}
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("%s, workbook: %s", language, diff)
		}
	}
}

// Programs save tables in the code page of their country, too.
func TestTableInCodePage(t *testing.T) {
	f := formOf("es")
	f.Title = "Martes"
	data, err := charmap.Windows1252.NewEncoder().Bytes(text(t, fill(t, f, []string{"Zoë", "después", "sí B"}), ';'))
	if err != nil {
		t.Fatal(err)
	}
	got, err := Read("a.csv", data)
	if err != nil || len(got) != 1 || got[0].Person != "Zoë" || got[0].Group != After || got[0].Given[1].Code != "B" {
		t.Errorf("%+v, %v", got, err)
	}
}

func TestTableSays(t *testing.T) {
	set := func(row, col int, v string) func([][]string) [][]string {
		return func(rows [][]string) [][]string { rows[row][col] = v; return rows }
	}
	for _, c := range []struct {
		name, want string
		change     func([][]string) [][]string
		sound      int
	}{
		{"as it should be", "", set(0, 3, ""), 1},
		{"nobody", "nobody has filled", func(r [][]string) [][]string {
			for i := range r[4:] {
				r[4+i][2] = ""
			}
			r[1][2] = ""
			return r
		}, 0},
		{"no name", "cell C2 is empty", set(1, 2, ""), 0},
		{"no answer of ours", `cell C5, question 1: "perhaps"`, set(4, 2, "perhaps"), 0},
		{"a letter alone", `"n" is no answer`, set(4, 2, "n"), 0},
		{"a letter to no", "goes with yes or warning", set(4, 2, "no B"), 0},
		{"signs behind yes", "no letter of a penalty", set(4, 2, "yes !"), 0},
		{"another quiz's name", "cell B1", set(0, 1, "1.2E+11"), 0},
		{"a question twice", "stands in row 5 already", set(5, 0, "1"), 0},
		{"question 0", "no number of a question", set(5, 0, "0"), 0},
		{"rows taken out", "leave the first three rows", func(r [][]string) [][]string { return append(r[:1], r[3:]...) }, 0},
		{"no questions", "no row has the number", func(r [][]string) [][]string { return r[:4] }, 0},
		{"a very long name", "at most 60", set(1, 2, strings.Repeat("x", 61)), 0},
		{"the second column is wrong", "cell D6, question 2", func(r [][]string) [][]string {
			r[1][3], r[5][3] = "Bob", "maybe"
			return r
		}, 1},
	} {
		t.Run(c.name, func(t *testing.T) {
			rows := fill(t, formOf("en"), []string{"Ann", "before", "yes B", "no", "yes"}, nil)
			got, err := Read("a.csv", text(t, c.change(rows), ','))
			if len(got) != c.sound || (err == nil) != (c.want == "") || err != nil && !strings.Contains(err.Error(), c.want) {
				t.Errorf("%d sheets, %v; want %d and %q", len(got), err, c.sound, c.want)
			}
		})
	}
}

func TestReadTexts(t *testing.T) {
	code, err := small.Code()
	if err != nil {
		t.Fatal(err)
	}
	chat := "[09:31, 27/11] Ann: here: " + code + "\n[09:32] Bob: " + strings.ToLower(code) + "\n[09:33] Cy: " + code[:20] + "\n"
	got, err := Read("chat.txt", []byte(chat))
	if len(got) != 2 || err == nil || !strings.Contains(err.Error(), "code 3: ") {
		t.Errorf("%d sheets, %v; want two and an error about the third", len(got), err)
	}
	wide, err := unicode.UTF16(unicode.LittleEndian, unicode.UseBOM).NewEncoder().Bytes([]byte(chat))
	if err != nil {
		t.Fatal(err)
	}
	if got, _ := Read("chat.txt", wide); len(got) != 2 {
		t.Errorf("in UTF-16 %d sheets were found", len(got))
	}
	x := excelize.NewFile()
	if err := x.SetCellValue("Sheet1", "B3", "from Ann "+code); err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := x.Write(&b); err != nil {
		t.Fatal(err)
	}
	if got, err := Read("codes.xlsx", b.Bytes()); len(got) != 1 || err != nil {
		t.Errorf("a code in a workbook: %d, %v", len(got), err)
	}
	for _, c := range []struct{ name, data, want string }{
		{"empty", " \n", "empty"},
		{"a letter to grandma", "Dear grandma", "no answers in it"},
		{"other JSON", `{"a":1}`, "no file of answers"},
		{"half a file", `{"form":"whistlecut answers"`, "cut short"},
		{"a later version", `{"form":"whistlecut answers","version":9}`, "newer one"},
		{"no name", fmt.Sprintf(`{"form":"whistlecut answers","version":1,"quiz":%q}`, quizName), "name is missing"},
		{"a number that is none", fmt.Sprintf(`{"form":"whistlecut answers","version":1,"quiz":%q,"person":"A","given":{"01":{"choice":"yes"}}}`, quizName), "no number"},
		{"an answer that is none", fmt.Sprintf(`{"form":"whistlecut answers","version":1,"quiz":%q,"person":"A","given":{"1":{"choice":"si"}}}`, quizName), "question 1"},
		{"no quiz", `{"form":"whistlecut answers","version":1,"person":"A"}`, "no name of a quiz"},
		{"a broken workbook", "PK\x03\x04 nothing", "damaged"},
		{"one of a list is bad", fmt.Sprintf(`[{"form":"whistlecut answers","version":1,"quiz":%q,"person":"A"},{}]`, quizName), "sheet 2"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if _, err := Read("x", []byte(c.data)); err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("%v, want %q", err, c.want)
			}
		})
	}
	if _, err := Read("x", make([]byte, MostBytes+1)); err == nil || !strings.Contains(err.Error(), "choose another") {
		t.Errorf("a large file: %v", err)
	}
}

// FuzzRead: no file makes the reader panic, and what it takes for answers can be
// written and read again.
func FuzzRead(f *testing.F) {
	code, err := small.Code()
	if err != nil {
		f.Fatal(err)
	}
	var b bytes.Buffer
	if err := small.WriteJSON(&b); err != nil {
		f.Fatal(err)
	}
	f.Add([]byte(code))
	f.Add(b.Bytes())
	f.Add([]byte("[" + b.String() + "]"))
	f.Add([]byte("Whistlecut answers,quiz 0a1b2c3d4e5f\nName,,Ann\nGroup,,after\nNumber,Question,Answer\n1,x,yes B\n2,y,no\n"))
	f.Add([]byte("\xff\xfeW\x00C\x00A\x001\x00"))
	f.Fuzz(func(t *testing.T, data []byte) {
		list, _ := Read("x", data)
		for _, s := range list {
			if err := s.Check(); err != nil {
				t.Fatalf("%+v: %v", s, err)
			}
			var b bytes.Buffer
			if err := s.WriteJSON(&b); err != nil {
				t.Fatal(err)
			}
			again, err := Read("x", b.Bytes())
			if err != nil || len(again) != 1 || !cmp.Equal(s, again[0]) {
				t.Fatalf("%+v came back as %+v, %v", s, again, err)
			}
		}
	})
}

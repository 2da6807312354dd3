package agreement

import (
	"fmt"
	"math"
	"testing"
)

// byRater makes a table of one line per rater, a character per unit, * for missing.
func byRater(t *testing.T, lines ...string) Table {
	t.Helper()
	var units, raters []string
	for i := range len(lines[0]) {
		units = append(units, fmt.Sprint(i+1))
	}
	for j := range lines {
		raters = append(raters, string(rune('A'+j)))
	}
	out := NewTable(units, raters)
	for j, l := range lines {
		for i, c := range l {
			if c != '*' {
				out.Answers[i][j] = string(c)
			}
		}
	}
	if err := out.Check(); err != nil {
		t.Fatal(err)
	}
	return out
}

// byCount makes a table of rows that say how often each category was chosen.
func byCount(rows [][]int) Table {
	var units, raters []string
	for i, r := range rows {
		units = append(units, fmt.Sprint(i+1))
		if i > 0 {
			continue
		}
		for _, n := range r {
			for range n {
				raters = append(raters, fmt.Sprint(len(raters)+1))
			}
		}
	}
	t := NewTable(units, raters)
	for i, r := range rows {
		j := 0
		for k, n := range r {
			for range n {
				t.Answers[i][j] = fmt.Sprint(k + 1)
				j++
			}
		}
	}
	return t
}

// TestAlphaPublished holds alpha against values that were published.
func TestAlphaPublished(t *testing.T) {
	for _, c := range []struct {
		name   string
		raters []string
		want   float64
		units  int
		n      int
	}{
		// Krippendorff, Computing Krippendorff's Alpha-Reliability (2011), section C:
		// four observers, twelve units, missing answers; nominal 0.743, n.. = 40.
		{"2011, section C", []string{"123321412***", "1233224125*3", "*3332342251*", "12332441251*"}, 0.743, 11, 40},
		// The worked example on the English Wikipedia's page Krippendorff's alpha: three
		// coders, fifteen units; nominal 0.691, 26 pairable values.
		{"Wikipedia", []string{"*****34121133*3", "1*213343*******", "**21344*21133*4"}, 0.691, 12, 26},
		// Krippendorff 2011, section A, two observers and two answers: 0.095 (from memory).
		{"2011, section A", []string{"0100000010", "1110010000"}, 0.095, 10, 20},
		// Krippendorff 2011, section B, two observers and five answers: 0.692 (from memory).
		{"2011, section B", []string{"aabbdcccedda", "babbbccceddd"}, 0.692, 12, 24},
	} {
		t.Run(c.name, func(t *testing.T) {
			got := Alpha(byRater(t, c.raters...))
			if !got.Defined() || math.Round(got.Value*1000)/1000 != c.want {
				t.Errorf("alpha %+v, published %.3f", got, c.want)
			}
			if got.Units != c.units || got.Answers != c.n {
				t.Errorf("%d units and %d answers count, want %d and %d", got.Units, got.Answers, c.units, c.n)
			}
		})
	}
}

// TestKappaPublished: ten subjects, fourteen raters, five categories; the table that
// stands on the English Wikipedia's page Fleiss' kappa, kappa 0.210.
func TestKappaPublished(t *testing.T) {
	table := byCount([][]int{
		{0, 0, 0, 0, 14},
		{0, 2, 6, 4, 2},
		{0, 0, 3, 5, 6},
		{0, 3, 9, 2, 0},
		{2, 2, 8, 1, 1},
		{7, 7, 0, 0, 0},
		{3, 2, 6, 3, 0},
		{2, 5, 3, 2, 2},
		{6, 5, 2, 1, 0},
		{0, 2, 2, 3, 7},
	})
	got := Kappa(table)
	if !got.Defined() || math.Round(got.Value*1000)/1000 != 0.210 || got.Units != 10 || got.LeftOut != 0 {
		t.Errorf("kappa %+v, published 0.210", got)
	}
	// The page gives 0.378 and 0.213 on the way.
	if math.Round((1-got.Observed)*1000)/1000 != 0.378 || math.Round((1-got.Expected)*1000)/1000 != 0.213 {
		t.Errorf("agreement %.4f by chance %.4f, published 0.378 and 0.213", 1-got.Observed, 1-got.Expected)
	}
	table.Answers[3][0] = Missing
	if got := Kappa(table); got.Units != 9 || got.LeftOut != 1 || !got.Defined() {
		t.Errorf("one answer missing: %+v, want the other nine units", got)
	}
	if r := ReadKappa(got); r.Key != "fair" || r.Source == "" {
		t.Errorf("0.210 reads %+v", r)
	}
}

func TestNoCoefficient(t *testing.T) {
	for _, c := range []struct {
		name         string
		raters       []string
		alpha, kappa Why
	}{
		{"nobody", []string{"***", "***"}, NoAnswers, NoAnswers},
		{"one answer only", []string{"*1*", "***"}, NoPairs, NoPairs},
		{"one person", []string{"121"}, NoPairs, NoPairs},
		{"no unit answered twice", []string{"1**", "*2*"}, NoPairs, NoComplete},
		{"no variation", []string{"111", "111"}, NoVariation, NoVariation},
		{"no complete unit", []string{"12*", "1*2", "*21"}, Computed, NoComplete},
		{"an empty person counts for nobody", []string{"12", "12", "**"}, Computed, Computed},
	} {
		t.Run(c.name, func(t *testing.T) {
			table := byRater(t, c.raters...)
			a, k := Alpha(table), Kappa(table)
			if a.Why != c.alpha || k.Why != c.kappa {
				t.Errorf("alpha %q, kappa %q; want %q and %q", a.Why, k.Why, c.alpha, c.kappa)
			}
			if a.Why != Computed && (a.Value != 0 || ReadAlpha(a).Text == "") {
				t.Errorf("%+v reads %+v", a, ReadAlpha(a))
			}
			if k.Why != Computed && (k.Value != 0 || ReadKappa(k).Text == "") {
				t.Errorf("%+v reads %+v", k, ReadKappa(k))
			}
			if i := AlphaInterval(table, 1); a.Why != Computed && i.Defined() {
				t.Errorf("an interval without a value: %+v", i)
			}
		})
	}
	if err := (Table{Units: []string{"1"}, Raters: []string{"A"}, Answers: [][]string{{"1", "2"}}}).Check(); err == nil {
		t.Error("a row with an answer too many passes")
	}
}

func TestReadAlpha(t *testing.T) {
	for v, want := range map[float64]string{1: "reliable", 0.8: "reliable", 0.799: "tentative", 0.667: "tentative", 0.6669: "low", 0.01: "low", 0: "chance", -0.4: "chance"} {
		if r := ReadAlpha(Coefficient{Value: v}); r.Key != want || r.Source == "" || r.Text == "" {
			t.Errorf("%g reads %+v, want %s", v, r, want)
		}
	}
	for v, want := range map[float64]string{-0.1: "poor", 0: "slight", 0.2: "slight", 0.21: "fair", 0.4: "fair", 0.5: "moderate", 0.7: "substantial", 0.81: "almost perfect"} {
		if r := ReadKappa(Coefficient{Value: v}); r.Key != want {
			t.Errorf("%g reads %+v, want %s", v, r, want)
		}
	}
}

func TestAlphaInterval(t *testing.T) {
	table := byRater(t, "1121122121", "1121122121", "1221121122", "11211*2121")
	a, i := Alpha(table), AlphaInterval(table, 5)
	if !i.Defined() || i.Low > a.Value || i.High < a.Value || i.Low == i.High || i.Drawn != Draws {
		t.Errorf("alpha %.3f, interval %+v", a.Value, i)
	}
	if again := AlphaInterval(table, 5); again != i {
		t.Errorf("the same seed gave %+v and %+v", i, again)
	}
	// Two units, one of either kind: half of the tables drawn have no variation.
	if i := AlphaInterval(byRater(t, "12", "12"), 1); i.Undefined == 0 {
		t.Errorf("tables without variation are not counted: %+v", i)
	}
	if i := AlphaInterval(byRater(t, "1", "2"), 1); i.Why != TooFewUnits {
		t.Errorf("one unit: %+v", i)
	}
}

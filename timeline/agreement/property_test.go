package agreement

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// drawTable makes any table with missing answers.
func drawTable(t *rapid.T) Table {
	units, raters, names := rapid.IntRange(1, 12).Draw(t, "units"), rapid.IntRange(1, 8).Draw(t, "raters"), rapid.IntRange(1, 5).Draw(t, "answers")
	x := NewTable(make([]string, units), make([]string, raters))
	for i := range units {
		for j := range raters {
			if a := rapid.IntRange(0, names).Draw(t, "answer"); a > 0 {
				x.Answers[i][j] = fmt.Sprint(a)
			}
		}
	}
	return x
}

func same(a, b Coefficient) bool {
	return a.Why == b.Why && math.Abs(a.Value-b.Value) < 1e-9 && a.Units == b.Units && a.Answers == b.Answers && a.LeftOut == b.LeftOut
}

// Who is asked first, which question comes first and what the answers are called
// changes no measure.
func TestOrderAndNamesChangeNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := drawTable(t)
		a, k := Alpha(x), Kappa(x)
		places := make([]int, len(x.Raters))
		for j := range places {
			places[j] = j
		}
		people := x.People(rapid.Permutation(places).Draw(t, "people"))
		places = places[:0]
		for i := range x.Units {
			places = append(places, i)
		}
		units := x.Only(rapid.Permutation(places).Draw(t, "order"))
		names := rapid.Permutation([]string{"yes", "no", "warning", "C", "é 🛼"}).Draw(t, "names")
		named := NewTable(x.Units, x.Raters)
		for i, row := range x.Answers {
			for j, v := range row {
				if v != Missing {
					named.Answers[i][j] = names[v[0]-'1']
				}
			}
		}
		for what, y := range map[string]Table{"people": people, "units": units, "names": named} {
			if !same(Alpha(y), a) || !same(Kappa(y), k) {
				t.Fatalf("%s in another order: alpha %+v and %+v, kappa %+v and %+v", what, a, Alpha(y), k, Kappa(y))
			}
		}
		if a.Defined() && (a.Value > 1+1e-12 || a.Value < -1-1e-9) {
			t.Fatalf("alpha %v", a.Value)
		}
	})
}

// When all who answer a question say the same and questions differ, both are 1.
func TestPerfectAgreement(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := drawTable(t)
		for i, row := range x.Answers {
			for j, v := range row {
				if v != Missing {
					row[j] = fmt.Sprint(i % 2)
				}
			}
		}
		for name, c := range map[string]Coefficient{"alpha": Alpha(x), "kappa": Kappa(x)} {
			if c.Defined() && math.Abs(c.Value-1) > 1e-12 {
				t.Fatalf("%s %+v", name, c)
			}
		}
		if len(Confusions(x)) != 0 {
			t.Fatal("answers are confused in full agreement")
		}
	})
}

// Alpha's intervals hold at most what alpha can be, and a split's measures agree.
func TestBounds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := drawTable(t)
		for i := range x.Units {
			s := SplitOf(x, i)
			if s.TopShare < 0 || s.TopShare > 1 || s.Differ < -1e-12 || s.Differ > 1 || s.Entropy < 0 || (s.Entropy == 0) != (s.TopShare == 1 || s.Given == 0) {
				t.Fatalf("%+v", s)
			}
		}
		n := rapid.IntRange(1, 50).Draw(t, "of")
		k := rapid.IntRange(0, n).Draw(t, "right")
		s := ShareOf(k, n)
		v, _ := s.Value()
		if s.Low > v+1e-12 || s.High < v-1e-12 || s.Low < 0 || s.High > 1 {
			t.Fatalf("%+v", s)
		}
	})
}

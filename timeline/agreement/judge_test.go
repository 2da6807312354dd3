package agreement

import (
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"
)

// What was asked and what was said, with their origin in ORIGIN.txt beside them.
var judgeDir = filepath.Join("testdata", "judges")

// asked is what the judges work out: tables with missing answers, shares, and
// changes of people in a training.
type asked struct {
	Tables [][][]string `json:"tables"`
	Shares [][2]int     `json:"shares"`
	Means  [][]float64  `json:"means"`
}

type said struct {
	NLTK        string `json:"nltk"`
	Statsmodels string `json:"statsmodels"`
	SciPy       string `json:"scipy"`
	Tables      []struct {
		Alpha    float64  `json:"alpha"`
		Kappa    *float64 `json:"kappa"`
		Complete int      `json:"complete"`
	} `json:"tables"`
	Shares [][2]float64 `json:"shares"`
	Means  [][2]float64 `json:"means"`
}

const judgedTables = 40

// ask makes the questions, the same every time: 40 tables of 3 to 30 units and 2 to
// 15 people with up to 40 % of the answers missing, every table with something to
// agree or disagree on.
func ask() asked {
	r := rand.New(rand.NewPCG(1971, 2011))
	var a asked
	for len(a.Tables) < judgedTables {
		units, people, names := 3+r.IntN(28), 2+r.IntN(14), 2+r.IntN(5)
		lost, agree := r.Float64()*0.4, r.Float64()
		if len(a.Tables)%4 == 0 {
			lost = 0
		}
		rows := make([][]string, units)
		for i := range rows {
			usual := r.IntN(names)
			rows[i] = make([]string, people)
			for j := range rows[i] {
				x := usual
				if r.Float64() > agree {
					x = r.IntN(names)
				}
				if r.Float64() >= lost {
					rows[i][j] = fmt.Sprint("answer ", x)
				}
			}
		}
		if Alpha(tableOf(rows)).Defined() {
			a.Tables = append(a.Tables, rows)
		}
	}
	for range 40 {
		of := 1 + r.IntN(60)
		a.Shares = append(a.Shares, [2]int{r.IntN(of + 1), of})
	}
	a.Shares = append(a.Shares, [2]int{0, 12}, [2]int{12, 12})
	for range 10 {
		xs := make([]float64, 2+r.IntN(15))
		for i := range xs {
			xs[i] = float64(r.IntN(9)-3) / 8
		}
		xs[0], xs[1] = 0.25, 0.5 // SciPy has no interval of changes that are all alike
		a.Means = append(a.Means, xs)
	}
	return a
}

func tableOf(rows [][]string) Table {
	t := Table{Answers: rows}
	for i := range rows {
		t.Units = append(t.Units, fmt.Sprint(i))
	}
	for j := range rows[0] {
		t.Raters = append(t.Raters, fmt.Sprint(j))
	}
	return t
}

// hold compares our answers with theirs and says how many numbers agree.
func hold(t *testing.T, a asked, s said) int {
	t.Helper()
	compared := 0
	same := func(what string, got, want float64) {
		t.Helper()
		compared++
		if math.Abs(got-want) > 1e-9 {
			t.Errorf("%s: %v, the judge says %v", what, got, want)
		}
	}
	if len(s.Tables) != len(a.Tables) || len(s.Shares) != len(a.Shares) || len(s.Means) != len(a.Means) {
		t.Fatalf("%d, %d, %d answers to %d, %d, %d questions", len(s.Tables), len(s.Shares), len(s.Means), len(a.Tables), len(a.Shares), len(a.Means))
	}
	kappas, missing := 0, 0
	for i, rows := range a.Tables {
		table := tableOf(rows)
		same(fmt.Sprintf("table %d, alpha", i), Alpha(table).Value, s.Tables[i].Alpha)
		if table.Given() < len(table.Units)*len(table.Raters) {
			missing++
		}
		k := Kappa(table)
		if s.Tables[i].Complete != k.Units {
			t.Errorf("table %d: %d complete units, the judge says %d", i, k.Units, s.Tables[i].Complete)
		}
		if w := s.Tables[i].Kappa; w != nil {
			kappas++
			same(fmt.Sprintf("table %d, kappa", i), k.Value, *w)
		}
	}
	if kappas < 10 || missing < 20 {
		t.Errorf("only %d kappas and %d tables with missing answers were judged", kappas, missing)
	}
	for i, x := range a.Shares {
		got := ShareOf(x[0], x[1])
		same(fmt.Sprintf("%d of %d, low", x[0], x[1]), got.Low, s.Shares[i][0])
		same(fmt.Sprintf("%d of %d, high", x[0], x[1]), got.High, s.Shares[i][1])
	}
	for i, xs := range a.Means {
		c := changeOf(t, xs)
		same(fmt.Sprintf("changes %d, low", i), c.Low, max(-1, s.Means[i][0]))
		same(fmt.Sprintf("changes %d, high", i), c.High, min(1, s.Means[i][1]))
	}
	return compared
}

// changeOf makes answers of people whose shares right change by xs (eighths).
func changeOf(t *testing.T, xs []float64) Change {
	t.Helper()
	units, raters := make([]string, 8), make([]string, len(xs))
	before, after := NewTable(units, raters), NewTable(units, raters)
	mb, ma := make(Marks, 8), make(Marks, 8)
	for i := range 8 {
		mb[i], ma[i] = make([]Mark, len(xs)), make([]Mark, len(xs))
		for j, x := range xs {
			k := int(math.Round(x * 8))
			mb[i][j], ma[i][j] = Wrong, Wrong
			if i < max(0, -k) {
				mb[i][j] = Right
			}
			if i < max(0, k) {
				ma[i][j] = Right
			}
		}
	}
	c, err := Compare(before, after, mb, ma, 1)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// TestRecordedAgreement holds our numbers against what the judges said when they
// were asked last.
func TestRecordedAgreement(t *testing.T) {
	data, err := os.ReadFile(filepath.Join(judgeDir, "said.json"))
	if err != nil {
		t.Fatal(err)
	}
	var s said
	if err := json.Unmarshal(data, &s); err != nil {
		t.Fatal(err)
	}
	t.Logf("%d numbers agree with NLTK %s, statsmodels %s, SciPy %s", hold(t, ask(), s), s.NLTK, s.Statsmodels, s.SciPy)
}

// TestJudgeAgreement asks NLTK (alpha), statsmodels (kappa, Wilson) and SciPy (t),
// and writes down what they say.
func TestJudgeAgreement(t *testing.T) {
	if os.Getenv("WHISTLECUT_JUDGES") != "1" {
		t.Skip("outside programs judge with WHISTLECUT_JUDGES=1, as in make judges")
	}
	a := ask()
	in, err := json.Marshal(a)
	if err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), "tables.json")
	if err := os.WriteFile(file, in, 0o644); err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command("/usr/bin/python3", filepath.Join(judgeDir, "agreement.py"), file)
	cmd.Stderr = os.Stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	var s said
	if err := json.Unmarshal(out, &s); err != nil {
		t.Fatalf("%v: %.300s", err, out)
	}
	n := hold(t, a, s)
	t.Logf("%d numbers compared", n)
	if t.Failed() {
		return
	}
	origin := fmt.Sprintf("said.json: NLTK %s (alpha), statsmodels %s (Fleiss' kappa, Wilson), SciPy %s (Student's t) of Debian 12, /usr/bin/python3 agreement.py on the %d tables that judge_test.go makes; %d numbers agree to 1e-9; %s\n",
		s.NLTK, s.Statsmodels, s.SciPy, len(a.Tables), n, time.Now().UTC().Format(time.DateOnly))
	for name, data := range map[string][]byte{"said.json": out, "ORIGIN.txt": []byte(origin)} {
		if err := os.WriteFile(filepath.Join(judgeDir, name), data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

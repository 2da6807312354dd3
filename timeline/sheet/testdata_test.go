package sheet

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"whistlecut/timeline"
)

// TestSheets reads every sheet of testdata/sheets with its expected outcome.
func TestSheets(t *testing.T) {
	dir := filepath.Join("..", "..", "testdata", "sheets")
	data, err := os.ReadFile(filepath.Join(dir, "expect.json"))
	if err != nil {
		t.Fatal(err)
	}
	var list []struct {
		File, Origin, What, Error                                        string
		Rows, Penalties, Outs, Lineups, Clock, Timeouts, Box, Home, Away int
		Names                                                            []string
		Rosters                                                          []int
	}
	if err := json.Unmarshal(data, &list); err != nil {
		t.Fatal(err)
	}
	seen := map[string]bool{}
	for _, want := range list {
		seen[want.File] = true
		t.Run(want.File, func(t *testing.T) {
			if want.Origin == "" || want.What == "" {
				t.Error("no origin or purpose noted")
			}
			data, err := os.ReadFile(filepath.Join(dir, want.File))
			if err != nil {
				t.Fatal(err)
			}
			book, err := ReadGrid(want.File, data)
			if want.Error != "" {
				if err == nil || !strings.Contains(err.Error(), want.Error) {
					t.Fatalf("error %v, want %q", err, want.Error)
				}
				return
			}
			if err != nil {
				t.Fatal(err)
			}
			m := Recognise(book)
			s, problems := Read(book, m)
			for _, p := range problems {
				t.Error(p)
			}
			for _, n := range []struct {
				what      string
				got, want int
			}{
				{"rows", len(s.Rows), want.Rows},
				{"penalties", len(s.Penalties), want.Penalties},
				{"outs", len(s.Outs), want.Outs},
				{"line-ups", len(s.Lineups), want.Lineups},
				{"jam times", len(s.Clock), want.Clock},
				{"timeouts", len(s.Timeouts), want.Timeouts},
				{"box visits", len(s.Box), want.Box},
			} {
				if n.got != n.want {
					t.Errorf("%d %s, want %d", n.got, n.what, n.want)
				}
			}
			for i, score := range [...]int{want.Home, want.Away} {
				if got := SelfCheck(s, timeline.RuleSet{}).Score[i].Sheet; got != score {
					t.Errorf("%s scored %d, want %d", timeline.Sides[i], got, score)
				}
			}
			for i, name := range want.Names {
				if got := s.Teams[i].Name.Value; got != name {
					t.Errorf("%s is %q, want %q", timeline.Sides[i], got, name)
				}
			}
			for i, n := range want.Rosters {
				if got := len(s.Teams[i].Roster); got != n {
					t.Errorf("%d on the roster of %s, want %d", got, timeline.Sides[i], n)
				}
			}
			for _, f := range SelfCheck(s, timeline.RuleSet{}).Findings {
				t.Errorf("%s: %s: %s", f.Cause, f.Where(), f.Text)
			}
		})
	}
	for _, sub := range []string{"good", "broken"} {
		files, err := filepath.Glob(filepath.Join(dir, sub, "*"))
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range files {
			if name := sub + "/" + filepath.Base(f); !seen[name] {
				t.Errorf("%s has no expected outcome", name)
			}
		}
	}
}

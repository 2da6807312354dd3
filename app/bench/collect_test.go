package bench

import (
	"context"
	"strings"
	"testing"
)

func TestCollectSmoke(t *testing.T) {
	var out strings.Builder
	r, err := Collect(context.Background(), &out, CollectOptions{Bouts: 4, Entries: 334, Searches: 3, Files: 2, Dir: t.TempDir()})
	if err != nil {
		t.Fatal(err)
	}
	if r.Bouts != 4 || r.Entries != 4*334 || r.Examples < 100 || r.Bytes == 0 || len(r.Rows) != len(searchKinds) || !strings.Contains(out.String(), "1336 entries") {
		t.Errorf("%+v\n%s", r, out.String())
	}
	found := 0
	for _, row := range r.Rows {
		if row.Found > 0 {
			found++
		}
	}
	if found < len(r.Rows)*2/3 { // so few bouts need not hold all that is asked for
		t.Errorf("only %d kinds of search find anything\n%s", found, out.String())
	}
}

package bench

import (
	"context"
	"os"
	"strings"
	"testing"
)

func TestExactShort(t *testing.T) {
	if only := os.Getenv("ONLY"); only != "" {
		r, err := Exact(context.Background(), os.Stdout, ExactOptions{Only: strings.TrimPrefix(only, "all")})
		_ = r
		if err != nil {
			t.Fatal(err)
		}
		return
	}
}

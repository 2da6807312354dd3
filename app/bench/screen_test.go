package bench

import (
	"context"
	"strings"
	"testing"
	"time"
)

func TestScreenSmoke(t *testing.T) {
	needFFmpeg(t)
	var out strings.Builder
	r, err := Screen(context.Background(), &out, ScreenOptions{Dir: t.TempDir(), Short: true})
	if err != nil {
		t.Fatalf("%v\n%s", err, out.String())
	}
	if !r.Exact() || len(r.Rows) != 2 {
		t.Errorf("wrong frames:\n%s", out.String())
	}
	for _, row := range r.Rows {
		if row.Source.N == 0 || row.Bare.N != row.Source.N || row.Light.N == 0 || row.Forward.N == 0 || row.Back.N == 0 || row.Jump.N == 0 || row.Played == 0 {
			t.Errorf("%+v", row)
		}
	}
}

func TestSpread(t *testing.T) {
	var list []time.Duration
	for i := range 100 {
		list = append(list, time.Duration((i*37)%100))
	}
	if s := spreadOf(list); s != (Spread{100, 49, 94}) {
		t.Errorf("%+v", s)
	}
	if s := spreadOf(nil); s != (Spread{}) {
		t.Errorf("%+v", s)
	}
}

package bench

import (
	"context"
	"strings"
	"testing"

	"whistlecut/export/reel"
)

func TestReelSmoke(t *testing.T) {
	needFFmpeg(t)
	var out strings.Builder
	r, err := Reel(context.Background(), &out, ReelOptions{Dir: t.TempDir(), Short: true})
	if err != nil {
		t.Fatal(err)
	}
	if r.Frames != 120 || r.Methods[reel.Encoded] > 0 || r.Copied.CPU == 0 && cpuKnown || !strings.Contains(out.String(), "one graph") {
		t.Errorf("%+v\n%s", r, out.String())
	}
}

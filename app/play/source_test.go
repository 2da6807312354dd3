package play

import (
	"context"
	"errors"
	"image"
	"io"
	"sync"
	"testing"
	"time"

	"whistlecut/timeline/footage"
)

// TestRunEndsByItself: a run that was allowed all it asked for ends behind its last
// frame, so that the next one can begin. Nobody allows a frame behind the last.
func TestRunEndsByItself(t *testing.T) {
	f, err := footage.Open(context.Background(), nil, film(t, "plain"))
	if err != nil {
		t.Fatal(err)
	}
	out := make(chan answer)
	var wg sync.WaitGroup
	c := &children{files: func(int) *footage.File { return f }, pool: &pool{}, out: out, wg: &wg}
	r := c.start(request{first: 70, last: 75, size: image.Pt(filmW, filmH)})
	defer wg.Wait()
	defer r.stop()
	r.allow(75)
	for want := 70; ; want++ {
		var a answer
		select {
		case a = <-out:
		case <-time.After(20 * time.Second):
			t.Fatalf("waiting for ever behind frame %d", want-1)
		}
		if a.pic == nil {
			if !errors.Is(a.err, io.EOF) || want != 76 || a.next != 76 {
				t.Fatalf("it ends at frame %d, said to be %d, with %v", want, a.next, a.err)
			}
			return
		}
		if a.pic.frame != want {
			t.Fatalf("frame %d came, want %d", a.pic.frame, want)
		}
	}
}

package app

import (
	"encoding/json"
	"testing"
	"time"

	"whistlecut/timeline"
	"whistlecut/timeline/align"
)

// TestAHandSetStartKeepsItsHeardEnd: who confirms where a jam starts does not make
// it two minutes long.
func TestAHandSetStartKeepsItsHeardEnd(t *testing.T) {
	for _, c := range []struct {
		name       string
		placed     align.Placed
		start, end bool
	}{
		{"by ear", align.Placed{Confidence: 0.9, EndHeard: true}, true, true},
		{"start by hand", align.Placed{Confidence: 1, Hand: true, EndHeard: true}, false, true},
		{"start by hand, end not heard", align.Placed{Confidence: 1, Hand: true}, false, false},
		{"hardly sure", align.Placed{Confidence: 0.1, EndHeard: true}, false, false},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := c.placed
			p.Jam, p.Footage, p.Start, p.EndFootage, p.End = "j1", "film", 10*time.Second, "film", 40*time.Second
			s := &Session{}
			start, end := false, false
			for _, ch := range s.placingChanges([]align.Placed{p}, nil, false) {
				var m timeline.SyncMark
				if err := json.Unmarshal(ch.Value, &m); err != nil {
					t.Fatal(err)
				}
				start = start || m.Edge == timeline.EdgeStart
				end = end || m.Edge == timeline.EdgeEnd
			}
			if start != c.start || end != c.end {
				t.Errorf("start stored: %v, want %v; end stored: %v, want %v", start, c.start, end, c.end)
			}
		})
	}
}

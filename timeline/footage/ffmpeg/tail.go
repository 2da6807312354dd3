package ffmpeg

import (
	"bytes"
	"strings"
	"sync"
)

// tailSize is how much of the end of a child's log is kept, in bytes.
const tailSize = 8 << 10

// tail keeps the end of what is written to it, and the first lines, too: the
// cause is often the first complaint and the last ones follow from it.
type tail struct {
	mu      sync.Mutex
	head    []byte // the first quarter of the limit
	end     []byte // the last part
	limit   int
	skipped int64 // bytes dropped between the two
}

func newTail(limit int) *tail { return &tail{limit: limit} }

func (t *tail) Write(p []byte) (int, error) {
	t.mu.Lock()
	defer t.mu.Unlock()
	n := len(p)
	if room := t.limit/4 - len(t.head); room > 0 && len(t.end) == 0 {
		take := min(room, len(p))
		t.head = append(t.head, p[:take]...)
		p = p[take:]
	}
	t.end = append(t.end, p...)
	if over := len(t.end) - (t.limit - t.limit/4); over > 0 {
		t.skipped += int64(over)
		t.end = append(t.end[:0], t.end[over:]...)
	}
	return n, nil
}

// String returns the kept text, with a mark where some was dropped.
func (t *tail) String() string {
	t.mu.Lock()
	defer t.mu.Unlock()
	if t.skipped == 0 {
		return strings.TrimSpace(string(t.head) + string(t.end))
	}
	return strings.TrimSpace(string(t.head) + "\n[...]\n" + string(t.end))
}

// maxOutput bounds what Output and Probe keep in memory. The packet list of a
// long film is the largest answer: about 60 bytes a packet.
const (
	maxOutput     = 256 << 20
	maxOutputText = "256 MB"
)

// limitedBuffer keeps up to maxOutput bytes and remembers that more came.
type limitedBuffer struct {
	bytes.Buffer
	over bool
}

func (b *limitedBuffer) Write(p []byte) (int, error) {
	if b.Len()+len(p) > maxOutput {
		b.over = true
		return len(p), nil
	}
	return b.Buffer.Write(p)
}

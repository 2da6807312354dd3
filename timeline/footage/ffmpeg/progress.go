package ffmpeg

import (
	"bytes"
	"io"
	"strconv"
	"strings"
	"time"
)

// maxProgressLine bounds a line kept while waiting for its end.
const maxProgressLine = 64 << 10

// progressReader reads ffmpeg's -progress blocks: lines "key=value", each block
// ended by "progress=continue" or "progress=end". Other lines go to rest.
type progressReader struct {
	total  time.Duration
	report func(done time.Duration, fraction float64)
	rest   io.Writer // nil: dropped

	line []byte
	done time.Duration
}

func newProgressReader(total time.Duration, report func(time.Duration, float64)) *progressReader {
	return &progressReader{total: total, report: report}
}

func (p *progressReader) Write(b []byte) (int, error) {
	n := len(b)
	for len(b) > 0 {
		i := bytes.IndexByte(b, '\n')
		if i < 0 {
			p.line = append(p.line, b...)
			if len(p.line) > maxProgressLine {
				p.other(p.line)
				p.line = p.line[:0]
			}
			break
		}
		p.line = append(p.line, b[:i+1]...)
		p.take(p.line)
		p.line = p.line[:0]
		b = b[i+1:]
	}
	return n, nil
}

func (p *progressReader) take(line []byte) {
	key, value, ok := strings.Cut(strings.TrimSpace(string(line)), "=")
	if !ok || !isProgressKey(key) {
		p.other(line)
		return
	}
	switch key {
	case "out_time_us":
		// "N/A" before the first packet.
		if us, err := strconv.ParseInt(strings.TrimSpace(value), 10, 64); err == nil && us >= 0 {
			p.done = max(p.done, time.Duration(us)*time.Microsecond)
		}
	case "progress":
		p.report(p.done, fraction(p.done, p.total))
	}
}

func (p *progressReader) other(line []byte) {
	if p.rest != nil {
		_, _ = p.rest.Write(line) // the log's writers don't fail
	}
}

// flush passes on a last line without an end: ffmpeg's complaint before it died.
func (p *progressReader) flush() {
	if len(p.line) > 0 {
		p.take(p.line)
		p.line = nil
	}
}

// finish reports the end of a job that succeeded: stream copies report almost
// nothing while they run.
func (p *progressReader) finish() {
	p.done = max(p.done, p.total)
	p.report(p.done, fraction(p.done, p.total))
}

func fraction(done, total time.Duration) float64 {
	if total <= 0 {
		return -1
	}
	return min(1, max(0, float64(done)/float64(total)))
}

// isProgressKey tells the lines of a progress block from lines of the log.
func isProgressKey(key string) bool {
	switch key {
	case "frame", "fps", "bitrate", "total_size", "out_time_us", "out_time_ms",
		"out_time", "dup_frames", "drop_frames", "speed", "progress":
		return true
	}
	// stream_0_0_q, stream_0_0_psnr_y and the like
	return strings.HasPrefix(key, "stream_") && !strings.ContainsAny(key, " \t")
}

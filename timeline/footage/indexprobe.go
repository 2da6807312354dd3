package footage

import (
	"bufio"
	"bytes"
	"context"
	"io"
	"math"
	"strconv"
	"strings"

	"whistlecut/timeline/footage/ffmpeg"
)

const doingIndex = "read the frame times of"

// packet is one line of ffprobe's packet list.
type packet struct {
	pts, duration int64
	hasPTS        bool
	key, hidden   bool
}

// indexFromPackets lets ffprobe list the packets of the picture stream; it reads
// the whole file and decodes nothing, unless packets carry no times.
func indexFromPackets(ctx context.Context, r *ffmpeg.Runner, path string, v Video) (*Index, error) {
	if !v.Base.Known() {
		return nil, &Error{Doing: doingIndex, Path: path, Class: ErrNotFilm, Detail: "its picture has no time base", Hint: "rewrap it to MP4"}
	}
	packets, err := listPackets(ctx, r, packetArgs(path, v.Index), path)
	if err != nil {
		return nil, err
	}
	frames, end, timed := framesOf(packets)
	if !timed {
		if packets, err = listPackets(ctx, r, frameArgs(path, v.Index, 0), path); err != nil {
			return nil, err
		}
		frames, end, _ = framesOf(packets)
	}
	if len(frames) == 0 {
		return nil, &Error{Doing: doingIndex, Path: path, Class: ErrNotFilm, Detail: "no frame with a time was found in it", Hint: "check that it plays in another program"}
	}
	return newIndex(v.Base, frames, end), nil
}

func packetArgs(path string, stream int) []string {
	return append([]string{
		"-select_streams", strconv.Itoa(stream),
		"-show_entries", "packet=pts,duration,flags", "-of", "compact=p=0",
	}, ffmpeg.Input(path)...)
}

// frameArgs asks for decoded frames; first limits their number, 0 means all.
func frameArgs(path string, stream, first int) []string {
	args := []string{"-select_streams", strconv.Itoa(stream)}
	if first > 0 {
		args = append(args, "-read_intervals", "%+#"+strconv.Itoa(first))
	}
	return append(append(args, "-show_entries", "frame=best_effort_timestamp,pkt_duration,key_frame", "-of", "compact=p=0"), ffmpeg.Input(path)...)
}

// listPackets reads the list as it comes: a long film has a long one.
func listPackets(ctx context.Context, r *ffmpeg.Runner, args []string, path string) ([]packet, error) {
	pr, pw := io.Pipe()
	done := make(chan error, 1)
	go func() {
		err := r.ProbeTo(ctx, pw, args...)
		pw.CloseWithError(err)
		done <- err
	}()
	packets, err := parsePackets(pr)
	pr.CloseWithError(err) // frees the child when a line was too long
	if probeErr := <-done; probeErr != nil {
		return nil, fromFFmpeg(doingIndex, path, probeErr)
	}
	if err != nil {
		return nil, &Error{Doing: doingIndex, Path: path, Class: ErrNotFilm, Detail: "ffprobe's packet list is not understood", Err: err}
	}
	return packets, nil
}

// parsePackets reads lines such as "pts=1024|duration=512|flags=K_". Fields may
// come in any order and lack; side data after them is skipped. Lines of decoded
// frames use other names for the same things.
func parsePackets(r io.Reader) ([]packet, error) {
	var packets []packet
	lines := bufio.NewScanner(r)
	lines.Buffer(make([]byte, 0, 64<<10), 1<<20)
	for lines.Scan() {
		line := bytes.TrimSpace(lines.Bytes())
		if len(line) == 0 {
			continue
		}
		var p packet
		for field := range strings.SplitSeq(string(line), "|") {
			name, value, _ := strings.Cut(field, "=")
			switch name {
			case "pts", "best_effort_timestamp":
				n, err := strconv.ParseInt(value, 10, 64)
				p.pts, p.hasPTS = n, err == nil && n > math.MinInt64/4 && n < math.MaxInt64/4
			case "duration", "pkt_duration":
				if n, err := strconv.ParseInt(value, 10, 64); err == nil && n > 0 && n < math.MaxInt32 {
					p.duration = n
				}
			case "flags":
				p.key = strings.Contains(value, "K")
				p.hidden = strings.Contains(value, "D")
			case "key_frame":
				p.key = value == "1"
			}
		}
		packets = append(packets, p)
	}
	return packets, lines.Err()
}

// framesOf turns packets in decode order into frames; timed is false when a
// shown packet has no time. Packets before the first key frame are not shown:
// ffmpeg drops what it can't decode.
func framesOf(packets []packet) (frames []frame, end int64, timed bool) {
	end = math.MinInt64
	timed = true
	started := false
	for i, p := range packets {
		started = started || p.key
		if !started || p.hidden {
			continue
		}
		if !p.hasPTS {
			timed = false
			continue
		}
		if i > math.MaxInt32 {
			break
		}
		frames = append(frames, frame{p.pts, int32(i), p.key})
		end = max(end, p.pts+p.duration)
	}
	return frames, end, timed
}

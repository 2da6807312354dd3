package footage

import (
	"context"
	"slices"

	"whistlecut/timeline/footage/ffmpeg"
)

// Pictures that are stored after the first key frame and shown before it may
// refer to pictures before the file begins. Whether a decoder shows them
// depends on the codec and on what they refer to (HEVC drops RASL pictures and
// shows RADL ones), so the few first packets are decoded to see.

// leadingPackets says how many packets must be decoded to know which leading
// pictures are shown; 0 when there are none.
func leadingPackets(x *Index) int {
	first, decode := -1, int32(0)
	for i, k := range x.key {
		if k && (first < 0 || x.decode[i] < decode) {
			first, decode = i, x.decode[i]
		}
		// Key frames come in display order almost sorted: the earliest stored
		// one is among the first few.
		if first >= 0 && i > first+64 {
			break
		}
	}
	last := int32(-1)
	for i := range max(0, first) {
		if x.decode[i] > decode {
			last = max(last, x.decode[i])
		}
	}
	if last < 0 || last > maxLeading {
		return 0
	}
	return int(last) + 1 + leadingSlack
}

// leadingSlack are packets more than needed: ffprobe gives out a picture only
// when others follow.
const leadingSlack = 16

// maxLeading bounds the packets decoded; leading pictures follow their key frame.
const maxLeading = 1000

// dropHiddenLeading removes leading pictures that the decoder does not show.
func dropHiddenLeading(ctx context.Context, r *ffmpeg.Runner, path string, v Video, x *Index) (*Index, error) {
	n := leadingPackets(x)
	if n == 0 {
		return x, nil
	}
	shown, err := listPackets(ctx, r, frameArgs(path, v.Index, n), path)
	if err != nil {
		return nil, err
	}
	return dropLeading(x, shown), nil
}

// dropLeading removes the frames at the start, before the first key frame, that
// are not among the shown ones.
func dropLeading(x *Index, shown []packet) *Index {
	times := make(map[int64]bool, len(shown))
	for _, p := range shown {
		if p.hasPTS {
			times[p.pts] = true
		}
	}
	first := max(0, slices.Index(x.key, true))
	if len(times) == 0 || first == 0 {
		return x
	}
	var frames []frame
	for i := range x.pts {
		if i < first && !times[x.pts[i]] {
			continue
		}
		frames = append(frames, frame{x.pts[i], x.decode[i], x.key[i]})
	}
	out := newIndex(x.base, frames, x.end)
	out.cut = max(0, x.cut-(len(x.pts)-len(frames)))
	return out
}

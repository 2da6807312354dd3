package clip

import "fmt"

// Method is how a clip was made.
type Method string

const (
	Copied    Method = "copy"     // all coded frames copied
	Edges     Method = "edges"    // head and tail encoded, the middle copied
	Reencoded Method = "reencode" // all frames encoded
)

// plan says which frames of a window are encoded and which rows are copied.
// Frames in display order, both ends included; an empty stretch has last <
// first.
type plan struct {
	method     Method
	why        string // for Reencoded: the condition not met
	head, tail span   // frames to be encoded
	key        int    // row of the key frame the copy starts with, -1: none
	rows       []int  // rows copied, in decode order
}

type span struct{ first, last int }

func (s span) len() int { return max(0, s.last-s.first+1) }

// makePlan decides for the window of frames first to last.
func (s *Source) makePlan(first, last int) (plan, error) {
	whole := func(format string, args ...any) (plan, error) {
		return plan{method: Reencoded, why: fmt.Sprintf(format, args...), head: span{first, last}, key: -1, tail: span{0, -1}}, nil
	}
	if s.whole != "" {
		return whole("%s", s.whole)
	}
	f, table := s.frames, &s.video.Samples
	// The first usable key frame at or after the first frame.
	key, refused := -1, ""
	for k := first; k <= last; k++ {
		row := int(f.samples[k])
		if !table.IsKey(row) {
			continue
		}
		ok, why, err := s.seam(row)
		if err != nil {
			return plan{}, err
		}
		if ok {
			key = row
			break
		}
		if refused == "" {
			refused = why
		}
	}
	if key < 0 {
		if refused != "" {
			return whole("%s", refused)
		}
		return whole("no key frame between its ends")
	}
	if table.PTS(key) < table.DTS[key] {
		return whole("its decode times lie behind its show times")
	}
	keyFrame := int(f.shown[key])
	p := plan{method: Copied, key: key, head: span{first, keyFrame - 1}, tail: span{keyFrame, last}}
	p.collect(s, keyFrame, last)
	p.tail.first = keyFrame + len(p.rows)
	if len(p.rows) == 0 {
		return whole("nothing could be copied between its ends")
	}
	entry := table.EntryOf(key)
	for _, row := range p.rows {
		if table.EntryOf(row) != entry {
			return whole("the coding changes between its ends")
		}
	}
	if p.head.len()+p.tail.len() == 0 {
		return p, nil
	}
	p.method = Edges
	if s.codec == nil {
		return whole("%s film can be copied from key frame to key frame only", s.video.Entries[entry].Type)
	}
	if why := s.codec.unjoinable(); why != "" {
		return whole("%s", why)
	}
	if why := s.badSeam(); why != "" {
		return whole("%s", why)
	}
	if encoded := p.head.len() + p.tail.len(); encoded > len(p.rows) {
		return whole("%d frames would be encoded and only %d copied", encoded, len(p.rows))
	}
	return p, nil
}

// collect gathers the rows from the key frame on, in decode order, up to the
// last place where what they show has no gap and does not pass the last frame.
// Rows that show before the key frame are left out.
func (p *plan) collect(s *Source, keyFrame, last int) {
	var rows []int
	highest, complete := keyFrame-1, 0
	for row := p.key; row < len(s.frames.shown); row++ {
		k := int(s.frames.shown[row])
		if k < 0 {
			break // hidden by the edit list: keep the stretch simple
		}
		if k < keyFrame {
			continue
		}
		// Behind the window, nothing more can close a gap unless it is only
		// waiting for frames that are decoded late.
		if k > last && complete == last-keyFrame+1 {
			break
		}
		rows = append(rows, row)
		highest = max(highest, k)
		if highest > last {
			break
		}
		if highest-keyFrame+1 == len(rows) {
			complete = len(rows)
		}
	}
	p.rows = rows[:complete]
}

package clip

import "errors"

// splice makes the encoded parts of an H.264 clip use the film's own sequence
// parameter set: the slice headers are written anew with its field lengths, and
// only a picture parameter set is added. Decoders then see one sequence that
// never changes: where the sequence parameters change, some drop or mix up the
// pictures they have not shown yet (openh264 does).
type splice struct {
	film  avcSeq
	idr   uint32 // idr_pic_id, another one than the first copied picture's
	own   avcSeq // the encoder's
	pps   avcPic
	ready bool
	off   bool // the two don't fit: the encoder's own set is used

	inBand bool // the film repeats its parameter sets among its pictures
	part   bool // other pictures of the film come before
	anew   bool // all is encoded, and starts anew at each of its key frames

	heads int    // pictures before the tail's first
	n     int    // pictures so far, -1 before the first
	tail  follow // how the tail goes on from the copied pictures
}

// follow is where a sequence stands behind its last copied picture.
type follow struct {
	ok       bool
	frameNum uint32 // of the next reference picture
	poc      uint32 // low bits of the next picture order count, higher than all before
}

// avcPic is what is needed from a picture parameter set (H.264, 7.3.2.2).
type avcPic struct {
	cabac, pocDelta, weighted, redundant, deblocking bool
}

func parseAVCPic(nal []byte) (avcPic, error) {
	b := bitReader{data: payload(nal), pos: 8}
	b.ue()
	b.ue()
	p := avcPic{cabac: b.u(1) == 1, pocDelta: b.u(1) == 1}
	groups := b.ue()
	b.ue()
	b.ue()
	p.weighted = b.u(1) == 1
	b.u(2)
	b.se()
	b.se()
	b.se()
	p.deblocking = b.u(1) == 1
	b.u(1)
	p.redundant = b.u(1) == 1
	if b.bad || groups != 0 {
		return p, errors.New("the encoder's picture parameters are not understood")
	}
	return p, nil
}

// spliceable says whether the film's parameters allow other pictures under them.
func (c *avc) spliceable() bool {
	f := c.seq
	return len(c.config.sps) == 1 && f.pocType != 1 && !f.scaling && !f.bypass && f.refs > 0 && !f.interlaced
}

// newSplice prepares joining to a key frame of these NAL units; nil if the
// film's parameters don't allow it. heads pictures are encoded before the key
// frame; last are the last copied samples in decode order, behind which the
// other encoded pictures go on in the same sequence.
func (c *avc) newSplice(key [][]byte, heads int, last [][][]byte) *splice {
	if !c.spliceable() {
		return nil
	}
	k, ok := c.firstSlice(key)
	if !ok || !k.idr {
		return nil
	}
	s := &splice{film: c.seq, heads: heads, n: -1, tail: c.follow(last)}
	if k.idrID == 0 {
		s.idr = 1
	}
	for _, n := range key {
		s.inBand = s.inBand || n[0]&31 == avcSPS || n[0]&31 == avcPPS
	}
	return s
}

// picHead is what is needed from the head of a picture's first slice.
type picHead struct {
	idr, ref             bool
	frameNum, idrID, poc uint32
}

func (c *avc) firstSlice(units [][]byte) (h picHead, ok bool) {
	for _, n := range units {
		kind := n[0] & 31
		if kind != avcSlice && kind != avcIDR {
			continue
		}
		b := bitReader{data: payload(n[:min(len(n), 64)]), pos: 8}
		b.ue() // first macroblock
		b.ue() // slice type
		b.ue() // picture parameter set
		h = picHead{idr: kind == avcIDR, ref: n[0]>>5&3 != 0}
		h.frameNum = b.u(int(c.seq.frameNumBits))
		if h.idr {
			h.idrID = b.ue()
		}
		if c.seq.pocType == 0 {
			h.poc = b.u(int(c.seq.pocBits))
		}
		return h, !b.bad
	}
	return h, false
}

// follow finds where the sequence stands behind samples in decode order.
func (c *avc) follow(samples [][][]byte) follow {
	if c.seq.pocType != 0 || len(samples) == 0 {
		return follow{}
	}
	var out follow
	var highest int32 // above the last reference picture's count
	var anchor uint32
	bits := 32 - c.seq.pocBits
	// Differences of low bits, taken as signed numbers of their width.
	above := func(a, b uint32) int32 { return int32((a-b)<<bits) >> bits }
	var seen []uint32
	for _, units := range samples {
		h, ok := c.firstSlice(units)
		if !ok {
			return follow{}
		}
		if h.idr {
			seen = seen[:0]
		}
		seen = append(seen, h.poc)
		if h.ref {
			out.ok, out.frameNum, anchor = true, h.frameNum+1, h.poc
		}
	}
	for _, poc := range seen {
		highest = max(highest, above(poc, anchor))
	}
	out.poc = anchor + uint32(highest) + 2
	return out
}

// fits says whether pictures of the encoder can stand under the film's set.
func (s *splice) fits() bool {
	a, b := s.film, s.own
	return a.width == b.width && a.height == b.height && a.crop == b.crop && a.chroma == b.chroma &&
		a.depthLuma == b.depthLuma && a.depthChroma == b.depthChroma && !b.interlaced && !b.scaling && !b.bypass &&
		b.pocType != 1 && (a.profile == b.profile || holds(a.profile) >= holds(b.profile)) &&
		!s.pps.pocDelta && !s.pps.weighted && !s.pps.redundant
}

// holds orders the usual profiles: a decoder of one decodes those below. What
// the encoder makes of Baseline is its constrained form, a part of Main.
func holds(profile byte) int {
	switch {
	case highProfile(profile):
		return 3
	case profile == 77:
		return 2
	case profile == 66:
		return 1
	}
	return 0
}

// nal rewrites one NAL unit of the encoder; slices become others, and where the
// film repeats its parameter sets ours is repeated, too: openh264 forgets it.
func (s *splice) nal(n []byte, sets paramSets) ([][]byte, error) {
	kind := n[0] & 31
	if kind != avcSlice && kind != avcIDR {
		return [][]byte{n}, nil
	}
	if !s.ready {
		if len(sets.sps) == 0 || len(sets.pps) == 0 {
			return nil, errors.New("the encoder's first picture has no parameter sets")
		}
		var err error
		if s.own, err = parseAVCSeq(sets.sps[0]); err != nil {
			return nil, err
		}
		if s.pps, err = parseAVCPic(sets.pps[0]); err != nil {
			return nil, err
		}
		s.ready, s.off = true, !s.fits()
	}
	if s.off {
		return [][]byte{n}, nil
	}
	out, err := s.rewrite(n)
	if err != nil {
		return nil, err
	}
	if kind == avcIDR && s.inBand && (s.n == s.heads || (s.part || s.anew) && s.n == 0) {
		return [][]byte{s.picture(sets.pps[0]), out}, nil
	}
	return [][]byte{out}, nil
}

var errSlice = errors.New("a slice of the encoder is not understood")

// rewrite copies a slice (H.264, 7.3.3 and 7.3.4) with the film's numbers.
func (s *splice) rewrite(n []byte) ([]byte, error) {
	idr, ref := n[0]&31 == avcIDR, n[0]>>5&3 != 0
	r := bitReader{data: payload(n), pos: 8}
	first, kind, pps := r.ue(), r.ue(), r.ue()
	r.u(int(s.own.frameNumBits))
	if first == 0 {
		s.n++
		if s.anew && idr {
			s.n = 0
		}
	}
	// Every encoded picture is a reference and counts up by one.
	frameNum, poc, refresh := uint32(s.n), 2*uint32(s.n), idr
	if s.n >= s.heads && !s.anew {
		k := uint32(s.n - s.heads)
		frameNum, poc = k, 2*k
		if s.tail.ok {
			frameNum, poc, refresh = s.tail.frameNum+k, s.tail.poc+2*k, false
		}
	}

	var w bitWriter
	if head := n[0]; idr && !refresh {
		w.u(uint32(head&^31|avcSlice), 8)
	} else {
		w.u(uint32(head), 8)
	}
	w.ue(first)
	w.ue(kind)
	w.ue(pps)
	w.u(frameNum&(1<<s.film.frameNumBits-1), int(s.film.frameNumBits))
	if idr {
		r.ue()
	}
	if refresh {
		w.ue(s.idr)
	}
	if s.own.pocType == 0 {
		r.u(int(s.own.pocBits))
	}
	if s.film.pocType == 0 {
		w.u(poc&(1<<s.film.pocBits-1), int(s.film.pocBits))
	}
	from := r.pos
	marking, ok := s.skipHeader(&r, kind%5, idr)
	if !ok || r.bad || !ref {
		return nil, errSlice
	}
	if idr && !refresh {
		// The two flags of a refresh become one: references slide on.
		w.copyBits(r.data, from, marking)
		w.u(0, 1)
		from = marking + 2
	}
	w.copyBits(r.data, from, r.pos)
	if !s.pps.cabac {
		w.copyBits(r.data, r.pos, endOfPayload(r.data))
		w.stop()
		return escape(w.data), nil
	}
	for r.pos%8 != 0 {
		r.pos++
	}
	for w.n%8 != 0 {
		w.u(1, 1)
	}
	return escape(append(w.data, r.data[r.pos/8:]...)), nil
}

// skipHeader reads the rest of a slice header behind the picture order count;
// marking is where the marking of references stands.
func (s *splice) skipHeader(r *bitReader, kind uint32, idr bool) (marking int, ok bool) {
	const p, i = 0, 2
	switch kind {
	case p:
		if r.u(1) == 1 {
			r.ue()
		}
		if r.u(1) == 1 { // changed order of the reference list
			for op := r.ue(); op != 3; op = r.ue() {
				if r.ue(); op > 2 || r.bad {
					return 0, false
				}
			}
		}
	case i:
	default:
		return 0, false
	}
	marking = r.pos
	if idr {
		r.u(2)
	} else if r.u(1) == 1 {
		for op := r.ue(); op != 0; op = r.ue() {
			if op != 5 {
				r.ue()
			}
			if op == 3 {
				r.ue()
			}
			if op > 6 || r.bad {
				return 0, false
			}
		}
	}
	if s.pps.cabac && kind == p {
		r.ue()
	}
	r.se()
	if s.pps.deblocking && r.ue() != 1 {
		r.se()
		r.se()
	}
	return marking, true
}

// picture rewrites the encoder's picture parameter set to name the film's
// sequence parameter set.
func (s *splice) picture(pps []byte) []byte {
	r := bitReader{data: payload(pps), pos: 8}
	var w bitWriter
	w.u(uint32(pps[0]), 8)
	w.ue(r.ue())
	r.ue()
	w.ue(s.film.id)
	w.copyBits(r.data, r.pos, endOfPayload(r.data))
	w.stop()
	return escape(w.data)
}

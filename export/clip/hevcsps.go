package clip

import "fmt"

// hevcBuffers are the words of a video or sequence parameter set on how many
// pictures wait to be shown, for its highest sub-layer, and where they stand.
type hevcBuffers struct {
	pictures, reorder, latency uint32
	from, to                   int // bits of the payload
	perLayer                   bool
	layers                     uint32
}

// parseHEVCBuffers reads a parameter set up to these words (H.265, 7.3.2.1 and
// 7.3.2.2.1).
func parseHEVCBuffers(set []byte) (hevcBuffers, error) {
	var h hevcBuffers
	broken := fmt.Errorf("its parameter sets are broken")
	r := payload(set)
	if len(r) < 15 {
		return h, broken
	}
	b := bitReader{data: r, pos: 16}
	if hevcType(set) == hevcVPS {
		b.u(4 + 2 + 6)
		h.layers = b.u(3)
		b.u(1 + 16)
		skipProfile(&b, h.layers)
	} else {
		b.u(4)
		h.layers = b.u(3)
		b.u(1)
		skipProfile(&b, h.layers)
		b.ue()
		if b.ue() == 3 {
			b.u(1)
		}
		b.ue() // width and height
		b.ue()
		if b.u(1) == 1 {
			for range 4 {
				b.ue()
			}
		}
		b.ue() // depths
		b.ue()
		b.ue() // log2_max_pic_order_cnt_lsb_minus4
	}
	h.from = b.pos
	h.perLayer = b.u(1) == 1
	n := uint32(1)
	if h.perLayer {
		n += h.layers
	}
	for range n {
		h.pictures, h.reorder, h.latency = b.ue(), b.ue(), b.ue()
	}
	h.to = b.pos
	if b.bad {
		return h, broken
	}
	return h, nil
}

// skipProfile skips profile_tier_level (H.265, 7.3.3).
func skipProfile(b *bitReader, layers uint32) {
	b.pos += 88 + 8
	if layers == 0 {
		return
	}
	var profile, level [8]bool
	for i := range layers {
		profile[i], level[i] = b.u(1) == 1, b.u(1) == 1
	}
	for i := layers; i < 8; i++ {
		b.u(2)
	}
	for i := range layers {
		if profile[i] {
			b.pos += 88
		}
		if level[i] {
			b.pos += 8
		}
	}
}

// withBuffers rewrites a parameter set so that as many pictures wait
// in it as in another one. Decoders mix up what they have not shown yet where
// the number changes.
func withBuffers(set, like []byte) ([]byte, error) {
	own, err := parseHEVCBuffers(set)
	if err != nil {
		return nil, err
	}
	want, err := parseHEVCBuffers(like)
	if err != nil {
		return nil, err
	}
	r := payload(set)
	var w bitWriter
	w.copyBits(r, 0, own.from)
	w.u(0, 1) // one word for all sub-layers
	w.ue(max(want.pictures, own.pictures))
	w.ue(max(want.reorder, own.reorder))
	w.ue(want.latency)
	w.copyBits(r, own.to, endOfPayload(r))
	w.stop()
	return escape(w.data), nil
}

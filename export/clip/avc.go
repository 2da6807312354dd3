package clip

import (
	"fmt"
	"slices"

	"whistlecut/timeline/footage/mp4"
)

// NAL unit types of H.264 (ITU-T H.264, table 7-1).
const (
	avcSlice = 1
	avcIDR   = 5
	avcSPS   = 7
	avcPPS   = 8
	avcAUD   = 9
)

// avcConfig is the decoder configuration record "avcC" (ISO/IEC 14496-15,
// 5.3.3.1).
type avcConfig struct {
	profile, compat, level byte
	lengthSize             int
	sps, pps               [][]byte
	ext                    []byte // chroma format and bit depths, High profiles only
}

func parseAVC(b []byte) (*avcConfig, error) {
	broken := fmt.Errorf("its decoder configuration is broken")
	if len(b) < 7 || b[0] != 1 {
		return nil, broken
	}
	c := &avcConfig{profile: b[1], compat: b[2], level: b[3], lengthSize: int(b[4]&3) + 1}
	pos := 5
	list := func(n int) ([][]byte, error) {
		var out [][]byte
		for range n {
			if len(b)-pos < 2 {
				return nil, broken
			}
			size := int(b[pos])<<8 | int(b[pos+1])
			pos += 2
			if size == 0 || len(b)-pos < size {
				return nil, broken
			}
			out = append(out, b[pos:pos+size])
			pos += size
		}
		return out, nil
	}
	var err error
	pos++
	if c.sps, err = list(int(b[5] & 31)); err != nil {
		return nil, err
	}
	if pos >= len(b) {
		return nil, broken
	}
	pos++
	if c.pps, err = list(int(b[pos-1])); err != nil {
		return nil, err
	}
	c.ext = b[pos:]
	return c, nil
}

func (c *avcConfig) bytes() []byte {
	b := []byte{1, c.profile, c.compat, c.level, 0xfc | byte(c.lengthSize-1), 0xe0 | byte(len(c.sps))}
	add := func(set []byte) { b = append(append(b, byte(len(set)>>8), byte(len(set))), set...) }
	for _, s := range c.sps {
		add(s)
	}
	b = append(b, byte(len(c.pps)))
	for _, s := range c.pps {
		add(s)
	}
	return append(b, c.ext...)
}

// avcSeq is what is needed from a sequence parameter set.
type avcSeq struct {
	profile, compat, level byte
	id                     uint32
	chroma                 uint32
	depthLuma, depthChroma uint32
	frameNumBits           uint32
	pocType, pocBits       uint32
	refs                   uint32 // pictures kept for reference
	width, height          uint32 // in macroblocks
	crop                   [4]uint32
	interlaced             bool
	scaling, bypass        bool // scaling lists of its own, lossless macroblocks
}

func highProfile(p byte) bool {
	return slices.Contains([]byte{100, 110, 122, 244, 44, 83, 86, 118, 128, 138, 139, 134, 135}, p)
}

// parseAVCSeq reads a sequence parameter set up to the cropping (H.264,
// 7.3.2.1.1).
func parseAVCSeq(nal []byte) (avcSeq, error) {
	r := payload(nal)
	if len(r) < 5 {
		return avcSeq{}, fmt.Errorf("its sequence parameters are broken")
	}
	s := avcSeq{profile: r[1], compat: r[2], level: r[3], chroma: 1}
	b := bitReader{data: r[4:]}
	s.id = b.ue()
	if highProfile(s.profile) {
		s.chroma = b.ue()
		if s.chroma == 3 {
			b.u(1)
		}
		s.depthLuma, s.depthChroma = b.ue(), b.ue()
		s.bypass = b.u(1) == 1
		if s.scaling = b.u(1) == 1; s.scaling {
			lists := 8
			if s.chroma == 3 {
				lists = 12
			}
			for i := range lists {
				if b.u(1) == 1 {
					skipScaling(&b, i)
				}
			}
		}
	}
	s.frameNumBits = b.ue() + 4
	s.pocType = b.ue()
	switch s.pocType {
	case 0:
		s.pocBits = b.ue() + 4
	case 1:
		b.u(1)
		b.se()
		b.se()
		n := b.ue()
		for i := uint32(0); i < n && !b.bad; i++ {
			b.se()
		}
	}
	s.refs = b.ue()
	b.u(1)
	s.width, s.height = b.ue()+1, b.ue()+1
	if s.interlaced = b.u(1) == 0; s.interlaced {
		b.u(1)
	}
	b.u(1)
	if b.u(1) == 1 {
		for i := range s.crop {
			s.crop[i] = b.ue()
		}
	}
	if b.bad || s.frameNumBits > 16 || s.pocBits > 16 {
		return s, fmt.Errorf("its sequence parameters are broken")
	}
	return s, nil
}

func skipScaling(b *bitReader, list int) {
	n := 16
	if list >= 6 {
		n = 64
	}
	last, next := int32(8), int32(8)
	for range n {
		if next != 0 {
			next = (last + b.se() + 256) % 256
		}
		if next != 0 {
			last = next
		}
	}
}

// avc is how clips of H.264 films are joined: both parts' parameter sets stand
// in one configuration, the encoded part's under an ID the film does not use.
type avc struct {
	config *avcConfig
	seq    avcSeq
	id     uint32 // parameter-set ID for the encoded parts
}

func newAVC(e mp4.SampleEntry) (*avc, error) {
	config, err := parseAVC(e.Config("avcC"))
	if err != nil {
		return nil, err
	}
	if len(config.sps) == 0 || len(config.pps) == 0 {
		return nil, fmt.Errorf("its parameter sets are not in the file's header")
	}
	c := &avc{config: config}
	if c.seq, err = parseAVCSeq(config.sps[0]); err != nil {
		return nil, err
	}
	if config.lengthSize == 3 {
		return nil, fmt.Errorf("its decoder configuration is broken")
	}
	used, err := avcIDs(append(slices.Clone(config.sps), config.pps...))
	if err != nil {
		return nil, err
	}
	for c.id = 1; used[c.id] && c.id < 31; c.id++ {
	}
	return c, nil
}

// avcIDs lists the numbers used by sequence and picture parameter sets.
func avcIDs(sets [][]byte) (map[uint32]bool, error) {
	used := map[uint32]bool{}
	for _, n := range sets {
		switch n[0] & 31 {
		case avcSPS:
			s, err := parseAVCSeq(n)
			if err != nil {
				return nil, err
			}
			used[s.id] = true
		case avcPPS:
			b := bitReader{data: payload(n[1:])}
			used[b.ue()] = true
			used[b.ue()] = true
		}
	}
	return used, nil
}

func (*avc) name() string { return "H.264" }

func (c *avc) lengthSize() int { return c.config.lengthSize }

// seam says whether a copy can start with this sample.
func (c *avc) seam(units [][]byte) (ok, resets bool, why string) {
	for _, n := range units {
		switch n[0] & 31 {
		case avcIDR:
			return true, true, ""
		case avcSlice, 2, 3, 4:
			return false, false, "the groups of its frames are open"
		case avcSPS, avcPPS:
			used, err := avcIDs([][]byte{n})
			if err != nil || used[c.id] {
				return false, false, "its parameter sets change on the way"
			}
		}
	}
	return false, false, "a key frame without picture"
}

// unjoinable says why encoded and copied parts can't be joined, "" if they can.
func (c *avc) unjoinable() string {
	if c.seq.interlaced {
		return "it is interlaced"
	}
	return ""
}

func (c *avc) deep() bool { return c.seq.depthLuma > 0 }

// encoder gives ffmpeg's arguments for the encoded parts.
func (c *avc) encoder(_ string, frames int) []string {
	// Where the encoder's own parameter set is used: with another buffer size a
	// decoder may drop the pictures it has not shown yet (H.264, C.4.4).
	more := fmt.Sprintf("sps-id=%d:dpb-size=%d", c.id, min(max(c.seq.refs, 1), 16))
	if !c.spliceable() && highProfile(c.seq.profile) {
		more += ":8x8dct=1" // or the encoder would not call it High
	}
	if c.seq.profile != 66 { // Baseline has no arithmetic coding
		more += ":cabac=1"
	}
	args := x264Args(more, frames)
	if p := map[byte]string{66: "baseline", 77: "main", 100: "high", 110: "high10", 122: "high422"}[c.config.profile]; p != "" {
		args = append(args, "-profile:v", p)
	}
	if c.seq.interlaced {
		args = append(args, "-flags", "+ilme+ildct")
	}
	return args
}

// join gives the entries for the encoded and the copied part; here both are
// one. sp is what the encoded part was rewritten with, nil if it was not.
func (c *avc) join(src mp4.SampleEntry, sets paramSets, sp *splice) (entries []mp4.SampleEntry, coded, copied int, err error) {
	head, err := avcFromSets(sets)
	if err != nil {
		return nil, 0, 0, err
	}
	both := *c.config
	if sp != nil && !sp.off {
		both.pps = slices.Concat(c.config.pps, [][]byte{sp.picture(head.pps[0])})
		return []mp4.SampleEntry{src.WithConfig("avcC", both.bytes())}, 0, 0, nil
	}
	both.sps = slices.Concat(c.config.sps, head.sps)
	both.pps = slices.Concat(c.config.pps, head.pps)
	both.level = max(both.level, head.level)
	if head.profile != both.profile && (both.profile < head.profile || highProfile(both.profile) != highProfile(head.profile)) {
		return nil, 0, 0, fmt.Errorf("the encoder made profile %d where the film has %d", head.profile, both.profile)
	}
	return []mp4.SampleEntry{src.WithConfig("avcC", both.bytes())}, 0, 0, nil
}

// avcFromSets makes the configuration of a stream from its parameter sets.
func avcFromSets(sets paramSets) (*avcConfig, error) {
	if len(sets.sps) != 1 || len(sets.pps) != 1 {
		return nil, fmt.Errorf("the encoder made %d sequence parameter sets", len(sets.sps))
	}
	s, err := parseAVCSeq(sets.sps[0])
	if err != nil {
		return nil, err
	}
	c := &avcConfig{profile: s.profile, compat: s.compat, level: s.level, lengthSize: 4, sps: sets.sps, pps: sets.pps}
	if highProfile(s.profile) {
		c.ext = []byte{0xfc | byte(s.chroma), 0xf8 | byte(s.depthLuma), 0xf8 | byte(s.depthChroma), 0}
	}
	return c, nil
}

// alone is the entry for a clip encoded as a whole.
func (*avc) alone(sets paramSets) (kind, box string, config []byte, err error) {
	c, err := avcFromSets(sets)
	if err != nil {
		return "", "", nil, err
	}
	return "avc1", "avcC", c.bytes(), nil
}

func (*avc) endOfSequence() []byte   { return nil }
func (*avc) parameterSets() [][]byte { return nil }

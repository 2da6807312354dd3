package clip

import (
	"fmt"
	"slices"

	"whistlecut/timeline/footage/mp4"
)

// NAL unit types of HEVC (ITU-T H.265, table 7-1).
const (
	hevcIDRWithLeading = 19
	hevcIDR            = 20
	hevcCRA            = 21
	hevcVPS            = 32
	hevcSPS            = 33
	hevcPPS            = 34
	hevcAUD            = 35
	hevcEndOfSequence  = 36
)

func hevcType(nal []byte) int { return int(nal[0]>>1) & 63 }

// hevc is how clips of HEVC films are joined: the encoder always numbers its
// parameter sets from 0, so each part has a sample description of its own, and
// the sequence ends between them.
type hevc struct {
	config []byte // the film's hvcC
}

func newHEVC(e mp4.SampleEntry) (*hevc, error) {
	c := e.Config("hvcC")
	if len(c) < 23 || c[0] != 1 {
		return nil, fmt.Errorf("its decoder configuration is broken")
	}
	return &hevc{config: c}, nil
}

func (*hevc) name() string { return "HEVC" }

func (c *hevc) lengthSize() int { return int(c.config[21]&3) + 1 }

// seam says whether a copy can start with this sample. Pictures that lead a
// clean random access point are left out of the copy.
func (c *hevc) seam(units [][]byte) (ok, resets bool, why string) {
	for _, n := range units {
		switch t := hevcType(n); {
		case t == hevcIDRWithLeading || t == hevcIDR || t == hevcCRA:
			return true, t != hevcCRA, ""
		case t < 32:
			return false, false, "its key frames can't be joined to"
		}
	}
	return false, false, "a key frame without picture"
}

func (*hevc) newSplice([][]byte, int, [][][]byte) *splice { return nil }

func (*hevc) unjoinable() string { return "" }

func (c *hevc) deep() bool { return c.config[17]&7 > 0 }

func (c *hevc) encoder(rate string, _ int) []string { return x265Args(c.deep(), rate) }

func (c *hevc) join(src mp4.SampleEntry, sets paramSets, _ *splice) (entries []mp4.SampleEntry, coded, copied int, err error) {
	config, err := c.configFrom(sets)
	if err != nil {
		return nil, 0, 0, err
	}
	return []mp4.SampleEntry{src.WithConfig("hvcC", config), src}, 0, 1, nil
}

// configFrom makes the configuration record "hvcC" of the encoded part
// (ISO/IEC 14496-15, 8.3.3.1). Chroma format and bit depth are the film's: the
// encoder gets its frames unconverted.
func (c *hevc) configFrom(sets paramSets) ([]byte, error) {
	if len(sets.vps) != 1 || len(sets.sps) != 1 || len(sets.pps) != 1 {
		return nil, fmt.Errorf("the encoder made %d sequence parameter sets", len(sets.sps))
	}
	return hevcConfig(sets, c.config[16], c.config[17], c.config[18])
}

// hevcConfig takes profile and level from the sequence parameter set.
func hevcConfig(sets paramSets, chroma, depthLuma, depthChroma byte) ([]byte, error) {
	sps := payload(sets.sps[0])
	if len(sps) < 15 {
		return nil, fmt.Errorf("the encoder's sequence parameters are broken")
	}
	layers := sps[2] >> 1 & 7
	nested := sps[2] & 1
	b := []byte{1}
	b = append(b, sps[3:15]...) // profile, tier, level
	b = append(b, 0xf0, 0, 0xfc, chroma, depthLuma, depthChroma, 0, 0, (layers+1)<<3|nested<<2|3, 3)
	for _, a := range []struct {
		kind byte
		sets [][]byte
	}{{hevcVPS, sets.vps}, {hevcSPS, sets.sps}, {hevcPPS, sets.pps}} {
		b = append(b, 0x80|a.kind, 0, 1)
		b = append(b, byte(len(a.sets[0])>>8), byte(len(a.sets[0])))
		b = append(b, a.sets[0]...)
	}
	return b, nil
}

// parameterSets lists the sets of the film's own configuration, to be repeated
// where the copy starts: decoders that keep the first sample description alone
// still find them.
func (c *hevc) parameterSets() [][]byte {
	var out [][]byte
	b := c.config[22:]
	arrays := int(b[0])
	b = b[1:]
	for range arrays {
		if len(b) < 3 {
			return nil
		}
		kind, n := int(b[0]&63), int(b[1])<<8|int(b[2])
		b = b[3:]
		for range n {
			if len(b) < 2 || len(b)-2 < int(b[0])<<8|int(b[1]) {
				return nil
			}
			size := int(b[0])<<8 | int(b[1])
			if slices.Contains([]int{hevcVPS, hevcSPS, hevcPPS}, kind) {
				out = append(out, b[2:2+size])
			}
			b = b[2+size:]
		}
	}
	return out
}

func (*hevc) endOfSequence() []byte { return []byte{hevcEndOfSequence << 1, 1} }

// alone is the entry for a clip encoded as a whole.
func (c *hevc) alone(sets paramSets) (kind, box string, config []byte, err error) {
	b, err := c.configFrom(sets)
	return "hvc1", "hvcC", b, err
}

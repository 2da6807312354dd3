package clip

import (
	"testing"

	"whistlecut/timeline/footage/mp4"
)

// FuzzBitstream feeds broken decoder configurations, parameter sets and
// samples: no panic, no endless loop.
func FuzzBitstream(f *testing.F) {
	sps := []byte{0x67, 0x64, 0x00, 0x0b, 0xac, 0xd9, 0x42, 0x8d, 0xf9, 0xff, 0x00, 0x04, 0x00, 0x04, 0x22, 0x00, 0x00, 0x03, 0x00, 0x02}
	pps := []byte{0x68, 0xeb, 0xe3, 0xcb, 0x22, 0xc0}
	config := (&avcConfig{profile: 100, level: 11, lengthSize: 4, sps: [][]byte{sps}, pps: [][]byte{pps}}).bytes()
	f.Add(config, []byte{0, 0, 0, 4, 0x65, 0x88, 0x84, 0x00}, pps)
	f.Add([]byte{1, 1, 0x60, 0, 0, 0, 0, 0, 0, 0, 0, 0, 30, 0xf0, 0, 0xfc, 0xfd, 0xf8, 0xf8, 0, 0, 15, 1, 0xa0, 0, 1, 0, 2, 64, 1}, []byte{0, 0, 0, 2, 0x26, 1}, sps)
	f.Fuzz(func(t *testing.T, config, sample, set []byte) {
		_, _ = parseAVCSeq(set)
		if len(set) > 0 {
			_, _ = parseAVCPic(set)
		}
		for _, kind := range []string{"avcC", "hvcC"} {
			e := mp4.VisualEntry("test", 160, 90, mp4.Box(kind, config))
			var c codec
			if a, err := newAVC(e); err == nil {
				c = a
			} else if h, err := newHEVC(e); err == nil {
				c = h
			} else {
				continue
			}
			c.parameterSets()
			units, err := nals(sample, c.lengthSize())
			if err != nil {
				continue
			}
			c.seam(units)
			if s := c.newSplice(units, 1, [][][]byte{units}); s != nil {
				for _, n := range units {
					_, _ = s.nal(n, paramSets{sps: [][]byte{set}, pps: [][]byte{set}})
				}
			}
		}
	})
}

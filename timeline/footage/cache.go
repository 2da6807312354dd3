package footage

import (
	"bytes"
	"encoding/binary"
	"errors"
	"hash/crc32"
	"math"
	"os"
	"path/filepath"

	"github.com/adrg/xdg"
	"github.com/natefinch/atomic"
)

// Indexes are kept in the user's cache folder, one small file each, named by
// the film's fingerprint: about four bytes a frame. A file that can't be read,
// is older or broken counts as none and is written anew.

// CacheDir is where indexes are kept: whistlecut/frames in the user's cache
// folder.
func CacheDir() string { return filepath.Join(xdg.CacheHome, "whistlecut", "frames") }

const cacheMagic = "whistlecut frames 2\n"

var errBadCache = errors.New("not a kept frame index")

func cachePath(dir string, fp Fingerprint) string { return filepath.Join(dir, string(fp)+".index") }

// loadIndex returns the kept index of a film, or an error when there is none
// that can be used.
func loadIndex(dir string, fp Fingerprint) (*Index, error) {
	data, err := os.ReadFile(cachePath(dir, fp))
	if err != nil {
		return nil, err
	}
	return decodeIndex(data)
}

// storeIndex keeps an index.
func storeIndex(dir string, fp Fingerprint, x *Index) error {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return err
	}
	return atomic.WriteFile(cachePath(dir, fp), bytes.NewReader(encodeIndex(x)))
}

// encodeIndex writes: magic, time base, number of frames, playable frames, end,
// then per frame the distance to the frame before in ticks and in decode order
// with the key flag in its lowest bit, all as varints; last a CRC-32 of all.
func encodeIndex(x *Index) []byte {
	b := []byte(cacheMagic)
	b = binary.AppendVarint(b, x.base.Num)
	b = binary.AppendVarint(b, x.base.Den)
	b = binary.AppendUvarint(b, uint64(len(x.pts)))
	b = binary.AppendUvarint(b, uint64(x.cut))
	b = binary.AppendVarint(b, x.end)
	var pts, decode int64
	for i := range x.pts {
		b = binary.AppendVarint(b, x.pts[i]-pts)
		d := (int64(x.decode[i]) - decode) << 1
		if x.key[i] {
			d |= 1
		}
		b = binary.AppendVarint(b, d)
		pts, decode = x.pts[i], int64(x.decode[i])
	}
	return binary.BigEndian.AppendUint32(b, crc32.ChecksumIEEE(b))
}

// decodeIndex reads what encodeIndex wrote and checks it.
func decodeIndex(data []byte) (*Index, error) {
	if len(data) < len(cacheMagic)+4 || string(data[:len(cacheMagic)]) != cacheMagic {
		return nil, errBadCache
	}
	body, sum := data[:len(data)-4], data[len(data)-4:]
	if crc32.ChecksumIEEE(body) != binary.BigEndian.Uint32(sum) {
		return nil, errBadCache
	}
	in := varints{data: body[len(cacheMagic):]}
	x := &Index{base: Rational{in.signed(), in.signed()}}
	n, cut := in.unsigned(), in.unsigned()
	x.end = in.signed()
	// Each frame takes at least two bytes.
	if in.bad || !x.base.Known() || n > uint64(len(in.data)/2) || cut > n {
		return nil, errBadCache
	}
	x.cut = int(cut)
	x.pts, x.decode, x.key = make([]int64, n), make([]int32, n), make([]bool, n)
	var pts, decode int64
	for i := range x.pts {
		step := in.signed()
		d := in.signed()
		if in.bad || i > 0 && step < 0 {
			return nil, errBadCache
		}
		pts += step
		decode += d >> 1
		if decode < 0 || decode > math.MaxInt32 {
			return nil, errBadCache
		}
		x.pts[i], x.decode[i], x.key[i] = pts, int32(decode), d&1 != 0
	}
	if len(in.data) > 0 || n > 0 && x.end <= pts {
		return nil, errBadCache
	}
	return x, nil
}

// varints reads numbers one after the other; bad is set at the first that is
// not there.
type varints struct {
	data []byte
	bad  bool
}

func (v *varints) signed() int64 {
	n, size := binary.Varint(v.data)
	return take(v, n, size)
}

func (v *varints) unsigned() uint64 {
	n, size := binary.Uvarint(v.data)
	return take(v, n, size)
}

func take[T any](v *varints, n T, size int) T {
	var zero T
	if size <= 0 {
		v.bad, v.data = true, nil
		return zero
	}
	v.data = v.data[size:]
	return n
}

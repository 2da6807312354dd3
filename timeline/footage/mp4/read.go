package mp4

import (
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"os"
	"time"
)

// maxMoov bounds the movie box held in memory: 24 MB describe ten hours at 60
// frames a second.
const maxMoov = 256 << 20

// maxTopBoxes bounds the boxes looked through for the movie box.
const maxTopBoxes = 1 << 20

// firstKinds are the boxes a file may start with (ISO/IEC 14496-12 and the
// QuickTime File Format, where the file type box is younger than the format).
var firstKinds = map[string]bool{
	"ftyp": true, "moov": true, "mdat": true, "free": true, "skip": true, "wide": true,
	"pnot": true, "uuid": true, "styp": true, "sidx": true, "moof": true, "junk": true,
}

// Open reads the movie box of the file at path.
func Open(path string) (*File, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, fmt.Errorf("opening the film: %w", err)
	}
	defer f.Close()
	st, err := f.Stat()
	if err != nil {
		return nil, fmt.Errorf("opening the film: %w", err)
	}
	return Read(f, st.Size())
}

// Read reads the movie box from a file of the given size in bytes. Errors of
// the file itself are of type *Error; a file whose media data is cut off and
// whose movie box is whole is returned with Short set.
func Read(r io.ReaderAt, size int64) (*File, error) {
	file := &File{}
	at := int64(0)
	for n := 0; ; n++ {
		if n > maxTopBoxes {
			return nil, &Error{Kind: Malformed, Offset: at, What: "too many boxes before the movie box", Do: doOtherReader}
		}
		kind, head, length, err := topBox(r, at, size, n == 0)
		if err != nil {
			return nil, err
		}
		if kind == "" { // no room for another header
			break
		}
		switch kind {
		case "ftyp":
			if length > int64(head) && at+length <= size {
				if err := file.readBrands(r, at+int64(head), min(length-int64(head), 1024)); err != nil {
					return nil, err
				}
			}
		case "moov":
			if at+length > size {
				return nil, truncated(at, "the movie box is cut off: it claims %d bytes where %d are left", length, size-at)
			}
			if length > maxMoov {
				return nil, &Error{Kind: Unsupported, Offset: at, What: fmt.Sprintf("the movie box claims %d MB", length>>20), Do: doOtherReader}
			}
			buf := make([]byte, length-int64(head))
			if err := readFull(r, buf, at+int64(head)); err != nil {
				return nil, err
			}
			file.MoovOffset, file.MoovSize = at, length
			if err := file.readMoov(box{kind: kind, data: buf, at: at + int64(head)}, size); err != nil {
				return nil, err
			}
			return file, nil
		}
		at += length
		if at > size {
			return nil, truncated(size, "the file ends %d bytes before the end of its %q box and has no movie box", at-size, kind)
		}
	}
	return nil, truncated(size, "the file has no movie box, so the recording was never finished")
}

func truncated(at int64, format string, args ...any) error {
	return &Error{Kind: Truncated, Offset: at, What: fmt.Sprintf(format, args...), Do: doCopyAgain}
}

func readFull(r io.ReaderAt, buf []byte, at int64) error {
	n, err := r.ReadAt(buf, at)
	if n == len(buf) {
		return nil
	}
	if err == nil || errors.Is(err, io.EOF) {
		return truncated(at+int64(n), "the file ended while being read")
	}
	return &Error{Kind: Truncated, Offset: at, What: "reading failed", Do: "check the disk or the connection", Err: err}
}

// topBox reads the header of the box at the given offset: its kind, the
// header's size and the box's length; an empty kind at the end of the file.
func topBox(r io.ReaderAt, at, size int64, first bool) (kind string, head int, length int64, err error) {
	if size-at < 8 {
		if first {
			return "", 0, 0, notMP4(at)
		}
		return "", 0, 0, nil
	}
	var h [16]byte
	n := min(16, size-at)
	if err := readFull(r, h[:n], at); err != nil {
		return "", 0, 0, err
	}
	kind = string(h[4:8])
	if first && !firstKinds[kind] {
		return "", 0, 0, notMP4(at)
	}
	head = 8
	length = int64(binary.BigEndian.Uint32(h[:]))
	switch length {
	case 0:
		length = size - at
	case 1:
		big := binary.BigEndian.Uint64(h[8:])
		if n < 16 || big > 1<<62 {
			return "", 0, 0, malformed(at, "box %q has an impossible size", kind)
		}
		head, length = 16, int64(big)
	}
	if length < int64(head) {
		return "", 0, 0, malformed(at, "box %q claims %d bytes", kind, length)
	}
	return kind, head, length, nil
}

func notMP4(at int64) error {
	return &Error{Kind: NotMP4, Offset: at, What: "this is not an MP4 or MOV file", Do: "check that it is the film and not something renamed, or let ffmpeg try it"}
}

func (file *File) readBrands(r io.ReaderAt, at, length int64) error {
	buf := make([]byte, length)
	if err := readFull(r, buf, at); err != nil {
		return err
	}
	for i := 0; i+4 <= len(buf); i += 4 {
		if i == 4 { // the minor version
			continue
		}
		file.Brands = append(file.Brands, string(buf[i:i+4]))
	}
	return nil
}

// epoch is the zero of times in boxes: 1904-01-01 UTC.
var epoch = time.Date(1904, 1, 1, 0, 0, 0, 0, time.UTC)

func (file *File) readMoov(moov box, size int64) error {
	kids, err := moov.children()
	if err != nil {
		return err
	}
	if _, ok := find(kids, "cmov"); ok {
		return &Error{Kind: Unsupported, Offset: moov.at, What: "the movie box is compressed", Do: doOtherReader}
	}
	mvhd, ok := find(kids, "mvhd")
	if !ok {
		return malformed(moov.at, "the movie box has no header")
	}
	f := fields{data: mvhd.data}
	v, _ := f.versioned()
	created := f.wide(v)
	f.wide(v)
	file.Timescale = f.u32()
	file.Duration = f.wide(v)
	if f.short || file.Timescale == 0 {
		return malformed(mvhd.at, "the movie header is too short or has no time scale")
	}
	if created > 0 && created < 1<<33 {
		file.Created = epoch.Add(time.Duration(created) * time.Second)
	}
	_, file.Fragmented = find(kids, "mvex")
	if file.Title, err = title(kids); err != nil {
		return err
	}
	budget := maxSamples
	for _, k := range kids {
		if k.kind != "trak" {
			continue
		}
		t, err := readTrack(k, size, budget)
		if err != nil {
			return err
		}
		if t == nil {
			continue
		}
		budget -= t.Samples.Len()
		file.Tracks = append(file.Tracks, t)
	}
	file.checkShort(size)
	return nil
}

// checkShort looks for samples past the end of the file.
func (file *File) checkShort(size int64) {
	var past int64
	for _, t := range file.Tracks {
		for i, at := range t.Samples.Offset {
			if end := at + int64(t.Samples.Size[i]); end-size > past {
				past = end - size
			}
		}
	}
	if past > 0 {
		file.Short = &Error{
			Kind: Truncated, Offset: size,
			What: fmt.Sprintf("the file ends %d bytes before the end of its media data", past), Do: doCopyAgain,
		}
	}
}

// title finds the name in the metadata list (udta/meta/ilst/©nam/data).
func title(kids []box) (string, error) {
	meta, ok, err := path(kids, "udta", "meta")
	if !ok || err != nil {
		return "", nil //nolint:nilerr // a broken user-data box does not make the film unreadable
	}
	if len(meta.data) < 4 {
		return "", nil
	}
	// In QuickTime the box has no version; then a box header stands there.
	if binary.BigEndian.Uint32(meta.data) == 0 {
		meta.data, meta.at = meta.data[4:], meta.at+4
	}
	in, err := meta.children()
	if err != nil {
		return "", nil
	}
	data, ok, err := path(in, "ilst", "\xa9nam", "data")
	if !ok || err != nil || len(data.data) < 8 {
		return "", nil
	}
	return string(data.data[8:]), nil
}

package footage

import (
	"context"
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"
)

// Fingerprint names the content of a file: "1-<size>-<sha256>", where 1 is the
// way it was taken, size is in bytes and the hash covers the size and either
// the whole file or its head, its tail and blocks spread between. Two films of
// one camera never share one; a copy, moved or renamed, always does.
type Fingerprint string

const (
	wholeBelow   = 8 << 20 // bytes up to which the whole file is hashed
	edgeBlock    = 256 << 10
	spreadBlock  = 64 << 10
	spreadBlocks = 16
)

const doingFingerprint = "take the fingerprint of"

// FingerprintOf reads at most 1.5 MB of a file larger than 8 MB, so it is quick
// on any disk. Errors that are ErrMissing say that there is no such file.
func FingerprintOf(path string) (Fingerprint, error) {
	f, err := os.Open(path)
	if err != nil {
		return "", fromSystem(doingFingerprint, path, err)
	}
	defer f.Close() // only read
	st, err := f.Stat()
	if err != nil {
		return "", fromSystem(doingFingerprint, path, err)
	}
	if !st.Mode().IsRegular() {
		return "", &Error{Doing: doingFingerprint, Path: path, Class: ErrNotFilm, Detail: "it is not a file", Hint: "give the film itself"}
	}
	fp, err := fingerprint(f, st.Size())
	if err != nil {
		return "", fromSystem(doingFingerprint, path, err)
	}
	return fp, nil
}

func fingerprint(r io.ReaderAt, size int64) (Fingerprint, error) {
	h := sha256.New()
	var sizeBytes [8]byte
	binary.BigEndian.PutUint64(sizeBytes[:], uint64(size))
	h.Write(sizeBytes[:])
	block := func(at, length int64) error {
		n, err := io.Copy(h, io.NewSectionReader(r, at, length))
		if err == nil && n < length {
			err = io.ErrUnexpectedEOF
		}
		return err
	}
	if size <= wholeBelow {
		if err := block(0, size); err != nil {
			return "", err
		}
	} else {
		if err := block(0, edgeBlock); err != nil {
			return "", err
		}
		// Blocks spread evenly over what lies between head and tail.
		room := size - 2*edgeBlock - spreadBlock
		for i := range int64(spreadBlocks) {
			if err := block(edgeBlock+room/spreadBlocks*i+room/(2*spreadBlocks), spreadBlock); err != nil {
				return "", err
			}
		}
		if err := block(size-edgeBlock, edgeBlock); err != nil {
			return "", err
		}
	}
	return Fingerprint(fmt.Sprintf("1-%d-%s", size, hex.EncodeToString(h.Sum(nil)))), nil
}

// Size is the size in bytes that the fingerprint tells; ok is false when it is
// not one of ours.
func (f Fingerprint) Size() (size int64, ok bool) {
	way, rest, _ := strings.Cut(string(f), "-")
	number, hash, _ := strings.Cut(rest, "-")
	size, err := strconv.ParseInt(number, 10, 64)
	return size, way == "1" && err == nil && size >= 0 && len(hash) == 2*sha256.Size
}

// FindMoved looks for files by their fingerprints in folders and all folders
// below them, and returns the path of each one found. Only files of the right
// size are read. Folders that can't be read are passed over, as are symbolic
// links. It stops early when all are found or ctx ends; what was found by then
// is returned with ctx's error.
func FindMoved(ctx context.Context, dirs []string, wanted ...Fingerprint) (map[Fingerprint]string, error) {
	bySize := map[int64]map[Fingerprint]bool{}
	open := 0
	for _, w := range wanted {
		size, ok := w.Size()
		if !ok {
			continue
		}
		if bySize[size] == nil {
			bySize[size] = map[Fingerprint]bool{}
		}
		if !bySize[size][w] {
			bySize[size][w] = true
			open++
		}
	}
	found := map[Fingerprint]string{}
	for _, dir := range dirs {
		err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
			if ctx.Err() != nil {
				return ctx.Err()
			}
			if open == 0 {
				return fs.SkipAll
			}
			if err != nil {
				if d != nil && d.IsDir() {
					return fs.SkipDir
				}
				return nil
			}
			if !d.Type().IsRegular() {
				return nil
			}
			st, err := d.Info()
			if err != nil || bySize[st.Size()] == nil {
				return nil //nolint:nilerr // the file went away while we looked
			}
			fp, err := FingerprintOf(path)
			if err == nil && bySize[st.Size()][fp] && found[fp] == "" {
				found[fp] = path
				open--
			}
			return nil
		})
		if err != nil {
			return found, err
		}
	}
	return found, nil
}

package footage

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

var sameIndex = cmp.AllowUnexported(Index{})

func TestKeptIndexComesBackEqual(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := anyIndex(t)
		y, err := decodeIndex(encodeIndex(x))
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(x, y, sameIndex); d != "" {
			t.Fatal(d)
		}
	})
}

func TestEveryDamageIsNoticed(t *testing.T) {
	x := newIndex(Rational{1, 30000}, []frame{{0, 0, true}, {1001, 2, false}, {2002, 1, false}}, 3003)
	whole := encodeIndex(x)
	for i := range whole {
		if _, err := decodeIndex(whole[:i]); err == nil {
			t.Errorf("cut at %d it was taken", i)
		}
		broken := bytes.Clone(whole)
		broken[i] ^= 0x10
		if _, err := decodeIndex(broken); err == nil {
			t.Errorf("with byte %d changed it was taken", i)
		}
	}
}

// FuzzDecodeIndex puts the mark before the bytes and the right sum behind them,
// which no guessing would.
func FuzzDecodeIndex(f *testing.F) {
	whole := encodeIndex(newIndex(Rational{1, 30000}, []frame{{0, 0, true}, {1001, 1, false}}, 2002))
	f.Add(whole[len(cacheMagic) : len(whole)-4])
	f.Add([]byte{})
	f.Fuzz(func(t *testing.T, body []byte) {
		data := append([]byte(cacheMagic), body...)
		x, err := decodeIndex(binary.BigEndian.AppendUint32(data, crc32.ChecksumIEEE(data)))
		if err != nil {
			return
		}
		if y, err := decodeIndex(encodeIndex(x)); err != nil || !cmp.Equal(x, y, sameIndex) {
			t.Errorf("written again it is another: %v", err)
		}
	})
}

// TestOpenUsesAndRepairsTheCache watches the kept file: read when whole,
// written anew when broken, and no reason to fail when it can't be written.
func TestOpenUsesAndRepairsTheCache(t *testing.T) {
	path, dir := film(t, "mkv"), t.TempDir()
	first, err := open(t.Context(), runner, path, dir)
	if err != nil {
		t.Fatal(err)
	}
	kept := cachePath(dir, first.Fingerprint)
	good, err := os.ReadFile(kept)
	if err != nil {
		t.Fatal(err)
	}

	// A marked copy shows that the cache is read.
	marked := *first.Index
	marked.end += 12345
	if err := storeIndex(dir, first.Fingerprint, &marked); err != nil {
		t.Fatal(err)
	}
	second, err := open(t.Context(), runner, path, dir)
	if err != nil || second.Index.end != marked.end {
		t.Errorf("the kept index was not used: %v", err)
	}

	for name, data := range map[string][]byte{"broken": good[:len(good)/2], "empty": {}, "other": []byte("not ours at all")} {
		if err := os.WriteFile(kept, data, 0o600); err != nil {
			t.Fatal(err)
		}
		again, err := open(t.Context(), runner, path, dir)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if d := cmp.Diff(first.Index, again.Index, sameIndex); d != "" {
			t.Errorf("%s: %s", name, d)
		}
		if now, _ := os.ReadFile(kept); !bytes.Equal(now, good) {
			t.Errorf("%s: not written anew", name)
		}
	}

	blocked := filepath.Join(t.TempDir(), "a file where the folder should be")
	if err := os.WriteFile(blocked, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if f, err := open(t.Context(), runner, path, blocked); err != nil || f.Index.Len() != first.Index.Len() {
		t.Errorf("without a cache: %v", err)
	}
}

func TestCacheDirIsTheUsers(t *testing.T) {
	if dir := CacheDir(); !filepath.IsAbs(dir) || filepath.Base(filepath.Dir(dir)) != "whistlecut" {
		t.Errorf("got %s", dir)
	}
}

func TestKeptIndexIsSmall(t *testing.T) {
	var frames []frame
	for i := range 108000 {
		frames = append(frames, frame{int64(i) * 1001, int32(i), i%30 == 0})
	}
	x := newIndex(Rational{1, 30000}, frames, 0)
	if n := len(encodeIndex(x)); n > 4*x.Len() {
		t.Errorf("%d bytes for %d frames", n, x.Len())
	}
	if x.Duration().Round(time.Second) != 3604*time.Second {
		t.Errorf("an hour lasts %v", x.Duration())
	}
}

package footage

import (
	"context"
	"errors"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// bigFile writes size bytes of noise.
func bigFile(t *testing.T, path string, size int, seed uint64) []byte {
	t.Helper()
	data := make([]byte, size)
	r := rand.NewChaCha8([32]byte{byte(seed)})
	_, _ = r.Read(data) // never fails
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	return data
}

func mustFingerprint(t *testing.T, path string) Fingerprint {
	t.Helper()
	fp, err := FingerprintOf(path)
	if err != nil {
		t.Fatal(err)
	}
	return fp
}

func TestFingerprintTellsFilesApart(t *testing.T) {
	dir := t.TempDir()
	big := wholeBelow + 3<<20
	a, b, small := filepath.Join(dir, "a"), filepath.Join(dir, "b"), filepath.Join(dir, "small")
	data := bigFile(t, a, big, 1)
	bigFile(t, b, big, 2)
	bigFile(t, small, 1000, 3)
	fp := mustFingerprint(t, a)
	if mustFingerprint(t, b) == fp || mustFingerprint(t, small) == fp {
		t.Error("different files share a fingerprint")
	}
	if size, ok := fp.Size(); !ok || size != int64(big) {
		t.Errorf("%s tells size %d, %v", fp, size, ok)
	}
	c := filepath.Join(dir, "copy under another name.mp4")
	if err := os.WriteFile(c, data, 0o600); err != nil {
		t.Fatal(err)
	}
	if mustFingerprint(t, c) != fp {
		t.Error("a copy has another fingerprint")
	}
	// A change in the head, the tail, and each of the blocks between.
	room := big - 2*edgeBlock - spreadBlock
	places := []int{0, edgeBlock - 1, big - 1, big - edgeBlock}
	for i := range spreadBlocks {
		places = append(places, edgeBlock+room/spreadBlocks*i+room/(2*spreadBlocks)+17)
	}
	for _, at := range places {
		data[at] ^= 1
		if err := os.WriteFile(c, data, 0o600); err != nil {
			t.Fatal(err)
		}
		if mustFingerprint(t, c) == fp {
			t.Errorf("a change at byte %d is not seen", at)
		}
		data[at] ^= 1
	}
	// In a small file every byte counts.
	before := mustFingerprint(t, small)
	bytes, _ := os.ReadFile(small)
	bytes[517]++
	if err := os.WriteFile(small, bytes, 0o600); err != nil {
		t.Fatal(err)
	}
	if mustFingerprint(t, small) == before {
		t.Error("a change in a small file is not seen")
	}
}

func TestFingerprintErrors(t *testing.T) {
	dir := t.TempDir()
	if _, err := FingerprintOf(filepath.Join(dir, "gone.mp4")); !errors.Is(err, ErrMissing) || !strings.Contains(err.Error(), "gone.mp4") {
		t.Errorf("missing: %v", err)
	}
	if _, err := FingerprintOf(dir); !errors.Is(err, ErrNotFilm) {
		t.Errorf("a folder: %v", err)
	}
	for _, s := range []Fingerprint{"", "1", "1-5", "1-x-" + Fingerprint(strings.Repeat("a", 64)), "2-5-" + Fingerprint(strings.Repeat("a", 64)), "1--5-" + Fingerprint(strings.Repeat("a", 64))} {
		if _, ok := s.Size(); ok {
			t.Errorf("%q was taken for a fingerprint", s)
		}
	}
}

func TestFindMoved(t *testing.T) {
	root := t.TempDir()
	old, deep := filepath.Join(root, "old"), filepath.Join(root, "disk", "2024", "bout")
	for _, d := range []string{old, deep} {
		if err := os.MkdirAll(d, 0o700); err != nil {
			t.Fatal(err)
		}
	}
	one, two := filepath.Join(old, "GX01.MP4"), filepath.Join(old, "GX02.MP4")
	bigFile(t, one, 5000, 1)
	bigFile(t, two, 6000, 2)
	fp1, fp2 := mustFingerprint(t, one), mustFingerprint(t, two)
	moved := filepath.Join(deep, "first half.mp4")
	if err := os.Rename(one, moved); err != nil {
		t.Fatal(err)
	}
	bigFile(t, filepath.Join(deep, "same size.mp4"), 5000, 9)
	bigFile(t, filepath.Join(deep, "GX01.MP4"), 4000, 8) // the right name, the wrong film
	if err := os.Symlink(root, filepath.Join(deep, "loop")); err != nil {
		t.Logf("no symbolic links here: %v", err)
	}
	gone := Fingerprint("1-5000-" + strings.Repeat("0", 64))
	found, err := FindMoved(t.Context(), []string{filepath.Join(root, "nowhere"), root}, fp1, fp2, gone, "nonsense", fp1)
	if err != nil {
		t.Fatal(err)
	}
	if len(found) != 2 || found[fp1] != moved || found[fp2] != two {
		t.Errorf("found %v", found)
	}
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := FindMoved(ctx, []string{root}, fp1); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled: %v", err)
	}
}

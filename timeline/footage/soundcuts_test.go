package footage

import (
	"bytes"
	"io"
	"os"
	"path/filepath"
	"testing"
	"time"
)

// TestSoundsAreWhatSoundGives holds stretches that are decoded together against the
// same ones decoded one by one, sample by sample.
func TestSoundsAreWhatSoundGives(t *testing.T) {
	sec := time.Second
	for _, name := range []string{"closed", "ts", "mkv", "latesound", "latepicture"} {
		t.Run(name, func(t *testing.T) {
			f := opened(t, name)
			format := SoundFormat{Rate: 48000, Channels: 2}
			dir := t.TempDir()
			cuts := []SoundCut{
				{From: 0, To: sec},
				{From: sec / 2, To: 2 * sec},
				{From: sec / 2, To: 2 * sec, Tempo: 0.5}, // the same input again
				{From: sec / 2, To: 2 * sec},             // and the very same stretch
				{From: sec, To: 2 * sec, Tempo: 3},
				{From: sec, To: time.Minute}, // beyond the end
			}
			for i := range cuts {
				cuts[i].Path = filepath.Join(dir, string(rune('a'+i))+" ü'%d.raw")
			}
			if err := f.Sounds(t.Context(), format, cuts); err != nil {
				t.Fatal(err)
			}
			for i, c := range cuts {
				want := format
				want.Tempo = c.Tempo
				s, err := f.Sound(t.Context(), want, c.From, c.To)
				if err != nil {
					t.Fatal(err)
				}
				one, err := io.ReadAll(s)
				s.Close()
				if err != nil {
					t.Fatal(err)
				}
				both, err := os.ReadFile(c.Path)
				if err != nil {
					t.Fatal(err)
				}
				if len(one) == 0 || !bytes.Equal(one, both) {
					t.Errorf("cut %d: %d bytes together, %d alone, or others", i, len(both), len(one))
				}
			}
		})
	}
}

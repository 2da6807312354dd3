package boutfile

import (
	"fmt"
	"path/filepath"
	"testing"
	"time"

	"whistlecut/timeline"
)

// bigBout is a bout of 20,000 tags, as one import leaves it.
func bigBout(b *testing.B) string {
	path := filepath.Join(b.TempDir(), "big.bout")
	f := mustCreate(b, path)
	changes := make([]timeline.Change, 20_000)
	for i := range changes {
		changes[i] = timeline.SetTag(timeline.Tag{
			ID: timeline.ID(fmt.Sprint("t", i)), Kind: timeline.KindTrip, Place: timeline.OnFilm("f1", time.Duration(i)*time.Second),
			Side: timeline.Sides[i%2], Who: timeline.Who{Number: "17"}, Trip: &timeline.TripInfo{Number: 2, Points: i % 5},
		})
	}
	mustApply(b, f, "import", changes...)
	mustClose(b, f)
	return path
}

func BenchmarkOpen20000(b *testing.B) {
	path := bigBout(b)
	for b.Loop() {
		mustClose(b, mustOpen(b, path, Options{}))
	}
}

// BenchmarkApplyTo20000 is one confirmed edit: on the disk when it returns.
func BenchmarkApplyTo20000(b *testing.B) {
	f := mustOpen(b, bigBout(b), Options{Author: "Ada"})
	for i := 0; b.Loop(); i++ {
		mustApply(b, f, "edit", note("n", fmt.Sprint(i)))
	}
}

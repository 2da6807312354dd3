package train

import (
	"bytes"
	"io"
	"math/rand/v2"
	"testing"

	"whistlecut/timeline/whistle"
)

// candidates that are right when trait 3 is high and trait 7 is not: no single
// limit tells them apart.
func made(seed uint64, n int) []Candidate {
	r := rand.New(rand.NewPCG(seed, 1))
	out := make([]Candidate, n)
	for i := range out {
		for k := range out[i].Traits {
			out[i].Traits[k] = r.NormFloat64()
		}
		out[i].Right = out[i].Traits[3] > 0.2 && out[i].Traits[7] < 0.5
		if chance(r, 0.05) {
			out[i].Right = !out[i].Right
		}
	}
	return out
}

func TestWeigherLearns(t *testing.T) {
	w := TeachWeigher(io.Discard, made(1, 3000), made(2, 800))
	right := 0
	said, came := 0.0, 0
	fresh := made(3, 2000)
	for i := range fresh {
		p := w.Weigh(&fresh[i].Traits)
		if p > 0.5 == fresh[i].Right {
			right++
		}
		said += p
		if fresh[i].Right {
			came++
		}
	}
	if right < 1800 {
		t.Errorf("%d of 2000 told apart, want 1800 of the 1900 that can be", right)
	}
	if off := said/2000 - float64(came)/2000; off > 0.02 || off < -0.02 {
		t.Errorf("said %.3f, came %.3f", said/2000, float64(came)/2000)
	}
}

func TestWeigherIsRepeatable(t *testing.T) {
	a, b := TeachWeigher(io.Discard, made(1, 500), made(2, 200)), TeachWeigher(io.Discard, made(1, 500), made(2, 200))
	if !bytes.Equal(a.Encode(), b.Encode()) {
		t.Error("equal candidates gave different trees")
	}
	back, err := whistle.ReadWeigher(a.Encode())
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(back.Encode(), a.Encode()) {
		t.Error("trees changed in the file")
	}
}

// The two hands that share a batch give the same net every time.
func TestTeachIsRepeatable(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 8))
	list := make([]Example, 300)
	for i := range list {
		for k := range list[i].In {
			list[i].In[k] = float32(r.NormFloat64())
		}
		if list[i].In[0] > 0 {
			list[i].On = 1
		}
	}
	a := Teach(io.Discard, list, list[:50], 6, 3, 2, 1).Encode()
	if !bytes.Equal(a, Teach(io.Discard, list, list[:50], 6, 3, 2, 1).Encode()) {
		t.Error("equal examples and seeds gave different weights")
	}
}

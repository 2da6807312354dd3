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
	w := teachForest(io.Discard, "", made(1, 3000), made(2, 800))
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
	list := heard(t, smallNet(t), 40, 3, 8)
	a, b := TeachWeigher(io.Discard, list[:2], list[2:]), TeachWeigher(io.Discard, list[:2], list[2:])
	if !bytes.Equal(a.Encode(), b.Encode()) {
		t.Error("equal recordings gave different trees")
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

// smallNet is a judge that has seen little.
func smallNet(t *testing.T) *whistle.Net {
	t.Helper()
	var list []Example
	for seed := range uint64(6) {
		sc := NewScene(seed, 6)
		list = append(list, sc.Examples(rand.New(rand.NewPCG(seed, 1)), 0.1, 0.2)...)
	}
	return Teach(io.Discard, list, list[:len(list)/6], 8, 4, 3, 1)
}

// heard are n scenes from a seed on, each some seconds long, as a judge hears them.
func heard(t *testing.T, judge *whistle.Net, seed, n uint64, seconds float64) []Recording {
	t.Helper()
	var list []Recording
	for i := range n {
		sc := NewScene(seed+i, seconds)
		r, err := sc.Listen(judge)
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, r)
	}
	return list
}

// What the second weighing knows of its neighbours helps: on scenes not learned from
// both together are better than the first alone.
func TestSecondWeighingHelps(t *testing.T) {
	list := heard(t, smallNet(t), 400, 36, 20)
	w := TeachWeigher(testLog{t}, list[:18], list[18:24])
	loss := func(w *whistle.Weigher) float64 {
		sum, n := 0.0, 0.0
		for _, r := range list[24:] {
			blasts := r.Draft.Weigh(w, all)
			for i, c := range Label(blasts, r.Truth) {
				p := min(max(blasts[i].Confidence, 1e-9), 1-1e-9)
				sum += crossEntropy(p, map[bool]float64{true: 1}[c.Right])
				n++
			}
		}
		return sum / n
	}
	once, twice := loss(&whistle.Weigher{First: w.First}), loss(w)
	t.Logf("loss %.4f after the first weighing, %.4f after the second", once, twice)
	if twice >= once {
		t.Errorf("loss %.4f after the first weighing, %.4f after the second", once, twice)
	}
}

type testLog struct{ t *testing.T }

func (l testLog) Write(b []byte) (int, error) {
	l.t.Log(string(bytes.TrimSpace(b)))
	return len(b), nil
}

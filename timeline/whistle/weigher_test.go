package whistle

import (
	"math"
	"strings"
	"testing"
)

func TestTreeLeaf(t *testing.T) {
	var tree Tree
	for q := range tree.Trait {
		tree.Trait[q] = uint8(q % Traits)
		tree.Limit[q] = 0.5
	}
	var x traits
	if got := tree.Leaf(&x); got != 0 {
		t.Errorf("all answers no: leaf %d", got)
	}
	for i := range x {
		x[i] = 1
	}
	if got := tree.Leaf(&x); got != 1<<Depth-1 {
		t.Errorf("all answers yes: leaf %d", got)
	}
	x = traits{}
	x[0] = 1 // the first question alone
	if got := tree.Leaf(&x); got != 1<<(Depth-1) {
		t.Errorf("first answer yes: leaf %d", got)
	}
}

func TestCarriedWeights(t *testing.T) {
	if _, err := ReadNet(judgeFile); err != nil {
		t.Error(err)
	}
	w, err := ReadWeigher(weigherFile)
	if err != nil {
		t.Fatal(err)
	}
	if w.Second == nil {
		t.Fatal("no second weighing")
	}
	for _, f := range []*Forest{&w.First, w.Second} {
		if len(f.Trees) == 0 || math.IsNaN(float64(f.Base)) {
			t.Errorf("%d trees, base %g", len(f.Trees), f.Base)
		}
	}
}

func TestReadWeigherRefuses(t *testing.T) {
	good := handWeigher().Encode()
	other := append([]byte(nil), good...)
	other[len(weigherMagic)]++
	strange := append([]byte(nil), good...)
	strange[len(weigherMagic)+16] = Traits
	many := append([]byte(nil), good...)
	many[len(weigherMagic)+4] = 3
	for _, c := range []struct {
		name, says string
		b          []byte
	}{
		{"empty", "does not begin", nil},
		{"another file", "does not begin", judgeFile},
		{"other traits", "traits", other},
		{"cut short", "too early", good[:len(good)-3]},
		{"cut in its head", "too early", good[:len(weigherMagic)+10]},
		{"more behind it", "too many", append(append([]byte(nil), good...), 0)},
		{"three weighings", "3 weighings", many},
		{"a trait that is not there", "asks for trait", strange},
	} {
		t.Run(c.name, func(t *testing.T) {
			if _, err := ReadWeigher(c.b); err == nil || !strings.Contains(err.Error(), c.says) {
				t.Errorf("error %v, want one about %q", err, c.says)
			}
		})
	}
	if _, err := ReadWeigher(good); err != nil {
		t.Error(err)
	}
}

// The correction of onsets falls with contrast and stays small.
func TestOnsetBias(t *testing.T) {
	last := math.Inf(1)
	for c := -5.0; c < 60; c++ {
		b := onsetBias(c)
		if b > last || b < 0.003 || b > 0.04 {
			t.Errorf("at %g dB %.4f s after %.4f", c, b, last)
		}
		last = b
	}
}

package train

import (
	"bytes"
	"cmp"
	"fmt"
	"io"
	"math"
	"slices"
	"sync"
	"time"

	"whistlecut/timeline/whistle"
	"whistlecut/timeline/whistle/match"
)

// Candidate is one candidate's traits and whether an official blew there.
type Candidate struct {
	Traits [whistle.Traits]float64
	Right  bool
}

// Recording is all that may be a blast in one recording, with the truth (sorted by
// onset).
type Recording struct {
	Draft *whistle.Draft
	Truth []match.True
}

// Listen hears a recording with a judge.
func Listen(samples []float32, truth []match.True, judge *whistle.Net) (Recording, error) {
	l := whistle.New(whistle.Options{Net: judge})
	if err := l.Write(samples); err != nil {
		return Recording{}, err
	}
	_, draft, err := l.CloseDraft()
	return Recording{draft, truth}, err
}

// Listen is the package's Listen for a scene.
func (sc *Scene) Listen(judge *whistle.Net) (Recording, error) {
	return Listen(sc.Samples, sc.Truth(), judge)
}

// all is a confidence that every candidate has.
const all = 1e-12

// candidates are those of some recordings as a weigher sees them in its last
// weighing.
func candidates(list []Recording, w *whistle.Weigher) []Candidate {
	var out []Candidate
	for _, r := range list {
		out = append(out, Label(r.Draft.Weigh(w, all), r.Truth)...)
	}
	return out
}

// Truth are the scene's blasts as heard ones are matched with, sorted by onset.
func (sc *Scene) Truth() []match.True {
	sec := func(x float64) time.Duration { return time.Duration(x * float64(time.Second)) }
	truth := make([]match.True, len(sc.Blasts))
	for i, b := range sc.Blasts {
		truth[i] = match.True{Onset: sec(b.On), Offset: sec(b.Off), Hz: b.Low}
	}
	slices.SortStableFunc(truth, func(a, b match.True) int { return cmp.Compare(a.Onset, b.Onset) })
	return truth
}

// Label tells candidates that match a true blast from the others.
func Label(heard []whistle.Weighed, truth []match.True) []Candidate {
	blasts, likely := make([]whistle.Blast, len(heard)), make([]float64, len(heard))
	for i, h := range heard {
		blasts[i], likely[i] = h.Blast, h.Prior
	}
	out := make([]Candidate, len(heard))
	for i, m := range match.PairsLikely(truth, blasts, likely) {
		out[i] = Candidate{heard[i].Traits, m >= 0}
	}
	return out
}

// Growing of trees: how much of each is believed, how many at most, the least
// curvature of a leaf and the penalty on large leaves.
const (
	shrink    = 0.06
	mostTrees = 1000
	leastLeaf = 8.0
	penalty   = 4.0
	levels    = 48 // limits tried for a trait, at even ranks
)

// TeachWeigher grows the trees of both weighings on the recordings learn; held says
// how many are best. The second weighing must not learn from what the first says of
// recordings that it knows: each half of them is weighed by trees of the other half.
func TeachWeigher(log io.Writer, learn, held []Recording) *whistle.Weigher {
	var half [2][]Recording
	for i, r := range learn {
		half[i%2] = append(half[i%2], r)
	}
	blind := &whistle.Weigher{}
	heldOnce := candidates(held, blind)
	var first whistle.Forest
	var firsts [2]whistle.Forest
	var says [3]bytes.Buffer
	var wg sync.WaitGroup
	wg.Go(func() { first = teachForest(&says[0], "first weighing", candidates(learn, blind), heldOnce) })
	wg.Go(func() {
		for k := range half {
			firsts[k] = teachForest(&says[1+k], "first weighing, half of it", candidates(half[k], blind), heldOnce)
		}
	})
	wg.Wait()
	for i := range says {
		_, _ = says[i].WriteTo(log)
	}
	var list []Candidate
	for k := range half {
		list = append(list, candidates(half[k], &whistle.Weigher{First: firsts[1-k], Second: &whistle.Forest{}})...)
	}
	second := teachForest(log, "second weighing", list, candidates(held, &whistle.Weigher{First: first, Second: &whistle.Forest{}}))
	return &whistle.Weigher{First: first, Second: &second}
}

// teachForest grows trees on list by the gradient and curvature of the
// cross-entropy and keeps as many as do best on held.
func teachForest(log io.Writer, name string, list, held []Candidate) whistle.Forest {
	g := newGrower(list)
	f := whistle.Forest{Base: float32(math.Log((g.right + 1) / (float64(len(list)) - g.right + 1)))}
	score := make([]float64, len(list))
	heldScore := make([]float64, len(held))
	for i := range score {
		score[i] = float64(f.Base)
	}
	for i := range heldScore {
		heldScore[i] = float64(f.Base)
	}
	best, kept := math.Inf(1), 0
	for n := range mostTrees {
		t := g.grow(score)
		f.Trees = append(f.Trees, t)
		for i := range list {
			score[i] += float64(t.Leaves[t.Leaf(&list[i].Traits)])
		}
		loss := 0.0
		for i := range held {
			heldScore[i] += float64(t.Leaves[t.Leaf(&held[i].Traits)])
			loss += logLoss(heldScore[i], held[i].Right) / float64(len(held))
		}
		if loss < best {
			best, kept = loss, n+1
		}
	}
	f.Trees = f.Trees[:kept]
	fmt.Fprintf(log, "%s: %d trees on %d candidates; loss %.4f on %d not learned from\n", name, kept, len(list), best, len(held))
	return f
}

func logLoss(score float64, right bool) float64 {
	if right {
		score = -score
	}
	return math.Log1p(math.Exp(min(score, 500)))
}

// grower holds the candidates with their traits cut into levels.
type grower struct {
	list   []Candidate
	right  float64
	limits [whistle.Traits][]float32
	level  [whistle.Traits][]uint8 // how many limits a candidate's trait is above
}

func newGrower(list []Candidate) *grower {
	g := &grower{list: list}
	for _, c := range list {
		if c.Right {
			g.right++
		}
	}
	values := make([]float64, len(list))
	for t := range g.limits {
		for i := range list {
			values[i] = list[i].Traits[t]
		}
		slices.Sort(values)
		for k := 1; k < levels; k++ {
			x := float32(values[k*len(values)/levels])
			if n := len(g.limits[t]); n == 0 || x > g.limits[t][n-1] {
				g.limits[t] = append(g.limits[t], x)
			}
		}
		g.level[t] = make([]uint8, len(list))
		for i := range list {
			n := 0
			for n < len(g.limits[t]) && list[i].Traits[t] > float64(g.limits[t][n]) {
				n++
			}
			g.level[t][i] = uint8(n)
		}
	}
	return g
}

// pull is the summed slope and curvature of the loss.
type pull struct{ slope, curve float64 }

func (p pull) gain() float64 { return p.slope * p.slope / (p.curve + penalty) }

// grow makes one tree, level by level; score is the log odds so far.
func (g *grower) grow(score []float64) whistle.Tree {
	var t whistle.Tree
	each := make([]pull, len(g.list))
	for i := range g.list {
		p := 1 / (1 + math.Exp(-score[i]))
		each[i] = pull{-p, p * (1 - p)}
		if g.list[i].Right {
			each[i].slope++
		}
	}
	node := make([]int, len(g.list))
	for depth := range whistle.Depth {
		first := 1<<depth - 1
		g.ask(&t, first, 1<<depth, node, each)
		for i := range node {
			q := node[i]
			node[i] = 2*q + 1
			if g.list[i].Traits[t.Trait[q]] > float64(t.Limit[q]) {
				node[i]++
			}
		}
	}
	var leaves [1 << whistle.Depth]pull
	for i, n := range node {
		l := &leaves[n-(1<<whistle.Depth-1)]
		l.slope += each[i].slope
		l.curve += each[i].curve
	}
	for i, l := range leaves {
		t.Leaves[i] = float32(shrink * l.slope / (l.curve + penalty))
	}
	return t
}

// ask finds the best question for n nodes from first on.
func (g *grower) ask(t *whistle.Tree, first, n int, node []int, each []pull) {
	best := make([]float64, n)
	for k := range n {
		// Without a question worth asking everyone goes one way.
		t.Limit[first+k] = math.MaxFloat32
	}
	for trait := range whistle.Traits {
		sums := make([]pull, n*(levels+1))
		all := make([]pull, n)
		for i, q := range node {
			k := q - first
			s := &sums[k*(levels+1)+int(g.level[trait][i])]
			s.slope += each[i].slope
			s.curve += each[i].curve
			all[k].slope += each[i].slope
			all[k].curve += each[i].curve
		}
		for k := range n {
			var no pull
			for l, limit := range g.limits[trait] {
				s := sums[k*(levels+1)+l]
				no.slope += s.slope
				no.curve += s.curve
				yes := pull{all[k].slope - no.slope, all[k].curve - no.curve}
				if no.curve < leastLeaf || yes.curve < leastLeaf {
					continue
				}
				if gain := no.gain() + yes.gain() - all[k].gain(); gain > best[k]+1e-9 {
					best[k] = gain
					t.Trait[first+k], t.Limit[first+k] = uint8(trait), limit
				}
			}
		}
	}
}

package footage

import (
	"context"
	"fmt"
	"strings"

	"whistlecut/timeline/footage/ffmpeg"
)

// Ordering is the order of one camera's files and how sure it is. A person may
// always reorder.
type Ordering struct {
	Order      []int   // indexes into the files given, first to last
	Confidence float64 // 0..1: how likely the whole order is right, by the evidence there is
	Joints     []Joint // from each file to the next: one less than files
	Why        []string
}

// Joint is where one file follows another.
type Joint struct {
	From, To   int     // indexes into the files given
	Confidence float64 // 0..1: how likely To comes right after From
	Continuous bool    // recording went on without a pause, by the evidence there is
	Why        []string
}

// Sure says whether the order may be taken without asking.
func (o Ordering) Sure() bool { return o.Confidence >= sureAbove }

const sureAbove = 0.9

// Order puts the files of one camera in order. It does not look at names. It
// compares, for every two files, how the one would go on in the other: container
// times and time codes that follow each other, the last picture with the first
// one, the sound at the joint, and, as a weak hint, the clocks of camera and
// disk. Of all orders the likeliest is taken; its confidence is its share of the
// likelihood of all orders, so that films which tell nothing give a low one. A
// nil runner means the one each file was opened with.
//
// The weights of the evidence are common practice, no source: they were set so
// that a single weak hint never makes an order sure.
func Order(ctx context.Context, r *ffmpeg.Runner, files []*File) (Ordering, error) {
	evidence := make([]ends, len(files))
	for i, f := range files {
		if r != nil && f.runner != r {
			other := *f
			other.runner = r
			f = &other
		}
		e, err := readEnds(ctx, f)
		if err != nil {
			return Ordering{}, err
		}
		evidence[i] = e
	}
	return arrange(evidence), nil
}

// arrange finds the likeliest order by the evidence.
func arrange(files []ends) Ordering {
	n := len(files)
	o := Ordering{Order: make([]int, n), Confidence: 1}
	for i := range o.Order {
		o.Order[i] = i
	}
	if n < 2 {
		return o
	}
	links := linksOf(files)
	scores := make([][]float64, n)
	for i := range scores {
		scores[i] = make([]float64, n)
		for j := range scores[i] {
			scores[i][j] = links[i][j].score
		}
	}
	var joints []float64
	if n <= maxExact {
		o.Order, o.Confidence, joints = likeliest(scores)
	} else {
		o.Order, o.Confidence, joints = neighbours(scores)
	}
	for k := 0; k+1 < n; k++ {
		from, to := o.Order[k], o.Order[k+1]
		l := links[from][to]
		o.Joints = append(o.Joints, Joint{From: from, To: to, Confidence: joints[k], Continuous: l.continuous, Why: l.why})
		why := "nothing tells"
		if len(l.why) > 0 {
			why = strings.Join(l.why, ", ")
		}
		o.Why = append(o.Why, fmt.Sprintf("%s before %s: %s", files[from].name, files[to].name, why))
	}
	if !o.Sure() {
		o.Why = append(o.Why, "the order is not sure: please check it")
	}
	return o
}

package whistle

import "math"

// partnerApart is how far from each other two may begin, s, to be looked at as
// partials of one whistle.
const partnerApart = 0.06

// partners holds a candidate against the likeliest of those that begin with it: two
// partials of one whistle, or two officials? Partials begin and end together, and
// their two pitches come back together all over the recording; of two officials
// each blows without the other, too.
func (s *scene) partners(i, from int, t *traits) {
	c := &s.list[i]
	best := -1
	for k := from; k < len(s.list) && (s.list[k].start-c.start)*stepSeconds < partnerApart; k++ {
		if k == i || (c.start-s.list[k].start)*stepSeconds > partnerApart || !near(s.list[k].hz, c.hz, 0.3) {
			continue
		}
		if best < 0 || s.prior[k] > s.prior[best] {
			best = k
		}
	}
	if best < 0 {
		t[35], t[36], t[37], t[38] = -3, -3, 3, 3
		return
	}
	o := &s.list[best]
	both, mine, other := s.company(s.hz[i], s.hz[best], c.start)
	t[35] = math.Log((mine + 0.3) / (both + 0.3))
	t[36] = math.Log((other + 0.3) / (both + 0.3))
	t[37] = min(3, math.Abs(c.start-o.start)/2)
	t[38] = min(3, math.Abs(float64(c.last-o.last))/4)
	t[39] = max(-2, min(2, (c.meanLevel()-o.meanLevel())/6))
	t[40] = max(-2, min(2, 2*(s.prior[i]-s.prior[best])))
	t[41] = 8 * math.Log(s.hz[i]/s.hz[best])
}

// company counts how often elsewhere in the recording than at step at two pitches
// (Hz) begin together, and each without the other. A whistle blown harder is higher
// by some per cent, but the ratio of its partials stays.
func (s *scene) company(a, b, at float64) (both, onlyA, onlyB float64) {
	const pitch, ratio, steps = 0.03, 0.015, 4
	for j, hz := range s.hz {
		isA, isB := near(hz, a, pitch), near(hz, b, pitch)
		if !isA && !isB || math.Abs(s.list[j].start-at)*stepSeconds < 0.1 {
			continue
		}
		isA = isA && (!isB || math.Abs(hz/b-1) >= math.Abs(hz/a-1))
		want := b / a
		if !isA {
			want = a / b
		}
		mate := 0.0
		for _, way := range []int{-1, 1} {
			for k := j + way; k >= 0 && k < len(s.list) && math.Abs(s.list[k].start-s.list[j].start) < steps; k += way {
				if near(s.hz[k]/hz, want, ratio) {
					mate = max(mate, s.prior[k])
				}
			}
		}
		both += s.prior[j] * mate / 2
		if isA {
			onlyA += s.prior[j] * (1 - mate)
		} else {
			onlyB += s.prior[j] * (1 - mate)
		}
	}
	return both, onlyA, onlyB
}

package sheet

// pair says that item a of one list and item b of another are the same jam; -1
// is a gap.
type pair struct{ a, b int }

// align pairs two lists in order at the least total cost (dynamic programming
// after Needleman and Wunsch, 1970): cost(i, j) is that of taking a[i] and b[j]
// for the same, gap that of leaving one out. Of equal ways the one that pairs
// earlier items is taken, so that of two equal neighbours the second is the extra.
func align(n, m int, cost func(i, j int) float64, gap float64) []pair {
	w := m + 1
	best := make([]float64, (n+1)*w)
	for i := n; i >= 0; i-- {
		for j := m; j >= 0; j-- {
			if i == n && j == m {
				continue
			}
			v := 1e18
			if i < n {
				v = min(v, gap+best[(i+1)*w+j])
			}
			if j < m {
				v = min(v, gap+best[i*w+j+1])
			}
			if i < n && j < m {
				v = min(v, cost(i, j)+best[(i+1)*w+j+1])
			}
			best[i*w+j] = v
		}
	}
	const tiny = 1e-9
	var out []pair
	for i, j := 0, 0; i < n || j < m; {
		v := best[i*w+j]
		switch {
		case i < n && j < m && cost(i, j)+best[(i+1)*w+j+1] <= v+tiny:
			out = append(out, pair{i, j})
			i, j = i+1, j+1
		case i < n && gap+best[(i+1)*w+j] <= v+tiny:
			out = append(out, pair{i, -1})
			i++
		default:
			out = append(out, pair{-1, j})
			j++
		}
	}
	return out
}

// agreeOnGaps moves a missing row by one jam to where the other side misses one,
// when the rows beside it are so alike that either place would do.
func (c *checker) agreeOnGaps() {
	missing := [2]map[int]int{{}, {}} // jam: place in pairs
	for i := range c.pairs {
		for n, p := range c.pairs[i] {
			if p.a < 0 {
				missing[i][p.b] = n
			}
		}
	}
	for i := range c.pairs {
		for j := range c.b.Jams {
			n, gone := missing[i][j]
			if !gone {
				continue
			}
			if _, both := missing[1-i][j]; both {
				continue
			}
			for _, d := range [...]int{-1, 1} {
				m := n + d
				if _, there := missing[1-i][j+d]; !there || m < 0 || m >= len(c.pairs[i]) {
					continue
				}
				p := &c.pairs[i][m]
				if p.a < 0 || p.b != j+d {
					continue
				}
				trips := hasTrips(c.sheet[i])
				if c.cost(i, p.a, j, trips) <= c.cost(i, p.a, p.b, trips)+2*offNumber {
					c.pairs[i][n], c.pairs[i][m] = pair{p.a, j}, pair{-1, j + d}
					break
				}
			}
		}
	}
}

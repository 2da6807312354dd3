package whistle

// A patch is what surrounds a hump in time and frequency, seen from its pitch
// and its level: this makes the judge blind to how high and how loud a whistle is.

// columns are stretches of steps before and after the hump, fine near it.
var columns = [...][2]int{
	{-24, -17},
	{-16, -11},
	{-10, -8},
	{-7, -6},
	{-5, -4},
	{-3, -3},
	{-2, -2},
	{-1, -1},
	{0, 0},
	{1, 1},
	{2, 2},
	{3, 3},
	{4, 5},
	{6, 7},
	{8, 10},
	{11, 16},
	{17, 24},
}

// reach is how many steps a patch needs before and after the hump.
const reach = 24

// ratios are the pitches looked at, over the hump's.
var ratios = [...]float32{
	0.84, 0.88, 0.91, 0.93, 0.945, 0.96, 0.973, 0.987, 1,
	1.013, 1.027, 1.04, 1.055, 1.07, 1.09, 1.12, 1.16,
}

// overtones are pitches whose level tells whistles from voices and music: a
// whistle has nothing below its own and little at its second and third.
var overtones = [...]float32{2, 3, 0.5, 1.5, 1. / 3, 2. / 3}

// Inputs is the number of values the judge looks at.
const Inputs = len(columns)*len(ratios) + 2*len(columns) + len(overtones) + 6

// innermost ratios: those within 4 per cent.
const (
	innerFrom = 5
	innerTo   = 11
)

// patch fills in with what surrounds hump h of frame at(0). at(i) is the frame i
// steps later.
func patch(in *[Inputs]float32, at func(i int) *frame, h hump) {
	now := at(0)
	ref := h.level
	var bin [len(ratios)]int
	var part [len(ratios)]float32
	for j, r := range ratios {
		x := h.hz * r / float32(binHz)
		bin[j] = int(x)
		part[j] = x - float32(bin[j])
	}
	k := 0
	nr, nc := len(ratios), len(columns)
	for c, col := range columns {
		row := in[c*nr : (c+1)*nr]
		clear(row)
		var ground, all float32
		for i := col[0]; i <= col[1]; i++ {
			f := at(i)
			for j := range row {
				b := bin[j]
				row[j] += f.db[b] + part[j]*(f.db[b+1]-f.db[b])
			}
			ground += f.ground
			all += f.all
		}
		n := 1 / float32(col[1]-col[0]+1)
		top := float32(-200)
		for j := range row {
			v := row[j] * n
			if j >= innerFrom && j <= innerTo {
				top = max(top, v)
			}
			row[j] = clamp((v-ref)*0.1, -3, 1.5)
		}
		in[nc*nr+c] = clamp((top-ground*n)*0.1, -1, 4)
		in[nc*nr+nc+c] = clamp((all*n-ref)*0.1, -1, 4)
	}
	k = nc * (nr + 2)
	for _, r := range overtones {
		in[k] = overtone(at, h.hz*r/float32(binHz), ref)
		k++
	}
	in[k] = clamp((h.hz-3000)*0.001, -1.2, 1.8)
	in[k+1] = in[k] * in[k]
	b := min(max(int(h.hz/float32(binHz)+0.5)-firstBin, 0), searchBins-1)
	in[k+2] = clamp((now.floor[b]-ref)*0.1, -4, 1)
	near := float32(-200)
	for j := max(b-4, 0); j <= min(b+4, searchBins-1); j++ {
		near = max(near, now.floor[j])
	}
	in[k+3] = clamp((near-ref)*0.1, -4, 1)
	in[k+4] = clamp((now.humps[0].level-ref)*0.1, 0, 3)
	in[k+5] = float32(now.n) * 0.25
}

// overtone is the level at a bin over some steps, relative to ref. Where the
// sound has no such frequencies it says "far below".
func overtone(at func(i int) *frame, x, ref float32) float32 {
	b := int(x)
	if b+1 >= bins-2 || b < 3 {
		return -2.5
	}
	sum := float32(0)
	for i := -1; i <= 3; i++ {
		f := at(i)
		sum += max(f.db[b], f.db[b+1])
	}
	return clamp((sum/5-ref)*0.1, -2.5, 1.5)
}

func clamp(x, lo, hi float32) float32 { return max(lo, min(hi, x)) }

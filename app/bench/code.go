package bench

// A frame's number is drawn as two rows of blocks: its bits with a check sum,
// and below them their complement. Blocks survive any encoding a film has.
const (
	block     = 16 // pixels
	codeBits  = 20
	checkBits = 4
	codeWide  = (codeBits + checkBits) * block
	codeHigh  = 2 * block
)

// drawCode writes n into the top left corner of a luma plane.
func drawCode(y []byte, stride, n int) {
	word := n | checkSum(n)<<codeBits
	for b := range codeBits + checkBits {
		on := word>>b&1 == 1
		for row := range codeHigh {
			v := byte(40)
			if on == (row < block) {
				v = 210
			}
			line := y[row*stride+b*block:]
			for x := range block {
				line[x] = v
			}
		}
	}
}

// readCode reads the number from the top left corner of a luma plane; ok is
// false if no valid number is there.
func readCode(y []byte, stride int) (n int, ok bool) {
	mean := func(b, row int) int {
		sum := 0
		for dy := block / 4; dy < block*3/4; dy++ {
			for dx := block / 4; dx < block*3/4; dx++ {
				sum += int(y[(row*block+dy)*stride+b*block+dx])
			}
		}
		return sum / (block * block / 4)
	}
	word := 0
	for b := range codeBits + checkBits {
		bit, other := mean(b, 0) > 125, mean(b, 1) > 125
		if bit == other {
			return 0, false
		}
		if bit {
			word |= 1 << b
		}
	}
	n = word & (1<<codeBits - 1)
	return n, word>>codeBits == checkSum(n)
}

func checkSum(n int) int {
	sum := 5
	for ; n > 0; n >>= 4 {
		sum = (sum*3 + n&15) & 15
	}
	return sum
}

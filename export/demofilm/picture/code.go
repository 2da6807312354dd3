package picture

// A frame code is 32 black or white cells in two rows in the lower left corner:
// 24 bits of the frame's number and 8 check bits, the highest bit first. It
// survives lossy coding and is read from luma alone.

const codeCells = 16 // per row

func codeCell(w int) int { return max(4, w/160) &^ 1 }

func codeWord(number int) uint32 {
	n := uint32(number) & 0xffffff
	return n<<8 | codeCheck(n)
}

func codeCheck(n uint32) uint32 {
	h := n * 2654435761
	return (h>>24 ^ 0xA5) & 0xff
}

func drawCode(f *Frame, number int) {
	cell, word := codeCell(f.W), codeWord(number)
	for k := range 2 * codeCells {
		luma := uint8(16)
		if word>>(31-k)&1 == 1 {
			luma = 235
		}
		x0, y0 := k%codeCells*cell, f.H-2*cell+k/codeCells*cell
		for y := y0; y < y0+cell; y++ {
			fill(f.Y[y*f.W+x0:y*f.W+x0+cell], luma)
			at := y/2*(f.W/2) + x0/2
			fill(f.U[at:at+cell/2], 128)
			fill(f.V[at:at+cell/2], 128)
		}
	}
}

// ReadCode reads the number that Painter.Code drew from the luma plane of a
// decoded frame, stride bytes a row. ok is false when there is no code or it is
// damaged.
func ReadCode(luma []byte, stride, w, h int) (number int, ok bool) {
	cell := codeCell(w)
	if w < codeCells*cell || h < 2*cell || stride < w || h > len(luma) || stride > len(luma) || len(luma) < stride*(h-1)+w {
		return 0, false
	}
	var word uint32
	for k := range 2 * codeCells {
		x0, y0 := k%codeCells*cell, h-2*cell+k/codeCells*cell
		sum, n := 0, 0
		for y := y0 + 1; y < y0+cell-1; y++ {
			for x := x0 + 1; x < x0+cell-1; x++ {
				sum += int(luma[y*stride+x])
				n++
			}
		}
		mean := sum / n
		if mean > 100 && mean < 150 {
			return 0, false
		}
		word <<= 1
		if mean >= 125 {
			word |= 1
		}
	}
	number = int(word >> 8)
	return number, word == codeWord(number)
}

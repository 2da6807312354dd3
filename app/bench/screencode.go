package bench

import "image"

// readSmallCode reads a frame's number from a picture that may be smaller than
// it was painted; full is the painted width.
func readSmallCode(img *image.RGBA, full int) (n int, ok bool) {
	scale := float64(img.Rect.Dx()) / float64(full)
	// The middle of each block, widened to the plane that readCode reads.
	y := make([]byte, codeWide*codeHigh)
	for row := range 2 {
		for b := range codeBits + checkBits {
			sum := 0
			for d := range 9 {
				px := int((float64(b*block) + float64(block)*(0.35+0.15*float64(d%3))) * scale)
				py := int((float64(row*block) + float64(block)*(0.35+0.15*float64(d/3))) * scale)
				sum += int(img.Pix[img.PixOffset(px, py)+1])
			}
			for dy := range block {
				line := y[(row*block+dy)*codeWide+b*block:]
				for dx := range block {
					line[dx] = byte(sum / 9)
				}
			}
		}
	}
	return readCode(y, codeWide)
}

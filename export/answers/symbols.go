package answers

import "strings"

// symbols are the digits of the code, five bits each.
const symbols = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"

// symbolOf is the value of a symbol as people write it; -1 when it is none.
func symbolOf(r rune) int {
	switch r {
	case 'o', 'O':
		return 0
	case 'i', 'I', 'l', 'L':
		return 1
	}
	if r >= 'a' && r <= 'z' {
		r -= 'a' - 'A'
	}
	if r > 127 {
		return -1
	}
	return strings.IndexByte(symbols, byte(r))
}

// toSymbols writes bytes as symbols, the last one filled with zero bits.
func toSymbols(data []byte) []int {
	var out []int
	acc, bits := 0, 0
	for _, b := range data {
		acc, bits = acc<<8|int(b), bits+8
		for bits >= 5 {
			bits -= 5
			out = append(out, acc>>bits&31)
		}
		acc &= 1<<bits - 1
	}
	if bits > 0 {
		out = append(out, acc<<(5-bits)&31)
	}
	return out
}

// fromSymbols is the other way about; ok is false when the bits left over are not
// zero, as then a symbol is wrong.
func fromSymbols(list []int) (data []byte, ok bool) {
	acc, bits := 0, 0
	for _, v := range list {
		acc, bits = acc<<5|v, bits+5
		if bits >= 8 {
			bits -= 8
			data = append(data, byte(acc>>bits))
			acc &= 1<<bits - 1
		}
	}
	return data, acc == 0
}

// symbolsFor is how many symbols so many bytes take.
func symbolsFor(bytes int) int { return (bytes*8 + 4) / 5 }

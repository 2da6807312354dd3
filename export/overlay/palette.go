package overlay

import "image/color"

// The program's palette.
var (
	ground = color.NRGBA{0x15, 0x18, 0x1D, 204} // four fifths opaque
	text   = color.NRGBA{0xE8, 0xE6, 0xE1, 255}
	quiet  = color.NRGBA{0xA3, 0xA9, 0xB3, 255}
	accent = color.NRGBA{0xF2, 0x78, 0x4B, 255}
	ink    = color.NRGBA{0x15, 0x18, 0x1D, 255} // on the accent
)

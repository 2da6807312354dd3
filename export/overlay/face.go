package overlay

import (
	"fmt"
	"sync"

	"codeberg.org/go-fonts/dejavu/dejavusanscondensed"
	"codeberg.org/go-fonts/dejavu/dejavusanscondensedbold"
	"golang.org/x/image/font"
	"golang.org/x/image/font/opentype"
)

// DejaVu is free to embed and has Latin, Greek and Cyrillic letters, accents
// and arrows.
var fonts = sync.OnceValue(func() [2]*opentype.Font {
	var out [2]*opentype.Font
	for i, data := range [][]byte{dejavusanscondensed.TTF, dejavusanscondensedbold.TTF} {
		f, err := opentype.Parse(data)
		if err != nil {
			panic(fmt.Sprintf("overlay: the embedded font is broken: %v", err)) // a fault of the build, not of the input
		}
		out[i] = f
	}
	return out
})

// face is the font at a size in pixels.
func face(pixels float64, bold bool) font.Face {
	f := fonts()[0]
	if bold {
		f = fonts()[1]
	}
	out, err := opentype.NewFace(f, &opentype.FaceOptions{Size: pixels, DPI: 72, Hinting: font.HintingFull})
	if err != nil {
		panic(fmt.Sprintf("overlay: the embedded font has no size %g: %v", pixels, err))
	}
	return out
}

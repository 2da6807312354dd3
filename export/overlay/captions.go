package overlay

import (
	"image"
	"image/color"
	"math"

	"golang.org/x/image/draw"
)

// CaptionLines is how many lines one language of a caption gets.
const CaptionLines = 2

// captionSize is the size of a caption's letters: an eighteenth of the picture's
// shorter side, so that it is read on a phone (common practice, no source).
func captionSize(width, height int) float64 { return float64(min(width, height)) / 18 }

// captionRoom is how wide a caption's lines may be, in parts of the letters' size.
func captionRoom(width, height int) float32 {
	return float32(0.88 * float64(width) / captionSize(width, height))
}

// Captions paints a burned caption in one or two languages: lines[0] in the main
// one, lines[1] in the second one, slanted and quieter, where it differs. Each
// gets at most [CaptionLines] lines, broken between words; what does not fit ends
// with an ellipsis, see [CaptionFits]. Languages read from right to left are
// ordered so. barHeight is the height of a caption bar along the lower edge, 0
// for none.
//
// The picture's bounds say where on the film it lies; it is empty where there is
// nothing to say.
func Captions(width, height int, lines []string, barHeight int) *image.RGBA {
	if width < 1 || height < 1 {
		return image.NewRGBA(image.Rectangle{})
	}
	size := captionSize(width, height)
	pad := 0.35 * size
	var list []*paragraph
	rows := 0
	for i, text := range lines[:min(len(lines), 2)] {
		if par := set(captionSetting(width, height, i, text)); par.width > 0 && (i == 0 || text != lines[0]) {
			list = append(list, par)
			rows += len(par.lines)
		} else {
			list = append(list, nil)
		}
	}
	if rows == 0 {
		return image.NewRGBA(image.Rectangle{})
	}
	gap := 0.25 * size // between the languages
	tall := lineStep*size*float64(rows) + 2*pad
	if len(list) == 2 && list[0] != nil && list[1] != nil {
		tall += gap
	}
	bottom := float64(height-barHeight) - 0.4*size
	top := max(bottom-tall, 0)
	wide := 0.0
	for _, par := range list {
		if par != nil {
			wide = max(wide, float64(par.width)*size)
		}
	}
	mid := float64(width) / 2
	at := image.Rect(int(mid-wide/2-pad), int(top), int(math.Ceil(mid+wide/2+pad)), int(math.Ceil(top+tall)))
	img := image.NewRGBA(at.Intersect(image.Rect(0, 0, width, height)))
	draw.Draw(img, img.Bounds(), image.NewUniform(ground), image.Point{}, draw.Src)
	p := Painter{dst: img}
	y := top + pad
	for i, par := range list {
		if par == nil {
			continue
		}
		c := text
		if i == 1 {
			c = second
		}
		for k := range par.lines {
			l := &par.lines[k]
			p.write(l, mid-float64(l.width)*size/2, y+ascent*size, size, c)
			y += lineStep * size
		}
		y += gap
	}
	return img
}

// second is the colour of a caption's second language: quieter, and still at 4.5:1
// on the ground over any film.
var second = color.NRGBA{0xC9, 0xCD, 0xD4, 255}

func captionSetting(width, height, language int, text string) setting {
	s := setting{text: text, style: bold, room: captionRoom(width, height), most: CaptionLines}
	if language == 1 {
		s.style = slanted
	}
	return s
}

// CaptionFits says whether each language of a caption fits its lines uncut in a
// film of that size.
func CaptionFits(width, height int, lines []string) bool {
	for i, text := range lines[:min(len(lines), 2)] {
		if width < 1 || height < 1 || set(captionSetting(width, height, i, text)).cut {
			return false
		}
	}
	return true
}

package overlay

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"
	"unicode"

	"codeberg.org/go-fonts/dejavu/dejavusanscondensed"
	"codeberg.org/go-fonts/dejavu/dejavusanscondensedbold"
	"codeberg.org/go-fonts/dejavu/dejavusanscondensedoblique"
	"github.com/go-text/typesetting/di"
	"github.com/go-text/typesetting/font"
	"github.com/go-text/typesetting/font/opentype"
	"github.com/go-text/typesetting/shaping"
	"golang.org/x/image/math/fixed"
	"golang.org/x/text/unicode/bidi"
)

// style is a cut of the letters.
type style uint8

const (
	plain style = iota
	bold
	slanted // scripts without a slanted cut stay upright
)

// em is the size at which text is shaped once; it is painted at any size from
// that, so that a picture twice as high has the same lines in the same places.
const em = 2048

// Lines of text, in parts of the letters' size.
const (
	lineStep = 1.25 // from line to line
	ascent   = 0.97 // of a line, above its baseline
)

// stroke is one piece of a letter's outline, in parts of the letters' size, Y
// pointing down from the baseline.
type stroke struct {
	op opentype.SegmentOp
	p  [3][2]float32
}

// textLine is one line, letters in the order in which they are seen.
type textLine struct {
	strokes []stroke
	width   float32
	rtl     bool // it is read from right to left
}

// paragraph is text broken into lines.
type paragraph struct {
	lines []textLine
	width float32 // of its widest line
	cut   bool    // the text did not fit and ends with an ellipsis
}

// setting is what a paragraph depends on.
type setting struct {
	text  string
	style style
	room  float32 // in parts of the letters' size; 0 is any
	most  int     // lines; 0 is any
}

// typesetter shapes text. Shaping takes tens of microseconds and film is painted
// many times a second, so it remembers.
type typesetter struct {
	mu      sync.Mutex
	faces   [3]*font.Face
	seg     shaping.Segmenter
	shaper  shaping.HarfbuzzShaper
	wrapper shaping.LineWrapper
	known   map[setting]*paragraph
}

// remembered is how many paragraphs are kept; more are all forgotten at once.
const remembered = 400

var letters = sync.OnceValue(func() *typesetter {
	t := &typesetter{known: map[setting]*paragraph{}}
	for i, data := range [][]byte{dejavusanscondensed.TTF, dejavusanscondensedbold.TTF, dejavusanscondensedoblique.TTF} {
		f, err := font.ParseTTF(bytes.NewReader(data))
		if err != nil {
			panic(fmt.Sprintf("overlay: the embedded font is broken: %v", err)) // a fault of the build, not of the input
		}
		t.faces[i] = f
	}
	return t
})

// chosen finds a face for each letter: the wanted cut where it has it.
type chosen struct {
	t *typesetter
	s style
}

// ResolveFace is called by the segmenter.
func (c chosen) ResolveFace(r rune) *font.Face {
	want := c.t.faces[c.s]
	if _, ok := want.NominalGlyph(r); ok || c.s == plain {
		return want
	}
	if _, ok := c.t.faces[plain].NominalGlyph(r); ok {
		return c.t.faces[plain]
	}
	return want
}

// set gives a paragraph; it is not to be changed.
func set(s setting) *paragraph {
	t := letters()
	t.mu.Lock()
	defer t.mu.Unlock()
	if p, ok := t.known[s]; ok {
		return p
	}
	if len(t.known) >= remembered {
		clear(t.known)
	}
	p := t.set(s)
	t.known[s] = p
	return p
}

func (t *typesetter) set(s setting) *paragraph {
	p := &paragraph{}
	for text := range strings.SplitSeq(strings.ToValidUTF8(strings.ReplaceAll(s.text, "\r\n", "\n"), "\uFFFD"), "\n") {
		most := 0
		if s.most > 0 {
			if most = s.most - len(p.lines); most <= 0 {
				p.cut = p.cut || strings.TrimSpace(text) != ""
				continue
			}
		}
		t.add(p, tidy(text), s, most)
	}
	for _, l := range p.lines {
		p.width = max(p.width, l.width)
	}
	return p
}

// add breaks one line of input into lines that fit and appends them.
func (t *typesetter) add(p *paragraph, text string, s setting, most int) {
	if text == "" {
		p.lines = append(p.lines, textLine{})
		return
	}
	runes := []rune(text)
	dir := di.DirectionLTR
	if rightToLeft(runes) {
		dir = di.DirectionRTL
	}
	room := fixed.Int26_6(math.MaxInt32)
	if s.room > 0 {
		room = fixed.Int26_6(min(float64(s.room)*em*64, math.MaxInt32))
	}
	wrap := shaping.WrapConfig{Direction: dir, TruncateAfterLines: most, BreakPolicy: shaping.WhenNecessary}
	if most > 0 {
		if dots := t.shape([]rune("…"), s.style, dir); len(dots) == 1 {
			wrap.Truncator = dots[0]
		}
	}
	lines, left := t.wrapper.WrapParagraphF(wrap, room, runes, shaping.NewSliceIterator(t.shape(runes, s.style, dir)))
	p.cut = p.cut || left > 0
	for _, l := range lines {
		line := t.outline(l)
		line.rtl = dir == di.DirectionRTL
		p.lines = append(p.lines, line)
	}
}

func (t *typesetter) shape(runes []rune, s style, dir di.Direction) []shaping.Output {
	in := shaping.Input{Text: runes, RunEnd: len(runes), Direction: dir, Face: t.faces[s], Size: fixed.I(em)}
	var out []shaping.Output
	for _, run := range t.seg.Split(in, chosen{t, s}) {
		out = append(out, t.shaper.Shape(run))
	}
	return out
}

// outline turns the runs of a line into strokes, from left to right.
func (t *typesetter) outline(l shaping.Line) textLine {
	runs := slices.Clone(l)
	slices.SortStableFunc(runs, func(a, b shaping.Output) int { return int(a.VisualIndex) - int(b.VisualIndex) })
	var out textLine
	x := float32(0)
	for _, run := range runs {
		scale := 1 / float32(run.Face.Upem())
		for _, g := range run.Glyphs {
			dx, dy := x+float32(g.XOffset)/(64*em), -float32(g.YOffset)/(64*em)
			if o, ok := run.Face.GlyphData(g.GlyphID).(font.GlyphOutline); ok {
				for _, seg := range o.Segments {
					st := stroke{op: seg.Op}
					for i, a := range seg.ArgsSlice() {
						st.p[i] = [2]float32{dx + a.X*scale, dy - a.Y*scale}
					}
					out.strokes = append(out.strokes, st)
				}
			}
			x += float32(g.Advance) / (64 * em)
		}
	}
	out.width = x
	return out
}

// tidy makes one line of text that can be painted: tabs become spaces, other
// control characters go.
func tidy(s string) string {
	return strings.TrimSpace(strings.Map(func(r rune) rune {
		switch {
		case r == '\t' || r == '\u2028' || r == '\u2029':
			return ' '
		case unicode.IsControl(r):
			return -1
		}
		return r
	}, s))
}

// rightToLeft says how a text is read: as its first letter with a direction is
// (Unicode Standard Annex 9, rules P2 and P3).
func rightToLeft(runes []rune) bool {
	for _, r := range runes {
		switch p, _ := bidi.LookupRune(r); p.Class() {
		case bidi.L:
			return false
		case bidi.R, bidi.AL:
			return true
		}
	}
	return false
}

// Missing lists the letters of a text that no embedded font has, each once and in
// order. They are painted as boxes: Latin, Greek, Cyrillic, Hebrew and Arabic
// letters are there, Han, Kana, Hangul, Thai, Devanagari and most emoji are not.
func Missing(text string) []rune {
	t := letters()
	t.mu.Lock()
	defer t.mu.Unlock()
	var out []rune
	for _, r := range strings.ToValidUTF8(text, "\uFFFD") {
		if unicode.IsControl(r) || unicode.Is(unicode.Cf, r) || unicode.Is(unicode.Variation_Selector, r) || unicode.IsSpace(r) || slices.Contains(out, r) {
			continue
		}
		if _, ok := t.faces[plain].NominalGlyph(r); !ok {
			out = append(out, r)
		}
	}
	return out
}

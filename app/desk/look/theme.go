package look

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"
)

// Spaces between things, in Fyne's device-independent pixels: within a group,
// between neighbours, between groups, round a page.
const (
	Tight float32 = 4
	Near  float32 = 8
	Apart float32 = 14
	Wide  float32 = 24
)

// Text sizes before scaling.
const (
	TitleSize float32 = 15
	TextSize  float32 = 13
	RowSize   float32 = 12
	NoteSize  float32 = 11
)

var scale float32 = 1

// Size is a text size with the person's scale.
func Size(s float32) float32 { return s * scale }

// Theme is the desk's theme over Fyne's own. Fonts and icons are Fyne's.
type Theme struct{ P Palette }

// Use sets palette and text scale (0.8..2) for what is built after it.
func Use(p Palette, textScale float64) fyne.Theme {
	Now = p
	scale = float32(min(max(textScale, 0.8), 2))
	return &Theme{P: p}
}

// Color gives Fyne's names our colours.
func (t *Theme) Color(n fyne.ThemeColorName, _ fyne.ThemeVariant) color.Color {
	p := t.P
	switch n {
	case theme.ColorNameBackground:
		return p.Panel
	case theme.ColorNameMenuBackground, theme.ColorNameOverlayBackground:
		return p.Panel
	case theme.ColorNameHeaderBackground:
		return p.Raised
	case theme.ColorNameButton, theme.ColorNameInputBackground, theme.ColorNameDisabledButton:
		return p.Raised
	case theme.ColorNameInputBorder, theme.ColorNameSeparator:
		return p.Line
	case theme.ColorNameForeground, theme.ColorNameHyperlink:
		return p.Text
	case theme.ColorNamePlaceHolder, theme.ColorNameDisabled:
		return p.Quiet
	case theme.ColorNamePrimary:
		return p.Accent
	case theme.ColorNameForegroundOnPrimary:
		return p.OnAccent
	case theme.ColorNameFocus:
		return Fade(p.Accent, 0x70)
	case theme.ColorNameSelection:
		return Fade(p.Accent, 0x48)
	case theme.ColorNameHover:
		return Fade(p.Text, 0x18)
	case theme.ColorNamePressed:
		return Fade(p.Text, 0x30)
	case theme.ColorNameScrollBar:
		return Fade(p.Quiet, 0x90)
	case theme.ColorNameScrollBarBackground:
		return color.Transparent
	case theme.ColorNameShadow:
		return color.NRGBA{A: 0x60}
	case theme.ColorNameError:
		return p.Differs
	case theme.ColorNameWarning:
		return p.Unsure
	case theme.ColorNameSuccess:
		return p.Agrees
	case theme.ColorNameForegroundOnError, theme.ColorNameForegroundOnWarning, theme.ColorNameForegroundOnSuccess:
		return p.Ground
	}
	v := theme.VariantLight
	if p.Dark {
		v = theme.VariantDark
	}
	return theme.DefaultTheme().Color(n, v)
}

// Fade is a colour with that opacity.
func Fade(c color.NRGBA, alpha uint8) color.NRGBA {
	c.A = alpha
	return c
}

// Font is Fyne's.
func (t *Theme) Font(s fyne.TextStyle) fyne.Resource { return theme.DefaultTheme().Font(s) }

// Icon is Fyne's.
func (t *Theme) Icon(n fyne.ThemeIconName) fyne.Resource { return theme.DefaultTheme().Icon(n) }

// Size gives Fyne's names our sizes.
func (t *Theme) Size(n fyne.ThemeSizeName) float32 {
	switch n {
	case theme.SizeNameText:
		return Size(TextSize)
	case theme.SizeNameHeadingText, theme.SizeNameSubHeadingText:
		return Size(TitleSize)
	case theme.SizeNameCaptionText:
		return Size(NoteSize)
	case theme.SizeNamePadding:
		return Tight
	case theme.SizeNameInnerPadding:
		return 6
	case theme.SizeNameLineSpacing:
		return 3
	case theme.SizeNameInlineIcon:
		return Size(16)
	case theme.SizeNameScrollBar:
		return 10
	case theme.SizeNameScrollBarSmall:
		return 4
	case theme.SizeNameInputRadius, theme.SizeNameSelectionRadius:
		return 4
	}
	return theme.DefaultTheme().Size(n)
}

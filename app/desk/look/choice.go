package look

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
)

// Select is a choice of one of several, that Enter opens and Escape leaves.
type Select struct{ widget.Select }

// NewSelect makes a choice.
func NewSelect(options []string, changed func(string)) *Select {
	s := &Select{}
	s.Options, s.OnChanged = options, changed
	s.ExtendBaseWidget(s)
	return s
}

// TypedKey opens the list on Enter, as Fyne does on Space.
func (s *Select) TypedKey(k *fyne.KeyEvent) {
	switch k.Name {
	case fyne.KeyEscape:
		Escape()
	case fyne.KeyReturn, fyne.KeyEnter:
		s.Select.TypedKey(&fyne.KeyEvent{Name: fyne.KeySpace})
	default:
		s.Select.TypedKey(k)
	}
}

// Check is a yes or no, that Enter turns and Escape leaves.
type Check struct{ widget.Check }

// NewCheck makes one.
func NewCheck(text string, changed func(bool)) *Check {
	c := &Check{}
	c.Text, c.OnChanged = text, changed
	c.ExtendBaseWidget(c)
	return c
}

// TypedKey turns it on Enter, as on Space.
func (c *Check) TypedKey(k *fyne.KeyEvent) {
	switch k.Name {
	case fyne.KeyEscape:
		Escape()
	case fyne.KeyReturn, fyne.KeyEnter:
		c.TypedRune(' ')
	default:
		c.Check.TypedKey(k)
	}
}

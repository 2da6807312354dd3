package align

import "whistlecut/app/desk/look"

// button is a button that does what its key does in the open section.
func (t *Task) button(text, key, verb string) *look.Button {
	return look.NewButton(text, key, func() { t.press(verb) })
}

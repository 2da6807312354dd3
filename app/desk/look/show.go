package look

import "fyne.io/fyne/v2"

// Show shows an object, or hides it.
func Show(o fyne.CanvasObject, on bool) {
	if on {
		o.Show()
	} else {
		o.Hide()
	}
}

package desk

import (
	"fyne.io/fyne/v2"
	fyneapp "fyne.io/fyne/v2/app"
)

// newFyne makes Fyne's app without a preferences file. What a person prefers is in
// package settings; Fyne itself keeps only where its file dialogs were last, and it
// writes and watches one file for that, which two desks at a time would read while
// the other has it half written. An app that gets its ID after it was made keeps
// these in memory.
func newFyne() fyne.App {
	a := fyneapp.NewWithID("")
	fyneapp.SetMetadata(fyne.AppMetadata{ID: AppID, Name: "Whistlecut"})
	return a
}

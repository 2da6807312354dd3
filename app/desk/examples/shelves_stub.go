package examples

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
)

type quizShelf struct{ t *Task }

func newQuizShelf(t *Task) *quizShelf         { return &quizShelf{t} }
func (a *quizShelf) panel() fyne.CanvasObject { return container.NewStack() }
func (a *quizShelf) refresh()                 {}
func (a *quizShelf) shown()                   {}
func (a *quizShelf) advance(int)              {}
func (a *quizShelf) enter()                   {}
func (a *quizShelf) escape() bool             { return false }
func (q *quizShelf) answerFiles()             {}
func (q *quizShelf) answerCode()              {}
func (q *quizShelf) askMake()                 {}
func (q *quizShelf) choose()                  {}
func (q *quizShelf) nextPage()                {}
func (q *quizShelf) askSave()                 {}
func (q *quizShelf) askTyped()                {}
func (q *quizShelf) removeSheet()             {}

type (
	makeForm  struct{}
	typedForm struct{}
	codeForm  struct{}
)

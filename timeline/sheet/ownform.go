package sheet

// ownForm reports a book in our own plain form.
func ownForm(b Book) bool { return false }

func readOwn(b Book) (Sheet, []Problem) { return Sheet{}, nil }

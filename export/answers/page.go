package answers

import (
	"bytes"
	_ "embed"
	"fmt"
	"html/template"
	"io"
)

//go:embed page.html
var pageText string

var pageTemplate = template.Must(template.New("page").Parse(pageText))

// page is what the template sees.
type page struct {
	Form     Form
	Language string
	Fairness string
	// Script are the words that appear while one works.
	Script map[string]string
}

// T is a text of the page in its language.
func (p page) T(english string) string { return say(p.Language, english) }

// WritePage writes the page to answer on: one file that needs no network, keeps a
// draft in the browser where it may, and hands back a file or a code. It is written in
// one go or not at all.
func (f Form) WritePage(w io.Writer) error {
	if err := f.Check(); err != nil {
		return fmt.Errorf("cannot write the answer page: %w", err)
	}
	p := page{Form: f, Language: "en", Fairness: FairnessIn(f.Language)}
	if _, ok := texts["Name"][f.Language]; ok {
		p.Language = f.Language
	}
	p.Script = map[string]string{}
	for key, english := range map[string]string{
		"answered": "answered", "copied": "Copied", "byHand": "It could not be copied: mark the code and copy it by hand.",
		"forget": "Forget all answers on this device?", "name": "Please write a name or a pseudonym.", "when": "Please say when you answer.",
		"none": "Please answer one question at least.", "long": "The answers are too long for a code; save the file.",
	} {
		p.Script[key] = p.T(english)
	}
	var b bytes.Buffer
	if err := pageTemplate.Execute(&b, p); err != nil {
		return fmt.Errorf("make the answer page: %w", err)
	}
	if _, err := w.Write(b.Bytes()); err != nil {
		return fmt.Errorf("write the answer page: %w", err)
	}
	return nil
}

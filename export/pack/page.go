package pack

import (
	_ "embed"
	"encoding/base64"
	"fmt"
	"html/template"
	"io"
	"net/url"
	"os"
	"strings"
)

//go:embed page.html
var pageText string

var pageTemplate = template.Must(template.New("page").Parse(pageText))

type page struct {
	Pack  Pack
	Clips []pageClip
	Files []pageFile
}

type pageClip struct {
	Clip
	Src   string
	Still []byte
	Path  string // of the film, for a single page
}

type pageFile struct{ Href, Title string }

// Poster is the still as part of the page.
func (c pageClip) Poster() template.URL {
	return template.URL("data:image/jpeg;base64," + base64.StdEncoding.EncodeToString(c.Still))
}

// Href is the film's address as seen from the page; names may hold anything.
func (c pageClip) Href() template.URL { return template.URL(escapePath(c.Src)) }

func escapePath(p string) string {
	parts := strings.Split(p, "/")
	for i := range parts {
		parts[i] = url.PathEscape(parts[i])
	}
	return strings.Join(parts, "/")
}

// write writes the page. The films of a single page follow its text, each as one
// long line, so that none has to be held in memory.
func (p *page) write(path string, pack Pack) (err error) {
	p.Pack = pack
	for _, f := range pack.Files {
		p.Files = append(p.Files, pageFile{escapePath(f.Name), f.Title})
	}
	out, err := os.Create(path)
	if err != nil {
		return err
	}
	defer func() {
		if e := out.Close(); err == nil {
			err = e
		}
	}()
	if err := pageTemplate.Execute(out, p); err != nil || !pack.Single {
		return err
	}
	for i, c := range p.Clips {
		if err := embed(out, i, c.Path); err != nil {
			return err
		}
	}
	_, err = io.WriteString(out, "</body></html>\n")
	return err
}

func embed(out io.Writer, i int, path string) error {
	if _, err := fmt.Fprintf(out, `<script type="text/plain" id="film%03d">`, i); err != nil {
		return err
	}
	in, err := os.Open(path)
	if err != nil {
		return err
	}
	defer in.Close()
	enc := base64.NewEncoder(base64.StdEncoding, out)
	if _, err := io.Copy(enc, in); err != nil {
		return err
	}
	if err := enc.Close(); err != nil {
		return err
	}
	_, err = io.WriteString(out, "</script>\n")
	return err
}

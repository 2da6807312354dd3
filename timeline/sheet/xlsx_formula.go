package sheet

import (
	"archive/zip"
	"encoding/xml"
	"fmt"
	"io"
	"path"
	"strings"
)

// maxFormulas is how many formulas without a value are looked at per table.
const maxFormulas = 5_000

// workOutFormulas fills cells that hold a formula but no stored value, as files
// have that were never opened in a spreadsheet program. The worksheets are
// streamed here: asked for a formula, the library would build every cell up to
// the last one, which a hostile file puts in the last column of all.
func workOutFormulas(book *Book, parts map[string]*zip.File) {
	where := worksheetParts(parts)
	for i := range book.Tables {
		g := &book.Tables[i]
		p := parts[where[g.Name]]
		if p == nil {
			continue
		}
		source := formulasWithoutValue(p)
		for at := range source {
			if at[0] >= len(g.Cells) || at[1] >= MaxColumns || g.At(at[0], at[1]) != "" {
				delete(source, at)
			}
		}
		if len(source) == 0 {
			continue
		}
		calc := formula{grid: g, source: source}
		if open := calc.fill(); open > 0 {
			book.Notes = append(book.Notes, fmt.Sprintf(
				"table %q has %d formulas without a stored value; open the file in a spreadsheet program and save it once to have them", g.Name, open))
		}
	}
}

// worksheetParts maps worksheet names to part names (ECMA-376, part 1, 18.2 and 9.3).
func worksheetParts(parts map[string]*zip.File) map[string]string {
	var workbook struct {
		Sheets []struct {
			Name string `xml:"name,attr"`
			ID   string `xml:"http://schemas.openxmlformats.org/officeDocument/2006/relationships id,attr"`
		} `xml:"sheets>sheet"`
	}
	var rels struct {
		List []struct {
			ID     string `xml:"Id,attr"`
			Target string `xml:"Target,attr"`
		} `xml:"Relationship"`
	}
	out := map[string]string{}
	if decodePart(parts["xl/workbook.xml"], &workbook) != nil || decodePart(parts["xl/_rels/workbook.xml.rels"], &rels) != nil {
		return out
	}
	target := map[string]string{}
	for _, r := range rels.List {
		target[r.ID] = r.Target
	}
	for _, s := range workbook.Sheets {
		t := target[s.ID]
		if strings.HasPrefix(t, "/") {
			out[s.Name] = strings.TrimPrefix(t, "/")
		} else if t != "" {
			out[s.Name] = path.Join("xl", t)
		}
	}
	return out
}

func decodePart(p *zip.File, into any) error {
	if p == nil || p.UncompressedSize64 > 4<<20 {
		return io.ErrUnexpectedEOF
	}
	rc, err := p.Open()
	if err != nil {
		return err
	}
	defer rc.Close() //nolint:errcheck // only read
	return xml.NewDecoder(io.LimitReader(rc, 4<<20)).Decode(into)
}

// formulasWithoutValue streams a worksheet for cells with <f> and no <v>.
func formulasWithoutValue(p *zip.File) map[[2]int]string {
	out := map[[2]int]string{}
	rc, err := p.Open()
	if err != nil {
		return out
	}
	defer rc.Close() //nolint:errcheck // only read
	dec := xml.NewDecoder(io.LimitReader(rc, MaxUnpacked))
	var ref, src string
	var text strings.Builder
	value := false
	for len(out) < maxFormulas {
		tok, err := dec.Token()
		if err != nil {
			break
		}
		switch t := tok.(type) {
		case xml.StartElement:
			text.Reset()
			if t.Name.Local == "c" {
				ref, src, value = "", "", false
				for _, a := range t.Attr {
					if a.Name.Local == "r" {
						ref = a.Value
					}
				}
			}
		case xml.CharData:
			if text.Len() < MaxCellLetters {
				text.Write(t)
			}
		case xml.EndElement:
			switch t.Name.Local {
			case "f":
				src = text.String()
			case "v", "is":
				value = value || text.Len() > 0
			case "c":
				if at, ok := parseRef(ref); ok && src != "" && !value {
					out[at] = src
				}
			}
		}
	}
	return out
}

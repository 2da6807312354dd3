//go:build ignore

// Command make writes the ten sheets of this folder and truth.json. They carry
// one invented bout in ten layouts and four languages, and were written without
// looking at the list of headings that the reader knows. Run it in this folder:
//
//	go run make.go
package main

import (
	"archive/zip"
	"bytes"
	"encoding/csv"
	"encoding/json"
	"encoding/xml"
	"fmt"
	"log"
	"os"
	"strconv"
	"strings"
	"unicode/utf16"

	"github.com/xuri/excelize/v2"
	"golang.org/x/text/encoding/charmap"
)

type row struct {
	Period, Jam               int
	Side                      string
	SP, Spacer                bool
	Jammer                    string
	Lost, Lead, Call, Inj, NI bool
	Trips                     []int
	JamTotal, GameTotal       int
}

type penalty struct {
	Side, Number, Code string
	Period, Jam        int
}

type lineup struct {
	Period, Jam int
	Side        string
	Jammer      string
	Pivot       string
	Blockers    []string
}

var (
	home = "Gasworks Gales"
	away = "Tidepool Terrors"
)

func bout() (rows []row, pens []penalty, lines []lineup) {
	game := map[string]int{}
	add := func(p, j int, side, jammer, marks string, trips ...int) {
		r := row{Period: p, Jam: j, Side: side, Jammer: jammer, Trips: trips}
		r.SP = strings.Contains(marks, "S")
		r.Lost = strings.Contains(marks, "o")
		r.Lead = strings.Contains(marks, "L")
		r.Call = strings.Contains(marks, "C")
		r.Inj = strings.Contains(marks, "I")
		r.NI = strings.Contains(marks, "N")
		for _, t := range trips {
			r.JamTotal += t
		}
		game[side] += r.JamTotal
		r.GameTotal = game[side]
		rows = append(rows, r)
	}
	add(1, 1, "home", "052", "LC", 4)
	add(1, 1, "away", "9", "N")
	add(1, 2, "home", "17", "N")
	add(1, 2, "away", "630", "L", 4, 4, 3)
	add(1, 3, "home", "8", "o", 2)
	add(1, 3, "away", "77", "LC", 4, 0)
	add(1, 4, "home", "052", "LoN")
	add(1, 4, "home", "3", "S", 4, 1)
	add(1, 4, "away", "9", "", 3, 4)
	add(1, 5, "home", "17", "LI", 4)
	add(1, 5, "away", "630", "NI")
	add(1, 6, "home", "8", "N")
	add(1, 6, "away", "77", "LC")
	add(2, 1, "home", "052", "L", 4, 4, 4, 2)
	add(2, 1, "away", "9", "o", 4)
	add(2, 2, "home", "17", "", 3)
	add(2, 2, "away", "630", "Lo", 4, 2)
	add(2, 3, "home", "8", "LC", 4, 4)
	add(2, 3, "away", "77", "N")
	add(2, 3, "away", "12", "SN")
	add(2, 4, "home", "052", "LC", 3)
	add(2, 4, "away", "9", "", 0)
	add(2, 5, "home", "17", "o", 1)
	add(2, 5, "away", "630", "LC", 4, 3)
	pens = []penalty{
		{"home", "8", "B", 1, 3},
		{"home", "3", "C", 1, 3},
		{"home", "052", "X", 1, 4},
		{"home", "21", "F", 2, 2},
		{"home", "17", "P", 2, 5},
		{"away", "9", "A", 2, 1},
		{"away", "404", "C", 1, 2},
		{"away", "404", "M", 2, 4},
		{"away", "630", "H", 2, 2},
		{"away", "12", "I", 1, 6},
	}
	seen := map[string]bool{}
	for _, r := range rows {
		key := fmt.Sprint(r.Period, r.Jam, r.Side)
		if r.SP || seen[key] {
			continue
		}
		seen[key] = true
		l := lineup{Period: r.Period, Jam: r.Jam, Side: r.Side, Jammer: r.Jammer}
		if r.Side == "home" {
			l.Pivot, l.Blockers = "3", []string{"21", "88", "100"}
			if r.Jam%2 == 0 && r.Jam != 4 {
				l.Pivot, l.Blockers = "55", []string{"21", "3", "6"}
			}
		} else {
			l.Pivot, l.Blockers = "12", []string{"404", "5", "31"}
			if r.Jam%2 == 0 {
				l.Pivot, l.Blockers = "64", []string{"404", "12", "70"}
			}
		}
		lines = append(lines, l)
	}
	return rows, pens, lines
}

// grid is one table of text; sheets are named grids.
type grid struct {
	name  string
	cells [][]string
}

func (g *grid) row(cells ...string) { g.cells = append(g.cells, cells) }

func num(n int) string { return strconv.Itoa(n) }

func mark(b bool, m string) string {
	if b {
		return m
	}
	return ""
}

func trips(r row, n int) []string {
	out := make([]string, n)
	for i, t := range r.Trips {
		out[i] = num(t)
	}
	return out
}

func jamLabel(r row) string {
	if r.SP {
		return "SP"
	}
	return num(r.Jam)
}

func sideRows(rows []row, period int, side string) (out []row) {
	for _, r := range rows {
		if (period == 0 || r.Period == period) && r.Side == side {
			out = append(out, r)
		}
	}
	return out
}

// level pairs both teams' rows so that star-pass rows stand beside an empty row
// of the other team, as side-by-side sheets have it.
func level(h, a []row) (hs, as []*row) {
	i, j := 0, 0
	for i < len(h) || j < len(a) {
		hi, aj := i < len(h), j < len(a)
		switch {
		case hi && h[i].SP && (!aj || !a[j].SP):
			hs, as = append(hs, &h[i]), append(as, nil)
			i++
		case aj && a[j].SP && (!hi || !h[i].SP):
			hs, as = append(hs, nil), append(as, &a[j])
			j++
		default:
			hs, as = append(hs, &h[i]), append(as, &a[j])
			i++
			j++
		}
	}
	return hs, as
}

func save(name string, data []byte) {
	if err := os.WriteFile(name, data, 0o644); err != nil {
		log.Fatal(err)
	}
}

func xlsx(name string, grids []grid, numbers bool) {
	f := excelize.NewFile()
	for i, g := range grids {
		if i == 0 {
			f.SetSheetName("Sheet1", g.name)
		} else {
			f.NewSheet(g.name)
		}
		for y, r := range g.cells {
			for x, c := range r {
				if c == "" {
					continue
				}
				ref, _ := excelize.CoordinatesToCellName(x+1, y+1)
				// Plain numbers are stored as numbers, as people type them; leading zeros as text.
				if n, err := strconv.Atoi(c); err == nil && numbers && num(n) == c {
					f.SetCellInt(g.name, ref, int64(n))
				} else {
					f.SetCellStr(g.name, ref, c)
				}
			}
		}
	}
	var b bytes.Buffer
	if err := f.Write(&b); err != nil {
		log.Fatal(err)
	}
	save(name, b.Bytes())
}

func ods(name string, grids []grid) {
	var c strings.Builder
	c.WriteString(`<?xml version="1.0" encoding="UTF-8"?><office:document-content xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0" xmlns:table="urn:oasis:names:tc:opendocument:xmlns:table:1.0" xmlns:text="urn:oasis:names:tc:opendocument:xmlns:text:1.0" office:version="1.2"><office:body><office:spreadsheet>`)
	for _, g := range grids {
		fmt.Fprintf(&c, `<table:table table:name="%s">`, g.name)
		for _, r := range g.cells {
			c.WriteString(`<table:table-row>`)
			for i := 0; i < len(r); i++ {
				n := 1
				for i+n < len(r) && r[i+n] == r[i] && r[i] == "" {
					n++
				}
				if r[i] == "" {
					fmt.Fprintf(&c, `<table:table-cell table:number-columns-repeated="%d"/>`, n)
					i += n - 1
					continue
				}
				var t bytes.Buffer
				xml.EscapeText(&t, []byte(r[i]))
				if v, err := strconv.Atoi(r[i]); err == nil && num(v) == r[i] {
					fmt.Fprintf(&c, `<table:table-cell office:value-type="float" office:value="%d"><text:p>%s</text:p></table:table-cell>`, v, t.String())
				} else {
					fmt.Fprintf(&c, `<table:table-cell office:value-type="string"><text:p>%s</text:p></table:table-cell>`, t.String())
				}
			}
			c.WriteString(`</table:table-row>`)
		}
		c.WriteString(`<table:table-row table:number-rows-repeated="1048000"><table:table-cell table:number-columns-repeated="16384"/></table:table-row></table:table>`)
	}
	c.WriteString(`</office:spreadsheet></office:body></office:document-content>`)
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	w, _ := z.CreateHeader(&zip.FileHeader{Name: "mimetype", Method: zip.Store})
	w.Write([]byte("application/vnd.oasis.opendocument.spreadsheet"))
	w, _ = z.Create("content.xml")
	w.Write([]byte(c.String()))
	w, _ = z.Create("META-INF/manifest.xml")
	w.Write([]byte(`<?xml version="1.0" encoding="UTF-8"?><manifest:manifest xmlns:manifest="urn:oasis:names:tc:opendocument:xmlns:manifest:1.0" manifest:version="1.2"><manifest:file-entry manifest:full-path="/" manifest:media-type="application/vnd.oasis.opendocument.spreadsheet"/><manifest:file-entry manifest:full-path="content.xml" manifest:media-type="text/xml"/></manifest:manifest>`))
	z.Close()
	save(name, b.Bytes())
}

func csvText(g grid, comma rune) string {
	var b strings.Builder
	w := csv.NewWriter(&b)
	w.Comma = comma
	for _, r := range g.cells {
		w.Write(r)
	}
	w.Flush()
	return b.String()
}

func main() {
	rows, pens, lines := bout()
	truth, err := json.MarshalIndent(map[string]any{"home": home, "away": away, "rows": rows, "penalties": pens, "lineups": lines}, "", " ")
	if err != nil {
		log.Fatal(err)
	}
	save("truth.json", truth)
	byTeam := map[string][]row{"home": sideRows(rows, 0, "home"), "away": sideRows(rows, 0, "away")}
	teamName := map[string]string{"home": home, "away": away}
	_ = byTeam

	// 1 English: a tab per period, teams side by side, a title and two heading rows.
	var one []grid
	for p := 1; p <= 2; p++ {
		g := grid{name: fmt.Sprintf("Period %d", p)}
		g.row("Scores, period "+num(p), "", "", "", "", "", "", "", "", "", "", "", "", "", "14 March")
		g.row()
		g.row("Home: "+home, "", "", "", "", "", "", "", "", "", "", "", "", "", "Away: "+away)
		head := []string{"Jam", "Jammer's #", "Lost", "Lead", "Call", "Inj.", "N/I", "Trip 2", "Trip 3", "Trip 4", "Trip 5", "Jam total", "Game total", ""}
		g.row(append(append([]string{}, head...), head[:13]...)...)
		hs, as := level(sideRows(rows, p, "home"), sideRows(rows, p, "away"))
		for i := range hs {
			cells := func(r *row) []string {
				if r == nil {
					return append([]string{"SP*"}, make([]string, 12)...)
				}
				return append(append([]string{jamLabel(*r), r.Jammer, mark(r.Lost, "X"), mark(r.Lead, "X"), mark(r.Call, "X"), mark(r.Inj, "X"), mark(r.NI, "X")}, trips(*r, 4)...), num(r.JamTotal), num(r.GameTotal))
			}
			g.row(append(append(cells(hs[i]), ""), cells(as[i])...)...)
		}
		one = append(one, g)
	}
	xlsx("01-english-side-by-side.xlsx", one, true)

	// 2 English CSV: one long list, words for marks, trips in four columns, no totals.
	g := grid{}
	g.row("Half", "Jam no.", "Team", "Star pass", "Jammer", "Lead jammer", "Lost lead", "Called off", "Injury", "No initial trip", "2nd trip", "3rd trip", "4th trip", "5th trip", "Points in jam")
	for _, r := range rows {
		g.row(append(append([]string{num(r.Period), num(r.Jam), teamName[r.Side], mark(r.SP, "yes"), r.Jammer, mark(r.Lead, "yes"), mark(r.Lost, "yes"), mark(r.Call, "yes"), mark(r.Inj, "yes"), mark(r.NI, "yes")}, trips(r, 4)...), num(r.JamTotal))...)
	}
	save("02-english-long.csv", []byte(csvText(g, ',')))

	// 3 Spanish: a tab per team, periods stacked with a title line each.
	var three []grid
	for _, s := range []string{"home", "away"} {
		g := grid{name: map[string]string{"home": "Local", "away": "Visitante"}[s]}
		g.row("Equipo", teamName[s])
		for p := 1; p <= 2; p++ {
			g.row()
			g.row(map[int]string{1: "Primer periodo", 2: "Segundo periodo"}[p])
			g.row("Jam", "Jammer", "Perdida", "Líder", "Llamada", "Lesión", "Sin inicial", "Vuelta 2", "Vuelta 3", "Vuelta 4", "Vuelta 5", "Total del jam", "Total del partido")
			for _, r := range sideRows(rows, p, s) {
				label := num(r.Jam)
				if r.SP {
					label = "SP"
				}
				g.row(append(append([]string{label, r.Jammer, mark(r.Lost, "✓"), mark(r.Lead, "✓"), mark(r.Call, "✓"), mark(r.Inj, "✓"), mark(r.NI, "✓")}, trips(r, 4)...), num(r.JamTotal), num(r.GameTotal))...)
			}
		}
		three = append(three, g)
	}
	xlsx("03-spanish-team-tabs.xlsx", three, true)

	// 4 French CSV: semicolons, Windows-1252, one long list, penalties below it.
	g = grid{}
	g.row("Feuille de score", "", "", "", "", "", "", "", "", "", "", "", "", "", "")
	g.row("Période", "Jam", "Équipe", "Jammeuse", "Perdu", "Lead", "Appel", "Blessure", "Passage initial non terminé", "Passage 2", "Passage 3", "Passage 4", "Passage 5", "Total jam", "Total match")
	for _, r := range rows {
		label := num(r.Jam)
		if r.SP {
			label = "SP"
		}
		g.row(append(append([]string{num(r.Period), label, map[string]string{"home": "Domicile", "away": "Visiteur"}[r.Side], r.Jammer, mark(r.Lost, "x"), mark(r.Lead, "x"), mark(r.Call, "x"), mark(r.Inj, "x"), mark(r.NI, "x")}, trips(r, 4)...), num(r.JamTotal), num(r.GameTotal))...)
	}
	g.row()
	g.row("Pénalités")
	g.row("Équipe", "Numéro", "Code", "Période", "Jam")
	for _, p := range pens {
		g.row(map[string]string{"home": "Domicile", "away": "Visiteur"}[p.Side], p.Number, p.Code, num(p.Period), num(p.Jam))
	}
	enc, err := charmap.Windows1252.NewEncoder().String(csvText(g, ';'))
	if err != nil {
		log.Fatal(err)
	}
	save("04-french-long.csv", []byte(enc))

	// 5 German ODS: a tab per half, teams one below the other, a penalty tab.
	var five []grid
	for p := 1; p <= 2; p++ {
		g := grid{name: fmt.Sprintf("%d. Halbzeit", p)}
		for _, s := range []string{"home", "away"} {
			g.row(map[string]string{"home": "Heim", "away": "Gast"}[s], teamName[s])
			g.row("Jam", "Jammerin", "Verloren", "Lead", "Abbruch", "Verletzung", "Keine Erstrunde", "Runde 2", "Runde 3", "Runde 4", "Runde 5", "Jam-Punkte", "Spielstand")
			for _, r := range sideRows(rows, p, s) {
				g.row(append(append([]string{jamLabel(r), r.Jammer, mark(r.Lost, "x"), mark(r.Lead, "x"), mark(r.Call, "x"), mark(r.Inj, "x"), mark(r.NI, "x")}, trips(r, 4)...), num(r.JamTotal), num(r.GameTotal))...)
			}
			g.row()
		}
		five = append(five, g)
	}
	pg := grid{name: "Strafen"}
	pg.row("Team", "Nummer", "Strafe", "Halbzeit", "Jam")
	for _, p := range pens {
		pg.row(teamName[p.Side], p.Number, p.Code, num(p.Period), num(p.Jam))
	}
	five = append(five, pg)
	ods("05-german-halves.ods", five)

	// 6 German, tab-separated UTF-16 with a byte-order mark: both teams in one line per jam.
	g = grid{}
	g.row("Halbzeit", "Jam", "Heim Jammerin", "Heim Lead", "Heim Punkte", "Heim Stand", "Gast Jammerin", "Gast Lead", "Gast Punkte", "Gast Stand")
	type pair struct{ period, jam int }
	var order []pair
	sum := map[pair]map[string]*row{}
	for _, r := range rows {
		k := pair{r.Period, r.Jam}
		if sum[k] == nil {
			sum[k] = map[string]*row{}
			order = append(order, k)
		}
		if old := sum[k][r.Side]; old != nil {
			old.JamTotal += r.JamTotal
			old.GameTotal = r.GameTotal
			continue
		}
		c := r
		sum[k][r.Side] = &c
	}
	for _, k := range order {
		h, a := sum[k]["home"], sum[k]["away"]
		g.row(num(k.period), num(k.jam), h.Jammer, mark(h.Lead, "ja"), num(h.JamTotal), num(h.GameTotal), a.Jammer, mark(a.Lead, "ja"), num(a.JamTotal), num(a.GameTotal))
	}
	u := utf16.Encode([]rune(csvText(g, '\t')))
	b := []byte{0xFF, 0xFE}
	for _, c := range u {
		b = append(b, byte(c), byte(c>>8))
	}
	save("06-german-one-line-per-jam.tsv", b)

	// 7 French XLSX: scores, then penalties as a matrix: per skater a line of codes over a line of jams.
	var seven []grid
	for p := 1; p <= 2; p++ {
		g := grid{name: fmt.Sprintf("Score MT%d", p)}
		g.row("", "Domicile : "+home, "", "", "", "", "", "", "", "", "", "", "", "", "Visiteur : "+away)
		head := []string{"JAM", "JAMMEUSE", "PERDU", "LEAD", "APPEL", "BLESS.", "N.I.", "T2", "T3", "T4", "T5", "JAM", "TOTAL"}
		g.row(append(append(append([]string{}, head...), ""), head...)...)
		hs, as := level(sideRows(rows, p, "home"), sideRows(rows, p, "away"))
		for i := range hs {
			cells := func(r *row) []string {
				if r == nil {
					return append([]string{"SP*"}, make([]string, 12)...)
				}
				return append(append([]string{jamLabel(*r), r.Jammer, mark(r.Lost, "1"), mark(r.Lead, "1"), mark(r.Call, "1"), mark(r.Inj, "1"), mark(r.NI, "1")}, trips(*r, 4)...), num(r.JamTotal), num(r.GameTotal))
			}
			g.row(append(append(cells(hs[i]), ""), cells(as[i])...)...)
		}
		seven = append(seven, g)
	}
	for p := 1; p <= 2; p++ {
		g := grid{name: fmt.Sprintf("Pénalités MT%d", p)}
		for _, s := range []string{"home", "away"} {
			g.row(map[string]string{"home": "Domicile", "away": "Visiteur"}[s])
			g.row("Numéro", "", "1", "2", "3", "4", "5", "6", "7")
			byNumber := map[string][]penalty{}
			var numbers []string
			for _, pn := range pens {
				if pn.Side != s || pn.Period != p {
					continue
				}
				if byNumber[pn.Number] == nil {
					numbers = append(numbers, pn.Number)
				}
				byNumber[pn.Number] = append(byNumber[pn.Number], pn)
			}
			for _, n := range numbers {
				codes, jams := []string{n, "Code"}, []string{"", "Jam"}
				for _, pn := range byNumber[n] {
					codes, jams = append(codes, pn.Code), append(jams, num(pn.Jam))
				}
				g.row(codes...)
				g.row(jams...)
			}
			g.row()
		}
		seven = append(seven, g)
	}
	xlsx("07-french-penalty-matrix.xlsx", seven, true)

	// 8 English XLSX: tabs for scores, line-ups and penalties, each a long list, terse headings.
	sc := grid{name: "Scoring"}
	sc.row("P", "J", "Side", "SP", "J#", "LOST", "LEAD", "CALL", "INJ", "NI", "2", "3", "4", "5", "JAM", "GAME")
	for _, r := range rows {
		sc.row(append(append([]string{num(r.Period), num(r.Jam), map[string]string{"home": "H", "away": "A"}[r.Side], mark(r.SP, "X"), r.Jammer, mark(r.Lost, "X"), mark(r.Lead, "X"), mark(r.Call, "X"), mark(r.Inj, "X"), mark(r.NI, "X")}, trips(r, 4)...), num(r.JamTotal), num(r.GameTotal))...)
	}
	ln := grid{name: "Lineups"}
	ln.row("P", "J", "Side", "Jammer", "Pivot", "Blocker 1", "Blocker 2", "Blocker 3")
	for _, l := range lines {
		ln.row(append([]string{num(l.Period), num(l.Jam), map[string]string{"home": "H", "away": "A"}[l.Side], l.Jammer, l.Pivot}, l.Blockers...)...)
	}
	pe := grid{name: "Penalties"}
	pe.row("P", "J", "Side", "Skater", "Pen")
	for _, p := range pens {
		pe.row(num(p.Period), num(p.Jam), map[string]string{"home": "H", "away": "A"}[p.Side], p.Number, p.Code)
	}
	xlsx("08-english-lists.xlsx", []grid{sc, ln, pe}, false)

	// 9 Spanish ODS: a line per team and jam with line-up and score together.
	g = grid{name: "Hoja"}
	g.row("Partido: " + home + " contra " + away)
	g.row("Periodo", "Nº de jam", "Equipo", "Jammer", "Pivote", "Bloqueadora", "Bloqueadora", "Bloqueadora", "Líder", "Líder perdida", "Fin del jam pedido", "Puntos", "Marcador")
	for _, l := range lines {
		k := pair{l.Period, l.Jam}
		r := sum[k][l.Side]
		g.row(append(append([]string{num(l.Period), num(l.Jam), map[string]string{"home": "local", "away": "visitante"}[l.Side], l.Jammer, l.Pivot}, l.Blockers...), mark(r.Lead, "sí"), mark(r.Lost, "sí"), mark(r.Call, "sí"), num(r.JamTotal), num(r.GameTotal))...)
	}
	ods("09-spanish-jam-list.ods", []grid{g})

	// 10 English CSV: score only, running totals, a preamble, no jammers.
	g = grid{}
	g.row("Bout:", home+" v "+away, "", "", "", "")
	g.row("Date:", "2026-03-14", "", "", "", "")
	g.row("", "", "", "", "", "")
	g.row("Period", "Jam", home+" jam points", home+" total", away+" jam points", away+" total")
	for _, k := range order {
		h, a := sum[k]["home"], sum[k]["away"]
		g.row(num(k.period), num(k.jam), num(h.JamTotal), num(h.GameTotal), num(a.JamTotal), num(a.GameTotal))
	}
	save("10-english-score-only.csv", []byte(csvText(g, ',')))
}

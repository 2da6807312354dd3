package timeline

import (
	"bytes"
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"
)

// The exchange format is one JSON object:
//
//	format  "whistlecut"
//	schema  1; readers refuse a higher number and ignore fields they don't know
//	what    "history", "facts" or "tags"
//	edits   with "history": list of Edit, each after those it builds on
//	facts   with "facts": Facts, the state without its history
//	tags    with "tags": list of Tag
//
// A bare list is read as tags. Field names are those of the Go types. All times
// of film, jam and clock are whole nanoseconds; "at" of an edit is RFC 3339;
// bytes of a sheet are base64; sides, roles and certainties are words. A tag
// without an id gets one from its content, so that importing a list twice, or
// by two people, makes each tag once.
const (
	exchangeFormat = "whistlecut"
	exchangeSchema = 1
)

// What an exchange file holds.
const (
	ExchangeHistory = "history"
	ExchangeFacts   = "facts"
	ExchangeTags    = "tags"
)

type exchange struct {
	Format string          `json:"format"`
	Schema int             `json:"schema"`
	What   string          `json:"what"`
	Edits  json.RawMessage `json:"edits,omitempty"`
	Facts  json.RawMessage `json:"facts,omitempty"`
	Tags   json.RawMessage `json:"tags,omitempty"`
}

// ExportHistory writes all edits, from which everything can be had again.
func ExportHistory(l *Log) ([]byte, error) {
	raw, err := json.Marshal(l.Edits())
	return export(exchange{What: ExchangeHistory, Edits: raw}, err)
}

// ExportFacts writes the state without its history.
func ExportFacts(f Facts) ([]byte, error) {
	raw, err := json.Marshal(f)
	return export(exchange{What: ExchangeFacts, Facts: raw}, err)
}

// ExportTags writes tags in the order of SortTags.
func ExportTags(tags map[ID]Tag) ([]byte, error) {
	raw, err := json.Marshal(SortTags(tags))
	return export(exchange{What: ExchangeTags, Tags: raw}, err)
}

func export(x exchange, err error) ([]byte, error) {
	if err == nil {
		x.Format, x.Schema = exchangeFormat, exchangeSchema
		var b []byte
		if b, err = json.MarshalIndent(x, "", "  "); err == nil {
			return append(b, '\n'), nil
		}
	}
	return nil, fmt.Errorf("cannot write the %s as JSON: %w", x.What, err)
}

// SortTags lists tags by footage and film time, those not on film by jam and jam
// time, then by ID.
func SortTags(tags map[ID]Tag) []Tag {
	out := slices.AppendSeq(make([]Tag, 0, len(tags)), maps.Values(tags))
	slices.SortFunc(out, func(a, b Tag) int {
		return cmp.Or(
			cmp.Compare(a.Place.Footage, b.Place.Footage), cmp.Compare(a.Place.Film, b.Place.Film),
			cmp.Compare(a.Place.Jam, b.Place.Jam), cmp.Compare(a.Place.Offset, b.Place.Offset),
			cmp.Compare(a.ID, b.ID))
	})
	return out
}

// Import is what an exchange file holds, read and checked. Which field is set
// follows What.
type Import struct {
	What  string
	Edits []Edit // history: for Log.Add
	Facts Facts
	Tags  []Tag
}

// Changes are the changes that bring facts or tags into a bout. Records of the
// bout that the file does not name are left as they are. A history has none.
func (i Import) Changes() []Change {
	switch i.What {
	case ExchangeTags:
		out := make([]Change, len(i.Tags))
		for n, t := range i.Tags {
			out[n] = SetTag(t)
		}
		return out
	case ExchangeFacts:
		return FactsChanges(i.Facts)
	}
	return nil
}

// FactsChanges are the changes that make facts of an empty bout. Info, rules
// and teams that are zero are left out.
func FactsChanges(f Facts) []Change {
	var out []Change
	if f.Info != (Info{}) {
		out = append(out, SetInfo(f.Info))
	}
	if !sameValue(f.Rules, RuleSet{}) {
		out = append(out, SetRules(f.Rules))
	}
	for _, s := range Sides {
		if t := f.Teams[s.Index()]; !sameValue(t, Team{}) {
			out = append(out, SetTeam(s, t))
		}
	}
	for _, id := range slices.Sorted(maps.Keys(f.Footage)) {
		out = append(out, SetFootage(f.Footage[id]))
	}
	for _, id := range slices.Sorted(maps.Keys(f.Marks)) {
		out = append(out, SetMark(f.Marks[id]))
	}
	if f.Sheet != nil {
		out = append(out, SetSheet(*f.Sheet))
	}
	for _, t := range SortTags(f.Tags) {
		out = append(out, SetTag(t))
	}
	for _, id := range slices.Sorted(maps.Keys(f.Resolutions)) {
		out = append(out, SetResolution(f.Resolutions[id]))
	}
	for _, r := range f.ReelsInOrder() {
		out = append(out, SetReel(r))
	}
	for _, id := range slices.Sorted(maps.Keys(f.Parts)) {
		out = append(out, SetPart(f.Parts[id]))
	}
	for _, id := range slices.Sorted(maps.Keys(f.Opinions)) {
		out = append(out, SetOpinion(f.Opinions[id]))
	}
	for _, r := range f.RemarksInOrder() {
		out = append(out, setChange(ColRemark, r.ID, r))
	}
	for _, name := range slices.Sorted(maps.Keys(f.Extra)) {
		collection, key, _ := strings.Cut(name, "/")
		out = append(out, Change{Record: Record{Collection(collection), ID(key)}, Value: f.Extra[name]})
	}
	return out
}

func sameValue(a, b any) bool {
	x, errX := json.Marshal(a)
	y, errY := json.Marshal(b)
	return errX == nil && errY == nil && bytes.Equal(x, y)
}

// ImportJSON reads an exchange file. Errors say where: line and column where it
// is no JSON, else the record and the field; up to ten are listed.
func ImportJSON(data []byte) (Import, error) {
	data = bytes.TrimPrefix(data, []byte("\xEF\xBB\xBF"))
	if trimmed := bytes.TrimLeft(data, " \t\r\n"); len(trimmed) > 0 && trimmed[0] == '[' {
		tags, err := readTags(data)
		return Import{What: ExchangeTags, Tags: tags}, importErr(err)
	}
	var x exchange
	if err := decodeAt("", data, &x); err != nil {
		return Import{}, importErr(err)
	}
	switch {
	case x.Format != exchangeFormat:
		return Import{}, importErr(fieldErr("format", "found %q, want %q: this is no file of Whistlecut", x.Format, exchangeFormat))
	case x.Schema < 1:
		return Import{}, importErr(fieldErr("schema", "found %d, want %d", x.Schema, exchangeSchema))
	case x.Schema > exchangeSchema:
		return Import{}, importErr(fieldErr("schema", "found %d, this version reads up to %d: use the newer version of Whistlecut that wrote it", x.Schema, exchangeSchema))
	}
	i := Import{What: x.What}
	var err error
	switch x.What {
	case ExchangeHistory:
		i.Edits, err = readEdits(x.Edits)
	case ExchangeFacts:
		i.Facts, err = readFacts(x.Facts)
	case ExchangeTags:
		i.Tags, err = readTags(x.Tags)
	default:
		err = fieldErr("what", "found %q, want %s, %s or %s", x.What, ExchangeHistory, ExchangeFacts, ExchangeTags)
	}
	if err != nil {
		return Import{}, importErr(err)
	}
	return i, nil
}

func importErr(err error) error {
	if err != nil {
		err = fmt.Errorf("cannot import the JSON: %w", err)
	}
	return err
}

func readTags(data []byte) ([]Tag, error) {
	items, err := readList("tags", data)
	if err != nil {
		return nil, err
	}
	tags := make([]Tag, len(items))
	at := make(map[ID]int, len(items))
	bare := make(map[string]int)
	var wrong problems
	for i, item := range items {
		path := fmt.Sprintf("tags[%d]", i)
		t := &tags[i]
		if err := decodeAt(path, item, t); err != nil {
			wrong.add(err)
			continue
		}
		if t.ID == "" {
			content, _ := json.Marshal(*t)
			t.ID = ImportID("tag", string(content), strconv.Itoa(bare[string(content)]))
			bare[string(content)]++
		} else {
			path += fmt.Sprintf(" (%s)", t.ID)
		}
		if err := CheckTag(*t); err != nil {
			wrong.add(underPath(path, err))
		} else if j, twice := at[t.ID]; twice {
			wrong.add(fieldErr(path, "the id stands twice, also at tags[%d]", j))
		}
		at[t.ID] = i
	}
	return tags, wrong.err()
}

func readEdits(data []byte) ([]Edit, error) {
	items, err := readList("edits", data)
	if err != nil {
		return nil, err
	}
	edits := make([]Edit, len(items))
	var wrong problems
	for i, item := range items {
		path := fmt.Sprintf("edits[%d]", i)
		if err := decodeAt(path, item, &edits[i]); err != nil {
			wrong.add(err)
			continue
		}
		n, err := newNode(edits[i])
		if err != nil {
			wrong.add(underPath(path, err))
			continue
		}
		edits[i] = n.Edit
	}
	return edits, wrong.err()
}

func readFacts(data []byte) (Facts, error) {
	var f Facts
	if len(data) == 0 {
		return f, fieldErr("facts", "it is missing")
	}
	if err := decodeAt("facts", data, &f); err != nil {
		return f, err
	}
	var wrong problems
	keyed(&wrong, "facts.tags", f.Tags, func(t Tag) ID { return t.ID }, CheckTag)
	keyed(&wrong, "facts.footage", f.Footage, func(v Footage) ID { return v.ID }, nil)
	keyed(&wrong, "facts.marks", f.Marks, func(v SyncMark) ID { return v.ID }, nil)
	keyed(&wrong, "facts.resolutions", f.Resolutions, func(v Resolution) ID { return v.ID }, nil)
	keyed(&wrong, "facts.reels", f.Reels, func(v Reel) ID { return v.ID }, CheckReel)
	keyed(&wrong, "facts.reel_parts", f.Parts, func(v Part) ID { return v.ID }, CheckPart)
	keyed(&wrong, "facts.opinions", f.Opinions, func(v Opinion) ID { return v.ID }, CheckOpinion)
	keyed(&wrong, "facts.remarks", f.Remarks, func(v Remark) ID { return v.ID }, CheckRemark)
	if wrong.n > 0 {
		return f, wrong.err()
	}
	for _, c := range FactsChanges(f) {
		value, err := normalValue(c.Value)
		if err == nil {
			_, err = decodeRecord(c.Record, value)
		}
		if err != nil {
			wrong.add(underPath("facts", err))
		}
	}
	return f, wrong.err()
}

// keyed checks that the records of a map stand under their own IDs.
func keyed[T any](wrong *problems, path string, m map[ID]T, id func(T) ID, check func(T) error) {
	for _, key := range slices.Sorted(maps.Keys(m)) {
		at := joinPath(path, string(key))
		if got := id(m[key]); got != key {
			wrong.add(fieldErr(at+".id", "found %q, want the key it stands under", got))
		} else if check != nil {
			if err := check(m[key]); err != nil {
				wrong.add(underPath(at, err))
			}
		}
	}
}

func readList(path string, data []byte) ([]json.RawMessage, error) {
	if len(data) == 0 {
		return nil, fieldErr(path, "it is missing")
	}
	var items []json.RawMessage
	err := decodeAt(path, data, &items)
	return items, err
}

// problems collects what is wrong with an import, the first ten in words.
type problems struct {
	list []error
	n    int
}

func (p *problems) add(err error) {
	if p.n++; p.n <= 10 {
		p.list = append(p.list, err)
	}
}

func (p *problems) err() error {
	if p.n > len(p.list) {
		p.list = append(p.list, fmt.Errorf("and %d more", p.n-len(p.list)))
		p.n = len(p.list)
	}
	return errors.Join(p.list...)
}

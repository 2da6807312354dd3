package collection

import "whistlecut/timeline"

// Query says which entries are wanted. Fields combine with AND, the values of one
// field with OR; a zero field does not narrow. As in timeline.Selection,
// Situations alone mean the stretches themselves, and with Kinds the tags that lie
// in such a stretch.
type Query struct {
	// Words must all stand in the entry's text, each as the beginning of a word:
	// notes, reasoning, questions, names of skaters and teams, the bout's title and
	// venue, the penalty's name. Case and accents do not count, and no sign has a
	// meaning of its own.
	Words string `json:"words,omitempty"`

	Kinds      []timeline.Kind          `json:"kinds,omitempty"`
	Situations []timeline.SituationKind `json:"situations,omitempty"`
	// Codes are penalty letters of the entry's own edition: of the penalty, or of an
	// example the one called or one of the verdicts. Letters changed between
	// editions, so a name ("back block") is better found by Words.
	Codes []string `json:"codes,omitempty"`
	// Rules are sections with all below them: "4.1" finds 4.1 and 4.1.1, not 4.10.
	Rules []string `json:"rules,omitempty"`

	// The fields from here to Differing narrow to examples.
	Asks []timeline.Question `json:"asks,omitempty"`
	// Verdicts: one of those accepted has one of these choices; NoChoice is an
	// example that nobody decided.
	Verdicts []timeline.Choice `json:"verdicts,omitempty"`
	// Called: what was called on the day; NoChoice is not said.
	Called []timeline.Choice `json:"called,omitempty"`
	// Impacts, with ImpactUnknown for not said.
	Impacts []timeline.Impact `json:"impacts,omitempty"`
	// Easiest and Hardest bound the difficulty, 1 to 5, both inclusive; 0 is no bound.
	// With a bound, examples of no difficulty are left out.
	Easiest int `json:"easiest,omitempty"`
	Hardest int `json:"hardest,omitempty"`
	// Differing: no verdict accepts what was called. Both must be said.
	Differing bool `json:"differing,omitempty"`

	// Editions of the rules: an example's own, else the bout's.
	Editions []string `json:"editions,omitempty"`
	// Outdated: examples judged by another edition than Newest; they need another look.
	Outdated bool `json:"outdated,omitempty"`
	// Newest is the edition that Outdated compares with; empty is the newest published.
	Newest string `json:"newest,omitempty"`

	// Bouts are paths of bout files.
	Bouts []string `json:"bouts,omitempty"`
	// Skaters are written as "home 052" (any bout's), "Home Team 052", a skater's
	// name, or a number alone.
	Skaters []string `json:"skaters,omitempty"`
	// Teams of the skaters, by name or by the first words of it.
	Teams []string `json:"teams,omitempty"`
	// From and To bound the bout's date, YYYY-MM-DD or the beginning of it, both
	// inclusive: From "2026", To "2026-06" is January to June. Bouts without a date
	// are then left out.
	From string `json:"from,omitempty"`
	To   string `json:"to,omitempty"`

	// Examples narrows moments to those that examples were made of, or were not; an
	// example itself counts as one that has.
	Examples Has `json:"examples,omitempty"`
	// Sensitive: the zero value leaves sensitive entries out.
	Sensitive Sensitive `json:"sensitive,omitempty"`

	Sort   Sort `json:"sort,omitempty"`
	Limit  int  `json:"limit,omitempty"` // 0 is DefaultLimit; negative is no limit
	Offset int  `json:"offset,omitempty"`
}

// DefaultLimit is how many entries Search gives when the query does not say.
const DefaultLimit = 200

// Has narrows to entries with or without something.
type Has string

// The zero value does not narrow.
const (
	Either  Has = ""
	With    Has = "with"
	Without Has = "without"
)

// Sensitive says what becomes of sensitive entries.
type Sensitive string

// The zero value leaves them out.
const (
	SensitiveOut  Sensitive = ""
	SensitiveIn   Sensitive = "in"
	SensitiveOnly Sensitive = "only"
)

// Sort orders entries. Within one value they stand in the order of the bout, the
// bouts of one day one after the other.
type Sort string

// The zero value is the newest bout first; bouts without a date come last.
const (
	NewestFirst  Sort = ""
	OldestFirst  Sort = "oldest"  // without a date comes first
	EasiestFirst Sort = "easiest" // not said comes last
	HardestFirst Sort = "hardest"
	ByCode       Sort = "code"
)

// Sorts lists the orders.
func Sorts() []Sort { return []Sort{NewestFirst, OldestFirst, EasiestFirst, HardestFirst, ByCode} }

// Facet is a field that entries can be counted by.
type Facet string

// The facets.
const (
	FacetKind       Facet = "kind"       // of tag; "" is a situation
	FacetSituation  Facet = "situation"  // of a stretch; "" is a tag
	FacetCode       Facet = "code"       // letter and name, "B back block": of the penalty, of an example the one called
	FacetRule       Facet = "rule"       // sections
	FacetAsk        Facet = "ask"        // of examples
	FacetVerdict    Facet = "verdict"    // choice of the preferred one; "" is undecided
	FacetCalled     Facet = "called"     // choice; "" is not said
	FacetDiffering  Facet = "differing"  // "yes": no verdict accepts what was called
	FacetDifficulty Facet = "difficulty" // "0" is not said
	FacetImpact     Facet = "impact"
	FacetEdition    Facet = "edition"
	FacetBout       Facet = "bout"   // path
	FacetTeam       Facet = "team"   // of the skater
	FacetSkater     Facet = "skater" // "Home Team 052 Jane Fonder"
	FacetYear       Facet = "year"   // of the bout
)

// Facets lists them all.
func Facets() []Facet {
	return []Facet{
		FacetKind, FacetSituation, FacetCode, FacetRule, FacetAsk, FacetVerdict, FacetCalled, FacetDiffering,
		FacetDifficulty, FacetImpact, FacetEdition, FacetBout, FacetTeam, FacetSkater, FacetYear,
	}
}

// Count is how many entries have one value of a facet.
type Count struct {
	Value string `json:"value"`
	N     int    `json:"n"`
}

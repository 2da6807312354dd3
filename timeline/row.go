package timeline

// JamRow is one line of the score sheet, or the same line as the recount has
// it. A star-pass row (SP) follows its jam's first row and carries the new
// jammer's trips. All cells are optional: an unread column stays Blank.
type JamRow struct {
	Period   int  `json:"period"`
	Jam      int  `json:"jam"`
	Side     Side `json:"side"`
	StarPass bool `json:"star_pass,omitempty"` // the SP row of this side
	// Spacer: the other side's star pass (SP*): an empty row that keeps both sheets level.
	Spacer bool `json:"spacer,omitempty"`

	Jammer Cell[Number] `json:"jammer"`
	Lost   Cell[bool]   `json:"lost"`
	Lead   Cell[bool]   `json:"lead"`
	Call   Cell[bool]   `json:"call"`
	Inj    Cell[bool]   `json:"inj"`
	NI     Cell[bool]   `json:"ni"` // this jammer did not complete the initial trip
	// Trips[0] is trip 2, the first scoring trip in the sheet's count.
	Trips     []Cell[int] `json:"trips,omitempty"`
	JamTotal  Cell[int]   `json:"jam_total"`
	GameTotal Cell[int]   `json:"game_total"`
}

// Cell is one value with where it came from. For numbers the recount knows
// only within bounds, State is CellRange and Low..High apply.
type Cell[T comparable] struct {
	State CellState `json:"state"`
	Value T         `json:"value,omitempty"`
	Low   int       `json:"low,omitempty"`
	High  int       `json:"high,omitempty"`
	From  string    `json:"from,omitempty"` // sheet cell ("Score P1!C7") the value stands in
	Tags  []ID      `json:"tags,omitempty"` // tags the value rests on
}

// CellState says what a cell holds.
type CellState uint8

// Absent is the zero value: the column does not exist or was not tagged. Blank
// is an empty cell of an existing column. NotChecked values never "agree".
const (
	CellAbsent CellState = iota
	CellBlank
	CellKnown
	CellRange  // Low..High (not seen or unsure)
	CellUnread // something stands there that could not be read (From, Tags tell)
)

// Known is a cell with a sure value.
func Known[T comparable](v T) Cell[T] { return Cell[T]{State: CellKnown, Value: v} }

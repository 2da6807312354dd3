package sheet

// Field is what a column of a sheet holds.
type Field string

// Fields. Trip, Blocker, Penalty and PenaltyJam carry a number in Column.N.
const (
	FieldKeep   Field = "keep"   // not recognised: its texts are kept as they stand
	FieldIgnore Field = "ignore" // a person said so, or it only repeats another column
	FieldPeriod Field = "period"
	FieldJam    Field = "jam"
	FieldTeam   Field = "team"

	FieldJammer    Field = "jammer"
	FieldLost      Field = "lost"
	FieldLead      Field = "lead"
	FieldCall      Field = "call"
	FieldInj       Field = "inj"
	FieldNI        Field = "ni"
	FieldTrip      Field = "trip"  // N is the trip's number: 2 is the first scoring trip
	FieldTrips     Field = "trips" // all trips in one cell: "4+4+3"
	FieldMarks     Field = "marks" // lost, lead... as words in one cell
	FieldJamTotal  Field = "jam total"
	FieldGameTotal Field = "game total"
	FieldStarPass  Field = "star pass" // a mark or the new jammer's number

	FieldSkater     Field = "skater" // a number
	FieldName       Field = "name"
	FieldCode       Field = "code"
	FieldPenalty    Field = "penalty"     // N-th penalty of a skater: code, or code and jam
	FieldPenaltyJam Field = "penalty jam" // its jam, where that has a column
	FieldOut        Field = "out"         // FO, EXP

	FieldNoPivot Field = "no pivot"
	FieldPivot   Field = "pivot"
	FieldBlocker Field = "blocker"
	FieldBox     Field = "box" // box mark of the slot before it
	FieldRole    Field = "role"

	FieldDuration Field = "duration"
	FieldClock    Field = "clock"     // period clock (at a jam's start, at a timeout)
	FieldClockEnd Field = "clock end" // period clock at a jam's end
	FieldType     Field = "type"
	FieldRetained Field = "retained"

	FieldIn      Field = "in"
	FieldStand   Field = "stand"
	FieldDone    Field = "done"
	FieldOutJam  Field = "out jam"
	FieldBetween Field = "between jams"
)

// Kind is what a table of the paperwork is about.
type Kind string

// The kinds of table.
const (
	KindNone      Kind = ""
	KindScore     Kind = "score"
	KindPenalties Kind = "penalties"
	KindLineups   Kind = "line-ups"
	KindClock     Kind = "clock"
	KindTimeouts  Kind = "timeouts"
	KindBox       Kind = "box"
	KindRoster    Kind = "roster"
)

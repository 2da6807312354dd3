// Package align is the task in which a bout gets its film, sheet and rosters, and
// in which the jams are lined up with the film: the program listens, a person
// looks only at what is doubtful. Start at Task; each section of the panel has a
// file of its own.
package align

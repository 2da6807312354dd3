// Package timeline is a roller derby bout as data: the facts people stored
// (rosters, footage, sheet, tags), the edits that made them, and everything
// that follows from them by the published rules.
//
// Start at Facts (what is stored), Tag (what a person says happened) and
// Derive (Facts in, Bout out; pure). Recount works at two levels: trips as
// tagged, and physical events from which earned passes, trips and points
// follow by the rules. A RuleSet carries every number that an edition of the
// rules sets. JamRow is the line both the official sheet and the recount
// project to.
//
// The package imports the standard library only and knows no file, process,
// database or window. Times are time.Duration; each field says which clock it
// is on: film time (position in one footage file from its first shown frame),
// jam time (since the jam-start whistle), bout time (real time since the
// period's first jam-start whistle) or period clock.
package timeline

// Package boutfile keeps a bout in one .bout file: a journal of edits in an
// SQLite database. What the bout is at any moment is the fold of the journal,
// which timeline.Log does; nothing else is stored.
//
// Start at Open and Create. An edit is confirmed when Apply, Undo, Redo or Merge
// returns: it is then on the disk, and neither a kill nor a loss of power takes
// it away. While a file is open, SQLite keeps a -wal and a -shm file beside it,
// and the writer a -lock file; after Close only the .bout is left.
//
// The package knows no footage, no sheet layout and no rules.
package boutfile

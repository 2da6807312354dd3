// Package ledger shows figures: a page that scrolls, with headings, charts and
// tables whose rows lead somewhere, and the dialog that saves them as a file.
package ledger

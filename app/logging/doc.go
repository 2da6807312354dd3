// Package logging turns single keys into edits of a bout while its film runs:
// who was lead, how many points a trip scored, who went to the box. It is plain
// code without a window: a Machine is handed what a key means (Key) and what it
// is judged by (View), and answers with the changes to store and what to say.
//
// What is known of the bout stays in the bout. The machine itself only remembers
// what is half done: numbers asked for, digits typed, the tag that is chosen for
// correction.
package logging

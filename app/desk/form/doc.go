// Package form asks a person for something in a dialog over the window: fields to
// type into, a list to choose from, files. All of it goes by keyboard: Tab moves,
// Enter accepts, Escape closes.
package form

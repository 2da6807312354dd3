// Package plant makes official sheets of simulated bouts, plants mistakes of
// known kinds in them, and measures how many the cross-check finds and whether
// it names their cause.
package plant

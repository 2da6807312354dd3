package logging

import (
	"time"

	"whistlecut/timeline"
)

// Act is what a key asks for.
type Act uint8

// The acts. Those marked (side) need Key.Side.
const (
	NoAct      Act = iota
	JamEdge        // a jam starts here, or the running one ends here
	NextPeriod     // a jam starts here, the first of the next period or an overtime jam
	HowEnded       // goes through the ways a jam ends that no tag tells
	CallOff        // the jam is called off, by the side with lead
	Lead           // (side)
	Lost           // (side)
	Initial        // (side) initial trip completed; again: not completed; again: taken back
	Star           // (side) star pass, completed; again: not completed
	Trip           // (side) a trip ends here with Key.N points
	Box            // (side) a skater sits down; on a chosen visit: stands, then leaves
	Penalty        // (side) a penalty is called; on a chosen one: the act happened here
	Injury         // the jam is stopped for an injury
	Timeout        // a timeout is called: whose is asked for; again: it ends here
	Review         // an official review is called: whose; again: it ends here; again: retained, or not
	Digit          // Key.N, of the number asked for or of the chosen tag
	Backspace      // takes the last digit back
	Code           // Key.Letter is the code of the penalty
	NotSeen        // of what is asked for, chosen, just logged, or logged next
	Unsure         // of what is chosen or was just logged
	Confirm        // (side) what is offered for the side
	Choose         // chooses a tag Key.N further down the list of last tags
	Leave          // leaves what is open: digits, question, chosen tag; else CallOff
	Delete         // the chosen tag
	MoveHere       // the chosen tag to where the film stands
	Nudge          // the chosen tag by Key.By
	Settle         // goes to the next thing that is not settled; Key.N below 0: to the one before
	Jammers        // asks for the jammers' numbers again
	Lineups        // asks for everybody of both line-ups
)

// Key is one key going down.
type Key struct {
	Act    Act
	Side   timeline.Side
	N      int
	Letter string
	By     time.Duration
}

package logging

import "whistlecut/timeline"

// Outcome is what a key leads to.
type Outcome struct {
	// Changes are to be stored as one action; none when the key changed nothing.
	Changes []timeline.Change
	// Did says what the changes do, for the history.
	Did Did
	// Say is what the person should be told; zero for nothing.
	Say Say
	// Go is a place on film to be shown, when Goes.
	Go   timeline.Place
	Goes bool
}

// Did is one action in plain data; the window words it.
type Did struct {
	What What
	Tag  timeline.Tag // as it is after the action, or was before it was taken out
	// Jam and Period are the jam's numbers.
	Jam, Period int
}

// What an action did.
type What uint8

// The kinds of action.
const (
	Nothing  What = iota
	Logged        // a new tag
	Changed       // another value
	Removed       // a tag taken out
	Moved         // another place
	JamStart      // a new jam, or a known one placed
	JamEnd        // the jam's end set
	EndGone       // the jam's end taken out
)

// Say is one sentence in plain data; the window words it.
type Say struct {
	What   Sentence
	Side   timeline.Side
	Jam    int
	Number timeline.Number
	Text   string
}

// Sentence is what there is to say.
type Sentence uint8

// The sentences. But for the last group they say why a key did nothing.
const (
	Silent Sentence = iota
	NoFilm
	NoJam          // no jam has started here
	TooSoon        // the jam has only just started
	StartsSoon     // the next jam is placed a moment from here
	OtherCamera    // nothing relates this camera to the one with the jams
	AlreadyLead    // the side has lead
	AlreadyLost    // lost is logged
	AlreadyCalled  // the jam was called off
	AlreadyInjury  // an injury is logged
	NothingChosen  // choose a tag first
	NothingAsked   // no number is asked for
	NothingOffered // for that side
	NothingOpen    // everything is settled
	NoPenalty      // no penalty to give a code
	NoSuchCode     // Text: not in this edition
	TooMany        // a trip can't score so many points
	NotThat        // the chosen tag has no such value
	JamInUse       // the jam has tags
	ActAfterCall   // the act can't come after the call
	NothingRecent  // nothing was logged a moment ago
	BackToFront    // it would end before it begins

	WhoCalled    // which side called it off?
	WhoseTimeout // a side's, or the officials'?
	WhoseReview  // which side's?
	NextNotSeen  // the next entry will be not seen
	NextSeen     // it will not
	ThroughOnly  // the other side has lead: the initial trip is logged as completed
	NotOnRoster  // Number is logged, but on no roster
	AtUnsettled  // Text is empty; the chosen tag is not settled
	PromptClosed // number left open
)

func refuse(s Sentence) Outcome { return Outcome{Say: Say{What: s}} }

// set is an outcome that stores tags and says what the first one is.
func (v View) set(what What, t timeline.Tag, more ...timeline.Change) Outcome {
	return Outcome{Changes: append([]timeline.Change{timeline.SetTag(t)}, more...), Did: v.did(what, t)}
}

func (v View) did(what What, t timeline.Tag) Did {
	d := Did{What: what, Tag: t}
	i := v.jamOf(t.ID)
	if i < 0 && t.Kind != timeline.KindJam {
		i = v.Standing().Jam
	}
	if i >= 0 {
		d.Jam, d.Period = v.Bout.Jams[i].Number, v.Bout.Jams[i].Period
	}
	return d
}

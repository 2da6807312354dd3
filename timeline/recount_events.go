package timeline

// RecountEvents counts one jam from physical events alone, by the rules given.
// It never panics: events that can't have happened as told are reported in
// Problems. Events are taken in order of At; equal times keep their order.
func RecountEvents(rules RuleSet, start JamStart, events []Event) JamCount {
	return JamCount{Edition: rules.Edition}
}

package terms

import "whistlecut/app/desk/words"

// Penalty is a penalty's name in the language spoken; in most languages the
// rulebook's English name is what is said on the floor.
func Penalty(n string) string {
	switch n {
	case "back block":
		return words.T("back block")
	case "high block":
		return words.T("high block")
	case "low block":
		return words.T("low block")
	case "head block", "blocking with the head":
		return words.T("head block")
	case "forearm", "forearms and hands":
		return words.T("forearm")
	case "leg block":
		return words.T("leg block")
	case "elbows":
		return words.T("elbows")
	case "illegal contact":
		return words.T("illegal contact")
	case "direction", "direction of game play":
		return words.T("direction")
	case "multiplayer", "multiplayer block":
		return words.T("multiplayer")
	case "illegal position":
		return words.T("illegal position")
	case "out of play":
		return words.T("out of play")
	case "out of bounds block":
		return words.T("out of bounds block")
	case "skating out of bounds":
		return words.T("skating out of bounds")
	case "cut", "cutting the track":
		return words.T("cut")
	case "interference":
		return words.T("interference")
	case "illegal procedure":
		return words.T("illegal procedure")
	case "insubordination":
		return words.T("insubordination")
	case "delay of game":
		return words.T("delay of game")
	case "misconduct":
		return words.T("misconduct")
	}
	return n
}

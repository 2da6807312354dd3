package collection

import (
	"strings"

	"whistlecut/timeline"
)

// person is a skater an entry is about.
type person struct {
	Side   timeline.Side
	Number timeline.Number
	Name   string
	Team   string
}

// The ways in which a skater can be asked for; a query's text is tried as each.
func keyByName(name string) string { return "name " + keyOf(name) }

func keyByTeam(team string, n timeline.Number) string {
	return "team " + keyOf(team) + " " + keyOf(string(n))
}

func keyBySide(side timeline.Side, n timeline.Number) string {
	return "side " + side.String() + " " + keyOf(string(n))
}

func keyByNumber(n timeline.Number) string { return "number " + keyOf(string(n)) }

// keys lists every way in which the person can be asked for.
func (p person) keys() []string {
	var out []string
	if keyOf(p.Name) != "" {
		out = append(out, keyByName(p.Name))
	}
	if keyOf(string(p.Number)) == "" {
		return out
	}
	out = append(out, keyByNumber(p.Number))
	if p.Side != timeline.NoSide {
		out = append(out, keyBySide(p.Side, p.Number))
	}
	if keyOf(p.Team) != "" {
		out = append(out, keyByTeam(p.Team, p.Number))
	}
	return out
}

// skaterKeys are the ways in which a text can name a skater: "home 052", "Home
// Team 052", a name, or a number alone.
func skaterKeys(text string) []string {
	words := strings.Fields(text)
	if len(words) == 0 {
		return []string{keyByName(text)}
	}
	out := []string{keyByName(text), keyByNumber(timeline.Number(strings.Join(words, " ")))}
	if len(words) > 1 {
		last := len(words) - 1
		number := timeline.Number(words[last])
		var side timeline.Side
		if last == 1 && side.UnmarshalText([]byte(strings.ToLower(words[0]))) == nil && side != timeline.NoSide {
			out = append(out, keyBySide(side, number))
		}
		out = append(out, keyByTeam(strings.Join(words[:last], " "), number))
	}
	return out
}

// teamKeys lists a team's name and the beginnings of it that end with a word.
func teamKeys(team string) []string {
	words := tokens(team)
	out := make([]string, len(words))
	for i := range words {
		out[i] = strings.Join(words[:i+1], " ")
	}
	return out
}

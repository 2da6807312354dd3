package main

import (
	"errors"
	"fmt"
	"regexp"
	"strings"

	"github.com/alecthomas/kong"
)

// usageError is a mistake in how a command was called.
type usageError struct{ error }

func usage(format string, args ...any) error { return usageError{fmt.Errorf(format, args...)} }

// parserTexts turn what the parser says into sentences for people who never saw
// a flag type. The first that fits is taken; the rest stays as the parser put it.
var parserTexts = []struct {
	found *regexp.Regexp
	say   string
}{
	{regexp.MustCompile(`^unknown flag (\S+)$`), "there is no option $1"},
	{regexp.MustCompile(`^unexpected argument (.+)$`), "\"$1\" is one word too many; put names with spaces in quotation marks"},
	{regexp.MustCompile(`^expected one of (.*)$`), "say which: $1"},
	{regexp.MustCompile(`^expected "(.*)"$`), "something is missing: $1"},
	{regexp.MustCompile(`^missing flags: (--[\w-]+)=(\S+)$`), "$1 $2 is missing"},
	{regexp.MustCompile(`^(--[\w-]+)(?:=\S+)?: expected an? (?:valid \d+ bit )?u?int but got ("[^"]*").*$`), "$1 takes a whole number, not $2"},
	{regexp.MustCompile(`^(--[\w-]+)(?:=\S+)?: expected u?int value but got ("[^"]*").*$`), "$1 takes a whole number, not $2"},
	{regexp.MustCompile(`^(--[\w-]+)\S*: (?:expected \S+ value but got "EOL"|missing value).*$`), "$1 needs something after it"},
	{regexp.MustCompile(`^(--[\w-]+)\S* must be one of "(.*?)"(?:,"")? but got (".*")$`), "$1 takes $2, not $3"},
}

// guessed is how the parser proposes words that were perhaps meant.
var guessed = regexp.MustCompile(`^(.*), did you mean (.*)\?$`)

// parserSentence is the sentence for a command line that could not be understood.
func parserSentence(err error) string {
	text, guess := strings.TrimSuffix(err.Error(), "."), ""
	if m := guessed.FindStringSubmatch(text); m != nil {
		text, guess = m[1], "; perhaps "+m[2]+" is meant"
	}
	command := "whistlecut"
	var p *kong.ParseError
	if errors.As(err, &p) && p.Context != nil && p.Context.Selected() != nil {
		command += " " + p.Context.Selected().Path()
	} else if word, ok := strings.CutPrefix(text, "unexpected argument "); ok {
		text = fmt.Sprintf("there is no command %q", word)
	}
	for _, t := range parserTexts {
		if t.found.MatchString(text) {
			text = t.found.ReplaceAllString(text, t.say)
			text = strings.ReplaceAll(text, `","`, " or ")
			break
		}
	}
	return text + guess + ". Try: " + command + " --help"
}

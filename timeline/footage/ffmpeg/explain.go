package ffmpeg

import (
	"fmt"
	"regexp"
	"strings"
)

// cause is one complaint of ffmpeg that we can say better. The texts are those
// of ffmpeg's own log, versions 4 to 7.
type cause struct {
	pattern *regexp.Regexp
	kind    Kind
	detail  string // may use the pattern's first group as %s
	hint    string
}

const (
	notAFilm   = "it is not a film, or it is broken"
	checkPlays = "check that it plays in another program"
)

const fullFFmpeg = "install a full ffmpeg (Debian's own package has it)"

// causes are tried in order: the sharp ones before the general ones.
var causes = []cause{
	{
		regexp.MustCompile(`(?i)No space left on device|There is not enough space on the disk`), NoSpace,
		"the disk is full", "free some space or choose another folder, then try again",
	},
	{
		regexp.MustCompile(`(?i)Disk quota exceeded`), NoSpace,
		"the disk quota is used up", "free some space or choose another folder, then try again",
	},
	{regexp.MustCompile(`(?i)Unknown encoder '([^']*)'`), LacksCodec, "this ffmpeg lacks the encoder %s", fullFFmpeg},
	{regexp.MustCompile(`(?i)Unknown decoder '([^']*)'`), LacksCodec, "this ffmpeg lacks the decoder %s", fullFFmpeg},
	{regexp.MustCompile(`(?i)Decoder \(codec ([^)]*)\) not found`), LacksCodec, "this ffmpeg lacks the decoder %s", fullFFmpeg},
	{regexp.MustCompile(`(?i)Decoding requested, but no decoder found for: (\S+)`), LacksCodec, "this ffmpeg lacks a decoder for stream %s", fullFFmpeg},
	{regexp.MustCompile(`(?i)No such filter: '([^']*)'`), LacksCodec, "this ffmpeg lacks the filter %s", fullFFmpeg},
	{regexp.MustCompile(`(?i)Unknown bitstream filter (\S+)|Bitstream filter not found`), LacksCodec, "this ffmpeg lacks a bitstream filter %s", fullFFmpeg},
	{regexp.MustCompile(`(?i)Requested output format '([^']*)' is not`), LacksCodec, "this ffmpeg can't write the format %s", fullFFmpeg},
	{regexp.MustCompile(`(?i)Unknown input format: '([^']*)'`), LacksCodec, "this ffmpeg can't read the format %s", fullFFmpeg},
	{regexp.MustCompile(`(?i)Automatic encoder selection failed.*codec (\w+)`), LacksCodec, "this ffmpeg lacks an encoder for %s", fullFFmpeg},
	{
		regexp.MustCompile(`(?i)moov atom not found`), Truncated,
		"it has no index (moov), so it was cut off while being recorded or copied", "copy it again from the camera, or let the camera repair its card",
	},
	{
		regexp.MustCompile(`(?i)Output file (?:#\d+ )?does not contain any stream|Stream map '([^']*)' matches no streams`), NoStream,
		"the wanted picture or sound is not in it", "",
	},
	{regexp.MustCompile(`(?i)No such file or directory`), NoFile, "there is no such file", "look for it where it was moved"},
	{regexp.MustCompile(`(?i)Permission denied|Operation not permitted`), Denied, "the permission to read or write is missing", "change the rights or choose another folder"},
	{regexp.MustCompile(`(?i)Read-only file system`), Denied, "the disk can only be read", "choose another folder"},
	{regexp.MustCompile(`(?i)Is a directory`), InvalidData, "it is a folder, not a film", ""},
	{regexp.MustCompile(`(?i)Protocol not on whitelist|not on whitelist`), InvalidData, "it points to other files or addresses, which is not allowed", "give the film itself"},
	{regexp.MustCompile(`(?i)Unrecognized option '([^']*)'|Option not found|Option ([^ ]*) not found`), BadArguments, "this ffmpeg doesn't know an option we gave %s", "use ffmpeg 5.1 or newer"},
	{
		regexp.MustCompile(`(?i)Invalid data found when processing input|could not find codec parameters|End of file`), InvalidData,
		"it is not a film, or it is broken", "check that it plays in another program",
	},
	{regexp.MustCompile(`(?i)Input/output error`), InvalidData, "it could not be read to the end (input/output error)", "check the disk or card it lies on"},
}

// explain turns the end of a child into an error. The log is searched for known
// causes; what is not known is shown by its last line.
func explain(program, doing, subject, log string, code int, err error) *Error {
	e := &Error{Kind: Failed, Doing: doing, Subject: subject, Code: code, Tail: log, Err: err}
	for _, c := range causes {
		m := c.pattern.FindStringSubmatch(log)
		if m == nil {
			continue
		}
		e.Kind, e.Hint = c.kind, c.hint
		e.Detail = c.detail
		if strings.Contains(c.detail, "%s") {
			e.Detail = strings.TrimSpace(fmt.Sprintf(c.detail, strings.TrimSpace(strings.Join(m[1:], ""))))
		}
		return e
	}
	switch last := lastLine(log); {
	case last != "":
		e.Detail = fmt.Sprintf("%s says %q", program, last)
	case code < 0:
		e.Detail = program + " was ended from outside"
	default:
		e.Detail = fmt.Sprintf("%s ended with code %d and gave no reason", program, code)
	}
	return e
}

// lastLine returns the last line of a log that says something, without the
// address prefix such as "[mov,mp4 @ 0x55d0]" and at most 200 characters.
func lastLine(log string) string {
	lines := strings.Split(log, "\n")
	for i := len(lines) - 1; i >= 0; i-- {
		line := strings.TrimSpace(addressPrefix.ReplaceAllString(lines[i], ""))
		if line == "" || line == "Conversion failed!" {
			continue
		}
		if r := []rune(line); len(r) > 200 {
			line = string(r[:200]) + "..."
		}
		return line
	}
	return ""
}

var addressPrefix = regexp.MustCompile(`^\s*\[[^\]]* @ 0x[0-9a-f]+\]\s*`)

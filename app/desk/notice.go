package desk

import (
	"whistlecut/app/desk/words"
	"whistlecut/app/play"
)

// noticeWords is what the player has to say, in the person's language.
func noticeWords(n play.Notice) string {
	switch n.About {
	case play.Gone:
		return words.T("{.file} is not in {.folder} any more. Put it back, or let the Bout menu look for it.", "file", n.File, "folder", n.Folder)
	case play.Cut:
		if n.Why == "" {
			return words.T("The picture of {.file} cannot be decoded from {.time} on. Copy the file from the camera again.", "file", n.File, "time", clockText(n.At))
		}
		return words.T("The picture of {.file} cannot be decoded from {.time} on: {.why}", "file", n.File, "time", clockText(n.At), "why", n.Why)
	case play.Damaged:
		return words.T("The picture of {.file} is damaged from {.from} to {.to} and cannot be decoded there. Playing goes on behind it.", "file", n.File, "from", clockText(n.At), "to", clockText(n.Until))
	case play.Passed:
		return words.T("The picture of {.file} is damaged from {.from} to {.to}. This is the first frame behind it.", "file", n.File, "from", clockText(n.At), "to", clockText(n.Until))
	case play.Unreadable:
		return words.T("{.file} cannot be read: {.why}", "file", n.File, "why", n.Why)
	case play.Silent:
		return words.T("No sound device answers. The picture goes on without sound.")
	}
	return ""
}

// worded is what the player shows with its note in the person's language.
func worded(s play.Shown) play.Shown {
	if text := noticeWords(s.Notice); text != "" {
		s.Note = text
	}
	return s
}

package desk

import (
	"testing"
	"time"

	"whistlecut/app/desk/words"
	"whistlecut/app/play"
)

func TestNoticesAreWorded(t *testing.T) {
	defer words.Set("en")
	for _, c := range []struct {
		name, language string
		notice         play.Notice
		want           string
	}{
		{"gone", "en", play.Notice{About: play.Gone, File: "a.mp4", Folder: "/films"}, "a.mp4 is not in /films any more. Put it back, or let the Bout menu look for it."},
		{"breaks off", "en", play.Notice{About: play.Cut, File: "a.mp4", At: 65 * time.Second}, "The picture of a.mp4 cannot be decoded from 1:05.00 on. Copy the file from the camera again."},
		{"breaks off, with a reason", "de", play.Notice{About: play.Cut, File: "a.mp4", At: time.Second, Why: "NAL"}, "Das Bild von a.mp4 lässt sich ab 0:01.00 nicht decodieren: NAL"},
		{"damaged", "en", play.Notice{About: play.Damaged, File: "a.mp4", At: time.Second, Until: 2 * time.Second}, "The picture of a.mp4 is damaged from 0:01.00 to 0:02.00 and cannot be decoded there. Playing goes on behind it."},
		{"behind the damage", "es", play.Notice{About: play.Passed, File: "a.mp4", At: time.Second, Until: 2 * time.Second}, "La imagen de a.mp4 está dañada de 0:01.00 a 0:02.00. Este es el primer fotograma que sigue."},
		{"no sound", "fr", play.Notice{About: play.Silent}, "Aucun périphérique audio ne répond. L'image continue sans son."},
		{"nothing", "es", play.Notice{}, "as it was"},
	} {
		t.Run(c.name, func(t *testing.T) {
			words.Set(c.language)
			if got := worded(play.Shown{Note: "as it was", Notice: c.notice}).Note; got != c.want {
				t.Errorf("got %q, want %q", got, c.want)
			}
		})
	}
}

// TestMarkNeedsAFilm: without a picture there is no moment that a mark could keep.
func TestMarkNeedsAFilm(t *testing.T) {
	d, _ := opened(t)
	d.camera = "stand"
	before := len(d.session.Facts.Tags)
	d.mark()
	if got := len(d.session.Facts.Tags); got != before {
		t.Errorf("%d tags became %d: a mark without a place", before, got)
	}
}

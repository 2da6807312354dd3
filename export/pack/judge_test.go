package pack

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"whistlecut/timeline/footage/ffmpeg"
)

// watcher opens a pack's page in a frame of a phone's size, plays its first film
// and writes down what came of it.
const watcher = `<!DOCTYPE html><meta charset="utf-8"><body style="margin:0">
<iframe id="phone" src="page.html" style="border:0;width:390px;height:844px"></iframe>
<script>
const say = x => fetch("ANSWER", { method: "POST", mode: "no-cors", body: JSON.stringify(x) });
document.getElementById("phone").addEventListener("load", async () => {
  const d = document.getElementById("phone").contentDocument, films = Array.from(d.querySelectorAll("video"));
  const out = { films: films.length, wide: d.documentElement.scrollWidth, title: d.title, lengths: [], played: 0 };
  try {
    for (const v of films) {
      v.muted = true;
      await v.play();
      while (v.currentTime < 0.3 && !v.ended) await new Promise(r => setTimeout(r, 20));
      out.played++;
      out.lengths.push(v.duration);
      v.pause();
    }
  } catch (e) { out.error = String(e); }
  out.small = Array.from(d.querySelectorAll("button")).filter(b => b.getBoundingClientRect().height < 44).length;
  say(out);
});
</script>`

// TestJudgePage opens a pack in headless Chromium (Debian 12, package chromium)
// at the size of a phone: both forms of the page play their films, and nothing is
// wider than the screen. The recorded answer is in testdata/chromium.txt.
func TestJudgePage(t *testing.T) {
	if os.Getenv("WHISTLECUT_JUDGES") == "" {
		t.Skip("Chromium is asked by make judges")
	}
	if !ffmpeg.HasTool("chromium") {
		t.Skip("Chromium is not installed here: apt-get install chromium")
	}
	src := t.TempDir()
	clips := []Clip{
		clipOf(film(t, src, "a.mp4", "1", "360"), "P1 J7 penalty #1 50%", time.Second, 360),
		clipOf(film(t, src, "b.mp4", "2", "800"), "'quoted' أ", 2*time.Second, 800),
	}
	answers := make(chan []byte, 1)
	server := httptest.NewServer(http.HandlerFunc(func(_ http.ResponseWriter, r *http.Request) {
		if b, err := io.ReadAll(r.Body); err == nil && len(b) > 0 {
			answers <- b
		}
	}))
	defer server.Close()
	for _, single := range []bool{false, true} {
		dir := filepath.Join(t.TempDir(), "für 052")
		p := Pack{
			Dir: dir, Title: "052 Ada", Language: "en", Words: Words{Play: "Play all"}, Clips: clips, Single: single, Limit: 900_000,
			Lines: []string{"averyveryveryveryveryveryveryveryveryveryveryveryveryveryveryveryverylongword"},
		}
		if _, err := Make(context.Background(), ffmpeg.Default(), p); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, "watch.html"), []byte(strings.Replace(watcher, "ANSWER", server.URL, 1)), 0o644); err != nil {
			t.Fatal(err)
		}
		ctx, stop := context.WithTimeout(context.Background(), time.Minute)
		ended := make(chan error, 1)
		go func() {
			ended <- ffmpeg.Default().Tool(ctx, "chromium", []string{
				"--headless=new", "--no-sandbox", "--disable-gpu", "--allow-file-access-from-files", "--autoplay-policy=no-user-gesture-required",
				"--remote-debugging-port=0", "--user-data-dir=" + t.TempDir(), "file://" + filepath.Join(dir, "watch.html"),
			}, nil, io.Discard)
		}()
		var said []byte
		select {
		case said = <-answers:
		case err := <-ended:
			t.Errorf("Chromium gave no answer: %v", err)
		}
		stop()
		if said == nil {
			return
		}
		<-ended // it was told to stop
		var got struct {
			Films, Wide, Played, Small int
			Title, Error               string
			Lengths                    []float64
		}
		if err := json.Unmarshal(said, &got); err != nil {
			t.Fatalf("%v: %s", err, said)
		}
		t.Logf("single %v: %s", single, said)
		if got.Films != 2 || got.Played != 2 || got.Error != "" || got.Wide > 390 || got.Small > 0 || got.Title != "052 Ada" {
			t.Errorf("single %v: %s", single, said)
		}
		if fmt.Sprintf("%.0f %.0f", got.Lengths[0], got.Lengths[1]) != "1 2" {
			t.Errorf("lengths %v", got.Lengths)
		}
	}
}

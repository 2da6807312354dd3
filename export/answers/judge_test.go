package answers

import (
	"bytes"
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

	"github.com/google/go-cmp/cmp"

	"whistlecut/timeline"
	"whistlecut/timeline/footage/ffmpeg"
)

// judgeFile holds what the page handed back in a browser, a line per visit, with its
// origin in the first line.
var judgeFile = filepath.Join("testdata", "chromium.jsonl")

// visit is what one person does on the page, and what she gets.
type visit struct {
	Language string `json:"language"`
	Person   string `json:"person"`
	Group    string `json:"group"`
	// Answers are choice and letter by question.
	Answers map[string][2]string `json:"answers"`

	Code   string `json:"code"`
	File   string `json:"file"`
	Second string `json:"second"` // the code after the page was opened again: from the draft
	Wide   int    `json:"wide"`   // pixels the page takes, of 390
	Small  int    `json:"small"`  // things to touch that are under 44 pixels high
	Bare   int    `json:"bare"`   // fields without a name for screen readers
	Early  string `json:"early"`  // what is said when nothing was filled in
	Errors string `json:"errors"`
}

// visitor fills the page in a frame of a phone's size and sends home what it made. It
// goes through the page's own controls: clicks, input events, the page's buttons.
const visitor = `<!DOCTYPE html><meta charset="utf-8"><body style="margin:0">
<iframe id="phone" src="page.html" style="border:0;width:390px;height:844px"></iframe>
<script>
const asked = ASKED, phone = document.getElementById("phone");
const out = Object.assign({ errors: "" }, asked);
let visits = 0;
const say = () => fetch("HOME", { method: "POST", mode: "no-cors", body: JSON.stringify(out) });
phone.addEventListener("load", async () => {
  const w = phone.contentWindow, d = phone.contentDocument, $ = id => d.getElementById(id);
  w.addEventListener("error", e => { out.errors += e.message; });
  try {
    const tall = x => x.getBoundingClientRect().height;
    const hand = () => { d.querySelector("button[type=submit]").click(); return $("code").value; };
    if (++visits === 1) {
      hand();
      out.early = $("problem").textContent;
      const type = (x, v) => { x.value = v; x.dispatchEvent(new w.Event("input", { bubbles: true })); };
      type($("person"), asked.person);
      d.querySelector('input[name=group][value="' + asked.group + '"]').click();
      for (const [n, [choice, letter]] of Object.entries(asked.answers)) {
        d.querySelector('input[name=q' + n + '][value="' + choice + '"]').click();
        if (letter) type(d.querySelector('select[name=c' + n + ']'), letter);
      }
      out.code = hand();
      out.wide = d.documentElement.scrollWidth;
      const seen = x => x.getClientRects().length > 0;
      out.small = Array.from(d.querySelectorAll("button, .choices label, select, input[type=text]")).filter(x => seen(x) && tall(x) < 44).length;
      out.bare = Array.from(d.querySelectorAll("input, select, textarea")).filter(x => !(x.labels && x.labels.length && x.labels[0].textContent.trim())).length;
      let blob = null;
      w.URL.createObjectURL = b => { blob = b; return "#"; };
      $("save").click();
      out.file = blob ? await blob.text() : "";
      phone.src = "page.html?again"; // the draft is all that is left
      return;
    }
    out.second = hand();
  } catch (e) { out.errors += String(e); }
  say();
});
</script>`

// visits are the people who come: the form of formOf, names that are hard to write.
func visits() []visit {
	return []visit{
		{Language: "en", Person: "Ann", Group: Before, Answers: map[string][2]string{"1": {"yes", "B"}, "2": {"no", ""}, "4": {"yes", ""}}},
		{Language: "es", Person: "Ñandú", Group: After, Answers: map[string][2]string{"1": {"warning", "X"}}},
		{Language: "fr", Person: "שלום", Group: "", Answers: map[string][2]string{"4": {"no", ""}}},
		// She picks a letter first and then says no: the letter is not handed in.
		{Language: "de", Person: "🛼👩‍👩‍👧  \"the <script>\"", Group: After, Answers: map[string][2]string{"1": {"no", "C"}, "2": {"yes", ""}}},
	}
}

// expected is the sheet a visit should give, but for its time.
func (v visit) expected() Sheet {
	s := Sheet{Quiz: quizName, Person: plain(v.Person), Group: v.Group, Given: map[int]timeline.Answer{}}
	for k, a := range v.Answers {
		x := timeline.Answer{Choice: timeline.Choice(a[0]), Code: a[1]}
		if x.Choice == timeline.ChoiceNo {
			x.Code = ""
		}
		var n int
		_, _ = fmt.Sscan(k, &n) // numbers of our own
		s.Given[n] = x
	}
	return s
}

// hold reads back what a browser handed in and compares it with what was filled in.
func (v visit) hold(t *testing.T) {
	t.Helper()
	if v.Errors != "" || v.Early == "" || v.Wide > 390 || v.Small > 0 || v.Bare > 0 {
		t.Errorf("%s: errors %q, early word %q, %d pixels wide, %d things too small, %d without a label", v.Person, v.Errors, v.Early, v.Wide, v.Small, v.Bare)
	}
	want := v.expected()
	code, err := ReadCode(v.Code)
	if err != nil {
		t.Fatalf("%s: %v: %s", v.Person, err, v.Code)
	}
	file, err := Read("answers.json", []byte(v.File))
	if err != nil || len(file) != 1 {
		t.Fatalf("%s: %v: %s", v.Person, err, v.File)
	}
	if code.Made.Year() < 2026 {
		t.Errorf("%s: made at %s", v.Person, code.Made)
	}
	want.Made = code.Made
	if diff := cmp.Diff(want, code); diff != "" {
		t.Errorf("%s, by code: %s", v.Person, diff)
	}
	if diff := cmp.Diff(want, file[0]); diff != "" {
		t.Errorf("%s, by file: %s", v.Person, diff)
	}
	if ours, err := code.Code(); err != nil || ours != v.Code {
		t.Errorf("%s: the page made %s, we make %s, %v", v.Person, v.Code, ours, err)
	}
	if v.Second != v.Code {
		t.Errorf("%s: the draft gave %q, before it was %q", v.Person, v.Second, v.Code)
	}
}

// TestRecordedPage reads back what Chromium handed in when it was asked last. The page
// may have changed since: make judges asks again.
func TestRecordedPage(t *testing.T) {
	data, err := os.ReadFile(judgeFile)
	if err != nil {
		t.Fatal(err)
	}
	lines := bytes.Split(bytes.TrimSpace(data), []byte("\n"))
	if len(lines) != 1+len(visits()) {
		t.Fatalf("%d visits are recorded, want %d", len(lines)-1, len(visits()))
	}
	for i, l := range lines[1:] {
		var v visit
		if err := json.Unmarshal(l, &v); err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(visits()[i].expected(), v.expected()); diff != "" {
			t.Errorf("another visit was recorded: %s", diff)
		}
		v.hold(t)
	}
}

// TestJudgePage lets headless Chromium (Debian 12, package chromium) fill the page at
// the size of a phone and reads back what it hands in.
func TestJudgePage(t *testing.T) {
	if os.Getenv("WHISTLECUT_JUDGES") == "" {
		t.Skip("Chromium is asked by make judges")
	}
	if !ffmpeg.HasTool("chromium") {
		t.Skip("Chromium is not installed here: apt-get install chromium")
	}
	var version bytes.Buffer
	if err := ffmpeg.Default().Tool(context.Background(), "chromium", []string{"--version"}, nil, &version); err != nil {
		t.Fatal(err)
	}
	var record bytes.Buffer
	origin, err := json.Marshal(fmt.Sprintf("%s of Debian 12, headless in a frame of 390 x 844, by TestJudgePage, %s", strings.TrimSpace(version.String()), time.Now().UTC().Format(time.DateOnly)))
	if err != nil {
		t.Fatal(err)
	}
	fmt.Fprintf(&record, "%s\n", origin)
	for _, v := range visits() {
		said := visitPage(t, v)
		var got visit
		if err := json.Unmarshal(said, &got); err != nil {
			t.Fatalf("%v: %s", err, said)
		}
		got.hold(t)
		t.Logf("%s: %s", got.Person, got.Code)
		line, err := json.Marshal(got)
		if err != nil {
			t.Fatal(err)
		}
		fmt.Fprintf(&record, "%s\n", line)
	}
	if t.Failed() {
		return
	}
	if err := os.MkdirAll(filepath.Dir(judgeFile), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(judgeFile, record.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
}

// visitPage lets one visitor fill the page and gives what she sends home.
func visitPage(t *testing.T, v visit) []byte {
	t.Helper()
	dir := t.TempDir()
	var page bytes.Buffer
	if err := formOf(v.Language).WritePage(&page); err != nil {
		t.Fatal(err)
	}
	answers := make(chan []byte, 1)
	mux := http.NewServeMux()
	mux.HandleFunc("POST /home", func(_ http.ResponseWriter, r *http.Request) {
		if b, err := io.ReadAll(r.Body); err == nil && len(b) > 0 {
			answers <- b
		}
	})
	server := httptest.NewServer(mux)
	defer server.Close()
	asked, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	script := strings.NewReplacer("ASKED", string(asked), "HOME", server.URL+"/home").Replace(visitor)
	for name, data := range map[string][]byte{"page.html": page.Bytes(), "visit.html": []byte(script)} {
		if err := os.WriteFile(filepath.Join(dir, name), data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	ctx, stop := context.WithTimeout(context.Background(), time.Minute)
	ended := make(chan error, 1)
	go func() {
		ended <- ffmpeg.Default().Tool(ctx, "chromium", []string{
			"--headless=new", "--no-sandbox", "--disable-gpu", "--allow-file-access-from-files",
			"--remote-debugging-port=0", "--user-data-dir=" + t.TempDir(), "file://" + filepath.Join(dir, "visit.html"),
		}, nil, io.Discard)
	}()
	var said []byte
	select {
	case said = <-answers:
	case err := <-ended:
		stop()
		t.Fatalf("Chromium gave no answer: %v", err)
	}
	stop()
	<-ended // it was told to stop
	return said
}

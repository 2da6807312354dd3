package answers

import (
	"strings"
	"testing"
	"time"
	"unicode"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"whistlecut/timeline"
)

var small = Sheet{
	Quiz: quizName, Person: "Ann", Group: Before, Made: time.Date(2026, 11, 27, 9, 30, 0, 0, time.UTC),
	Given: map[int]timeline.Answer{1: {Choice: timeline.ChoiceYes, Code: "B"}, 2: {Choice: timeline.ChoiceNo}, 4: {Choice: timeline.ChoiceWarning, Code: "X2"}},
}

// The code of a sheet never changes, or codes on their way would be lost.
func TestCodeStays(t *testing.T) {
	code, err := small.Code()
	if err != nil {
		t.Fatal(err)
	}
	const want = "WCA1-0W18-DJRF-AEBW-6FTV-4R04-1M2V-KE00-2450-00ZW-15GC-MQMP-7SP"
	if code != want {
		t.Errorf("the code is %s, it was %s", code, want)
	}
	got, err := ReadCode(want)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(small, got); diff != "" {
		t.Error(diff)
	}
}

func TestCodeRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawSheet(t)
		code, err := s.Code()
		if err != nil {
			if strings.Contains(err.Error(), "too long") {
				return
			}
			t.Fatal(err)
		}
		got, err := ReadCode("hi, here it is:\n> " + strings.ToLower(strings.ReplaceAll(code, "-", rapid.SampledFrom([]string{"-", " ", "", "‑", "\n> ", "—"}).Draw(t, "between"))) + " thanks!")
		if err != nil {
			t.Fatalf("%v: %s", err, code)
		}
		if diff := cmp.Diff(s, got); diff != "" {
			t.Fatal(diff)
		}
	})
}

// A wrong, a lost or a doubled symbol and two swapped ones are noticed, never read as
// other answers; for wrong and swapped ones the group is named.
func TestTyposAreNoticed(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		code, err := drawSheet(t).Code()
		if err != nil {
			return
		}
		body := []byte(strings.ReplaceAll(strings.TrimPrefix(code, codeMark), "-", ""))
		at := rapid.IntRange(2, len(body)-2).Draw(t, "at")
		was := string(body)
		kind := rapid.SampledFrom([]string{"wrong", "swapped", "lost", "doubled"}).Draw(t, "kind")
		switch kind {
		case "wrong":
			body[at] = symbols[rapid.IntRange(0, 31).Draw(t, "symbol")]
		case "swapped":
			body[at], body[at+1] = body[at+1], body[at]
		case "lost":
			body = append(body[:at:at], body[at+1:]...)
		case "doubled":
			body = append(body[:at+1:at+1], body[at:]...)
		}
		if string(body) == was || strings.HasPrefix(string(body), was) {
			return
		}
		got, err := ReadCode(codeMark + string(body))
		if err == nil {
			t.Fatalf("%s: %s was read as %+v", kind, body, got)
		}
		if (kind == "wrong" || kind == "swapped") && !strings.Contains(err.Error(), "group") {
			t.Fatalf("%s at %d: %v", kind, at, err)
		}
	})
}

func TestReadCodeSays(t *testing.T) {
	code, err := small.Code()
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ name, text, want string }{
		{"nothing", "hello", "no code"},
		{"only the mark", "WCA1", "cut off"},
		{"cut off", code[:30], "ask for the whole code"},
		{"a letter no code has", strings.Replace(code, "DJRF", "DJUF", 1), "'U' in group 2"},
		{"a wrong letter", strings.Replace(code, "6FTV", "6FTW", 1), "likely in group 4 (6FTW)"},
		{"the length is wrong", "WCA1-00" + code[7:], "group 1"},
		{"two codes", code + " " + code, "several codes"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if _, err := ReadCode(c.text); err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("%v, want %q", err, c.want)
			}
		})
	}
	long := small
	long.Given = map[int]timeline.Answer{}
	for n := range mostQuestions {
		long.Given[n+1] = timeline.Answer{Choice: timeline.ChoiceYes, Code: "AB12"}
	}
	if _, err := long.Code(); err == nil || !strings.Contains(err.Error(), "hand over the file") {
		t.Errorf("a code without end: %v", err)
	}
}

func TestHostileNames(t *testing.T) {
	for _, name := range hostile {
		s := small
		s.Person = plain(name)
		code, err := s.Code()
		if err != nil {
			t.Fatalf("%q: %v", name, err)
		}
		for _, r := range code {
			if r > unicode.MaxASCII {
				t.Fatalf("%q: the code holds %q", name, r)
			}
		}
		got, err := ReadCode(code)
		if err != nil || got.Person != s.Person {
			t.Errorf("%q came back as %q, %v", name, got.Person, err)
		}
	}
	for in, want := range map[string]string{" a \t b\n": "a b", "a\u202eb": "ab", "a\x00b": "ab", "\ufeffa": "a", "👩‍👧": "👩‍👧", "x\xff": "x"} {
		if got := plain(in); got != want {
			t.Errorf("plain(%q) is %q, want %q", in, got, want)
		}
	}
}

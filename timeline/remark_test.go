package timeline

import (
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestRemarks(t *testing.T) {
	who := SkaterRef{Side: Home, Number: "052"}
	log := NewLog("ada", "s")
	if _, _, err := log.Apply("words", SetRemark(who, BySkater, "I saw it late."), SetRemark(who, ByCoach, "Look left.")); err != nil {
		t.Fatal(err)
	}
	f := log.Facts()
	if a, b := f.Remark(who, BySkater), f.Remark(who, ByCoach); a != "I saw it late." || b != "Look left." {
		t.Errorf("read back %q and %q", a, b)
	}
	again := NewLog("ada", "s")
	if _, _, err := again.Apply("taken in", FactsChanges(f)...); err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(f.Remarks, again.Facts().Remarks); d != "" || len(f.RemarksInOrder()) != 2 {
		t.Errorf("given and taken:\n%s", d)
	}
	if _, _, err := log.Apply("nothing", SetRemark(who, BySkater, "")); err != nil || len(log.Facts().Remarks) != 1 {
		t.Errorf("no words leave a record: %v %v", log.Facts().Remarks, err)
	}
	for _, c := range []struct {
		name string
		r    Remark
		want string
	}{
		{"hers", Remark{RemarkID(who, BySkater), who, BySkater, "I saw it late."}, ""},
		{"nobody's", Remark{"x", who, "", "text"}, `by: "" wrote nothing that is known here; want skater or coach`},
		{"text that is none", Remark{"x", who, ByCoach, "\xff"}, "text: it is not valid UTF-8 text"},
	} {
		err := CheckRemark(c.r)
		if got := errText(err); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
	if RemarkID(who, BySkater) == RemarkID(who, ByCoach) {
		t.Error("her words and the coach's are one record")
	}
}

func errText(err error) string {
	if err == nil {
		return ""
	}
	return err.Error()
}

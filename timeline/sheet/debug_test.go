package sheet

import (
	"fmt"
	"os"
	"testing"

	"whistlecut/timeline"
)

func dump(s Sheet, m Mapping, ps []Problem) {
	for _, b := range m.Blocks {
		fmt.Printf("block %s#%d %s side=%s period=%d label=%q head=%d rows %d-%d cert=%.2f %s T=%v\n", b.Table, b.Index, b.Kind, b.Side, b.Period, b.Label, b.Head, b.First, b.Last, b.Certainty, b.Reason, b.Transposed)
		for _, c := range b.Columns {
			fmt.Printf("   %d %q -> %s %d (%.2f %s)\n", c.Index, c.Heading, c.Field, c.N, c.Certainty, c.Reason)
		}
	}
	fmt.Println("names", m.Names, "teams", s.Teams[0].Name.Value, s.Teams[1].Name.Value, len(s.Teams[0].Roster), len(s.Teams[1].Roster))
	show := func(c timeline.Cell[bool], l string) string {
		switch {
		case c.State == timeline.CellAbsent:
			return "_"
		case c.State == timeline.CellUnread:
			return "?"
		case c.Value:
			return l
		}
		return "."
	}
	for _, r := range s.Rows {
		fmt.Printf("P%d J%d %s sp=%v spacer=%v #%s %s%s%s%s%s", r.Period, r.Jam, r.Side, r.StarPass, r.Spacer, r.Jammer.Value, show(r.Lost, "L"), show(r.Lead, "D"), show(r.Call, "C"), show(r.Inj, "I"), show(r.NI, "N"))
		for _, t := range r.Trips {
			if t.State == timeline.CellKnown {
				fmt.Printf(" %d", t.Value)
			} else {
				fmt.Printf(" _")
			}
		}
		fmt.Printf(" = %v/%d  game %v/%d\n", r.JamTotal.State, r.JamTotal.Value, r.GameTotal.State, r.GameTotal.Value)
	}
	for _, p := range s.Penalties {
		fmt.Printf("pen %s %s %s P%d J%d\n", p.Side, p.Skater.Value, p.Code.Value, p.Period.Value, p.Jam.Value)
	}
	for _, p := range s.Outs {
		fmt.Printf("out %s %s %s P%d J%d\n", p.Side, p.Skater.Value, p.Kind.Value, p.Period.Value, p.Jam.Value)
	}
	for _, l := range s.Lineups {
		fmt.Printf("lu P%d J%d %s sp=%v np=%v J %v P %v B %v\n", l.Period, l.Jam, l.Side, l.StarPass, l.NoPivot.Value, slotText(l.Jammer), slotText(l.Pivot), func() (o []string) {
			for _, b := range l.Blockers {
				o = append(o, slotText(b))
			}
			return
		}())
	}
	for _, c := range s.Clock {
		fmt.Println("clock", c.Period, c.Jam, c.Duration.Value, c.Start.Value, c.End.Value)
	}
	for _, c := range s.Timeouts {
		fmt.Println("timeout", c.Period.Value, c.AfterJam.Value, c.Side, c.Kind.Value, c.Clock.Value, c.Retained.Value)
	}
	for _, c := range s.Box {
		fmt.Println("box", c.Side, c.Period.Value, c.Jam.Value, c.Skater.Value, c.Role.Value, c.In.Value, c.Stand.Value, c.Done.Value)
	}
	fmt.Println("totals", s.Totals, "kept", len(s.Kept))
	for _, p := range ps {
		fmt.Println("problem", p)
	}
}

func slotText(s Slot) string {
	t := string(s.Skater.Value)
	for _, b := range s.Box {
		t += string(b.Value)
	}
	return t
}

func TestDump(t *testing.T) {
	name := os.Getenv("SHEET")
	if name == "" {
		t.Skip("set SHEET to a file to see how it is read")
	}
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	b, err := ReadGrid(name, data)
	if err != nil {
		t.Fatal(err)
	}
	m := Recognise(b)
	s, ps := Read(b, m)
	fmt.Println(b.Format, b.Encoding, b.Comma, b.Notes, "certainty", m.Certainty)
	dump(s, m, ps)
}

package main

import (
	"slices"
	"strconv"
	"strings"

	"github.com/alecthomas/kong"

	"whistlecut/app"
	"whistlecut/app/collection"
	"whistlecut/timeline"
)

// selectFlags pick moments of a bout; find and cut share them.
type selectFlags struct {
	Skater    []string `help:"A skater, as \"home 052\" or \"away 17\"; repeat for several." placeholder:"SIDE NUMBER"`
	Side      string   `enum:"home,away," default:"" help:"home or away." placeholder:"SIDE"`
	Role      []string `help:"jammer, pivot or blocker." placeholder:"ROLE"`
	Kind      []string `help:"Kind of tag: ${kinds}." placeholder:"KIND"`
	Situation []string `help:"Situation: ${situations}." placeholder:"SITUATION"`
	Code      []string `help:"A penalty's letter, as the bout's edition of the rules has it." placeholder:"LETTER"`
	Jam       []string `help:"A jam, as 1.7 (period 1, jam 7)." placeholder:"P.J"`
	Period    []int    `help:"A period, as 1." placeholder:"P"`
	Score     string   `help:"Score state, as \"home leading\", \"away trailing 10\" (by at least 10) or \"tied\"." placeholder:"STATE"`
	Camera    []string `help:"Only what this camera shows." placeholder:"NAME"`
	OnFilm    bool     `help:"Only what some film shows."`
	ShortBy   int      `help:"Short-handed by at least so many." placeholder:"N"`
	Words     string   `help:"Only tags whose note contains these words." placeholder:"TEXT"`
}

// helpWords are the words that help texts list, from where they are defined.
var helpWords = kong.Vars{"kinds": join(timeline.Kinds()), "situations": join(timeline.SituationKinds()), "asks": join(timeline.Questions()), "facets": join(collection.Facets())}

// any reports whether something was asked for.
func (f selectFlags) any() bool {
	return len(f.Skater)+len(f.Role)+len(f.Kind)+len(f.Situation)+len(f.Code)+len(f.Jam)+len(f.Period)+len(f.Camera) > 0 ||
		f.Side != "" || f.Score != "" || f.Words != "" || f.ShortBy > 0
}

// selection makes the selection the flags ask for in a bout.
func (f selectFlags) selection(s *app.Session) (timeline.Selection, error) {
	sel := timeline.Selection{
		Codes: f.Code, Periods: f.Period, Cameras: f.Camera, OnFilm: f.OnFilm, ShortBy: f.ShortBy, Words: f.Words,
	}
	if err := sel.Side.UnmarshalText([]byte(f.Side)); err != nil {
		return sel, usage("%w", err)
	}
	for _, k := range f.Kind {
		kind := timeline.Kind(k)
		if !slices.Contains(timeline.Kinds(), kind) {
			return sel, usage("there is no kind of tag called %q; known are %s", k, join(timeline.Kinds()))
		}
		sel.Kinds = append(sel.Kinds, kind)
	}
	for _, x := range f.Situation {
		kind := timeline.SituationKind(x)
		if !slices.Contains(timeline.SituationKinds(), kind) {
			return sel, usage("there is no situation called %q; known are %s", x, join(timeline.SituationKinds()))
		}
		sel.Situations = append(sel.Situations, kind)
	}
	for _, x := range f.Role {
		var r timeline.Role
		if err := r.UnmarshalText([]byte(x)); err != nil {
			return sel, usage("there is no role called %q; known are jammer, pivot and blocker", x)
		}
		sel.Roles = append(sel.Roles, r)
	}
	for _, x := range f.Skater {
		ref, err := parseSkater(x)
		if err != nil {
			return sel, err
		}
		sel.Skaters = append(sel.Skaters, ref)
	}
	for _, x := range f.Jam {
		id, err := jamByName(s, x)
		if err != nil {
			return sel, err
		}
		sel.Jams = append(sel.Jams, id)
	}
	if f.Score != "" {
		state, err := parseScoreState(f.Score)
		if err != nil {
			return sel, err
		}
		sel.Score = &state
	}
	return sel, nil
}

func join[T ~string](list []T) string {
	out := make([]string, len(list))
	for i, x := range list {
		out[i] = string(x)
	}
	return strings.Join(out, ", ")
}

func parseSkater(text string) (timeline.SkaterRef, error) {
	side, number, ok := strings.Cut(strings.TrimSpace(text), " ")
	var ref timeline.SkaterRef
	if !ok || ref.Side.UnmarshalText([]byte(strings.ToLower(side))) != nil || ref.Side == timeline.NoSide || strings.TrimSpace(number) == "" {
		return ref, usage("%q is not a skater; write the side and the number, as \"home 052\"", text)
	}
	ref.Number = timeline.Number(strings.TrimSpace(number))
	return ref, nil
}

// jamByName finds jam "1.7".
func jamByName(s *app.Session, name string) (timeline.ID, error) {
	p, j, ok := strings.Cut(name, ".")
	period, err1 := strconv.Atoi(p)
	number, err2 := strconv.Atoi(j)
	if !ok || err1 != nil || err2 != nil {
		return "", usage("%q is not a jam; write period and jam, as 1.7", name)
	}
	for _, x := range s.Bout.Jams {
		if x.Period == period && x.Number == number {
			return x.ID, nil
		}
	}
	return "", usage("the bout has no jam %d in period %d", number, period)
}

func parseScoreState(text string) (timeline.ScoreState, error) {
	var st timeline.ScoreState
	for _, w := range strings.Fields(strings.ToLower(text)) {
		switch w {
		case "home", "away":
			_ = st.Side.UnmarshalText([]byte(w)) // one of the two words it knows
		case string(timeline.Leading), string(timeline.Trailing), string(timeline.Tied):
			st.State = timeline.Standing(w)
		case "by":
		default:
			n, err := strconv.Atoi(w)
			if err != nil || n < 0 {
				return st, usage("%q is not a score state; write \"home leading\", \"away trailing 10\" or \"tied\"", text)
			}
			st.ByMin = n
		}
	}
	if st.Side == timeline.NoSide {
		if st.State != timeline.Tied {
			return st, usage("the score state %q does not say which side; write \"home %s\"", text, text)
		}
		st.Side = timeline.Home
	}
	return st, nil
}

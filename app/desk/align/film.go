package align

import (
	"path/filepath"
	"slices"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"

	"whistlecut/app/desk/form"
	"whistlecut/app/desk/look"
	"whistlecut/app/desk/terms"
	"whistlecut/app/desk/words"
	"whistlecut/timeline"
)

// film is the section of footage files by camera.
type film struct {
	t      *Task
	list   *look.Rows
	rows   []filmRow
	detail *widget.Label
	page   *either
	sheet  string // dropped with the film, to be read after it
}

// filmRow is a camera's heading, or one of its files.
type filmRow struct {
	camera  string
	files   int // of a heading
	file    timeline.Footage
	missing bool
}

func (r filmRow) isFile() bool { return r.file.ID != "" }

func (f *film) title() string { return words.T("Film") }

func (f *film) status() (string, look.Shape) {
	s := f.t.desk.Session()
	if s == nil || len(s.Facts.Footage) == 0 {
		return words.T("none yet"), look.NoShape
	}
	total, missing := time.Duration(0), 0
	for _, x := range s.Facts.Footage {
		total += x.Duration
		if _, err := s.Film(x.ID); err != nil {
			missing++
		}
	}
	if missing > 0 {
		return words.N(missing, "{.n} file missing", "{.n} files missing"), look.Triangle
	}
	return words.N(len(s.Facts.Footage), "{.n} file, {.length}", "{.n} files, {.length}", "length", terms.Clock(total, 1)), look.Tick
}

func (f *film) content() fyne.CanvasObject {
	f.list = look.NewRows([]look.Column{{Width: 13}, {}, {Width: 62, Right: true}, {Width: 62, Right: true}},
		func() int { return len(f.rows) }, f.cells)
	f.list.Chosen = func(int) { f.tell() }
	f.list.Opened = func(int) { f.do(doEnter) }
	f.detail = note()
	head := newHeadings([]look.Column{{Width: 13}, {}, {Width: 62, Right: true}, {Width: 62, Right: true}},
		"", words.T("Camera and file"), words.T("Length"), words.T("Sound"))
	buttons := newFlow(
		f.t.button(words.T("Add"), "A", doAdd), f.t.button(words.T("Remove"), words.T("Del"), doRemove),
		f.t.button(words.T("Earlier"), "⇧↑", doBefore), f.t.button(words.T("Later"), "⇧↓", doAfter),
		f.t.button(words.T("Sound earlier"), ",", doLess), f.t.button(words.T("Sound later"), ".", doMore),
		f.t.button(words.T("Bout begins here"), "I", doFrom), f.t.button(words.T("Bout ends here"), "O", doTo),
	)
	whole := form.Column(f.list, head, f.list, f.detail, buttons)
	empty := look.Empty(words.T("No film yet"),
		words.T("Add the files of each camera, or drop them on the window. They stay where they are; nothing is copied. A sheet without film can be worked on, too."),
		f.t.button(words.T("Add film"), "A", doAdd).Strong())
	f.page = newEither(empty, whole)
	return f.page.box
}

func (f *film) shown() {}

func (f *film) refresh() {
	f.load()
	if f.page == nil {
		return
	}
	f.page.show(len(f.rows) == 0)
	at := f.list.Index()
	if at < 0 || at >= len(f.rows) || !f.rows[at].isFile() {
		at = slices.IndexFunc(f.rows, filmRow.isFile)
	}
	f.list.Mark(at)
	f.tell()
}

// load lists cameras and files in their order.
func (f *film) load() {
	f.rows = nil
	s := f.t.desk.Session()
	if s == nil {
		return
	}
	all := s.Facts.FootageInOrder()
	for i, x := range all {
		if i == 0 || all[i-1].Camera != x.Camera {
			f.rows = append(f.rows, filmRow{camera: x.Camera})
		}
		_, err := s.Film(x.ID)
		f.rows = append(f.rows, filmRow{camera: x.Camera, file: x, missing: err != nil})
	}
	for i := range f.rows {
		if f.rows[i].isFile() {
			continue
		}
		for _, r := range f.rows {
			if r.isFile() && r.camera == f.rows[i].camera {
				f.rows[i].files++
			}
		}
	}
}

func (f *film) cells(i int) []look.Cell {
	r := f.rows[i]
	if !r.isFile() {
		return []look.Cell{{}, {Text: words.T("Camera {.name}", "name", r.camera), Bold: true}, {}, {Text: words.N(r.files, "{.n} file", "{.n} files"), Colour: look.Now.Quiet}}
	}
	shape := look.Cell{}
	if r.missing {
		shape.Shape = look.Triangle
	}
	sound := look.Cell{Mono: true, Colour: look.Now.Quiet}
	if r.file.SoundOffset != 0 {
		sound.Text = signed(r.file.SoundOffset)
	}
	return []look.Cell{shape, {Text: filepath.Base(r.file.Path)}, {Text: terms.Clock(r.file.Duration, 1), Mono: true}, sound}
}

// tell says more of the chosen file.
func (f *film) tell() {
	defer f.page.relay()
	r, ok := f.chosen()
	switch {
	case !ok:
		f.detail.SetText(words.T("Choose a file to move it or to set its sound and range."))
	case r.missing:
		f.detail.SetText(words.T("{.path} is missing. Put it back, or add it from where it lies now: its marks and tags find it again.", "path", r.file.Path))
	case r.file.Range != timeline.TimeRange{}:
		f.detail.SetText(words.T("The bout is {.from} to {.to} of this file.", "from", terms.Clock(r.file.Range.Start, 1), "to", terms.Clock(r.file.Range.End, 1)))
	default:
		f.detail.SetText(words.T("The whole file belongs to the bout. Sound earlier or later if it is out of step with the picture."))
	}
}

func (f *film) chosen() (filmRow, bool) {
	if f.list == nil {
		return filmRow{}, false
	}
	if i := f.list.Index(); i >= 0 && i < len(f.rows) && f.rows[i].isFile() {
		return f.rows[i], true
	}
	return filmRow{}, false
}

func (f *film) do(verb string) bool {
	r, ok := f.chosen()
	switch verb {
	case doUp, doDown:
		f.advance(verb == doDown)
	case doAdd:
		f.ask(nil)
	case doEnter:
		if ok && !r.missing {
			f.t.desk.GoFilm(r.file.ID, r.file.Range.Start)
		} else {
			f.ask(nil)
		}
	case doRemove:
		if ok {
			f.remove(r.file)
		}
	case doBefore, doAfter:
		if ok {
			f.move(r.file, verb == doAfter)
		}
	case doLess, doMore, doMuchLess, doMuchMore:
		if ok {
			step := map[string]time.Duration{doLess: -10, doMore: 10, doMuchLess: -100, doMuchMore: 100}[verb] * time.Millisecond
			r.file.SoundOffset += step
			f.t.desk.Apply(words.T("sound of {.file} by {.time}", "file", filepath.Base(r.file.Path), "time", signed(r.file.SoundOffset)), timeline.SetFootage(r.file))
		}
	case doFrom, doTo:
		f.bound(verb == doTo)
	default:
		return false
	}
	return true
}

// advance moves among the files, over the headings.
func (f *film) advance(down bool) {
	step := -1
	if down {
		step = 1
	}
	for i := f.list.Index() + step; i >= 0 && i < len(f.rows); i += step {
		if f.rows[i].isFile() {
			f.list.Choose(i)
			return
		}
	}
}

// mark shows a file as chosen.
func (f *film) mark(id timeline.ID) {
	if i := slices.IndexFunc(f.rows, func(r filmRow) bool { return r.file.ID == id }); i >= 0 && f.list != nil {
		f.list.Mark(i)
		f.tell()
	}
}

// remove takes a file out of the bout with the marks on it; tags stay.
func (f *film) remove(x timeline.Footage) {
	s := f.t.desk.Session()
	changes := []timeline.Change{timeline.DeleteFootage(x.ID)}
	for id, m := range s.Facts.Marks {
		if m.Footage == x.ID {
			changes = append(changes, timeline.DeleteMark(id))
		}
	}
	f.t.desk.Apply(words.T("film {.file} taken out", "file", filepath.Base(x.Path)), changes...)
}

// move exchanges a file with its neighbour. Whether a recording goes on without a
// gap is no longer known of files whose neighbour before them is another.
func (f *film) move(x timeline.Footage, later bool) {
	var all []timeline.Footage
	for _, r := range f.rows {
		if r.isFile() && r.camera == x.Camera {
			all = append(all, r.file)
		}
	}
	i := slices.IndexFunc(all, func(o timeline.Footage) bool { return o.ID == x.ID })
	j := i - 1
	if later {
		j = i + 1
	}
	if i < 0 || j < 0 || j >= len(all) {
		return
	}
	before := slices.Clone(all)
	all[i], all[j] = all[j], all[i]
	var changes []timeline.Change
	for k := range all {
		all[k].Order = float64(k + 1)
		if before[k].ID != all[k].ID || k > 0 && before[k-1].ID != all[k-1].ID {
			all[k].Joined = false
		}
		changes = append(changes, timeline.SetFootage(all[k]))
	}
	if f.t.desk.Apply(words.T("order of the films of camera {.name}", "name", x.Camera), changes...) {
		f.mark(x.ID)
	}
}

// bound sets where the bout begins or ends in the file that is shown.
func (f *film) bound(end bool) {
	s, ok := f.t.session()
	if !ok {
		return
	}
	n := f.t.at()
	x, ok := s.Facts.Footage[n.Footage]
	if !ok {
		f.t.desk.Say(words.T("Show the film at the place where the bout begins or ends, then press the key again."))
		return
	}
	if x.Range == (timeline.TimeRange{}) {
		x.Range.End = x.Duration
	}
	if end {
		x.Range.End = n.Film
	} else {
		x.Range.Start = n.Film
	}
	if x.Range.End <= x.Range.Start {
		f.t.desk.Say(words.T("The bout would end before it begins; set the other end first."))
		return
	}
	if x.Range.Start == 0 && x.Range.End >= x.Duration {
		x.Range = timeline.TimeRange{}
	}
	if f.t.desk.Apply(words.T("range of {.file}", "file", filepath.Base(x.Path)), timeline.SetFootage(x)) {
		f.mark(x.ID)
	}
}

// Package desk is the window: the tasks along the top, the screen and the task's
// panel in the middle, the strip below. It shows and calls; what is done to a
// bout is in package app and what is played in app/play.
//
// Everything here runs on the window's goroutine, but for work.go's long work,
// the check of the sheet and the player's own; they come back through fyne.Do.
package desk

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"sync"
	"sync/atomic"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"

	_ "a.whistlecut/locale" // before Fyne looks at the environment

	"whistlecut/app"
	"whistlecut/app/desk/align"
	"whistlecut/app/desk/keys"
	"whistlecut/app/desk/look"
	"whistlecut/app/desk/newbout"
	"whistlecut/app/desk/reel"
	"whistlecut/app/desk/screen"
	"whistlecut/app/desk/strip"
	"whistlecut/app/desk/task"
	"whistlecut/app/desk/words"
	"whistlecut/app/play"
	"whistlecut/app/settings"
	"whistlecut/timeline"
	"whistlecut/timeline/sheet"
)

// AppID names the program to the window system.
const AppID = "org.whistlecut.desk"

// Desk is the one window with an open bout, or none.
type Desk struct {
	fyne    fyne.App
	win     fyne.Window
	app     *app.App
	set     *settings.Settings
	session *app.Session

	book   *keys.Book
	legend *keys.Legend

	tasks   []task.Task
	links   links
	aligner *align.Task
	reeler  *reel.Task
	stage   stage
	flow    *newbout.Flow
	shown   string
	panels  map[string]fyne.CanvasObject

	player     *play.Player
	second     *play.Player
	camera     string // whose film is on the screen
	other      string // second camera beside it, "" for none
	screen     *screen.Screen
	screen2    *screen.Screen
	strip      *strip.Strip
	latest     atomic.Pointer[play.Shown]
	pending    atomic.Bool
	showing    atomic.Pointer[screen.Screen] // the screen, for the player's goroutine
	stripAsked atomic.Int64
	playing    []play.Film
	lastNote   string
	lastMoved  time.Time
	lastStep   time.Time   // when the second camera was put in step
	gone       atomic.Bool // the window is closed
	fresh      bool        // a key went down and was not typed yet
	loop       bool
	full       bool

	bar    *bar
	pages  []*page
	line   *status
	middle *middle
	stack  *fyne.Container // the desk, or the first page when no bout is open

	report *sheet.Report
	paper  *sheet.Sheet
	heard  map[timeline.ID]app.Listened
	check  checker
	work   *running
	proxy  proxies

	life   context.Context // ends when the bout is closed
	end    context.CancelFunc
	behind sync.WaitGroup // background goroutines of the open bout
}

// Options say what the desk opens on.
type Options struct {
	Bout string // a bout file, "" for the first page
	Tour bool   // show the tour even if it was seen
	// Settings is the settings file; "" is the usual one.
	Settings string
}

// Run opens the window and returns when it is closed.
func Run(a *app.App, o Options) error {
	path := o.Settings
	if path == "" {
		var err error
		if path, err = settings.Path(); err != nil {
			return err
		}
	}
	set, setErr := settings.Load(path)
	if os.Getenv("LANG") == "" {
		os.Setenv("LANG", "C.UTF-8") // else Fyne complains at each start
	}
	d := New(newFyne(), a, set, true)
	d.win.Resize(fyne.NewSize(1280, 720))
	d.win.SetMaster()
	d.win.SetCloseIntercept(d.Quit)
	d.fyne.Lifecycle().SetOnStarted(func() {
		d.Fail(setErr)
		if o.Bout != "" {
			d.Open(o.Bout)
		}
		if d.session != nil && (o.Tour || !set.TourSeen) {
			d.showTour()
		}
	})
	d.tellReady(os.Getenv(EnvReady))
	d.win.ShowAndRun()
	d.gone.Store(true)
	d.showing.Store(nil)
	err := d.release() // a signal ends the window without Quit
	d.player.Close()
	return err
}

// New makes the window without showing it. Without sound the film goes by the wall
// clock.
func New(f fyne.App, a *app.App, set *settings.Settings, sound bool) *Desk {
	// Before the player looks for a sound device: C libraries read the environment
	// without a lock.
	words.Set(set.Language)
	speakFyne(words.Code())
	d := &Desk{fyne: f, app: a, set: set, shown: task.Log, heard: map[timeline.ID]app.Listened{}}
	d.win = f.NewWindow("Whistlecut")
	d.win.SetPadded(false)
	d.win.SetOnDropped(d.dropped)
	d.life, d.end = context.WithCancel(context.Background())
	cache, err := os.UserCacheDir()
	if err != nil {
		cache = os.TempDir()
	}
	d.player = play.New(play.Options{
		Runner: a.Runner, Sound: sound, OnShown: d.showFrame,
		CacheDir: filepath.Join(cache, "whistlecut", "screen"), CacheBytes: set.ProxyLimit(),
	})
	d.player.SetVolume(set.SoundVolume())
	d.build()
	return d
}

// build makes everything the window shows, in the language, theme and size that
// the settings say. It is called again when they change.
func (d *Desk) build() {
	words.Set(d.set.Language)
	speakFyne(words.Code())
	d.dress()
	d.legend = keys.NewLegend(d.set.Keyboard)
	d.book = keys.NewBook(d.set.Keys)
	d.panels = map[string]fyne.CanvasObject{}
	d.screen, d.screen2 = screen.New(), screen.New()
	d.showing.Store(d.screen)
	d.screen.OnSize = d.player.SetSize
	d.screen.OnTap = func() {
		if d.session != nil {
			d.toggle()
		}
	}
	d.screen.Words, d.screen2.Words = stateWords, stateWords
	d.screen2.OnSize = func(w, h int) {
		if d.second != nil {
			d.second.SetSize(w, h)
		}
	}
	d.strip = d.newStrip()
	d.tasks = d.newTasks()
	d.newPages()
	d.book.Add(d.commands()...)
	for _, t := range d.all() {
		d.book.Add(t.Actions()...)
	}
	d.line = newStatus(d)
	d.bar = newBar(d)
	d.middle = newMiddle(d)
	d.stack = container.NewStack()
	ground := canvas.NewRectangle(look.Now.Ground)
	d.win.SetContent(container.NewStack(ground, d.stack))
	d.listen()
	d.arrange()
	if d.session != nil {
		d.Changed()
		d.loadFilm()
	}
	if s := d.latest.Load(); s != nil {
		d.screen.SetShown(*s)
	}
}

// dress puts theme, colours and headings in place.
func (d *Desk) dress() {
	p := look.DarkPalette
	if d.set.Theme == "light" {
		p = look.LightPalette
	}
	if d.session != nil && !d.set.SafeColours {
		p = p.WithTeams(d.session.Facts.Teams[0].Colour, d.session.Facts.Teams[1].Colour)
	}
	d.fyne.Settings().SetTheme(look.Use(p, d.set.TextScale()))
	look.Headings.Jam, look.Headings.Jammer = words.T("Jam"), words.T("Jammer")
	look.Headings.Lost, look.Headings.Lead = words.T("Lost"), words.T("Lead")
	look.Headings.Call, look.Headings.Inj = words.T("Call"), words.T("Inj")
	look.Headings.NI, look.Headings.Game = words.T("NI"), words.T("Game")
}

// arrange puts the desk, the first page or the full screen into the window.
func (d *Desk) arrange() {
	switch {
	case d.session == nil:
		d.stack.Objects = []fyne.CanvasObject{d.firstPage()}
	case d.full:
		d.stack.Objects = []fyne.CanvasObject{d.middle.screens()}
	default:
		d.stack.Objects = []fyne.CanvasObject{container.New(&frame{d}, d.bar.view, d.middle.view(), d.line.view, d.strip)}
	}
	d.stack.Refresh()
	d.title()
}

func (d *Desk) title() {
	t := "Whistlecut"
	if d.session != nil {
		t = fmt.Sprintf("%s – Whistlecut", d.boutTitle())
	}
	d.win.SetTitle(t)
}

// boutTitle names the open bout: its title, its teams, or its file.
func (d *Desk) boutTitle() string {
	f := d.session.Facts
	switch {
	case f.Info.Title != "":
		return f.Info.Title
	case f.Teams[0].Name != "" && f.Teams[1].Name != "":
		return f.Teams[0].Name + " – " + f.Teams[1].Name
	}
	return filepath.Base(d.session.Path)
}

// Quit closes the bout and the window.
func (d *Desk) Quit() {
	if d.work != nil {
		d.askCancelWork(d.Quit)
		return
	}
	d.closeBout()
	d.win.Close()
}

// The rest of task.Desk that is one line each.

func (d *Desk) App() *app.App                { return d.app }
func (d *Desk) Session() *app.Session        { return d.session }
func (d *Desk) Settings() *settings.Settings { return d.set }
func (d *Desk) Window() fyne.Window          { return d.win }
func (d *Desk) Report() *sheet.Report        { return d.report }
func (d *Desk) Sheet() *sheet.Sheet          { return d.paper }
func (d *Desk) Book() *keys.Book             { return d.book }
func (d *Desk) Legend() *keys.Legend         { return d.legend }

// Heard is what was heard in a file.
func (d *Desk) Heard(f timeline.ID) (app.Listened, bool) {
	l, ok := d.heard[f]
	return l, ok
}

var _ task.Desk = (*Desk)(nil)

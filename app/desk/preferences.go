package desk

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"

	"whistlecut/app"
	"whistlecut/app/desk/look"
	"whistlecut/app/desk/words"
)

// showPreferences shows what one person prefers on this machine. Each choice
// holds at once.
func (d *Desk) showPreferences() {
	var pg *page
	// redo builds the window anew for what changes its whole look.
	redo := func() {
		d.keep()
		pg.close()
		d.build()
		if d.session != nil {
			d.Show(d.shown)
		}
		d.showPreferences()
	}
	names := []string{words.T("as the system")}
	codes := []string{""}
	for _, l := range words.Languages {
		names, codes = append(names, l.Name), append(codes, l.Code)
	}
	language := choice(names, codes, d.set.Language, func(c string) { d.set.Language = c; redo() })
	theme := choice([]string{words.T("dark"), words.T("light")}, []string{"", "light"}, d.set.Theme, func(c string) { d.set.Theme = c; redo() })
	sizes, values := []string{}, []string{}
	for _, s := range []float64{0.9, 1, 1.15, 1.3, 1.5, 1.75} {
		sizes, values = append(sizes, fmt.Sprintf("%.0f %%", s*100)), append(values, strconv.FormatFloat(s, 'g', -1, 64))
	}
	scale := choice(sizes, values, strconv.FormatFloat(d.set.TextScale(), 'g', -1, 64), func(c string) {
		d.set.Scale, _ = strconv.ParseFloat(c, 64)
		redo()
	})
	safe := look.NewCheck(words.T("colours that every eye can tell apart instead of the teams' own"), nil)
	safe.SetChecked(d.set.SafeColours)
	safe.OnChanged = func(on bool) { d.set.SafeColours = on; redo() }
	keyboard := choice([]string{words.T("learn from the keys"), "QWERTY", "QWERTZ", "AZERTY"}, []string{"", "qwerty", "qwertz", "azerty"}, d.set.Keyboard, func(c string) { d.set.Keyboard = c; redo() })

	seconds := func(v time.Duration, set func(time.Duration)) fyne.CanvasObject {
		e := d.newCardEntry("")
		e.SetPlaceHolder(words.T("by kind"))
		if v > 0 {
			e.SetText(strconv.FormatFloat(v.Seconds(), 'g', -1, 64))
		}
		e.Validator = func(s string) error {
			if strings.TrimSpace(s) == "" {
				return nil
			}
			t, err := app.ParseClock(s)
			if err == nil && t > 5*time.Minute {
				err = fmt.Errorf("%s", words.T("at most five minutes"))
			}
			return err
		}
		e.OnChanged = func(s string) {
			if e.Validate() != nil {
				return
			}
			t, _ := app.ParseClock(s)
			set(t)
			d.keep()
		}
		return e
	}
	before := seconds(d.set.Before, func(t time.Duration) { d.set.Before = t })
	after := seconds(d.set.After, func(t time.Duration) { d.set.After = t })

	const gb = 1 << 30
	limit := choice([]string{words.T("none"), "2 GB", "4 GB", "8 GB", "16 GB", "32 GB"},
		[]string{"-1", strconv.Itoa(2 * gb), strconv.Itoa(4 * gb), "0", strconv.Itoa(16 * gb), strconv.Itoa(32 * gb)},
		strconv.FormatInt(d.set.ProxyBytes, 10), func(c string) {
			d.set.ProxyBytes, _ = strconv.ParseInt(c, 10, 64)
			d.keep()
			d.limitProxies()
		})
	used := look.Note(d.proxyText())
	drop := look.NewButton(words.T("Delete the light copies"), "", func() {
		d.dropProxies()
		used.SetText(d.proxyText())
	})

	form := widget.NewForm(
		widget.NewFormItem(words.T("Language"), language),
		widget.NewFormItem(words.T("Theme"), theme),
		widget.NewFormItem(words.T("Text size"), scale),
		widget.NewFormItem(words.T("Colours"), safe),
		widget.NewFormItem(words.T("Keyboard"), keyboard),
		widget.NewFormItem(words.T("Clip: seconds before"), before),
		widget.NewFormItem(words.T("Clip: seconds after"), after),
		widget.NewFormItem(words.T("Light copies of film"), limit),
	)
	box := container.NewVBox(form, container.NewBorder(nil, nil, nil, drop, used))
	pg = d.openPage(words.T("Preferences"), fyne.NewSize(640, 520), container.NewVScroll(box), nil,
		look.NewButton(words.T("Keys"), "F1", func() { pg.close(); d.showKeys() }))
}

// choice is a select whose shown names stand for values.
func choice(names, values []string, now string, chosen func(string)) *look.Select {
	s := look.NewSelect(names, nil)
	s.SetSelectedIndex(0) // what is usual, also for a value that the settings spell out
	for i, v := range values {
		if v == now {
			s.SetSelectedIndex(i)
		}
	}
	s.OnChanged = func(string) { chosen(values[s.SelectedIndex()]) }
	return s
}

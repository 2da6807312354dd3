package reel

import (
	"strconv"
	"time"

	"whistlecut/app/desk/keys"
	"whistlecut/app/desk/task"
	"whistlecut/app/desk/words"
	"whistlecut/timeline"
)

// Actions are the keys of the task. While a shape is drawn some of them mean the
// drawing instead of the part.
func (t *Task) Actions() []keys.Action {
	act := func(id, title string, repeats bool, run func(), chords ...string) keys.Action {
		a := keys.Action{ID: "reel." + id, Scope: task.Reel, Title: title, Group: words.T("Reel"), Run: run, Repeats: repeats}
		a.Keys = keys.Chords(chords...)
		return a
	}
	out := []keys.Action{
		act("up", words.T("part before, or drawing before"), true, func() { t.advance(-1) }, "Up"),
		act("down", words.T("next part, or next drawing"), true, func() { t.advance(1) }, "Down"),
		act("pageup", words.T("a page up"), true, func() { t.advance(-8) }, "Prior"),
		act("pagedown", words.T("a page down"), true, func() { t.advance(8) }, "Next"),
		act("earlier", words.T("put the part earlier"), true, func() { t.move(-1) }, "Shift+Up"),
		act("later", words.T("put the part later"), true, func() { t.move(1) }, "Shift+Down"),
		act("loop", words.T("play the part again and again, or finish the drawing"), false, t.enter, "Return", "KP_Enter"),
		act("play", words.T("play the reel from here, or stop"), false, t.playThrough, "P"),
		act("show", words.T("show the reel to a team, in full screen"), false, t.startShow, "V"),
		act("reels", words.T("go to another reel, or make one"), false, t.chooseReel, "R"),
		act("properties", words.T("name, length and languages of the reel"), false, t.properties, "F2"),
		act("new", words.T("a new reel"), false, t.newReel, "Y"),
		act("marks", words.T("put all marks into the reel"), false, t.allMarks, "A"),
		act("here", words.T("put the moment shown into the reel"), false, t.here, "K"),
		act("other", words.T("clips of another bout"), false, t.fromOther, "O"),
		act("card", words.T("a title card after this part"), false, t.card, "X"),
		act("twice", words.T("the part once more"), false, t.twice, "U"),
		act("delete", words.T("take the part out, or delete the drawing"), false, t.remove, "Delete", "BackSpace"),
		act("caption", words.T("write the caption, or the title"), false, func() { t.write(0) }, "C"),
		act("caption.second", words.T("write the next caption or line"), false, func() { t.write(1) }, "Shift+C"),
		act("point", words.T("write the talking point, or the text on the picture"), false, t.writePoint, "T"),
		act("private", words.T("write a private note"), false, t.writePrivate, "N"),
		act("begin", words.T("begin at the frame shown"), false, func() { t.edge(false) }, "Ctrl+B"),
		act("end", words.T("end at the frame shown"), false, func() { t.edge(true) }, "Ctrl+E"),
		act("before.more", words.T("a second more before the moment"), true, func() { t.margins(time.Second, 0) }, "B"),
		act("before.less", words.T("a second less before the moment"), true, func() { t.margins(-time.Second, 0) }, "Shift+B"),
		act("after.more", words.T("a second more after the moment"), true, func() { t.margins(0, time.Second) }, "E"),
		act("after.less", words.T("a second less after the moment"), true, func() { t.margins(0, -time.Second) }, "Shift+E"),
		act("slow", words.T("slow motion from here, then to here"), false, t.slower, "S"),
		act("rate", words.T("speed of the slow motion here"), false, t.nextRate, "Shift+S"),
		act("hold", words.T("hold the picture here, for longer each time"), false, func() { t.hold(false) }, "H"),
		act("hold.less", words.T("hold the picture here for less"), false, func() { t.hold(true) }, "Shift+H"),
		act("mute", words.T("sound of the part on or off"), false, t.mute, "M"),
		act("beside", words.T("second camera beside the part, or width of the drawing's line"), false, t.besideOrWidth, "W"),
		act("point.next", words.T("next point of the part: begin, moment, slow motion, held picture, end"), false, t.nextPoint, "J"),
		act("draw", words.T("draw on the picture, or stop drawing"), false, t.toggleDrawing, "D"),
		act("draw.choose", words.T("choose and move drawings"), false, func() { t.startDrawing("") }, "0"),
		act("draw.colour", words.T("colour of the drawing"), false, t.drawingColour, "Q"),
		act("leave", words.T("stop drawing or playing"), false, t.escape, "Escape"),
	}
	out = append(out, act("film", words.T("make the film of the reel"), false, t.askMake, "G"))
	for i, s := range timeline.Shapes() {
		out = append(out, act("draw."+strconv.Itoa(i+1), words.T("draw: {.shape}", "shape", shapeText(s)), false, func() { t.startDrawing(s) }, strconv.Itoa(i+1)))
	}
	return out
}

// press sees keys before the desk does.
func (t *Task) press(p keys.Press) bool {
	switch {
	case t.show != nil:
		return t.show.press(p)
	case t.draw != nil && t.draw.press(p):
		return true
	case t.run != nil && p.Name == "Space" && !p.Shift && !p.Ctrl && !p.Alt:
		if !p.Held {
			t.run.toggle()
		}
		return true
	}
	return false
}

// toggle plays or pauses: the reel when it is played, else the film.
func (t *Task) toggle() {
	switch {
	case t.desk.Session() == nil:
	case t.show != nil:
		t.show.goOn()
	case t.run != nil:
		t.run.toggle()
	case t.desk.Now().Playing:
		t.desk.Pause()
	default:
		t.desk.Play()
	}
}

// escape goes one step back: out of the drawing, of playing, of what was begun.
func (t *Task) escape() {
	switch {
	case t.draw != nil:
		if !t.draw.escape() {
			t.leaveDrawing()
		}
	case t.run != nil:
		t.stop()
	case t.slow.begun:
		t.slow = slowing{}
	default:
		t.desk.Unloop()
	}
	t.refresh()
}

func (t *Task) besideOrWidth() {
	if t.draw != nil {
		t.draw.nextWidth()
		return
	}
	t.beside()
}

// drawingColour is for drawings alone.
func (t *Task) drawingColour() {
	if t.draw == nil {
		t.desk.Say(words.T("Colours are for drawings: D draws."))
		return
	}
	t.draw.nextColour()
}

func (t *Task) writePoint() {
	if t.draw != nil {
		t.draw.rewrite()
		return
	}
	t.writeField("point")
}

func (t *Task) writePrivate() { t.writeField("private") }

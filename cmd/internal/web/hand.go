package web

import (
	"nospark/cmd/internal/web/http"
	"nospark/scenarios/lab"
)

// Hand is what an instructor's paired phone does on the class's listener: let a device in, pause everybody, give time.
// Like a seat it has no room for what is hidden, and none for sheets, marks and the words of strips either: what it
// shows is a [Glance], and what it does goes through functions that take and give texts.
type Hand struct {
	Title, Program string
	Shell          *Shell
	See            func() Glance
	Admit          func(word, sheet string) Told // sheet "": the one that is asked for, or the next spare
	Pause          func(stop bool) Told
	Extra          func(sheet, minutes string) Told
}

// Told says what an action did, or why it was not done.
type Told struct{ Done, Wrong string }

// Glance is everything that a paired phone sees.
type Glance struct {
	Guests          []Guest
	Running, Paused bool
	Planned, Left   int // minutes; none planned: 0
}

// Guest is a device that waits to be let in.
type Guest struct{ Word, Sheet, Student, Name string }

// The paths of a paired phone: its page, the form that pairs it, and the three things that it may do.
const (
	HandPath      = "/hand"
	HandPairPath  = "/hand/pair"
	HandAdmitPath = "/hand/admit"
	HandPausePath = "/hand/pause"
	HandTimePath  = "/hand/time"
)

// handPage is everything on the page of a paired phone.
type handPage struct {
	frame
	Glance
	Told
	Key string // of the link, for a phone that is not paired yet
}

// Do answers a phone that is paired; whoever serves it has made sure of that.
func (h *Hand) Do(r Request) Answer {
	if r.Method == "GET" && r.Path == HandPath {
		return h.page(http.StatusOK, handPage{Glance: h.See()})
	}
	var told Told
	switch {
	case r.Method != "POST":
		told.Wrong = "this cannot be done here"
	case r.Path == HandAdmitPath:
		told = h.Admit(r.Form.Get("word"), r.Form.Get("sheet"))
	case r.Path == HandPausePath:
		told = h.Pause(r.Form.Get("stop") == "yes")
	case r.Path == HandTimePath:
		told = h.Extra(r.Form.Get("sheet"), r.Form.Get("minutes"))
	default:
		told.Wrong = "a paired phone lets in, pauses and gives time; everything else is done at the desk"
	}
	status := http.StatusOK
	if told.Wrong != "" {
		status = http.StatusBadRequest
	}
	return h.page(status, handPage{Glance: h.See(), Told: told})
}

// Offer is the page that a QR code leads to: its button pairs the phone. Looking at it pairs nothing, for cameras
// and messengers look at addresses by themselves.
func (h *Hand) Offer(key string) Answer { return h.page(http.StatusOK, handPage{Key: key}) }

// Refuse is for a phone that is not paired.
func (h *Hand) Refuse(status int, text string) Answer {
	return h.page(status, handPage{Key: "-", Told: Told{Wrong: text}})
}

func (h *Hand) page(status int, p handPage) Answer {
	p.frame = h.Shell.frame("Instructor’s phone", h.Title, h.Program, lab.Lacks{})
	return h.Shell.answer(status, "hand", p)
}

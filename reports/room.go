package reports

import "html/template"

// Room is a part of the desk that the trainer can go to from every page that is served.
type Room struct {
	Name, File string
	Here       bool
}

// rooms are the desk's parts in the order of a trainer's week.
var rooms = [...]Room{
	{Name: "This week", File: "roster.html"},
	{Name: "Clients", File: "clients.html"},
	{Name: "Policy", File: "policy.html"},
	{Name: "Upkeep", File: "upkeep.html"},
}

// Rooms are the parts of the desk; the one whose file is given is where the trainer is.
func Rooms(here string) []Room {
	out := rooms
	for i := range out {
		out[i].Here = out[i].File == here
	}
	return out[:]
}

// roomPage is a page that only the desk has.
type roomPage struct {
	frame
	Head, Lead string
}

// RoomPage makes a page that only the desk has: a heading, what to know first ("" for nothing), and its forms. File is
// the room that it belongs to.
func RoomPage(head, lead, file string, forms template.HTML) ([]byte, error) {
	return render("room.html", roomPage{unscripted(head).served(file, forms), head, lead})
}

// PlainPage makes a page for somebody who has no rooms to go to, with the address of the forms' style.
func PlainPage(head, lead, sheet string, forms template.HTML) ([]byte, error) {
	f := unscripted(head)
	f.Forms, f.Policy, f.Sheet = forms, servedPolicy(), sheet
	return render("room.html", roomPage{f, head, lead})
}

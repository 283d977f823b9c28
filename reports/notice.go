package reports

// noticePage says one thing and leads back.
type noticePage struct {
	frame
	Head string
	Says []string
	Back string
}

// Notice makes a page that says why something was not done, with the way back to the roster.
func Notice(head string, says []string, back string) ([]byte, error) {
	return render("notice.html", noticePage{unscripted(head), head, says, back})
}

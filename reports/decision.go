package reports

// Decision makes the trainer's page of one client.
func Decision(c Client) ([]byte, error) {
	return render("decision.html", unscripted(c.Record.Client.Name))
}

package answers

import (
	"fmt"
	"strings"
	"testing"

	"nextrung/internal/record"
	"nextrung/internal/workout"
)

// sunday is the day of the messages. Sessions were on the Monday, Wednesday and Saturday before it,
// and none of them has an answer yet.
var (
	sunday = workout.MustDate("2026-10-04")
	week   = Setting{On: sunday, Scale: 20, Client: "Avelin", Sessions: []record.Session{
		{Date: sunday - 6, Minutes: 36}, {Date: sunday - 4, Minutes: 36}, {Date: sunday - 1, Minutes: 36},
	}}
)

// reads wants a message of this week to be read so.
func reads(t *testing.T, text, want string) {
	t.Helper()
	if got := written(Parse(text, week)); got != want {
		t.Errorf("%q\n got %s\nwant %s", text, got, want)
	}
}

// written writes a reading in short: each note by day, then what is asked (?) and what was not
// understood (-).
func written(r Reading) string {
	var out []string
	for _, n := range r.Notes {
		out = append(out, short(n))
	}
	for _, x := range r.Pieces {
		switch x.Kind {
		case Question:
			text := "?" + x.Text
			if len(x.Suspected) > 0 {
				text += fmt.Sprint(suspected(x))
			}
			out = append(out, text)
		case Left:
			out = append(out, "-"+x.Text)
		}
	}
	return strings.Join(out, " | ")
}

// suspected lists what a piece may mean.
func suspected(x Piece) []string {
	var out []string
	for _, s := range x.Suspected {
		out = append(out, string(s.Sign)+string(s.Topic))
	}
	return out
}

// short writes a note: "Mon effort 12/20 talk easy enjoy 4 rest 58 heat 31 no fan [dizzy] (text)".
func short(n record.Note) string {
	out := n.Date.Time().Format("Mon")
	if n.RPE != nil {
		out += fmt.Sprintf(" effort %g/%d", n.RPE.Value, n.RPE.Scale)
	}
	if n.Talk != record.NotAsked {
		out += " talk " + string(n.Talk)
	}
	if n.Enjoyment != 0 {
		out += fmt.Sprintf(" enjoy %d", n.Enjoyment)
	}
	if n.HRRest != 0 {
		out += fmt.Sprintf(" rest %g", n.HRRest)
	}
	if n.HeatC != nil {
		out += fmt.Sprintf(" heat %g", *n.HeatC)
	}
	if n.NoFan {
		out += " no fan"
	}
	if len(n.Symptoms) > 0 {
		out += fmt.Sprint(" ", n.Symptoms)
	}
	if n.Text != "" {
		out += " (" + n.Text + ")"
	}
	return out
}

package coach_test

import (
	"slices"
	"strings"
	"testing"

	"nextrung/internal/coach"
	"nextrung/internal/fault"
	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/workout"
)

func TestNotesThatAreRefused(t *testing.T) {
	c, today := open(t), day("2026-09-10")
	for want, e := range map[string]coach.NoteEntry{
		"date":                     {Date: today + 1, Text: "windy"},
		"rpe":                      {RPE: "3"},
		"rpe scale":                {RPE: "x", Scale: "7"},
		"talk":                     {Talk: "a lot"},
		"enjoyment":                {Enjoyment: "0"},
		"hr_rest":                  {HRRest: "131"},
		"heat":                     {Heat: "56"},
		"symptoms":                 {Symptoms: "chest,none"},
		"rpe talk enjoyment":       {RPE: "21", Talk: "x", Enjoyment: "6"},
		"rpe enjoyment heat scale": {RPE: "hard", Enjoyment: "4.5", Heat: "warm", Scale: "2 0"},
	} {
		if _, _, err := c.EnterNote(t.Context(), "Runa", e, today); wrongFields(err) != want {
			t.Errorf("%s: %v", want, err)
		}
	}
	if n := len(recordOf(t, c, "Runa", "2026-09-10", true).Notes); n != 0 {
		t.Errorf("%d notes were entered", n)
	}
}

// Whichever way words come in, the same is made of them, and what warns is what the book keeps.
func TestEveryWayInReadsANoteAlike(t *testing.T) {
	c, today, ctx := open(t), day("2026-09-10"), t.Context()
	const text = "nearly passed out on the pier"
	typed, _, err := c.EnterNote(ctx, "Runa", coach.NoteEntry{Text: text}, today)
	check(t, err)
	session, _, err := c.EnterSession(ctx, "Runa", coach.SessionEntry{NoteEntry: coach.NoteEntry{RPE: "12", Text: text}, Minutes: "20", Sport: "walking"}, today)
	check(t, err)
	made, err := c.AddNotes(ctx, "Runa", record.Note{Date: today, Entered: today, Text: text})
	check(t, err)
	kept := recordOf(t, c, "Runa", "2026-09-10", false)
	for i, n := range []record.Note{typed, session, made[0]} {
		if !slices.Equal(n.Symptoms, []signs.Sign{signs.Faint}) || n.RPE != nil || n.Text != text || n.ID != kept.Notes[i].ID || n.Text != kept.Notes[i].Text {
			t.Errorf("way %d: %+v", i+1, n)
		}
	}
	if len(kept.Reports) != 1 || kept.Reports[0].RPE.Value != 12 || kept.Reports[0].Minutes != 20 {
		t.Errorf("%+v", kept.Reports)
	}
	const told = "skipped on the cardiologist's advice, no exercise until the echo"
	m, err := c.ReadMessage(ctx, "Runa", told, today, 0)
	check(t, err)
	byText, _, err := c.EnterNote(ctx, "Runa", coach.NoteEntry{Text: told}, today)
	check(t, err)
	bySymptoms, _, err := c.EnterNote(ctx, "Runa", coach.NoteEntry{Symptoms: told}, today)
	check(t, err)
	byName, _, err := c.EnterNote(ctx, "Runa", coach.NoteEntry{Symptoms: "told-not-to-train"}, today)
	check(t, err)
	for i, n := range []record.Note{m.Notes[0], byText, bySymptoms, byName} {
		if !slices.Equal(n.Symptoms, []signs.Sign{signs.ToldNotToTrain}) {
			t.Errorf("advice not to train, way %d: %+v", i+1, n)
		}
	}
	m, err = c.ReadMessage(ctx, "Runa", "chest pain on Tuesday", today, 0)
	check(t, err)
	if m, err = c.EnterMessage(ctx, m, true, today+3); err != nil || len(m.Entered) != 1 || m.Notes[0].ID != m.Entered[0] || m.Notes[0].Entered != today || m.Notes[0].Symptoms[0] != signs.Chest {
		t.Errorf("%+v, %v", m, err)
	}
}

func TestWhatANoteKeeps(t *testing.T) {
	c, today := open(t), day("2026-09-10")
	n, unknown, err := c.EnterNote(t.Context(), "Runa", coach.NoteEntry{
		Date: today - 2, Backlog: true, RPE: "4", Scale: "10", Talk: "comfortable", Enjoyment: "4", HRRest: "61", Heat: "-3.5", Symptoms: "Chest pain, grumpy", NoFan: true, Text: " windy ",
	}, today)
	check(t, err)
	if !slices.Equal(unknown, []string{"grumpy"}) || n.Text != "windy [reported: grumpy]" || *n.RPE != (workout.RPE{Value: 4, Scale: 10}) || n.Entered != today-2 ||
		*n.HeatC != -3.5 || n.HRRest != 61 || n.Enjoyment != 4 || !n.NoFan || n.Symptoms[0] != signs.Chest || len(n.Suspected) != 0 {
		t.Errorf("%+v, %v", n, unknown)
	}
	// A sign that was asked about and denied is not asked about again.
	if n, _, err = c.EnterNote(t.Context(), "Runa", coach.NoteEntry{Symptoms: "none", Text: "nearly passed out, she joked"}, today); err != nil || !n.NoSign || len(n.Suspected) != 0 {
		t.Errorf("%+v, %v", n, err)
	}
}

func TestSessionsThatAreRefused(t *testing.T) {
	c, today := open(t), day("2026-09-10")
	for want, e := range map[string]coach.SessionEntry{
		"min":      {Minutes: "0", Sport: "walking"},
		"min ":     {Minutes: "1441", Sport: "walking"},
		"min  ":    {Minutes: "half an hour", Sport: "walking"},
		"sport":    {Minutes: "20", Sport: "chess"},
		"date":     {Minutes: "20", Sport: "walking", NoteEntry: coach.NoteEntry{Date: today + 1}},
		"rpe":      {Minutes: "20", Sport: "walking", NoteEntry: coach.NoteEntry{RPE: "5"}},
		"symptoms": {Minutes: "20", Sport: "walking", NoteEntry: coach.NoteEntry{Symptoms: "none,chest"}},
	} {
		if _, _, err := c.EnterSession(t.Context(), "Runa", e, today); wrongFields(err) != strings.TrimSpace(want) {
			t.Errorf("%s: %v", want, err)
		}
	}
	if r := recordOf(t, c, "Runa", "2026-09-10", true); len(r.Reports)+len(r.Notes) != 0 {
		t.Errorf("something was entered: %+v, %+v", r.Reports, r.Notes)
	}
}

func TestMessagesThatAreNone(t *testing.T) {
	c := open(t)
	for _, text := range []string{"", " \n", "\xff\xfe", strings.Repeat("a", 20_000)} {
		_, err := c.ReadMessage(t.Context(), "Runa", text, day("2026-09-10"), 0)
		if all := fault.All(err); len(all) != 1 || all[0].Kind != fault.Refused || all[0].Field != "answer" {
			t.Errorf("%.10q: %v", text, err)
		}
	}
}

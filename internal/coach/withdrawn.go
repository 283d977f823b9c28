package coach

import (
	"context"
	"errors"
	"slices"
	"strings"

	"nextrung/internal/fault"
	"nextrung/internal/reasons"
	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/workout"
)

// withdraw keeps what held training back at the end of yesterday and no longer does, with the day and who said so,
// which is required. What was entered today can be corrected today without it.
func (c *Coach) withdraw(ctx context.Context, now *record.Client, because string, today workout.Date) error {
	before, ok, err := c.book.FactsBefore(ctx, now.Name, today)
	if err != nil || !ok {
		return err
	}
	for _, w := range before.Withdraws(*now, today) {
		said := func(x record.Withdrawal) bool { return x.On == today && x.Fact == w.Fact && x.Was == w.Was }
		if slices.ContainsFunc(now.Withdrawn, said) {
			continue
		}
		if err := takeOff(now, w, because, today); err != nil {
			return err
		}
	}
	return nil
}

// takeOff keeps that something no longer holds training back, with the day and who said so, and refuses it without that.
func takeOff(now *record.Client, w record.Withdrawal, because string, today workout.Date) error {
	w.On, w.Because = today, strings.TrimSpace(because)
	now.Withdrawn = append(slices.Clone(now.Withdrawn), w)
	return given(Because, because, reasons.Withdrawn(w)+" is on record and would no longer hold training back; say who said so, for example “the clinic's letter of 3 June”", fault.NoHelp)
}

// allAnswered refuses a first screening that is dated while an answer is missing, or answered without a day: a question
// that nobody asked must not count as answered with no, and a sign without a day would open no question.
func (f Facts) allAnswered(before bool) error {
	if before {
		return nil
	}
	if on := strings.TrimSpace(f["screened"]); on == "" || on == none {
		if f["signs"]+f["active"]+f["disease"] != "" {
			return fault.In("screened", "", "is missing: give the day on which the questions were answered")
		}
		return nil
	}
	var wrong []error
	for _, answer := range []fault.Field{"signs", "active", "disease", "medicine"} {
		if strings.TrimSpace(f[answer]) == "" {
			wrong = append(wrong, fault.In(answer, "", "must be answered: the screening counts only when every question is"))
		}
	}
	return errors.Join(wrong...)
}

// keepSigns enters what the screening found before and does not say now as a note of its day, so that no grave sign
// leaves the record with the answers: a clearance ends it, or the word of somebody who asked. What the screening says for
// the first time, and a clearance from before would end, becomes a note of today: the doctor did not know of it.
func (c *Coach) keepSigns(ctx context.Context, before, now record.Client, uncleared bool, today workout.Date) error {
	open := record.Record{Client: now}.OpenSigns()
	gone := record.Keep(record.Record{Client: before}.OpenSigns(), func(s record.OpenSign) bool {
		return s.On > now.Clearance && !slices.ContainsFunc(open, func(x record.OpenSign) bool { return x.Sign == s.Sign })
	})
	kept := record.Note{Date: before.Screening.On, Entered: today}
	for _, s := range gone {
		kept.Symptoms = append(kept.Symptoms, s.Sign)
	}
	found := record.Note{Date: today, Entered: today, Symptoms: record.Keep(now.Screening.Signs, func(s signs.Sign) bool {
		return s.Grave() && uncleared && now.Screening.On <= now.Clearance && !slices.Contains(before.Screening.Signs, s)
	})}
	notes := record.Keep([]record.Note{kept, found}, func(n record.Note) bool { return len(n.Symptoms) > 0 })
	if len(notes) == 0 {
		return nil
	}
	_, err := c.AddNotes(ctx, before.Name, notes...)
	return err
}

package logbook_test

import (
	"testing"

	"nextrung/internal/physiology"
	"nextrung/internal/proposal"
	"nextrung/internal/record"
	"nextrung/internal/workout"
)

// proposed is a proposal with every part that a book must give back.
func proposed() proposal.Proposal {
	was := 185.4
	edges := physiology.Edges{BPM: [4]float64{110.16, 135.24, 154.05, 172.86}, Basis: "reserve", Estimated: true}
	return proposal.Proposal{
		ID: "0badcafe", Kind: proposal.Maximum, Mode: workout.Run, Was: &was, Value: 191, SEE: 10.8,
		Evidence: []proposal.Evidence{{Date: monday, Recordings: []string{"a#0"}, BPM: 191.7, Sensor: workout.Strap, RPE: &workout.RPE{Value: 19, Scale: 20}, Talk: record.TalkNo}},
		Edges:    []proposal.Change{{Mode: workout.Run, Before: &edges}}, Cautions: []proposal.Caution{{Code: proposal.HigherIsHarder}},
		Zones: record.ZoneSet{HRRest: 60, HRMax: map[workout.Mode]float64{workout.Run: 191}},
	}
}

// Answers come back as they were entered, by their day; a taken one comes with its facts.
func TestAnswers(t *testing.T) {
	b, dir := crewed(t)
	ctx := t.Context()
	declined := proposal.Answer{Entered: monday, By: "Solveig", Because: "the strap slipped", Proposal: proposed()}
	taken := proposal.Answer{Entered: monday + 2, Taken: true, From: monday + 3, Proposal: proposed()}
	c, err := b.Client(ctx, "Runa")
	must(t, err)
	c.Zones = []record.ZoneSet{{}, {From: monday + 3, HRRest: 60}}
	must(t, b.AddAnswer(ctx, "Runa", declined, nil))
	must(t, b.AddAnswer(ctx, "Runa", taken, &c))
	must(t, b.Close())
	b = open(t, dir)
	for on, want := range map[workout.Date][]proposal.Answer{monday - 1: nil, monday: {declined}, monday + 1: {declined}, monday + 2: {declined, taken}} {
		got, err := b.Answers(ctx, "Runa", on)
		must(t, err)
		same(t, "answers by "+on.String(), got, want)
	}
	other, err := b.Answers(ctx, "Odd", monday+9)
	must(t, err)
	same(t, "answers of somebody else", other, []proposal.Answer(nil))
	before, err := b.ClientOn(ctx, "Runa", monday+1)
	must(t, err)
	same(t, "zones the day before", before.Zones, []record.ZoneSet(nil))
	after, err := b.ClientOn(ctx, "Runa", monday+2)
	must(t, err)
	same(t, "zones of the day", after.Zones, c.Zones)
	verified(t, b)
}

// What cannot be is refused and leaves nothing behind: neither the facts without the answer nor the answer
// without the facts.
func TestAnswersAreBothOrNeither(t *testing.T) {
	b, _ := crewed(t)
	ctx := t.Context()
	c, err := b.Client(ctx, "Runa")
	must(t, err)
	must(t, b.PutClient(ctx, c, monday+5))
	c.Zones = []record.ZoneSet{{HRRest: 60}}
	refused(t, b.AddAnswer(ctx, "Runa", proposal.Answer{Entered: monday + 4, Taken: true}, &c), "facts of Runa were already entered on")
	refused(t, b.AddAnswer(ctx, "Runa", proposal.Answer{}, nil), "its day is missing")
	refused(t, b.AddAnswer(ctx, "Nobody", proposal.Answer{Entered: monday}, nil), "not in the book")
	got, err := b.Answers(ctx, "Runa", monday+30)
	must(t, err)
	same(t, "answers", got, []proposal.Answer(nil))
	now, err := b.Client(ctx, "Runa")
	must(t, err)
	same(t, "zones", now.Zones, []record.ZoneSet(nil))
	_, err = b.Answers(ctx, "Nobody", monday)
	refused(t, err, "not in the book")
}

// The database keeps an answer as it was given.
func TestAnswersStay(t *testing.T) {
	b, _ := crewed(t)
	must(t, b.AddAnswer(t.Context(), "Runa", proposal.Answer{Entered: monday, Proposal: proposed()}, nil))
	for _, statement := range []string{
		"UPDATE proposal SET entered = entered + 1",
		"DELETE FROM proposal",
		"INSERT OR REPLACE INTO proposal SELECT id, client, entered, '{}' FROM proposal",
	} {
		_, err := b.DB().Exec(statement)
		refused(t, err, "an answer to a proposal")
	}
	_, err := b.DB().Exec("DROP TRIGGER proposal_kept; UPDATE proposal SET value = '[1]'")
	must(t, err)
	problems, err := b.Verify(t.Context())
	must(t, err)
	if len(problems) != 3 { // the trigger, the row, and that it is no answer
		t.Errorf("verify says %q", problems)
	}
}

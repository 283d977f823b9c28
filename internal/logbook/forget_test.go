package logbook_test

import (
	"context"
	"database/sql"
	"testing"

	"nextrung/internal/proposal"
	"nextrung/internal/record"
)

// A client who is forgotten leaves nothing in any file of the book, and nobody else loses anything.
func TestForgetLeavesNothing(t *testing.T) {
	b, dir := decided(t)
	ctx := t.Context()
	const who = "Skipperheim-Runa"
	must(t, b.PutClient(ctx, record.Client{Name: who, Goal: "row round Gullholmen"}, monday))
	must(t, b.PutClient(ctx, record.Client{Name: who, Goal: "row round Gullholmen twice"}, monday+1))
	f := add(t, b, who, "morningrow.fit", monday, 2)
	big := export("longrow.fit", 300_000)
	must(t, b.Add(ctx, big, who, monday, items(big, who, monday, 1), nil))
	must(t, b.AddNote(ctx, who, record.Note{Date: monday, Entered: monday, Text: "sore from hauling nets"}))
	must(t, b.AddReport(ctx, who, record.Report{Date: monday, Entered: monday, Sport: "hauling"}))
	must(t, b.AddAssessment(ctx, who, record.Assessment{AsOf: monday, Client: who, Summary: record.Facts{{Code: record.Written, Args: record.Args{"text": "pier-side summary"}}}}))
	must(t, b.AddPrescription(ctx, who, record.Prescription{Made: monday, From: monday + 1, Client: who, Notes: []record.PlanNote{{Text: "easy harbour laps"}}}))
	must(t, b.AddDecision(ctx, who, record.Decision{Entered: monday, Act: record.DoPause, Because: "shift on the mainland", By: "Solveig"}))
	must(t, b.AddAnswer(ctx, who, proposal.Answer{Entered: monday, Because: "the strap slipped at the lighthouse"}, nil))
	add(t, b, "Runa", "after.fit", monday, 2)
	_, err := b.DB().Exec("PRAGMA wal_checkpoint(PASSIVE)") // so that traces are in both files
	must(t, err)
	must(t, b.AddNote(ctx, who, record.Note{Date: monday, Entered: monday, Text: "sore from hauling nets again"}))

	traces := map[string][]byte{
		"name": []byte(who), "goal": []byte("Gullholmen"), "file name": []byte("morningrow"), "note": []byte("hauling nets"),
		"report": []byte("hauling"), "assessment": []byte("pier-side"), "prescription": []byte("harbour laps"), "decision": []byte("mainland"), "answer to a proposal": []byte("lighthouse"),
		"digest": f.Digest[:], "short digest": []byte(f.Digest.Short()), "original": f.Bytes[100:140], "large original": big.Bytes[150_000:150_040],
	}
	for what, trace := range traces {
		if !holds(t, dir, trace) {
			t.Errorf("%s is not in the files even before; the test would see nothing", what)
		}
	}
	before := map[string]record.Record{}
	for _, name := range []string{"Runa", "Odd"} {
		before[name], err = b.Record(ctx, name, monday+30)
		must(t, err)
	}
	must(t, b.Forget(ctx, who))
	for what, trace := range traces {
		if holds(t, dir, trace) {
			t.Errorf("%s is still in the files", what)
		}
	}
	// Pages that were not written anew could hold copies of rows that had moved; whether they do depends on
	// the order of every write before, so the empty pages that would be left beside them are the sign.
	var empty int
	must(t, b.DB().QueryRow("PRAGMA freelist_count").Scan(&empty))
	if empty != 0 {
		t.Errorf("%d empty pages: the file was not written anew", empty)
	}
	refused(t, b.Forget(ctx, who), "not in the book", "Odd, Runa")
	for _, name := range []string{"Runa", "Odd"} {
		after, err := b.Record(ctx, name, monday+30)
		must(t, err)
		same(t, "record of "+name, after, before[name])
	}
	verified(t, b)
	// The same name may come back, with nothing of before.
	must(t, b.PutClient(ctx, record.Client{Name: who}, monday))
	r, err := b.Record(ctx, who, monday+30)
	must(t, err)
	same(t, "record of the new one", r, record.Record{Client: record.Client{Name: who}})
	must(t, b.Add(ctx, f, who, monday, items(f, who, monday, 2), nil))
	verified(t, b)
}

// While somebody reads an old state of the book, its pages cannot be overwritten; that is said.
func TestForgetWhileAnotherProgramReads(t *testing.T) {
	b, dir := decided(t)
	b.DB().SetMaxOpenConns(1) // the pragma below holds for one connection
	_, err := b.DB().Exec("PRAGMA busy_timeout = 50")
	must(t, err)
	reader := open(t, dir)
	tx, err := reader.DB().BeginTx(context.Background(), &sql.TxOptions{ReadOnly: true})
	must(t, err)
	var n int
	must(t, tx.QueryRow("SELECT count(*) FROM client").Scan(&n))

	refused(t, b.Forget(t.Context(), "Runa"), "Runa is forgotten", "traces may stay", "every program has closed the book")
	names, err := b.Clients(t.Context())
	must(t, err)
	same(t, "clients", names, []string{"Odd"})
	must(t, tx.Rollback())
	must(t, reader.Close())
	must(t, b.Close())
	if holds(t, dir, []byte("Runa")) {
		t.Error("traces stay after every program has closed the book")
	}
}

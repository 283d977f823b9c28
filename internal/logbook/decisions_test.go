package logbook_test

import (
	"fmt"
	"strings"
	"testing"

	"nextrung/internal/logbook"
	"nextrung/internal/record"
	"nextrung/internal/workout"
)

// decision is the trainer's to hold.
func decision(on workout.Date, because string) record.Decision {
	return record.Decision{Entered: on, From: on + 1, Act: record.DoHold, Stage: 1, Because: because, By: "Solveig"}
}

// decided opens a new book with two clients and three decisions for each.
func decided(tb testing.TB) (*logbook.Book, string) {
	tb.Helper()
	b, dir := crewed(tb)
	for i := range 3 {
		for _, name := range []string{"Runa", "Odd"} {
			must(tb, b.AddDecision(tb.Context(), name, decision(monday+workout.Date(7*i), fmt.Sprintf("week %d of %s", i+1, name))))
		}
	}
	return b, dir
}

func TestDecisionsAreChainedPerClient(t *testing.T) {
	b, _ := decided(t)
	for _, name := range []string{"Runa", "Odd"} {
		r, err := b.Record(t.Context(), name, monday+30)
		must(t, err)
		if len(r.Decisions) != 3 {
			t.Fatalf("%s has %d decisions", name, len(r.Decisions))
		}
		must(t, record.VerifyChain(r.Decisions))
		for i, d := range r.Decisions {
			if want := fmt.Sprintf("week %d of %s", i+1, name); d.Because != want || d.Client != name {
				t.Errorf("decision %d of %s: %s: %s", i, name, d.Client, d.Because)
			}
		}
	}
	verified(t, b)
}

// A name in another encoding, pasted from an old file, must not look like a forged decision.
func TestDecisionThatIsNotUTF8(t *testing.T) {
	b, _ := crewed(t)
	must(t, b.AddDecision(t.Context(), "Runa", decision(monday, "r\xf8lig uke")))
	verified(t, b)
}

func TestTheDatabaseRefusesToChangeDecisions(t *testing.T) {
	b, _ := decided(t)
	for _, statement := range []string{
		`UPDATE decision SET value = json_set(value, '$.because', 'something else')`,
		`UPDATE decision SET client = 2 WHERE id = 1`,
		`UPDATE decision SET id = 99 WHERE id = 1`,
		`DELETE FROM decision WHERE id = 3`,
		`DELETE FROM decision`,
		`DELETE FROM client WHERE name = 'Runa'`,
		`REPLACE INTO decision SELECT * FROM decision WHERE id = 1`,
		`INSERT INTO decision SELECT * FROM decision WHERE id = 1 ON CONFLICT (id) DO UPDATE SET value = '{}'`,
		`REPLACE INTO client (id, name) VALUES (1, 'Runa')`,
	} {
		if _, err := b.DB().Exec(statement); err == nil {
			t.Errorf("done: %s", statement)
		} else if !strings.Contains(err.Error(), "decision") {
			t.Errorf("%s: %v", statement, err)
		}
	}
	verified(t, b)
	for _, name := range []string{"Runa", "Odd"} {
		r, err := b.Record(t.Context(), name, monday+30)
		must(t, err)
		if len(r.Decisions) != 3 {
			t.Errorf("%s has %d decisions left", name, len(r.Decisions))
		}
	}
}

// Somebody who takes the triggers away first is found by Verify.
func TestVerifyFindsForgedDecisions(t *testing.T) {
	for name, forgery := range map[string]string{
		"another reason":                     `UPDATE decision SET value = json_set(value, '$.because', 'something else') WHERE id = 3`,
		"another day":                        `UPDATE decision SET value = json_set(value, '$.entered', '2026-09-15') WHERE id = 3`,
		"another stage":                      `UPDATE decision SET value = json_set(value, '$.stage', 3) WHERE id = 5`,
		"the first one removed":              `DELETE FROM decision WHERE id = 1`,
		"a middle one removed":               `DELETE FROM decision WHERE id = 3`,
		"two in the other order":             `UPDATE decision SET id = 100 - id WHERE client = 1`,
		"one given to another":               `UPDATE decision SET client = 2 WHERE id = 5`,
		"one copied":                         `INSERT INTO decision (client, entered, value) SELECT client, entered, value FROM decision WHERE id = 5`,
		"one that is not JSON of a decision": `UPDATE decision SET value = '{"stage": "high"}' WHERE id = 1`,
	} {
		t.Run(name, func(t *testing.T) {
			b, _ := decided(t)
			for _, trigger := range []string{"decision_kept", "decision_not_replaced", "decision_not_removed"} {
				_, err := b.DB().Exec("DROP TRIGGER " + trigger)
				must(t, err)
			}
			_, err := b.DB().Exec(forgery)
			must(t, err)
			problems, err := b.Verify(t.Context())
			must(t, err)
			if len(problems) == 0 || !strings.Contains(strings.Join(problems, "\n"), "decisions for ") {
				t.Errorf("problems are %q", problems)
			}
		})
	}
}

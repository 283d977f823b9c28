package answers

import (
	"nextrung/internal/signs"
	"slices"
	"strings"
	"testing"
)

// The names of medicines are generic ones, from memory.
func TestHealthQuestions(t *testing.T) {
	const pregnant, medicine = `client set "Avelin" --conditions pregnant`, `client set "Avelin" --medicine slows|raises --dose-change DATE`
	for text, want := range map[string]string{
		"I'm pregnant": pregnant, "pregnant!": pregnant, "we're expecting": pregnant, "expecting": pregnant, "expecting a baby in May": pregnant,
		"Mon 12 easy 4, by the way I'm pregnant": pregnant,
		"started bisoprolol":                     medicine, "new tablets": medicine, "beta blocker": medicine, "on beta-blockers now": medicine,
		"blood pressure pills": medicine, "doctor changed my dose": medicine, "new medicine": medicine, "since Wed new tablets": medicine,
		"metoprolol 50 mg": medicine, "carvedilol": medicine, "sotalol": medicine, "verapamil": medicine, "diltiazem": medicine, "ivabradine": medicine,
		"digoxin": medicine, "stopped my tablets": medicine, "my dose went up": medicine, "tablets were changed on Tue": medicine, "Atenolol": medicine,
		"not pregnant": "", "no new medicine": "", "was expecting rain": "", "expecting it to be harder": "", "lololol": "", "new shoes": "",
		"tablets as always": "", "the new prescription is fine": "", "12 easy 4": "", "no change of dose": "",
	} {
		got := strings.Join(HealthQuestions(text, "Avelin"), "\n")
		if want == "" && got != "" || !strings.Contains(got, want) || strings.Count(got, "Enter it")+strings.Count(got, "enter it") > 1 {
			t.Errorf("%q asks %q, want %q", text, got, want)
		}
		asked := slices.ContainsFunc(Parse(text, week).Pieces, func(x Piece) bool { return x.Kind == Question && want != "" && strings.Contains(x.Question, want) })
		if asked != (want != "") {
			t.Errorf("%q as a message: %+v", text, Parse(text, week).Pieces)
		}
		if len(Parse(text, week).Grave()) > 0 {
			t.Errorf("%q is an alarm", text)
		}
	}
	if q := HealthQuestions("beta blocker\npregnant", ""); len(q) != 2 || !strings.Contains(q[0], "client set NAME") || !strings.Contains(q[0], "zones may be wrong") {
		t.Errorf("two lines without a name: %q", q)
	}
}

// An illness is asked about with the command that enters it for the right day, and is no sign of the
// heart.
func TestIllnessAsked(t *testing.T) {
	for text, want := range map[string][]string{
		"chest infection since Tuesday, temp 38.5": {"Tue 29 Sep is named", "--date 2026-10-04 --symptoms chest-illness", "--date 2026-10-04 --symptoms fever"},
		"temp 38.5 on Tue":                         {"--date 2026-09-29 --symptoms fever"},
		"temperature of 39":                        {"--symptoms fever"},
		"temp was 38.0":                            {"--symptoms fever"},
		"feverish on Thu":                          {"--date 2026-10-01 --symptoms fever"},
	} {
		r := Parse(text, week)
		var asked []string
		for _, x := range r.Pieces {
			asked = append(asked, x.Question)
		}
		for _, w := range want {
			if !strings.Contains(strings.Join(asked, "\n"), w) {
				t.Errorf("%q asks %q, want %q", text, asked, w)
			}
		}
		if len(r.Grave()) > 0 {
			t.Errorf("%q is an alarm: %s", text, written(r))
		}
	}
	for _, x := range Parse("temp 37.4", week).Pieces {
		if slices.Contains(x.Signs, signs.Fever) {
			t.Errorf("37.4 °C is taken for a fever: %+v", x)
		}
	}
}

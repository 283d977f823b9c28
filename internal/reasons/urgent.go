package reasons

import (
	"fmt"
	"strings"

	"nextrung/internal/answers"
	"nextrung/internal/record"
	"nextrung/internal/signs"
)

// Urgent is what comes before everything else about a client: a heading with a time, and why.
type Urgent struct {
	Head   string
	Lines  []string
	Grave  bool // a sign on record, or a question about one: nobody trains
	Client string
	Asks   *record.Question // nil for a sign on record
}

// First are the urgent things of an assessment for the trainer: the grave signs on record, then the
// questions that nobody has answered, the gravest first.
func First(a record.Assessment) []Urgent {
	var out []Urgent
	if r := a.GraveSign(); r != nil {
		sign, days := OnRecord(a)
		out = append(out, Urgent{Head: sign.Urgent(signs.Trainer, days), Lines: []string{Text(r.Says)}, Grave: true, Client: a.Client})
	}
	for _, q := range a.Unanswered {
		asks := Text(q.Clash)
		if q.Clash.Code == "" {
			asks = fmt.Sprintf("%s Ask: “%s”", answers.Wrote(a.Client, q), q.Asks())
		}
		u := Urgent{Head: "Ask before the next session", Asks: &q, Client: a.Client, Grave: q.Grave(),
			Lines: []string{asks, "Comfortable sessions only until the answer is entered."}}
		switch {
		case u.Grave:
			u.Head, u.Lines[1] = "Ask today", "No training until the answer is entered."
		case a.Verdict != nil && (*a.Verdict == record.Refer || *a.Verdict == record.NotAssessable):
			u.Lines = u.Lines[:1] // the verdict says more
		}
		out = append(out, u)
	}
	return out
}

// OnRecord is the sign on record whose advice comes first, and how many days ago it was noted; "" without
// a grave one.
func OnRecord(a record.Assessment) (sign signs.Sign, days int) {
	r := a.GraveSign()
	if r == nil {
		return "", 0
	}
	name, _ := r.Says.Args["last"].(string)
	if d, ok := r.Says.Args["days"]; ok {
		days = int(float(d))
	}
	return signs.Sign(name), days
}

// Answer is what a note says of a question that somebody asked about its day: "Asked by Marit on
// 3 Oct about 30 Sep: no sign."; "" for a note that answers none.
func Answer(n record.Note) string {
	var found []string
	if n.NoSign {
		found = append(found, "no sign")
	}
	for _, t := range n.NotSo {
		found = append(found, map[signs.Topic]string{
			signs.Medicine: "no change of medicine", signs.Pregnancy: "no pregnancy", signs.Injury: "no injury that stops training",
		}[t])
	}
	if len(found) == 0 {
		return ""
	}
	by := ""
	if n.By != "" {
		by = " by " + n.By
	}
	return fmt.Sprintf("Asked%s on %s about %s: %s.", by, n.Entered.Short(), n.Date.Short(), strings.Join(found, ", "))
}

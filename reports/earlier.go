package reports

import (
	"fmt"
	"slices"

	"nextrung/internal/hindsight"
	"nextrung/internal/reasons"
	"nextrung/internal/record"
	"nextrung/internal/wording"
)

// mostEarlier is the number of decisions that the page looks back on; `client show` has all of them.
const mostEarlier = 6

// decisionRow is one earlier decision with what was known on its day, what came of it and what changed
// since.
type decisionRow struct {
	Day, Seal    string
	Act, Agreed  string // Agreed says how it stood to the recommendation
	Because, By  string
	Known        string // the assessment of the day, where the decision was another
	Came, Change string
}

// decisionRows lists earlier decisions, newest first, and says how many older ones are left out.
func decisionRows(c Client) (out []decisionRow, older string) {
	all := c.Past.Decisions
	if n := len(all) - mostEarlier; n > 0 {
		older = wording.Plural(n, "older decision is", "older decisions are") + " not shown here."
		all = all[n:]
	}
	for _, e := range all {
		d := e.Decision
		row := decisionRow{Day: reasons.DecidedOn(d), Act: wording.Capital(reasons.Act(d.Act)), Because: wording.Sentence(d.Because), By: d.By, Came: e.Came()}
		if d.Digest != (record.Decision{}).Digest {
			row.Seal = d.Digest.Short()
		}
		switch d.Act {
		case record.DoAdvance:
			row.Act += fmt.Sprintf(" to stage %d", d.Stage)
		case record.DoStepBack:
			row.Act += fmt.Sprintf(", to stage %d", d.Stage)
		}
		if d.To != 0 {
			row.Act += " until " + d.To.Long()
		}
		row.Agreed = wording.Sentence(e.Recommended())
		if e.Agreement == hindsight.Bolder || e.Agreement == hindsight.MoreCareful {
			row.Known = wording.Sentence(e.Assessed.Summary)
		}
		if e.Changed != nil {
			row.Change = e.Changed.Text()
		}
		out = append(out, row)
	}
	slices.Reverse(out)
	return out, older
}

// changedNotice stands at the top of the page while what the page or the last decision rests on has
// changed; "" when nothing did.
func changedNotice(c Client) string {
	if c.Changed != nil {
		return c.Changed.Text()
	}
	if n := len(c.Past.Decisions); n > 0 && c.Past.Decisions[n-1].Changed != nil {
		return "The data behind the last decision have changed since. See the earlier decisions below."
	}
	return ""
}

// sealText names what a check of the book can be compared with: the last decision's digest.
func sealText(c Client) string {
	n := len(c.Past.Decisions)
	if n == 0 {
		return "No decision yet."
	}
	d := c.Past.Decisions[n-1].Decision
	return fmt.Sprintf("The last decision (%s, %s) is sealed %s. A check of the book shows the same seal.", reasons.Act(d.Act), d.Entered.Long(), d.Digest)
}

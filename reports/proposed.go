package reports

import (
	"fmt"

	"nextrung/internal/physiology"
	"nextrung/internal/proposal"
	"nextrung/internal/wording"
)

// proposedZones is one suggestion of other zones on the trainer's page.
type proposedZones struct {
	Number   int
	Title    string
	Text     string
	Zones    []proposedEdges
	Evidence []proposedEvidence
	Beside   []proposedEvidence
	Cautions []string
}

// proposedEdges is a row of zones as they are or would be.
type proposedEdges struct{ Mode, When, Zone1, Zone2, Zone3 string }

type proposedEvidence struct{ Text, Link string }

// proposedOf lists the open proposals of a client, as the command numbers them.
func proposedOf(c Client) []proposedZones {
	var out []proposedZones
	for i, p := range c.Proposed {
		z := proposedZones{Number: i + 1, Title: proposedTitle(p), Text: p.Text(), Evidence: evidenceRows(c, p, p.Evidence), Beside: evidenceRows(c, p, p.Beside)}
		for _, x := range p.Cautions {
			z.Cautions = append(z.Cautions, x.Words())
		}
		for _, e := range p.Edges {
			z.Zones = append(z.Zones, proposedRow(wording.Capital(e.Mode.Doing()), "now", e.Before), proposedRow("", "suggested", e.After))
		}
		out = append(out, z)
	}
	return out
}

func proposedTitle(p proposal.Proposal) string {
	what := map[proposal.Kind]string{proposal.Maximum: "Maximal heart rate", proposal.Resting: "Resting heart rate", proposal.TopOfZone1: "Top of zone 1"}[p.Kind]
	if p.Mode != "" {
		what += " for " + p.Mode.Doing()
	}
	what += fmt.Sprintf(": %.0f bpm", p.Value)
	if p.Was != nil {
		what += fmt.Sprintf(" instead of %.0f", *p.Was)
	}
	return what
}

func evidenceRows(c Client, p proposal.Proposal, all []proposal.Evidence) []proposedEvidence {
	var out []proposedEvidence
	for _, e := range all {
		row := proposedEvidence{Text: wording.Sentence(p.Shows(e))}
		for _, r := range c.Record.Recordings {
			if c.Workouts[r.ID] && len(e.Recordings) > 0 && r.ID == e.Recordings[0] {
				row.Link = WorkoutFile(r)
			}
		}
		out = append(out, row)
	}
	return out
}

func proposedRow(mode, when string, e *physiology.Edges) proposedEdges {
	row := proposedEdges{Mode: mode, When: when, Zone1: "none", Zone2: "none", Zone3: "none"}
	if e != nil {
		row.Zone1, row.Zone2, row.Zone3 = bandText(e, 0), bandText(e, 1), bandText(e, 2)
	}
	return row
}

// bandText is a zone in whole beats: "113–137".
func bandText(e *physiology.Edges, i int) string {
	return wording.Band(e.BPM[i], e.BPM[i+1])
}

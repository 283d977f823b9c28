package reports

import (
	"nextrung/internal/physiology"
	"nextrung/internal/proposal"
	"nextrung/internal/record"
	"nextrung/internal/wording"
)

// proposedZones is one suggestion of other zones on the trainer's page.
type proposedZones struct {
	Number   int
	Title    string
	Text     string
	Zones    []zoneRow
	Evidence []proposedEvidence
	Beside   []proposedEvidence
	Cautions []string
}

// zoneRow is a row of zones in whole beats: those of a mode, as they are or would be.
type zoneRow struct{ Mode, When, Zone1, Zone2, Zone3 string }

type proposedEvidence struct{ Text, Link string }

// proposedOf lists the open proposals of a client, as the command numbers them.
func proposedOf(c Client) []proposedZones {
	var out []proposedZones
	for i, p := range c.Proposed {
		z := proposedZones{Number: i + 1, Title: wording.Capital(p.Change()), Text: p.Text(), Evidence: evidenceRows(c, p, p.Evidence),
			Beside: evidenceRows(c, p, p.Beside), Cautions: record.Map(p.Cautions, proposal.Caution.Words)}
		for _, e := range p.Edges {
			z.Zones = append(z.Zones, zoneRowOf(wording.Capital(e.Mode.Doing()), "now", e.Before), zoneRowOf("", "suggested", e.After))
		}
		out = append(out, z)
	}
	return out
}

func evidenceRows(c Client, p proposal.Proposal, all []proposal.Evidence) []proposedEvidence {
	return record.Map(all, func(e proposal.Evidence) proposedEvidence {
		row := proposedEvidence{Text: wording.Sentence(p.Shows(e))}
		for _, r := range c.Record.Recordings {
			if c.Workouts[r.ID] && len(e.Recordings) > 0 && r.ID == e.Recordings[0] {
				row.Link = WorkoutFile(r)
			}
		}
		return row
	})
}

func zoneRowOf(mode, when string, e *physiology.Edges) zoneRow {
	if e == nil {
		return zoneRow{mode, when, "none", "none", "none"}
	}
	return zoneRow{mode, when, bandText(e, 0), bandText(e, 1), bandText(e, 2)}
}

// bandText is a zone in whole beats: "113–137".
func bandText(e *physiology.Edges, i int) string {
	return wording.Band(e.BPM[i], e.BPM[i+1])
}

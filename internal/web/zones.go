package web

import (
	"fmt"
	"html/template"

	"nextrung/internal/physiology"
	"nextrung/internal/record"
	"nextrung/internal/wording"
	"nextrung/internal/workout"
	"nextrung/reports"
)

// zoneRow are the zones of one activity, with where each edge comes from.
type zoneRow struct {
	Mode  string
	Bands [3]string
	Edges []edgeRow
	Scale template.HTML
}

type edgeRow struct{ Name, BPM, From string }

// edgeNames are the names of the four edges.
var edgeNames = [...]string{"Zone 1 begins", "Zone 2 begins", "Zone 3 begins", "Zone 3 ends"}

// zonesNow are the zones of what a client trains on a day; activities with the same ones stand together.
func zonesNow(c record.Client, on workout.Date) (out []zoneRow) {
	body := c.Body(on)
	same := map[string]int{}
	for _, m := range c.TrainedModes() {
		e := body.Edges(m)
		if e == nil {
			continue
		}
		z := zoneRow{Mode: wording.Capital(m.Doing()), Scale: reports.ZoneScale(*e)}
		for i := range z.Bands {
			z.Bands[i] = wording.Band(e.BPM[i], e.BPM[i+1])
		}
		for i, o := range body.Origins(m) {
			z.Edges = append(z.Edges, edgeRow{edgeNames[i], wording.Number(e.BPM[i]), edgeFrom(o, body, m)})
		}
		key := fmt.Sprint(z.Edges)
		if i, ok := same[key]; ok {
			out[i].Mode += ", " + m.Doing()
			continue
		}
		same[key] = len(out)
		out = append(out, z)
	}
	return out
}

// edgeFrom says where an edge comes from.
func edgeFrom(o physiology.EdgeOrigin, b physiology.Body, m workout.Mode) string {
	top, _ := b.Maximum(m)
	maximum := "the measured maximum of " + wording.Number(top.BPM)
	if top.SEE > 0 {
		maximum = fmt.Sprintf("%s, the maximum estimated from age (±%.0f)", wording.Number(top.BPM), top.SEE)
	}
	percent := fmt.Sprintf("%s %% of ", wording.Number(100*o.Share))
	switch o.Origin {
	case physiology.Entered:
		return "entered by you"
	case physiology.ByLimit:
		return "the limit set by a doctor"
	case physiology.Threshold:
		return "the talk test"
	case physiology.MadeRoom:
		return "moved to make room for the talk test"
	case physiology.OfReserve:
		return percent + "the way from " + wording.Number(b.HRRest) + " at rest to " + maximum
	}
	return percent + maximum
}

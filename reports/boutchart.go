package reports

import (
	"fmt"
	"html/template"
	"slices"
	"strings"

	"nextrung/internal/physiology"
	"nextrung/internal/record"
	"nextrung/internal/wording"
	"nextrung/internal/workout"
)

// boutSession is one interval session beside what was planned for it.
type boutSession struct {
	date  workout.Date
	plan  record.Intervals
	bouts []physiology.Bout
	rpe   *workout.RPE
}

// boutSessions are the latest sessions that a rule on intervals rests on, oldest first.
func boutSessions(c Client, r record.Reason) (out []boutSession) {
	const most = 6
	for _, s := range c.Record.Until(c.Assessment.AsOf).Sessions() {
		plan := c.Record.PlanFor(s.Date, s.Date)
		if plan == nil || plan.Intervals == nil || !slices.ContainsFunc(s.IDs(), func(id string) bool { return slices.Contains(r.Workouts, id) }) {
			continue
		}
		x := boutSession{date: s.Date, plan: *plan.Intervals, rpe: s.RPE}
		for _, rec := range s.Recordings {
			x.bouts = append(x.bouts, rec.Measured.Bouts...)
		}
		out = append(out, x)
	}
	return out[max(0, len(out)-most):]
}

// boutChart shows the sessions side by side, each bout as a bar up to its length and what it lacks of the planned length
// filled; nil without a session.
func boutChart(id string, all []boutSession) *chart {
	if len(all) == 0 {
		return nil
	}
	done, planned := 0, 0
	t := table{Head: []string{"Day", "Planned", "Bouts in minutes", "Effort"}}
	for _, x := range all {
		done, planned = done+min(len(x.bouts), x.plan.Bouts), planned+x.plan.Bouts
		lengths := strings.Join(record.Map(x.bouts, func(b physiology.Bout) string { return wording.Clock(b.Seconds()) }), ", ")
		t.Rows = append(t.Rows, []string{x.date.Long(), fmt.Sprintf("%d × %s", x.plan.Bouts, minutes(x.plan.Work)), lengths, effort(x.rpe)})
	}
	return &chart{ID: id, Title: fmt.Sprintf("%d of %s done in %s", done, wording.Plural(planned, "planned bout", "planned bouts"), wording.Count(len(all), "session")),
		Caption: "One bar for each planned bout, up to the line of its planned length; what was missing is filled.", Table: t,
		Drawn: []picture{{halfWidth.at[0].class, drawBouts(all)}}}
}

func drawBouts(all []boutSession) template.HTML {
	const width, left, foot, full = 400.0, 8.0, 116.0, 94.0
	longest := 0
	for _, x := range all {
		longest = max(longest, x.plan.Work)
		for _, b := range x.bouts {
			longest = max(longest, b.Seconds())
		}
	}
	tall := func(seconds int) float64 { return full * float64(seconds) / float64(longest) }
	var b strings.Builder
	put := func(format string, args ...any) { fmt.Fprintf(&b, format, args...) }
	put(`<svg class="bouts" viewBox="0 0 %.0f 168" aria-hidden="true" focusable="false">`, width)
	room := (width - left) / float64(max(3, len(all)))
	for i, x := range all {
		from := left + room*float64(i)
		n := max(x.plan.Bouts, len(x.bouts))
		step := (room - 14) / float64(n)
		bar := func(class string, k int, y, height float64) {
			put(`<rect class="%s" x="%.1f" y="%.1f" width="%.1f" height="%.1f"/>`, class, from+step*float64(k), y, step-2, height)
		}
		for k := range n {
			did := 0
			if k < len(x.bouts) {
				did = x.bouts[k].Seconds()
				bar("did", k, foot-tall(did), tall(did))
			}
			if k < x.plan.Bouts && did < x.plan.Work {
				bar("missing", k, foot-tall(x.plan.Work), tall(x.plan.Work-did))
			}
		}
		line := foot - tall(x.plan.Work)
		put(`<path d="M%.1f %.1fH%.1f"/>`, from-3, line, from+room-13)
		if i == 0 || all[i-1].plan.Work != x.plan.Work {
			put(`<text x="%.1f" y="%.1f">%s</text>`, from-3, line-4, minutes(x.plan.Work))
		}
		put(`<text x="%.1f" y="%.0f">%s</text>`, from, foot+17, x.date.Short())
		if x.rpe != nil {
			put(`<text x="%.1f" y="%.0f">%s</text>`, from, foot+34, "RPE "+wording.Number(x.rpe.Value))
		}
	}
	put(`</svg>`)
	return template.HTML(b.String())
}

package reports

import (
	"cmp"
	"fmt"
	"html/template"
	"maps"
	"slices"
	"strings"

	"github.com/go-echarts/go-echarts/v2/charts"
	"github.com/go-echarts/go-echarts/v2/opts"

	"nextrung/internal/policy"
	"nextrung/internal/reasons"
	"nextrung/internal/record"
	"nextrung/internal/rehearsal"
	"nextrung/internal/wording"
)

// rehearsalPage shows what a policy did with invented clients. It is the trainer's: nothing on it is
// about a real client.
type rehearsalPage struct {
	frame
	Facts             []fact
	Aims              []aim
	Compared, Assumed []string
	Definition        string
	Ways              *chart
	Groups, Kept      table
	Unready           string // what those lacked who were not ready
	Own               string // the policy's own share of the wait
	Curves            []curveSet
}

type aim struct {
	Icon template.HTML
	Text string
}

// curveSet are the curves of the rules of one stage.
type curveSet struct {
	Title  string
	Charts []*chart
}

// Rehearsal makes the page of a rehearsal, which stands alone in one file. Curves may be nil.
func Rehearsal(r rehearsal.Result, curves []rehearsal.Curve) ([]byte, error) {
	p, err := rehearsalOf(r, curves)
	if err != nil {
		return nil, err
	}
	if err := paint(pageAlone, p.Ways); err != nil {
		return nil, err
	}
	for _, set := range p.Curves {
		if err := paint(halfAlone, set.Charts...); err != nil {
			return nil, err
		}
	}
	return render("rehearsal.html", p)
}

func rehearsalOf(r rehearsal.Result, curves []rehearsal.Curve) (rehearsalPage, error) {
	whole := r.Ways[0].Groups[0].Counts
	p := rehearsalPage{
		frame: unscripted("A rehearsal of the policy"),
		Facts: []fact{
			{"Invented clients", fmt.Sprint(r.Clients), fmt.Sprintf("%d weeks each", r.Weeks)},
			{"Seed", fmt.Sprint(r.Seed), "the same seed gives the same clients"},
			{"Policy", strings.TrimPrefix(r.Policy, "sha256:")[:12], "first digits of its digest"},
		},
		Compared: r.Compared, Assumed: r.Assumed, Definition: r.Definition, Groups: groupTable(r.Ways[0].Groups), Kept: keptTable(whole),
		Aims: record.Map(r.Aims, aimOf),
	}
	if whole.DueUnready > 0 {
		p.Unready = fmt.Sprintf("In %d of the weeks after the minimum weeks of the stage, clients were not ready: in %s because of effort, in %s because of talk, in %s because of the heart rate between bouts. More than one can apply.",
			whole.DueUnready, percentOf(whole.ForEffort, whole.DueUnready), percentOf(whole.ForTalk, whole.DueUnready), percentOf(whole.ForRecovery, whole.DueUnready))
	}
	if whole.Trained > 0 {
		p.Own = fmt.Sprintf("Of those who were ready and had done the sessions and minutes that the rules need, %s of %d were moved up within 3 weeks; the others waited for effort, for answers, or for what the heart rate shows.",
			percentOf(whole.TrainedInTime, whole.Trained), whole.Trained)
	}
	var err error
	if p.Ways, err = waysChart(r.Ways); err != nil {
		return p, err
	}
	standAlone(p.Ways)
	for i, title := range []string{"Other thresholds in stage 1", "Other thresholds in stage 2"} {
		set := curveSet{Title: title}
		for _, c := range curves {
			if c.Stage != i+1 {
				continue
			}
			drawn, err := curveChart(c)
			if err != nil {
				return p, err
			}
			set.Charts = append(set.Charts, drawn)
		}
		if len(set.Charts) > 0 {
			p.Curves = append(p.Curves, set)
		}
	}
	return p, nil
}

func aimOf(a rehearsal.Aim) aim {
	text := wording.Capital(a.Text)
	switch {
	case a.Met == nil:
		return aim{icons["not-assessable"], text + ": not enough data, as there were no cases."}
	case *a.Met:
		return aim{icons["yes"], fmt.Sprintf("%s: reached, %.1f %% (95 %% interval %.1f to %.1f).", text, *a.Value, a.Low, a.High)}
	}
	return aim{icons["not-yet"], fmt.Sprintf("%s: not reached, %.1f %% (95 %% interval %.1f to %.1f).", text, *a.Value, a.Low, a.High)}
}

func percentOf(part, whole int) string {
	if v, ok := rehearsal.Share(part, whole); ok {
		return fmt.Sprintf("%.1f %%", v)
	}
	return "no cases"
}

func groupTable(groups []rehearsal.Group) table {
	t := table{Head: []string{"Clients", "How many", "Moves up", "Not ready", "As done", "Hard after", "Ready: in 3 weeks", "Ready and trained", "Median wait", "Easier weeks", "Steps back", "No verdict"}}
	for _, g := range groups {
		wait := "not moved up"
		if g.MedianWait != nil {
			wait = wording.Plural(*g.MedianWait, "week", "weeks")
		}
		t.Rows = append(t.Rows, []string{wording.Capital(g.Name), fmt.Sprint(g.Clients), fmt.Sprint(g.Advanced), percentOf(g.AdvancedUnready, g.Advanced), percentOf(g.AdvancedUnable, g.Advanced), percentOf(g.HardAfter, g.Followed),
			percentOf(g.ReadyInTime, g.Ready), percentOf(g.TrainedInTime, g.Trained), wait, percentOf(g.Ease, g.Weeks), percentOf(g.StepBack, g.Weeks),
			percentOf(g.NotAssessableSix, g.AtSix)})
	}
	return t
}

// keptTable lists what stood between the ready and the move, the most frequent first.
func keptTable(c rehearsal.Counts) table {
	t := table{Head: []string{"Rule", "Of the weeks waited", "On its own"}}
	for _, rule := range slices.SortedFunc(maps.Keys(c.By), func(a, b policy.ID) int { return cmp.Or(c.By[b]-c.By[a], cmp.Compare(a, b)) }) {
		t.Rows = append(t.Rows, []string{wording.Capital(reasons.Rule(rule)), percentOf(c.By[rule], c.Kept), percentOf(c.ByOnly[rule], c.Kept)})
	}
	return t
}

var (
	unreadyFill = fill{"not ready, of those moved up", "var(--z3)", plain}
	inTimeFill  = fill{"moved up within 3 weeks, of the ready", "var(--z1)", slanted}
)

// waysChart sets the policy beside the other ways.
func waysChart(ways []rehearsal.Tried) (*chart, error) {
	var names []string
	var unready, inTime []opts.BarData
	t := table{Head: []string{"Deciding by", "Moves up", "Of these not ready", "Of the ready, moved up within 3 weeks", "No verdict at week 6"}}
	for _, w := range ways {
		c := w.Groups[0].Counts
		names = append(names, strings.ReplaceAll(wording.Capital(string(w.Way)), ", ", ",\n"))
		unready = append(unready, opts.BarData{Value: shareOrDash(c.AdvancedUnready, c.Advanced)})
		inTime = append(inTime, opts.BarData{Value: shareOrDash(c.ReadyInTime, c.Ready)})
		t.Rows = append(t.Rows, []string{wording.Capital(string(w.Way)), fmt.Sprint(c.Advanced), percentOf(c.AdvancedUnready, c.Advanced), percentOf(c.ReadyInTime, c.Ready), percentOf(c.NotAssessableSix, c.AtSix)})
	}
	d := newDrawing(opts.XAxis{Type: "category", Data: names}, opts.YAxis{Type: "value", Name: "%"}, "rows:%")
	d.base.GridList = []opts.Grid{{Left: "44", Right: "14", Top: "34", Bottom: "44"}}
	d.scaleY(0, 100, 20)
	for _, b := range []struct {
		fill fill
		data []opts.BarData
	}{{unreadyFill, unready}, {inTimeFill, inTime}} {
		d.add(charts.SingleSeries{Name: b.fill.Name, Type: "bar", Data: b.data, BarMaxWidth: "48"}, b.fill.itemStyle())
	}
	first, last := ways[0].Groups[0].Counts, ways[len(ways)-1].Groups[0].Counts
	return d.finish(chart{
		ID: "ways", Title: "Ways of deciding, the same clients", Table: t, Keys: []key{unreadyFill.key(), inTimeFill.key()},
		Caption: fmt.Sprintf("Low plain bars: few are moved up too early. High hatched bars: few have to wait. By the policy %s of those moved up were not ready, by the calendar alone %s.",
			percentOf(first.AdvancedUnready, first.Advanced), percentOf(last.AdvancedUnready, last.Advanced)),
	})
}

func shareOrDash(part, whole int) any {
	if v, ok := rehearsal.Share(part, whole); ok {
		return v
	}
	return "-"
}

// curveChart shows what other thresholds of one rule would have done.
func curveChart(c rehearsal.Curve) (*chart, error) {
	var names []string
	var unready, inTime []opts.LineData
	now := ""
	t := table{Head: []string{wording.Capital(string(c.Is)) + " (" + string(c.Unit) + ")", "Moved up", "Of these not ready", "Of the ready, moved up within 3 weeks"}}
	for _, p := range c.Points {
		name := wording.Number(p.Threshold)
		names = append(names, name)
		if p.Threshold == c.Now {
			now = name
		}
		unready = append(unready, opts.LineData{Value: shareOrDash(p.Unready, p.Moved)})
		inTime = append(inTime, opts.LineData{Value: shareOrDash(p.InTime, p.Ready)})
		t.Rows = append(t.Rows, []string{name, fmt.Sprint(p.Moved), percentOf(p.Unready, p.Moved), percentOf(p.InTime, p.Ready)})
	}
	d := newDrawing(opts.XAxis{Type: "category", Name: string(c.Is) + ", " + string(c.Unit), Data: names}, opts.YAxis{Type: "value", Name: "%"}, "rows:%")
	d.scaleY(0, 100, 20)
	for i, l := range []struct {
		fill fill
		data []opts.LineData
	}{{unreadyFill, unready}, {inTimeFill, inTime}} {
		s := charts.SingleSeries{Name: l.fill.Name, Type: "line", Data: l.data, Symbol: []string{"circle", "rect"}[i], SymbolSize: 8,
			LineStyle: &opts.LineStyle{Color: "var(--z2)", Width: 2, Type: []string{"solid", "dashed"}[i]},
			ItemStyle: &opts.ItemStyle{Color: l.fill.Color, BorderColor: "var(--outline)", BorderWidth: 1}}
		more := map[string]any{}
		if i == 0 {
			s.MarkLines = dashedLine(opts.MarkLineNameXAxisItem{Name: "policy", XAxis: now}, "end")
			more["markLine"] = map[string]any{"silent": true, "animation": false}
		}
		d.add(s, more)
	}
	return d.finish(chart{ID: fmt.Sprintf("curve-%d-%s", c.Stage, c.Rule), Title: wording.Capital(reasons.Rule(c.Rule)), Caption: curveCaption(c), Size: "short", Table: t,
		Keys: []key{
			{unreadyFill.Name, mark(`<path class="mark" d="M1 7H25"/><circle class="dot" cx="13" cy="7" r="4"/>`)},
			{inTimeFill.Name, mark(`<path class="mark" stroke-dasharray="4 3" d="M1 7H25"/><rect class="dot" x="9" y="3" width="8" height="8"/>`)},
		}})
}

// curveCaption says what the ends of a curve differ in.
func curveCaption(c rehearsal.Curve) string {
	first, last := c.Points[0], c.Points[len(c.Points)-1]
	if first.Moved == last.Moved && first.Unready == last.Unready && first.InTime == last.InTime {
		return fmt.Sprintf("Between %s and %s, the threshold makes no difference here: other rules decide.", wording.Number(first.Threshold), wording.Number(last.Threshold))
	}
	return fmt.Sprintf("From %s to %s, the share of ready clients moved up in time goes from %s to %s, and the share moved up too early from %s to %s.", wording.Number(first.Threshold), wording.Number(last.Threshold),
		percentOf(first.InTime, first.Ready), percentOf(last.InTime, last.Ready), percentOf(first.Unready, first.Moved), percentOf(last.Unready, last.Moved))
}

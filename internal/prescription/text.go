package prescription

import (
	"fmt"
	"slices"
	"strings"
	"text/tabwriter"

	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/wording"
	"nextrung/internal/workout"
)

// Text is the week as a message to the client: plain words, no verdict. Where something is wrong, what to do
// about it comes first and nothing is said of the week.
func (w Week) Text() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s\n\n", w.Client)
	if w.Wrong() {
		b.WriteString(strings.Join(w.Said(), "\n") + "\n")
	} else {
		b.WriteString(w.Section())
	}
	if len(w.Sessions) > 0 {
		b.WriteString("\nHow it went\nAfter each session, tell your trainer how hard it felt, whether you could talk comfortably and whether you enjoyed it.\n")
	}
	w.stop(&b)
	bullets(&b, "Please bear in mind:", w.Cautions)
	return b.String()
}

// Wrong says that there are no sessions because of a sign, or of a note that may be one.
func (w Week) Wrong() bool {
	return slices.ContainsFunc(w.Notes, func(n record.PlanNote) bool { return n.Code == record.CallHelp })
}

// stop adds the stop signs to a text for the client.
func (w Week) stop(b *strings.Builder) { bullets(b, "When to stop:", w.StopSigns) }

// care ends what the trainer reads: the stop signs and the cautions.
func (w Week) care(b *strings.Builder) {
	bullets(b, "When to stop, as the client reads it:", w.StopSigns)
	bullets(b, "Cautions:", slices.Concat(w.particular, signs.Cautions(signs.Trainer)))
}

// WatchNote is what a watch shows with a session: the stop line, then a limit.
func (w Week) WatchNote() string {
	if w.Limit == 0 {
		return signs.StopLine
	}
	return signs.StopLine + " Your doctor's limit is " + wording.Number(w.Limit) + ": slow down before it."
}

// Entry is what a calendar says of a session, the stop line first.
func (w Week) Entry(s Session) string {
	var b strings.Builder
	lines := slices.Concat([]string{signs.StopLine, s.How() + ".", s.Alarms()}, w.Said(), w.Around())
	b.WriteString(strings.Join(slices.DeleteFunc(lines, func(l string) bool { return l == "" }), "\n") + "\n")
	w.stop(&b)
	bullets(&b, "Please bear in mind:", w.Cautions)
	return b.String()
}

// Section is the part of a message about the week: the sessions by day, how hard they are,
// what comes before them and what else there is to say.
func (w Week) Section() string {
	var b strings.Builder
	line := func(s string) {
		if s != "" {
			b.WriteString(s + "\n")
		}
	}
	head := "Next week, " + Days(w.From, w.To)
	if size := w.Size(); size != "" {
		head += ": " + size
	}
	line(head + ".")
	for _, g := range w.Groups() {
		line("- " + g.Days + ": " + g.What() + ".")
		line("  " + g.How() + ".")
		if a := g.Alarms(); a != "" {
			line("  " + a)
		}
	}
	line(w.Free())
	for _, s := range w.Unkept {
		line(s)
	}
	if len(w.Targets) > 0 {
		b.WriteString("\nHow hard:\n")
	}
	for _, t := range w.Targets {
		line("- " + t.Title + ". " + t.Text)
	}
	if len(w.Sessions) > 0 {
		b.WriteByte('\n')
	}
	for _, s := range slices.Concat(w.Said(), w.Around()) {
		line(s)
	}
	return b.String()
}

// Around is what there is to say around the sessions: flexibility before them, what to do at home
// instead, and what the client enjoys.
func (w Week) Around() []string {
	return record.Keep([]string{w.Before, strings.Join(w.Home, " "), w.joy()}, func(s string) bool { return s != "" })
}

// joy is the sentence about what the client enjoys; "" when nothing is known or nothing is planned.
func (w Week) joy() string {
	if len(w.Enjoys) == 0 || len(w.Sessions) == 0 {
		return ""
	}
	return "We planned for what you enjoy: " + wording.List(w.Enjoys) + "."
}

// Trainer is the week for the trainer's terminal: frequency, intensity, time, type and enjoyment, then
// the sessions by day with their alarms.
func (w Week) Trainer() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s, stage %d: %s\n", w.Client, w.Stage, Days(w.From, w.To))
	if len(w.Sessions) == 0 {
		b.WriteString("No session is prescribed.\n")
		for _, s := range w.Why {
			b.WriteString("  " + s + "\n")
		}
		bullets(&b, "The client reads:", w.Said())
		w.care(&b)
		return b.String()
	}
	t := tabwriter.NewWriter(&b, 0, 0, 2, ' ', 0)
	row := func(what, text string) {
		if text != "" {
			fmt.Fprintf(t, "  %s\t%s\n", what, text)
		}
	}
	row("frequency", wording.Count(len(w.Sessions), "session")+" in the week")
	for _, x := range w.Targets {
		row("intensity", x.Title+". "+x.Text)
	}
	row("time", each(w.lengths())+", "+included)
	row("type", w.types())
	row("enjoyment", strings.Join(w.Enjoys, ", "))
	t.Flush()
	b.WriteByte('\n')
	for _, s := range w.Sessions {
		alarms := "no heart rates"
		switch {
		case s.Low > 0:
			alarms = wording.Number(s.Low) + " to " + wording.Number(s.High) + " bpm"
		case s.High > 0:
			alarms = "at most " + wording.Number(s.High) + " bpm"
		}
		fmt.Fprintf(t, "  %s\t%s\t%s\t%d min\t%s\t%s\n", s.Day.Day(), s.Kind, s.Plan.Mode, minutes(s.Plan.Seconds()), alarms, s.How())
	}
	t.Flush()
	bullets(&b, "Wishes that could not be met:", w.Unkept)
	bullets(&b, "The client also reads:", slices.Concat(w.Said(), w.Around()))
	w.care(&b)
	return b.String()
}

// types lists the modes of the sessions, each once, and those that may stand in for them.
func (w Week) types() string {
	var used, other []string
	seen := map[workout.Mode]bool{}
	for _, s := range w.Sessions {
		if !seen[s.Plan.Mode] {
			seen[s.Plan.Mode] = true
			used = append(used, s.Plan.Mode.Doing())
		}
	}
	for _, m := range w.modes {
		if !seen[m] {
			other = append(other, m.Doing())
		}
	}
	if len(other) > 0 {
		return wording.List(used) + "; or " + wording.List(other)
	}
	return wording.List(used)
}

// Days writes a range of days: "5 to 11 October 2026".
func Days(from, to workout.Date) string {
	a, b := from.Time(), to.Time()
	switch {
	case from == to:
		return to.Long()
	case a.Year() != b.Year():
		return from.Long() + " to " + to.Long()
	case a.Month() != b.Month():
		return a.Format("2 January") + " to " + to.Long()
	}
	return a.Format("2") + " to " + to.Long()
}

// bullets writes a heading and its lines; nothing without lines.
func bullets(b *strings.Builder, head string, lines []string) {
	if len(lines) == 0 {
		return
	}
	b.WriteString("\n" + head + "\n")
	for _, s := range lines {
		b.WriteString("- " + s + "\n")
	}
}

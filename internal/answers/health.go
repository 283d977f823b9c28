package answers

import (
	"fmt"
	"regexp"
	"strings"

	"nextrung/internal/signs"
	"nextrung/internal/workout"
)

// What changes zones and cautions though it is no sign: a pregnancy and medicines. Generic names of
// common medicines that slow the heart, from memory; a name that is missing is no sign of safety.
var (
	pregnancy = regexp.MustCompile(`(?i)\b(not |isn['’]t |never )?(pregnan(?:t|cy)|expecting|having a baby)\b`)
	baby      = regexp.MustCompile(`(?i)^\s*(?:$|[.,;:!()\x00]|(?:a |our |my |another )?(?:baby|child|twins|first|second|third)\b|again\b|in [a-z]+\s*$|since\b|and\b)`)
	slowing   = regexp.MustCompile(`(?i)\b(?:[a-z]*[a-km-np-z](?:olol|alol|ilol)|verapamil|diltiazem|ivabradine|digoxin|(?:beta|β)[ -]?blockers?|(?:blood[ -]?pressure|bp|heart) (?:pills?|tablets?|meds?|medicines?|medication))\b`)
	changed   = regexp.MustCompile(`(?i)\b(no )?(?:new|different|other|another|changed?|changes|changing|start(?:ed|ing)?|stopp(?:ed|ing)|came off|put me on|gave me|more|extra|stronger|higher|lower|doubled?|halved)\b[^,;.!?\n]{0,40}?\b(?:tablets?|pills?|medicines?|medications?|meds|drugs?|dose|dosage)\b|\b(no )?(?:tablets?|pills?|medicines?|medications?|meds|dose|dosage)\b[^,;.!?\n]{0,30}?\b(?:new|different|changed|started|stopped|doubled|halved|up|down|raised|lowered|increased|reduced)\b`)
)

func quoted(client string) string {
	if client == "" {
		return "NAME"
	}
	return fmt.Sprintf("%q", client)
}

func pregnancyAsked(client string) string {
	return "Is the client pregnant? Zones and cautions depend on it. If so, enter it, with the conditions that hold already: nextrung client set " + quoted(client) + " --conditions pregnant"
}

func medicineAsked(client string) string {
	return "Which medicine or dose, and since when? It can slow or raise the heart rate, and the zones may be wrong until this is answered. Enter it: nextrung client set " +
		quoted(client) + " --medicine slows|raises --dose-change DATE"
}

// HealthQuestions lists what free text gives reason to ask about a pregnancy and about medicines.
func HealthQuestions(text, client string) []string {
	var out []string
	for line := range strings.FieldsFuncSeq(text, func(r rune) bool { return r == '\n' || r == '\r' }) {
		p := parser{Setting: Setting{Client: client}, text: line, mask: []byte(line)}
		for _, it := range p.health(0, len(line)) {
			if it.what == isDoubt {
				out = append(out, it.question)
			}
		}
	}
	return out
}

// health claims what speaks of a pregnancy or a medicine.
func (p *parser) health(from, to int) []item {
	out := p.claim(pregnancy, from, to, func(m match) (item, bool) {
		switch word := strings.ToLower(m.group(2)); {
		case m.group(1) != "" && word != "expecting":
			return item{what: isRemark, means: "said not to be"}, true
		case word == "expecting" && (m.group(1) != "" || !baby.Match(p.mask[m.to:to])):
			return item{}, false
		}
		return item{what: isDoubt, first: true, question: pregnancyAsked(p.Client)}, true
	})
	ask := item{what: isDoubt, first: true, question: medicineAsked(p.Client)}
	out = append(out, p.claim(slowing, from, to, func(match) (item, bool) { return ask, true })...)
	return append(out, p.claim(changed, from, to, func(m match) (item, bool) {
		if m.group(1)+m.group(2) != "" {
			return item{what: isRemark, means: "said not to be"}, true
		}
		return ask, true
	})...)
}

// illnessAsked says how an illness that is asked about is entered: for the last day on which it was
// there, since the rule on illness counts from it.
func (p *parser) illnessAsked(c clause, all []signs.Sign) string {
	var words []string
	for _, s := range all {
		if s.Tier() == signs.Illness {
			words = append(words, string(s))
		}
	}
	if len(words) == 0 {
		return ""
	}
	on, began := c.day, workout.Date(0)
	for _, it := range c.items {
		if it.day > 0 && it.what == isDoubt {
			began = it.day
		}
	}
	if on <= 0 {
		on = p.On
	}
	since := ""
	if began > 0 && began != on {
		since = " (" + day(began) + " is named)"
	}
	return fmt.Sprintf(" Enter it for the last day on which it was there%s: nextrung note --client %s --date %s --symptoms %s", since, quoted(p.Client), on, strings.Join(words, ","))
}

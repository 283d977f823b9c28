package answers

import (
	"regexp"
	"slices"
	"strings"

	"nextrung/internal/record"
	"nextrung/internal/signs"
)

// line is a line of the message.
type line struct {
	number, from, to int
	quoted, own      bool // begins with ">"; is one of the weekly message itself
}

// lines splits the message at its line ends.
func (p *parser) lines() []line {
	var out []line
	own := p.ownLines()
	for from := 0; from < len(p.text); {
		to := len(p.text)
		if n := strings.IndexAny(p.text[from:], "\n\r"); n >= 0 {
			to = from + n
		}
		raw := strings.TrimSpace(p.text[from:to])
		bare := strings.TrimSpace(strings.TrimLeft(raw, ">*•- \t"))
		l := line{len(out) + 1, from, to, strings.HasPrefix(raw, ">"), own.fixed[bare]}
		l.own = l.own || l.quoted && (bare == "" || own.sessions[bare])
		out = append(out, l)
		from = to + 1
		if to+1 < len(p.text) && p.text[to] == '\r' && p.text[to+1] == '\n' {
			from++
		}
	}
	return out
}

// hear reads the whole message for signs, illness, injuries, medicines and pregnancy, since the answer
// to a question may stand on the next line. Lines of the weekly message itself say nothing about the
// client, and what is quoted is only suspected, since somebody else may have written it.
func (p *parser) hear(lines []line) {
	text := []byte(p.text)
	for _, l := range lines {
		for i := l.from; l.own && i < l.to; i++ {
			text[i] = ' '
		}
	}
	p.heard = signs.Read(string(text))
	for i, m := range p.heard {
		for _, l := range lines {
			if l.quoted && m.From < l.to && l.from < m.To && m.Said == signs.Stated {
				p.heard[i].Said = signs.Suspected
			}
		}
	}
}

// place is a stretch of a line with what it says.
type place struct {
	from, to int
	says     []signs.Mention
}

func (x place) denied() bool { return !speaks(x.says) }

// speaks says that something is mentioned and not denied.
func speaks(all []signs.Mention) bool {
	return slices.ContainsFunc(all, func(m signs.Mention) bool { return m.Said != signs.Denied })
}

// places lists where a line mentions signs and topics, overlapping mentions together. A denial takes
// its "no" along, and all that it denies.
func (p *parser) places(from, to int) []place {
	var out []place
	for _, m := range p.heard {
		if m.To <= from || m.To > to {
			continue
		}
		x, last := place{max(m.From, from), m.To, []signs.Mention{m}}, len(out)-1
		behind := from // where the place before ends
		if last >= 0 {
			behind = out[last].to
		}
		if x.denied() {
			if at := noBefore.FindIndex(p.mask[min(behind, x.from):x.from]); at != nil {
				x.from = min(behind, x.from) + at[0]
			}
			if at := noAfter.FindIndex(p.mask[x.to:to]); at != nil {
				x.to += at[1]
			}
		}
		if last >= 0 && (x.from < behind || x.denied() && out[last].denied() && noBetween.Match(p.mask[behind:x.from])) {
			out[last].from, out[last].to = min(x.from, out[last].from), max(x.to, out[last].to)
			out[last].says = append(out[last].says, m)
			continue
		}
		out = append(out, x)
	}
	return out
}

// The words around what is denied, and denials of complaints that are no signs by themselves.
const (
	noes       = `(?:no|not|never|without|neither|nor|nothing|none|zero|(?:did|was|were|have|has|had|do|does|is)n['’]?t)`
	helpers    = `(?:did|do|does|have|had|was|were|am|is)`
	complaints = `(?:pains?|aches?|symptoms?|signs?|complaints?|problems?|issues?|trouble|illness|discomfort|injury|injuries)`
	within     = `(?:any|a|an|the|real|have|had|having|has|feel|felt|feeling|get|got|been|being|at all|of|in|on|my|me|with|wrong|sort|kind|i|was|is|or|and|` + complaints + `)`
	listed     = `(?:[\s,/-]|\b(?:` + within + `|` + noes + `)\b)*`
	saysNo     = `(?:no|none|nope|nah|never|nil|nothing)`
)

var (
	noBefore  = regexp.MustCompile(`(?i)\b(?:` + helpers + `\s+)?` + noes + `\b` + listed + `$`)
	noBetween = regexp.MustCompile(`(?i)^` + listed + `$`)
	noAfter   = regexp.MustCompile(`(?i)^\s*(?:\?(?:\s*` + saysNo + `\b)?|(?::|[-–—]\s)\s*` + saysNo + `\b|(?:\s*(?:/|\b(?:or|nor)\b)\s*(?:` + within + `\s+)*?` + complaints + `\b)+)`)
	complaint = regexp.MustCompile(`(?i)\b(?:` + helpers + `\s+)?` + noes + `\s+(?:` + within + `\s+)*?` + complaints + `\b(?:\s+(?:or|nor)\s+` + complaints + `\b)*|\b` +
		complaints + `(?:\s*[?:]|\s+[-–—])\s*` + saysNo + `\b`)
	// nothingWrong are phrases that say that all was well.
	nothingWrong = regexp.MustCompile(`(?i)\b(?:slept (?:well|fine|ok|good)|(?:good sleep|sleep(?: was)? (?:good|fine|ok))|all (?:good|fine|well)|back to normal|nothing (?:else|special|to report)|(?:feel|feeling|felt) (?:good|fine)|(?:felt|feeling) great)\b`)
	notBefore    = regexp.MustCompile(`(?i)(?:\b(?:no|not|never|hardly|barely|scarcely|nothing)|n['’]?t)\s+$`)
)

// health claims what a line says of signs and topics, as far as no other form has claimed it, and
// denials of complaints. What was said where another form stands goes with that form.
func (p *parser) health(from, to int, others []item) []item {
	for _, x := range p.places(from, to) {
		kind := isSign
		if x.denied() {
			kind = isNone
		}
		says := x.says
		for _, r := range p.unclaimed(x.from, x.to) {
			others = append(others, item{what: kind, from: r[0], to: r[1], says: says, means: saidNot})
			p.blank(r[0], r[1])
			says = nil
		}
		for i := range others {
			if says != nil && others[i].from < x.to && x.from < others[i].to {
				others[i].says, says = append(others[i].says, says...), nil
			}
		}
	}
	none := func(means string) func(match) (item, bool) {
		return func(m match) (item, bool) {
			return item{what: isNone, means: means}, !notBefore.Match(p.before(from, m.from))
		}
	}
	others = append(others, p.claim(complaint, from, to, none(saidNot))...)
	return append(others, p.claim(nothingWrong, from, to, none("nothing wrong"))...)
}

// unclaimed lists the parts of a stretch that hold words and that no form has claimed.
func (p *parser) unclaimed(from, to int) [][2]int {
	var out [][2]int
	for i := from; i < to; i++ {
		begin := i
		for i < to && p.mask[i] != 0 {
			i++
		}
		if words := p.wordsIn(begin, i); len(words) > 0 {
			end := i
			if i < to { // another form follows
				end = words[len(words)-1].to
			}
			out = append(out, [2]int{words[0].from, end})
		}
	}
	return out
}

// heardOf is what mentions would enter and what they leave to be asked.
func heardOf(all []signs.Mention) record.Note { return record.Note{}.Heard(all) }

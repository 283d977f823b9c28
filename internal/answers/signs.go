package answers

import (
	"nextrung/internal/signs"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// word is a run of letters, of signs, or of anything else that is neither space nor punctuation and
// that no form has claimed.
type word struct {
	from, to int
	text     string // in lower case, with a plain apostrophe
	symbol   bool   // an emoji or another sign
}

// wordsIn lists the words of a stretch that are still unclaimed.
func (p *parser) wordsIn(from, to int) []word {
	var out []word
	open := false
	for i := from; i < to; {
		r, n := utf8.DecodeRune(p.mask[i:to])
		kind := kindOf(r)
		if p.mask[i] == 0 {
			kind = space
		}
		last := len(out) - 1
		switch {
		case kind == space:
			open = false
		case open && (kind == joiner || out[last].symbol == (kind == symbol)):
			out[last].to = i + n
		case kind == joiner && !open: // a quotation mark
		default:
			out = append(out, word{from: i, to: i + n, symbol: kind == symbol})
			open = true
		}
		i += n
	}
	for i := range out {
		text := strings.ToLower(p.text[out[i].from:out[i].to])
		out[i].text = strings.TrimRight(strings.ReplaceAll(text, "’", "'"), "'")
	}
	return out
}

const (
	space = iota // or punctuation
	letter
	joiner
	symbol
)

func kindOf(r rune) int {
	switch {
	case r == '\'', r == '’':
		return joiner
	case unicode.IsLetter(r), unicode.IsNumber(r), r == utf8.RuneError:
		return letter
	case unicode.IsSpace(r), unicode.IsPunct(r), unicode.IsControl(r):
		return space
	}
	return symbol // also marks and joining characters, which belong to emojis
}

// named finds the sign that a few words mean.
func named(text string) (signs.Sign, bool) {
	if s, ok := signs.Named(text); ok {
		return s, s != ""
	}
	for _, s := range signs.All() {
		if text == s.Words() {
			return s, true
		}
	}
	return "", false
}

// longestSign is the number of words of the longest name of a sign.
const longestSign = 5

// signAt finds the longest sign that begins with a word. Its words stand side by side.
func (p *parser) signAt(words []word, i int) (signs.Sign, int) {
	for n := min(longestSign, len(words)-i); n > 0; n-- {
		run := words[i : i+n]
		var text []string
		apart := false
		for j, w := range run {
			text = append(text, w.text)
			apart = apart || j > 0 && strings.Trim(string(p.mask[run[j-1].to:w.from]), " -") != ""
		}
		if s, ok := named(strings.Join(text, " ")); ok && !apart {
			return s, n
		}
	}
	return "", 0
}

// deniers begin a denial, inner words may stand within it.
var (
	deniers = set("no not never without didn't didnt wasn't wasnt haven't havent hadn't hadnt don't dont isn't isnt neither nor zero")
	helpers = set("did do does have had was were am is")
	inner   = set("any a an the real have had having feel felt feeling get got been being at all of signs sign more am is was i my")
)

// denials claims what is said not to be: "no pain", "not dizzy", "no cold, cough or fever".
func (p *parser) denials(from, to int) []item {
	var out []item
	words := p.wordsIn(from, to)
	for i := 0; i < len(words); i++ {
		if !deniers[words[i].text] {
			continue
		}
		begin, end, found := i, i, 0
		if words[i].text == "not" && i > 0 && helpers[words[i-1].text] && onlySpace(p.mask[words[i-1].to:words[i].from]) {
			begin-- // "did not", "was not"
		}
		var signs []signs.Sign
		for j := i + 1; j < len(words); {
			gap := string(p.mask[words[j-1].to:words[j].from])
			between := strings.TrimSpace(gap)
			if between != "" && between != "/" && gap != "-" && !(between == "," && found > 0) {
				break
			}
			s, n := p.signAt(words, j)
			switch {
			case n > 0:
				signs = append(signs, s)
				found++
				j += n
				end = j - 1
				continue
			case complaints[words[j].text]:
				found++
				end = j
			case inner[words[j].text], found > 0 && (words[j].text == "or" || words[j].text == "nor"), found > 0 && deniers[words[j].text] && words[j].text != "not":
			default:
				j = len(words)
			}
			j++
		}
		if found == 0 {
			continue
		}
		it := item{what: isNone, from: words[begin].from, to: words[end].to, means: "said not to be", signs: signs}
		if why := p.doubtfulDenial(words, begin, end); why != "" {
			it.what, it.question = isDoubt, why
			it.to = max(it.to, p.alsoSigns(words, end, &it.signs))
		}
		out = append(out, it)
		p.blank(it.from, it.to)
		i = end
	}
	return out
}

// doubtfulDenial says why a denial may not be one; "" if it is.
func (p *parser) doubtfulDenial(words []word, begin, end int) string {
	inside := words[begin : end+1]
	listed := string(p.mask[inside[0].from:inside[len(inside)-1].to])
	joined := slices.ContainsFunc(inside, func(w word) bool { return w.text == "or" || w.text == "nor" })
	for i, w := range inside {
		if i > 0 && !(i == 1 && helpers[inside[0].text]) && deniers[w.text] && w.text != "nor" && strings.TrimSpace(string(p.mask[inside[i-1].to:w.from])) != "," {
			return "It is denied twice. Is it there or not?"
		}
		if w.text == "more" {
			return "Was it there before?"
		}
	}
	if begin > 0 && (negations[words[begin-1].text] && words[begin-1].text != "no") && onlySpace(p.mask[words[begin-1].to:words[begin].from]) {
		return "It is denied twice. Is it there or not?"
	}
	if strings.Contains(listed, ",") && !joined && !deniedEach(p, inside) {
		return "Does the \"no\" hold for all of it?"
	}
	if end+1 < len(words) {
		gap := strings.TrimSpace(string(p.mask[words[end].to:words[end+1].from]))
		next := words[end+1].text
		follows := false // a sign comes after the "and"
		for j := end + 2; next == "and" && j < len(words) && !follows; j++ {
			_, n := p.signAt(words, j)
			follows = n > 0
			if !follows && !inner[words[j].text] {
				break
			}
		}
		if gap == "" && (follows || next == "until" || next == "till" || next == "anymore" || next == "except" || next == "just" || next == "only") {
			return "Does the \"no\" hold for all of it?"
		}
	}
	return ""
}

// deniedEach says that each part of a list with commas has its own "no".
func deniedEach(p *parser, inside []word) bool {
	for i := 1; i < len(inside); i++ {
		if strings.Contains(string(p.mask[inside[i-1].to:inside[i].from]), ",") && !deniers[inside[i].text] {
			return false
		}
	}
	return true
}

func onlySpace(b []byte) bool { return strings.TrimSpace(string(b)) == "" }

// alsoSigns adds the signs that follow a doubtful denial directly and says where they end.
func (p *parser) alsoSigns(words []word, end int, signs *[]signs.Sign) int {
	to := words[end].to
	for j := end + 1; j < len(words) && strings.Trim(string(p.mask[words[j-1].to:words[j].from]), " ,") == ""; {
		s, n := p.signAt(words, j)
		if n == 0 {
			if words[j].text != "and" && !inner[words[j].text] && words[j].text != "until" && words[j].text != "anymore" {
				return to
			}
			to = words[j].to
			j++
			continue
		}
		*signs = append(*signs, s)
		to = words[j+n-1].to
		j += n
	}
	return to
}

// fine are phrases that say that nothing was wrong.
var fine = []string{
	"slept well", "slept fine", "slept ok", "slept good", "good sleep", "sleep good", "sleep fine", "sleep ok", "sleep was good", "sleep was fine",
	"all good", "all fine", "all well", "nothing else", "nothing to report", "nothing special", "feeling good", "feeling fine", "feel good", "feel fine",
	"felt good", "felt fine", "felt great", "feeling great",
}

// signs claims the signs in a line, and the phrases that say that nothing was wrong.
func (p *parser) signs(from, to int) []item {
	var out []item
	words := p.wordsIn(from, to)
	for i := 0; i < len(words); {
		n, it := 0, item{}
		for k := min(3, len(words)-i); k > 1; k-- {
			text := string(p.mask[words[i].from:words[i+k-1].to])
			if slices.Contains(fine, strings.Join(strings.Fields(strings.ToLower(text)), " ")) && (i == 0 || !negations[words[i-1].text] || !onlySpace(p.mask[words[i-1].to:words[i].from])) {
				n, it = k, item{what: isNone, means: "nothing wrong"}
				break
			}
		}
		if n == 0 {
			var s signs.Sign
			if s, n = p.signAt(words, i); n > 0 {
				it = item{what: isSign, signs: []signs.Sign{s}, question: p.weak(words, i, n, s)}
				switch {
				case it.question == injuryAsked:
					it.what, it.signs = isDoubt, nil
				case words[i].text == "chest" && n == 1 && !slices.Contains(mentioned(p.text[from:to]), signs.Chest):
					i++ // "chest strap", "my chest was fine"
					continue
				}
			} else if i+1 < len(words) && (words[i].text == "nearly" || words[i].text == "almost") && onlySpace(p.mask[words[i].to:words[i+1].from]) {
				if s, n = p.signAt(words, i+1); s != signs.Faint {
					n = 0
				} else { // the sign is "fainted or nearly fainted"
					it = item{what: isSign, signs: []signs.Sign{s}}
					n++
				}
			}
		}
		if n == 0 {
			i++
			continue
		}
		it.from, it.to = words[i].from, words[i+n-1].to
		out = append(out, it)
		i += n
	}
	for _, it := range out {
		p.blank(it.from, it.to)
	}
	return out
}

// weak says why a word that names a sign may mean something else; "" if it cannot.
func (p *parser) weak(words []word, i, n int, s signs.Sign) string {
	before, after := "", ""
	if i+n < len(words) && onlySpace(p.mask[words[i+n-1].to:words[i+n].from]) {
		after = words[i+n].text
	}
	if i > 0 && onlySpace(p.mask[words[i-1].to:words[i].from]) {
		before = words[i-1].text
	}
	switch text := words[i].text; {
	case n == 1 && text == "cold" && !slices.Contains([]string{"a", "bad", "head", "slight", "mild", "nasty", "my", "heavy"}, before),
		words[i+n-1].text == "cold" && things[after]:
		return "Is it an illness, or the weather?"
	case n == 1 && text == "temperature" && before != "a":
		return "Is it a fever, or the weather?"
	case n == 1 && (text == "breathless" || text == "breathlessness") || s == signs.BreathlessAtRest && text == "short" || text == "shortness":
		return "Breathless at rest, lying, at mild effort, or only at hard effort?"
	case s == signs.Nausea:
		return nauseaAsked
	case s == signs.SwollenAnkles && injured(p.text):
		return injuryAsked
	case s.Tier() == signs.AskAgain && (weakening[before] || before == "not"):
		return "Is it more than usual after a session?"
	}
	return ""
}

const (
	nauseaAsked = "Was it during a session, or soon after? Then it is a sign to stop, to be asked about at once, and to be entered: --symptoms nausea."
	injuryAsked = "Is it from the fall or the knock? Then it is an injury and to be seen to first. If it swells without one, enter it: --symptoms swollen-ankles."
)

// things are what a word such as cold may describe.
var things = set("morning afternoon evening day run walk ride row swim session training workout")

package signs

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// word is a word or a number of a text.
type word struct {
	text      string // lower case, without apostrophes, a typing error corrected
	initial   uint64 // see initial
	from, to  int    // bytes in the text
	gap       string // what stands between it and the word before
	after     string // what stands between it and the word behind, or the text's end
	beside    bool   // nothing but spaces and hyphens stand there
	sentence  int    // the number of its sentence
	within    run    // the words of its sentence
	up        tally  // of the text up to this word, which is among them
	beginning int    // the first of the words that stand side by side up to this one
	clause    int    // the last word up to this one that has a comma before it, -1 for none
	comma     int    // the first word from this one on that has a comma before it, the number of words for none
	denier    int    // the first word from this one on that denies, the number of words for none
	guessed   bool   // a typing error was corrected
}

// wordsOf splits a text into words. A sentence ends at a full stop, a semicolon, a question or
// exclamation mark, a line's end and before "but".
func wordsOf(text string) []word {
	var out []word
	sentence, end := 0, 0
	for from := 0; from < len(text); {
		to := wordEnd(text, from)
		if to == from {
			_, n := utf8.DecodeRuneInString(text[from:])
			from += n
			continue
		}
		w := word{text: plain(text[from:to]), from: from, to: to, gap: text[end:from]}
		if strings.ContainsAny(w.gap, ".;!?\n\r") || opening[w.text] {
			sentence++
		}
		w.sentence = sentence
		w.beside = strings.Trim(w.gap, " -\u00a0_") == "" && !dash(w.gap)
		w.text, w.guessed = corrected(w.text)
		w.initial = initial(w.text)
		if n := len(out); n > 0 {
			out[n-1].after = w.gap
		}
		out, from, end = append(out, w), to, to
	}
	if n := len(out); n > 0 {
		out[n-1].after = text[end:]
	}
	for from := 0; from < len(out); {
		to := from
		for to+1 < len(out) && out[to+1].sentence == out[from].sentence {
			to++
		}
		for i := from; i <= to; i++ {
			out[i].within = run{from, to}
		}
		from = to + 1
	}
	return out
}

// tally counts words that change what a sign around them means, so that a long sentence is not read again for each sign.
type tally struct{ fine, doubt, no, never, likened, undone, rest, wary, breaks int }

// tallied counts the words of a text, once nothing in it changes any more.
func tallied(words []word) {
	one := map[bool]int{true: 1}
	var t tally
	clause := -1
	for i := range words {
		w := &words[i]
		if strings.Contains(w.gap, ",") {
			clause = i
		}
		if w.clause, w.beginning = clause, i; i > 0 && w.beside {
			w.beginning = words[i-1].beginning
		}
		t.fine += one[fine[w.text]]
		t.doubt += one[doubts[w.text]]
		t.no += one[deniers[w.text] || wary[w.text]]
		t.never += one[w.text == "never"]
		t.likened += one[w.text == "this" || w.text == "like" || w.text == "so"]
		t.undone += one[undoing[w.text]]
		t.wary += one[wary[w.text]]
		t.rest += one[w.text == "rest"]
		t.breaks += one[turning[w.text] || undoing[w.text] || deniers[w.text] || w.text == "first"]
		w.up = t
	}
	comma, denier := len(words), len(words)
	for i := len(words) - 1; i >= 0; i-- {
		if strings.Contains(words[i].gap, ",") {
			comma = i
		}
		if deniers[words[i].text] {
			denier = i
		}
		words[i].comma, words[i].denier = comma, denier
	}
}

// counted counts the words from one to another, both included; none where the second comes first.
func counted(words []word, from, to int) tally {
	if from > to {
		return tally{}
	}
	n := words[to].up
	if from > 0 {
		b := words[from-1].up
		n = tally{n.fine - b.fine, n.doubt - b.doubt, n.no - b.no, n.never - b.never, n.likened - b.likened, n.undone - b.undone, n.rest - b.rest, n.wary - b.wary, n.breaks - b.breaks}
	}
	return n
}

// dash says that what stands between two words is a dash, not a hyphen.
func dash(gap string) bool { return strings.ContainsAny(gap, "-–—") && strings.Contains(gap, " ") }

// wordEnd is where the word ends that begins at a byte; the byte itself if none does.
func wordEnd(text string, from int) int {
	at := from
	for at < len(text) {
		r, n := utf8.DecodeRuneInString(text[at:])
		inside := at > from && (r == '\'' || r == '’') || r == '&' && at == from+1 && wordEnd(text, at+1) == at+2
		point := at > from && (r == '.' || r == ',') && digit(text, at-1) && digit(text, at+1)
		if !(unicode.IsLetter(r) || unicode.IsNumber(r) || inside || point) || r == utf8.RuneError {
			break
		}
		at += n
	}
	return from + len(strings.TrimRight(text[from:at], "'’"))
}

func digit(text string, at int) bool { return at < len(text) && '0' <= text[at] && text[at] <= '9' }

// plain takes "didn’t" for "didnt" and "head's" for "head".
func plain(text string) string {
	text = strings.ReplaceAll(strings.ToLower(text), "’", "'")
	return strings.ReplaceAll(strings.TrimSuffix(text, "'s"), "'", "")
}

// set makes a set of the words of a text.
func set(text string) map[string]bool {
	out := map[string]bool{}
	for w := range strings.FieldsSeq(text) {
		out[w] = true
	}
	return out
}

// corrected takes a word for the word of a sign that it is a typing error of: its letters drawn out, one
// of them left out, doubled, exchanged with its neighbour or, in longer words, wrong; two in the longest.
func corrected(text string) (string, bool) {
	text = undrawn(text)
	if right, ok := misspellings[text]; ok {
		return right, true
	}
	if len(text) < 4 || correct[text] {
		return text, false
	}
	for _, w := range correctable {
		if text[0] == w[0] && near(text, w) {
			return w, text != w
		}
	}
	return text, false
}

// undrawn takes "soooo" for "soo".
func undrawn(text string) string {
	var out []byte
	for i := range len(text) {
		if i < 2 || text[i] != text[i-1] || text[i] != text[i-2] || !unicode.IsLetter(rune(text[i])) {
			out = append(out, text[i])
		}
	}
	return string(out)
}

// near says that two words differ by no more errors than their length allows.
func near(a, b string) bool {
	if a == b {
		return true
	}
	allowed := 1
	if min(len(a), len(b)) >= 9 {
		allowed = 2
	}
	if len(a) < 6 && len(a) == len(b) { // a wrong letter makes another word of a short one; a swap does not
		for i := range len(a) - 1 {
			if a[i] == b[i+1] && a[i+1] == b[i] && a[:i] == b[:i] && a[i+2:] == b[i+2:] {
				return true
			}
		}
		return false
	}
	return max(len(a)-len(b), len(b)-len(a)) <= allowed && errors(a, b, allowed) <= allowed
}

// errors counts the letters that were left out, added, exchanged or wrong, up to one more than most.
func errors(a, b string, most int) int {
	head := 0
	for head < min(len(a), len(b)) && a[head] == b[head] {
		head++
	}
	a, b = a[head:], b[head:]
	switch {
	case a == "" || b == "":
		return len(a) + len(b)
	case most == 0:
		return 1
	}
	least := min(errors(a[1:], b, most-1), errors(a, b[1:], most-1), errors(a[1:], b[1:], most-1))
	if len(a) > 1 && len(b) > 1 && a[0] == b[1] && a[1] == b[0] {
		least = min(least, errors(a[2:], b[2:], most-1))
	}
	return 1 + least
}

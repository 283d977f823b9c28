package signs

import (
	"regexp"
	"slices"
	"strings"
)

// pair is a place and a complaint that together may speak of a sign, in either order and at most
// pairSpan words apart. A word that ends in * is the beginning of one.
type pair struct {
	sign Sign
	a, b string
}

const pairSpan = 7

const (
	complaining = " pain pains painful ache* aching achy hurt* tight* pressure pressing squeez* heavy heaviness burn* discomfort uncomfortable numb* tingl* stab* sharp cramp* grip* crush* constrict* needles "
	winded      = "breathless* wheez* gasp* breath breathe breathing"
)

// pairs and phrases are further ways in which people speak of signs that must not be passed over
// (common practice, no source; to be checked by licensed practice).
var pairs = []pair{
	{Chest, "chest breastbone sternum rib ribs ribcage", complaining + "sore* weight funny odd weird strange stitch"},
	{Chest, "arm arms jaw jaws neck shoulder shoulders", complaining},
	{Chest, "throat", "tight* pressure squeez* chok* grip*"},
	{Faint, "black", "eyes out vision"},
	{Faint, "vision sight", "blur* tunnel* narrow* dark* went"},
	{BreathlessAtRest, winded, "rest sitting sofa chair nothing"},
	{BreathlessAtRest, "couldn't couldnt can't cant cannot unable hardly barely struggl* fight* fought trouble", "breath breathe breathing air"},
	{BreathlessLying, winded, "lying lie bed night"},
	{BreathlessMild, winded, "stairs slow slowly walking mild flat"},
	{Dizzy, "head room everything", "spin* spun swim* swam turn*"},
	{Palpitations, "heart heartbeat", "racing raced races pound* flutter* stumbl* skip* irregular* jump* thump* thud* hammer* wild* mad crazy beating"},
	{SwollenAnkles, "ankle ankles", "swoll* swell* puff* thick*"},
	{SwollenAnkles, "feet foot", "swoll* swell* puff*"},
	{CalfPain, "calf calves", "pain pains painful ache* aching achy hurt* cramp* tight*"},
}

var phrases = map[Sign][]string{
	Chest:            {"heartburn", "indigestion", "tight band", "like a band", "like a belt", "like a vice", "band round me", "band around me", "elephant"},
	Faint:            {"faint*", "collaps*", "unconscious*", "keeled", "pass out", "passing out", "blackout*", "blacking out", "saw stars", "seeing stars", "went black", "cold sweat", "clammy"},
	BreathlessAtRest: {"not breathe", "could not get my breath", "could not catch my breath", "not get my breath back", "didn't get my breath back", "long to get my breath", "ages to get my breath", "hard to breathe", "difficult to breathe"},
	Confusion:        {"confused", "confusion", "disorient*"},
	Dizzy:            {"dizz*", "woozy", "woosy", "vertigo", "lighthead*", "light headed", "light headedness", "light in the head", "light in my head", "head felt light", "giddy"},
	Palpitations:     {"palpit*", "heart all over"},
	Nausea:           {"nausea*", "nauseous*", "queasy", "vomit*", "threw up", "throw up", "throwing up", "thrown up", "sick"},
}

// things that chest may name without a complaint: "chest strap", "chest infection".
var chestThings = set("strap straps belt band monitor sensor infection infections cold cough bug congestion press presses fly flies day exercise exercises physio deep high height rub")

// Words around a sign. A denial holds for what stands behind it with nothing but inner words and
// other complaints between.
var (
	deniers = set("no not never without neither nor nothing zero didn't didnt wasn't wasnt haven't havent hadn't hadnt don't dont isn't isnt aren't weren't")
	inner   = set("any a an the real have had having feel felt feeling get got been being at all of in on my me with wrong nearly almost signs sign sort kind unusual i was is or and")
	turning = set("only longer more without until till except anymore")
	fine    = set("fine ok okay good great clear normal normally well alright easy easily calm")
)

var (
	anyWord = regexp.MustCompile(`[a-z']+`)
	injury  = regexp.MustCompile(`\b(?:fell|fallen|a fall|twist\w*|sprain\w*|tripped|rolled|knocked|kicked|stung|bitten|went over on|turned my)\b`)
	asleep  = regexp.MustCompile(`\b(?:fell|fallen) asleep\b`)
)

func set(text string) map[string]bool {
	out := map[string]bool{}
	for w := range strings.FieldsSeq(text) {
		out[w] = true
	}
	return out
}

// spoken is a word of a text with what stands between it and the word before.
type spoken struct {
	word, gap string
}

// spokenWords splits a text into sentences, and those into words. A sentence ends at a full stop,
// a semicolon, a question or exclamation mark, a line's end and before "but".
func spokenWords(text string) [][]spoken {
	text = strings.ReplaceAll(strings.ToLower(text), "’", "'")
	out, at := [][]spoken{nil}, 0
	for _, m := range anyWord.FindAllStringIndex(text, -1) {
		word, gap := strings.Trim(text[m[0]:m[1]], "'"), text[at:m[0]]
		at = m[1]
		if word == "" {
			continue
		}
		if strings.ContainsAny(gap, ".;!?\n") || word == "but" || word == "however" || word == "though" {
			out = append(out, nil)
		}
		out[len(out)-1] = append(out[len(out)-1], spoken{word, gap})
	}
	return out
}

// SymptomsMentioned lists the grave signs (emergency and doctor) and the nausea that free text seems
// to speak of, also in other words and with typing errors, unless the text plainly denies them. It is
// a reason to ask, never a finding.
func Mentioned(text string) []Sign {
	found := map[Sign]bool{}
	sentences := spokenWords(text)
	for i, s := range sentences {
		var next []spoken
		if i+1 < len(sentences) {
			next = sentences[i+1]
		}
		mentions(s, next, found)
	}
	if InjuryMentioned(text) { // an ankle that swells after a fall is no sign of the heart
		delete(found, SwollenAnkles)
	}
	var out []Sign
	for _, s := range All() {
		if found[s] {
			out = append(out, s)
		}
	}
	return out
}

// InjuryMentioned says that free text speaks of a fall, a twist or a knock.
func InjuryMentioned(text string) bool {
	return injury.MatchString(asleep.ReplaceAllString(strings.ToLower(text), ""))
}

// mentions adds the signs that one sentence speaks of.
func mentions(s, next []spoken, found map[Sign]bool) {
	add := func(sign Sign, from, to int) {
		if !denied(s, next, from, to) {
			found[sign] = true
		}
	}
	for _, sign := range All() {
		if t := sign.Tier(); t == Emergency || t == Doctor {
			for _, w := range append([]string{string(sign)}, otherWords[sign]...) {
				if w != string(Chest) {
					each(s, strings.Split(w, "-"), func(i, n int) { add(sign, i, i+n-1) })
				}
			}
		}
		for _, w := range phrases[sign] {
			each(s, strings.Fields(w), func(i, n int) {
				if w != "sick" || sickness(s, i) {
					add(sign, i, i+n-1)
				}
			})
		}
	}
	for i, w := range s {
		if sign, ok := misspelt(w.word); ok {
			add(sign, i, i)
		}
		if w.word == "chest" && !thing(s, i) && !wellAt(s, i) {
			add(Chest, i, i)
		}
	}
	for _, p := range pairs {
		for i := range s {
			if !inList(p.a, s[i].word) || thing(s, i) {
				continue
			}
			for j := max(0, i-pairSpan); j < min(len(s), i+pairSpan+1); j++ {
				if j == i || !inList(p.b, s[j].word) || s[j].word == "pressure" && j > 0 && s[j-1].word == "blood" {
					continue
				}
				from, to := min(i, j), max(i, j)
				if i > 1 && s[i].word == "breath" && s[i-1].word == "of" && s[i-2].word == "out" {
					from = min(i-2, j) // "not out of breath" does deny it
				} else if strings.HasPrefix(s[i].word, "breath") && !strings.HasPrefix(s[i].word, "breathless") {
					if !wellAt(s, i) {
						found[p.sign] = true // "no breath left" denies nothing
					}
					continue
				}
				add(p.sign, from, to)
			}
		}
	}
}

// inList says that a word is in a list, in which * ends the beginning of a word.
func inList(list, word string) bool {
	for w := range strings.FieldsSeq(list) {
		if begin, ok := strings.CutSuffix(w, "*"); ok && strings.HasPrefix(word, begin) || w == word {
			return true
		}
	}
	return false
}

// each calls do for every place where some words stand side by side.
func each(s []spoken, words []string, do func(i, n int)) {
	for i := 0; i+len(words) <= len(s); i++ {
		if matches(s[i:], words) {
			do(i, len(words))
		}
	}
}

func matches(s []spoken, words []string) bool {
	for j, w := range words {
		if !inList(w, s[j].word) || j > 0 && strings.Trim(s[j].gap, " -") != "" {
			return false
		}
	}
	return true
}

// thing says that a place names a thing or an illness: "chest strap", "the strap on my chest".
func thing(s []spoken, i int) bool {
	if i+1 < len(s) && strings.Trim(s[i+1].gap, " -") == "" && chestThings[s[i+1].word] {
		return true
	}
	for j := max(0, i-3); j < i; j++ {
		if w := s[j].word; (w == "strap" || w == "sensor" || w == "monitor") && (j < 2 || s[j-2].word != "like") {
			return true
		}
	}
	return false
}

// wellAt says that what follows a place up to the next comma calls it well, and nothing takes that back.
func wellAt(s []spoken, i int) bool {
	well := false
	for j := max(0, i-2); j < len(s); j++ {
		if j > 0 && j != i-2 && strings.Contains(s[j].gap, ",") {
			if j > i {
				break
			}
			well = false
		}
		switch w := s[j].word; {
		case turning[w], deniers[w] && w != "no", j > i && w == "first", w == "before":
			return false
		case fine[w]:
			well = true
		}
	}
	return well
}

// sickness says that "sick" speaks of a person: "felt sick", not "sick of the rain".
func sickness(s []spoken, i int) bool {
	if i+1 < len(s) && s[i+1].word == "of" {
		return false
	}
	return i == 0 || inList("felt feel feeling was been am being got bit little slightly very really so and or a quite not no", s[i-1].word)
}

// denied says that a sign, from one word to another, is plainly said not to be.
func denied(s, next []spoken, from, to int) bool {
	if len(next) > 0 && len(next) <= 2 && strings.Contains(next[0].gap, "?") && bareNo(next) {
		return true // "Chest pain? No."
	}
	for n := to + 1; n < len(s) && n <= to+5 && !strings.Contains(s[n].gap, ","); n++ {
		if g := s[n].gap; strings.Contains(g, ":") || strings.ContainsAny(g, "-–") && strings.Contains(g, " ") {
			if bareNo(s[n:]) {
				return true // "chest pain: no"
			}
			break
		}
	}
	for i := from - 1; i >= 0; i-- {
		gap := strings.Trim(s[i+1].gap, " -/")
		w := s[i].word
		switch {
		case gap != "" && !(gap == "," && listed(s, i+1)):
			return false
		case w == "and" && !joins(s, i):
			return false
		case deniers[w]:
			for j := i; j < len(s) && j <= to+1; j++ {
				if turning[s[j].word] && j > i {
					return false
				}
			}
			for _, x := range s[to+1:] {
				if inList("until till except anymore before since", x.word) {
					return false
				}
			}
			return !deniedBefore(s, i)
		case !inner[w] && !complaint(w):
			return false
		}
	}
	return false
}

// deniedBefore says that a denial is denied itself: "can't say I wasn't", "didn't have no".
func deniedBefore(s []spoken, i int) bool {
	for i--; i >= 0 && strings.TrimSpace(s[i+1].gap) == ""; i-- {
		switch w := s[i].word; {
		case deniers[w], inList("can't cant cannot couldn't couldnt", w):
			return true
		case w == "and" || w == "or" || !inner[w] && w != "say" && w != "that":
			return false
		}
	}
	return false
}

func bareNo(s []spoken) bool {
	return !slices.ContainsFunc(s, func(w spoken) bool { return !inList("no none nope nah never nil not", w.word) })
}

// complaint says that a word may stand in a list of what is denied.
func complaint(w string) bool {
	if inList(complaining+"dizz* faint* breathless* palpit* cough fever cold nausea* sick symptom symptoms problem problems ache aches chest arm jaw neck sore tired", w) {
		return true
	}
	for _, all := range otherWords {
		if slices.Contains(all, w) {
			return true
		}
	}
	return false
}

// listed says that a comma lies in a list that ends with "or" or "nor": "no cold, cough or fever".
func listed(s []spoken, i int) bool {
	words := 0
	for _, w := range s[i:] {
		if w.word == "or" || w.word == "nor" {
			return true
		}
		if words++; words > 4 {
			return false
		}
	}
	return i > 0 && deniers[s[i].word]
}

// joins says that "and" joins denials: "no pain and no fever" has its own "no" behind it.
func joins(s []spoken, i int) bool { return i+1 < len(s) && deniers[s[i+1].word] }

// graveWords are the single words of the names of grave signs, for typing errors.
var graveWords = []string{"chest", "fainted", "fainting", "dizzy", "dizziness", "palpitations", "breathless", "breathlessness", "confused", "confusion",
	"collapsed", "unconscious", "angina", "blackout", "vertigo", "lightheaded"}

// misspelt finds the grave sign that a word is a typing error of: one letter left out, doubled or
// exchanged with its neighbour, in long words also one wrong letter.
func misspelt(text string) (Sign, bool) {
	if len(text) < 4 || text == "chests" || text == "chesty" {
		return "", false
	}
	for _, w := range graveWords {
		if text != w && near(text, w) {
			return Named(w)
		}
	}
	return "", false
}

func near(a, b string) bool {
	head := 0
	for head < min(len(a), len(b)) && a[head] == b[head] {
		head++
	}
	ra, rb := a[head:], b[head:]
	switch len(a) - len(b) {
	case -1:
		return ra == rb[1:]
	case 1:
		return ra[1:] == rb
	case 0:
		swapped := len(ra) >= 2 && ra[0] == rb[1] && ra[1] == rb[0] && ra[2:] == rb[2:]
		return swapped || len(a) >= 8 && len(ra) > 0 && ra[1:] == rb[1:]
	}
	return false
}

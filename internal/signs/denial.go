package signs

import (
	"slices"
	"strings"
)

// Words around a sign. A denial applies to what follows it with nothing between but inner words
// and other complaints. What takes it back, or makes it less than plain, leaves a reason to ask.
var (
	deniers = set(`no not never without neither nor nothing zero didnt wasnt werent havent hadnt hasnt dont doesnt isnt arent aint`)
	bare    = set("no none nope nah never nil not nothing")
	inner   = set(`any a an the real even have had having has feel felt feeling get getting got been being at all of in on my me with wrong signs sign sort kind
		unusual i was is are were or and did do were`)
	turning = set("only longer more without until till except anymore just stop stopped free but ish")
	undoing = set("until till except anymore before since unless apart besides just only when while often much usually now yet nearly almost first start half more as rest yesterday later")
	wary    = set("wish hope cant cannot couldnt wouldnt couldn wont")
	fine    = set("fine ok okay good great clear normal normally well alright easy easily calm comfortable better stronger perfect steady even controlled relaxed settled under")
	between = set("was is felt feels feel were are all very really so quite always now i it im and getting totally perfectly stayed doing")
	denied  = set(`pain pains ache aches tightness pressure discomfort dizziness dizzy faint fainting breathless breathlessness palpitations cough
		fever temperature cold nausea sick sickness wheeze wheezing symptom symptoms problem problems issue issues sore soreness tired swelling swollen
		chest arm arms jaw neck ankle ankles calf calves heart throat cramp cramps tablets medicine short shortness out racing irregular heavy tight cp sob`)
	places = set("chest arm arms jaw neck ankle ankles calf calves heart throat short out racing irregular heavy tight swollen")

	// doubts make it less than plain that a named sign was the client's own.
	doubts = set(`if whenever would could should might may maybe perhaps probably possibly supposedly think thought wonder afraid worried will next
		tomorrow used he she him her they husband wife friend partner brother sister mother father mum dad son daughter kid kids child baby toddler bairn someone somebody
		everyone lads mate mates others colleague colleagues by laughter laughing hardly barely scarcely until till except since bit slight slightly unless joking kidding`)
)

// denies says whether a text plainly denies a match.
func denies(words []word, parts []run, neutral bool) bool {
	whole := around(parts)
	s := sentenceOf(words, whole.to)
	asked := strings.Contains(words[s.to].after, "?")
	calm := counted(words, s.from, s.to).fine > 0
	if answered(words, s, whole.to, asked && !calm) || neutral && !asked && well(words, s, parts[0].to) {
		return true
	}
	outside := func(i int) bool {
		return !slices.ContainsFunc(parts, func(r run) bool { return r.from <= i && i <= r.to })
	}
	for i := whole.from; i <= whole.to && !apart(words, whole); i++ { // "no pain a weird feeling in my chest" denies the pain alone
		if w := words[i].text; outside(i) && !inner[w] && !between[w] && !denied[w] && !deniers[w] && !joined(w) {
			return false
		}
	}
	return slices.ContainsFunc(parts, func(r run) bool { return deniedBefore(words, s, r, outside) }) && !takenBack(words, s, whole, outside)
}

// apart says that a comma stands within a stretch of words.
func apart(words []word, r run) bool {
	return slices.ContainsFunc(words[r.from+1:r.to+1], func(w word) bool { return strings.Contains(w.gap, ",") })
}

func sentenceOf(words []word, at int) run { return words[at].within }

// answered says that a no and nothing else follows: "chest pain? no", "chest pain: no", "pain - none".
func answered(words []word, s run, last int, asked bool) bool {
	if asked && s.to+1 < len(words) {
		next := sentenceOf(words, s.to+1)
		return next.to-next.from < 2 && onlyNo(words[next.from:next.to+1])
	}
	for i := last + 1; i <= s.to && i <= last+5; i++ {
		g := words[i].gap
		if strings.Contains(g, ",") {
			return false
		}
		if strings.Contains(g, ":") || dash(g) {
			return onlyNo(words[i : s.to+1])
		}
	}
	return false
}

func onlyNo(words []word) bool {
	return len(words) > 0 && !slices.ContainsFunc(words, func(w word) bool { return !bare[w.text] })
}

// well says that what follows a place calls it well, and nothing in its clause or behind it takes that
// back.
func well(words []word, s run, place int) bool {
	if counted(words, max(s.from, words[place].clause), s.to).breaks > 0 {
		return false
	}
	for i := place + 1; i <= s.to && !strings.Contains(words[i].gap, ","); i++ {
		if fine[words[i].text] {
			return true
		}
		if !between[words[i].text] {
			return false
		}
	}
	return false
}

// reach is how many words before a sign its denial may stand. Nobody lists so many; what lies further is asked about.
const reach = 100

// deniedBefore says that a denial before a run of words reaches it, and is not denied itself.
func deniedBefore(words []word, s, r run, outside func(int) bool) bool {
	if words[s.from].denier >= r.from {
		return false
	}
	for i := r.from - 1; i >= max(s.from, r.from-reach); i-- {
		w, gap := words[i].text, strings.Trim(words[i+1].gap, " -/\u00a0")
		if dash(words[i+1].gap) {
			return false
		}
		switch {
		case gap != "" && !(gap == "," && listed(words, s, i+1, outside)), w == "and" && !deniers[words[i+1].text]:
			return false
		case deniers[w]:
			return outside(i) && !(w == "no" && starting[words[i+1].text]) && !slices.ContainsFunc(words[i+1:r.to+1], func(x word) bool { return turning[x.text] }) && !doubled(words, s, i)
		case inner[w]:
		case !denied[w] || !places[w] && gap != "/" && !joined(words[i+1].text) && !listed(words, s, i+1, outside):
			return false
		}
	}
	return false
}

// joined says that a word carries a denial from one complaint to the next, or from a complaint to its
// place: "no pain in my chest".
func joined(w string) bool { return either(w) || w == "in" || w == "on" || w == "of" || w == "across" }

func either(w string) bool { return w == "or" || w == "nor" }

// starting words begin what follows a "no" that is an answer: "no I had chest pain".
var starting = set("i my the was is are were had have did it and doctor doc gp")

// listed says that a word stands in a list that ends with "or" or "nor": "no cold, cough or fever". The
// "or" of "pale or blue" itself ends none.
func listed(words []word, s run, i int, outside func(int) bool) bool {
	for j := i; j <= min(s.to, i+4); j++ {
		if either(words[j].text) && outside(j) {
			return true
		}
	}
	return false
}

// doubled says that a denial is denied itself: "can't say I wasn't", "didn't have no".
func doubled(words []word, s run, i int) bool {
	first := max(s.from, words[i].beginning)
	if counted(words, first, i-1).wary > 0 {
		return true
	}
	for i--; i >= first; i-- { // nothing but inner words so far
		w := words[i].text
		if deniers[w] || !inner[w] || w == "and" || w == "or" {
			return deniers[w]
		}
	}
	return false
}

// takenBack says that what follows a denial takes it back: "until the hill", "but a bit at the end",
// "never ... this bad".
func takenBack(words []word, s, whole run, outside func(int) bool) bool {
	last := whole.to
	for i := whole.from + 1; i <= last; i++ {
		if outside(i) && undoing[words[i].text] {
			return true
		}
	}
	if last < s.to {
		next := min(s.to+1, words[last+1].denier) // "at rest" belongs to the denial that begins here: "no pain, no wheezing at rest"
		behind := counted(words, next, s.to)
		if counted(words, last+1, next-1).undone+behind.undone-behind.rest > 0 {
			return true
		}
	}
	if counted(words, s.from, last).never > 0 && counted(words, last+1, s.to).likened > 0 {
		return true
	}
	if s.to+1 >= len(words) || !opening[words[s.to+1].text] {
		return false
	}
	behind := sentenceOf(words, s.to+1)
	return slices.ContainsFunc(words[behind.from:min(behind.to, behind.from+3)+1], func(w word) bool { return partly[w.text] })
}

// partly begins what takes a denial back after "but".
var partly = set("nearly almost bit little slight slightly some sometimes once twice when on at then today later after yesterday this just only did had was")

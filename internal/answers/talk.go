package answers

import (
	"slices"
	"strings"

	"nextrung/internal/record"
)

// sense is what a word says about talking.
type sense int

const (
	neither   sense = iota
	head            // talking itself
	ease            // it went easily; denied, it was hard
	fair            // it went well; denied, it may have been hard or not possible
	enduring        // all the way; denied, it says nothing
	quantity        // a lot; denied, it was hard for who could not
	hardship        // it was hard; denied, it was not
	shortness       // no more than a little: hard, unless more is said
	denial
	able
	plain // changes nothing
)

// senses are the words around talking.
var senses = func() map[string]sense {
	out := map[string]sense{}
	for _, class := range []struct {
		sense sense
		words string
	}{
		{head, `chatty talk talked talking talks speak speaking spoke speech chat chatted chatting chats chatter conversation conversations sentence sentences words word
			phrase phrases answer answers replies sing sang singing gossip gossiped gossiping talkin chattin natter nattered nattering`},
		{ease, `easy easily ez comfortable comfortably comfy freely properly normally normal effortless effortlessly full whole complete entire relaxed happily
			nonstop non-stop away smoothly`},
		{quantity, `much long lot lots loads`},
		{fair, `ok okay okey fine good great well alright np grand lovely nice super brilliant perfect perfectly passed`},
		{enduring, `time way throughout along always constantly`},
		{hardship, `hard difficult tough tricky struggle struggled struggling strained uncomfortable broken short half clipped choppy bits bursts hardly barely
			scarcely few heavy gasping problem problems prob probs trouble bother issue issues effort difficulty difficulties harder tougher`},
		{shortness, `only just`},
		{denial, `no not never without couldnt cant cannot wasnt isnt didnt nope nah zero less impossible unable`},
		{able, `possible could can able was is were managed manage`},
		{plain, `a an the i it to too very so that really even still quite pretty v bit of in at any all my was were felt got getting became rather also went yes yep for me
			single say said hold held have had having be been test with up about chance more than tho though totally completely always this one on get out go goes going = ~
			entirely everything anything loud out them us we they do did is little`},
	} {
		for w := range strings.FieldsSeq(class.words) {
			out[w] = class.sense
		}
	}
	return out
}()

func senseOf(w word) sense {
	return senses[strings.ReplaceAll(corrected(w.text), "'", "")]
}

// talk claims what is said about talking.
func (p *parser) talk(from, to int) []item {
	var out []item
	words := p.wordsIn(from, to)
	for i := 0; i < len(words); i++ {
		if senseOf(words[i]) != head {
			continue
		}
		a, b := p.around(words, i)
		it, ok := p.talkIn(words, a, b, i)
		if !ok {
			continue
		}
		it.from, it.to = words[a].from, words[b].to
		out = append(out, it)
		p.blank(it.from, it.to)
		i = b
	}
	return out
}

// around is the run of words about talking around one of them, without those at its ends that change
// nothing.
func (p *parser) around(words []word, i int) (a, b int) {
	tied := func(l, r word) bool {
		gap := p.mask[l.to:r.from]
		return !slices.ContainsFunc(gap, func(c byte) bool { return strings.IndexByte(" :=-'", c) < 0 && c < 128 })
	}
	a, b = i, i
	for j, turned := i-1, false; j >= 0 && i-j < 8 && tied(words[j], words[j+1]); j-- {
		s := senseOf(words[j])
		if s == neither || turned && s != denial && s != able && s != shortness && s != plain {
			break
		}
		turned = turned || s == able || s == denial
		if s != plain {
			a = j
		}
	}
	for j, company := i+1, 0; j < len(words) && j-i < 10 && tied(words[j-1], words[j]); j++ {
		s := senseOf(words[j])
		switch {
		case words[j].text == "with" || words[j].text == "along" || words[j].text == "to":
			company = 4
			if s == enduring {
				b = j
			}
			continue
		case s == neither && company > 0 && !words[j].number():
			company--
			continue
		case s == neither:
			return a, b
		case s != plain:
			b = j
		}
	}
	return a, b
}

// talkIn reads a run of words about talking.
func (p *parser) talkIn(words []word, a, b, at int) (item, bool) {
	said := map[sense]bool{}
	alone := false                                // "a few words" and the like need no ability
	denied, unclear, unfit := false, false, false // unfit: it was not possible, not only not done
	for j := a; j <= b; j++ {
		w := strings.ReplaceAll(corrected(words[j].text), "'", "")
		s := senseOf(words[j])
		switch {
		case s == denial && (w == "impossible" || w == "unable"):
			said[denial], unfit = true, true
			continue
		case s == denial:
			denied, unfit = true, unfit || strings.HasPrefix(w, "c") || j > a && senseOf(words[j-1]) == able
			unclear = unclear || undone[w] || w == "less" || j > 0 && undone[words[j-1].text]
			continue
		case s == able:
			unfit = unfit || denied
		case s == head && (strings.HasPrefix(w, "sentence") || strings.HasPrefix(w, "word") || strings.HasPrefix(w, "phrase") || strings.HasPrefix(w, "answer") || w == "replies"):
			alone = true
		case s == head && (w == "sing" || w == "sang" || w == "singing" || w == "chatty"):
			s = ease
		}
		if denied && s != plain && s != able && s != head {
			denied = false
			switch {
			case s == quantity && !unfit:
				unclear = true
			case s == ease, s == quantity:
				s, unclear = hardship, false
			case s == hardship:
				s = ease
				if !troubles[w] {
					s = neither // "not hard"
				}
			default:
				s, unclear = neither, true
			}
		}
		said[s] = true
	}
	if denied {
		said[denial] = true
	}
	unclear = unclear || said[denial] && !unfit && byOneself.Match(p.mask)
	eased := said[ease] || said[fair] || said[quantity] || said[enduring] && !alone
	behind := ""
	if b+1 < len(words) {
		behind = words[b+1].text
	}
	switch {
	case unclear:
		return item{what: isDoubt, about: AboutTalk, question: askTalk, choices: talkChoices(0)}, true
	case said[hardship] && !said[denial] && (!eased || !said[fair] && !said[ease]):
		return talkItem(record.TalkHard), true
	case said[denial] && !eased && !said[hardship] && behind != "to" && behind != "about" && (behind != "with" || unfit):
		it := talkItem(record.TalkNo)
		it.loose = true
		return it, true
	case said[hardship] || said[denial]:
	case said[shortness] && alone && !eased:
		return talkItem(record.TalkHard), true
	case eased:
		it := talkItem(record.TalkComfortable)
		it.loose = alone
		return it, true
	case a == b && !alone && p.beforeDay(words[b].to):
		return item{what: isTalkHead, means: "talking"}, true
	}
	return item{}, false
}

// undone words before "not talk" say that it was not done, whether or not it could have been.
var undone = set("did do does didnt dont doesnt didn't don't doesn't")

// byOneself are words of somebody who had nobody to talk to.
var byOneself = re(`\b(?:alone|solo|nobody|no one|noone|by myself|on my own)\b`)

// troubles are the hardships that "no" turns into ease.
var troubles = set("problem problems prob probs trouble bother issue issues effort difficulty difficulties struggle")

// beforeDay says that a day stands behind a place: "talking Mon easy, Wed hard".
func (p *parser) beforeDay(at int) bool { return dayAhead.Match(p.mask[at:]) }

var dayAhead = re(`^[\s:]*\x00`)

package answers

import (
	"regexp"
	"strings"

	"nextrung/internal/record"
)

// sense is what a word says about talking.
type sense int

const (
	neither sense = iota
	head          // talking itself
	piece         // a part of what is said, such as a word
	impossible
	ease      // it went easily; denied, it was hard
	fair      // it went well; denied, it may have been hard or not possible
	enduring  // all the way; denied, it says nothing
	quantity  // a lot; denied, it was hard for who could not
	hardship  // it was hard; denied, it was not
	shortness // no more than a little: hard, unless more is said
	hedge     // not all of it
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
		{piece, `sentence sentences words word phrase phrases answer answers replies`},
		{impossible, `impossible unable`},
		{head, `talk talked talking talks speak speaking spoke speech chat chatted chatting chats chatter conversation conversations convo convos gossip gossiped gossiping talkin chattin natter nattered nattering converse conversed conversing`},
		{ease, `chatty sing sang singing easy easily ez comfortable comfortably comfy freely properly normally normal effortless effortlessly full whole complete entire relaxed happily
			nonstop non-stop away smoothly`},
		{quantity, `much long lot lots loads plenty`},
		{fair, `ok okay okey fine good great well alright np grand lovely nice super brilliant perfect perfectly passed 👌 👍`},
		{enduring, `time way throughout along always constantly`},
		{hardship, `hard difficult tough tricky struggle struggled struggling strained uncomfortable broken limited short half clipped choppy bits bursts hardly barely exhausting exhausted
			scarcely few heavy gasping pauses gaps problem problems prob probs trouble bother issue issues effort difficulty difficulties harder tougher`},
		{shortness, `only just`},
		{hedge, `ish kinda sorta mostly partly sometimes nearly almost then`},
		{denial, `no not never without couldnt cldnt cudnt couldnae cannae wasnae cant cannot wasnt isnt didnt nope nah zero less`},
		{able, `possible could cld cud can able was is were managed manage`},
		{plain, `a an the i it to too very so that really even still quite pretty v rly bit of in at any all my was were felt got getting became rather also went yes yep for me
			single say said hold held have had having be been test with up about chance more than tho though totally completely always this one on get out go goes going = ~
			entirely everything anything loud out them us we they do did is little presented gave posed caused`},
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
		if s := senseOf(words[i]); s != head && s != piece && !voices[words[i].text] {
			continue
		}
		a, b := p.runFrom(words, i), p.runTo(words, i)
		it, ok := p.talkIn(words, a, b)
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

// runFrom is where the run of words about talking begins that goes on at i, without words that change nothing.
func (p *parser) runFrom(words []word, i int) int {
	begin, turned := i, false
	for j := i - 1; j >= 0 && i-j < 8 && p.tied(words, j); j-- {
		s := senseOf(words[j])
		turns := s == able || s == denial || s == impossible
		if s == neither || words[j].text == "then" || turned && !turns && s != shortness && s != plain {
			break
		}
		turned = turned || turns
		if s != plain {
			begin = j
		}
	}
	return begin
}

// runTo is the last word of the run. Somebody may be named in it: "talked with Ivo the whole way".
func (p *parser) runTo(words []word, i int) int {
	end, company := i, 0 // how many words may still name somebody
	for j := i + 1; j < len(words) && j-i < 10 && p.tied(words, j-1); j++ {
		s := senseOf(words[j])
		switch {
		case s == neither && (company == 0 || words[j].number()):
			return end
		case s == neither:
			company--
		case joins[words[j].text]:
			company = 4
		}
		if s != neither && s != plain {
			end = j
		}
	}
	return end
}

// tied says that nothing parts a word from the next one.
func (p *parser) tied(words []word, i int) bool {
	return !tears.Match(p.mask[words[i].to:words[i+1].from])
}

// tears is what between two words makes them two runs.
var tears = regexp.MustCompile(`[^ :=\-'\x{80}-\x{10FFFF}]`)

// joins are words behind which somebody is named.
var joins = set("with along to")

// talkIn reads a run of words about talking.
func (p *parser) talkIn(words []word, a, b int) (item, bool) {
	u := utterance{said: map[sense]bool{}}
	for j := a; j <= b; j++ {
		before := word{}
		if j > 0 {
			before = words[j-1]
		}
		u.hear(words[j], before)
	}
	if u.denied {
		u.said[denial] = true
	}
	u.unclear = u.unclear || u.said[denial] && !u.unfit && byOneself.Match(p.mask)
	behind := ""
	if b+1 < len(words) {
		behind = words[b+1].text
	}
	if a == b && u.said[head] && dayAhead.Match(p.mask[words[b].to:]) {
		return item{what: isTalkHead, means: "talking"}, true
	}
	return u.verdict(behind)
}

// utterance is what a run of words says of talking.
type utterance struct {
	said    map[sense]bool
	denied  bool // and what is denied is still to come
	unfit   bool // it was not possible, not only not done
	unclear bool
	unsaid  bool // "can't say"
}

// hear takes the next word.
func (u *utterance) hear(next, before word) {
	w, s := strings.ReplaceAll(corrected(next.text), "'", ""), senseOf(next)
	switch s {
	case impossible:
		u.said[denial], u.unfit = true, true
	case denial:
		u.denied, u.unfit = true, u.unfit || strings.HasPrefix(w, "c") || before.text != "" && senseOf(before) == able
		u.unclear = u.unclear || undone[w] || undone[before.text]
	case able:
		u.said[able], u.unfit = true, u.unfit || u.denied
	case plain:
		u.unsaid = u.unsaid || w == "say" && u.denied
	case hedge:
		u.unclear = true
	case head, piece:
		u.said[s] = true
	default:
		if u.denied {
			s = u.deny(w, s)
		}
		u.said[s] = true
	}
}

// deny is what a sense turns into after a denial.
func (u *utterance) deny(w string, s sense) sense {
	u.denied = false
	switch {
	case voices[w]: // who cannot sing may talk
	case s == ease, s == quantity && u.unfit:
		u.unclear = false
		return hardship
	case s == hardship && troubles[w]:
		u.unclear = false
		return ease
	case s == hardship: // "not hard"
		return neither
	}
	u.unclear = true
	return neither
}

// verdict is the answer, before a word that follows it; false where there is none.
func (u *utterance) verdict(behind string) (item, bool) {
	said := u.said
	eased := u.eased()
	var talk record.Talk
	loose := said[denial] || said[piece]
	switch {
	case u.leavesOpen(behind, eased):
		return item{what: isDoubt, about: AboutTalk, question: askTalk, choices: talkChoices(0)}, true
	case said[hardship] && !said[denial] && !said[fair] && !said[ease], said[shortness] && said[piece] && !eased && !said[denial]: // a few words need no ability
		talk, loose = record.TalkHard, false
	case said[hardship]:
	case said[denial] && !eased && !matters[behind] && (behind != "with" || u.unfit):
		talk = record.TalkNo
	case eased && !said[denial]:
		talk = record.TalkComfortable
	}
	it := talkItem(talk)
	it.loose = loose
	return it, talk != ""
}

// leavesOpen says that the words do not answer: "cannot say", "only easily on the flat".
func (u *utterance) leavesOpen(behind string, eased bool) bool {
	unsaid := u.unsaid || u.denied && behind == "say"
	merely := u.said[able] && u.said[head] && len(u.said) == 2 // "could talk": easily, or hardly?
	return merely || u.unclear || unsaid && !u.said[piece] || u.said[shortness] && eased && !u.said[hardship]
}

// eased says that it went well.
func (u *utterance) eased() bool {
	return u.said[ease] || u.said[fair] || u.said[quantity] || u.said[enduring] && !u.said[piece]
}

// matters are words behind which somebody says to whom or of what nobody talked.
var matters = set("to about")

// voices are words of ease that need no other word.
var voices = set("chatty sing sang singing")

// undone words before "not talk" say that it was not done, whether or not it could have been.
var undone = set("less did do does didnt dont doesnt didn't don't doesn't")

// byOneself are words of somebody who had nobody to talk to.
var byOneself = re(`\b(?:alone|solo|nobody|no one|noone|by myself|on my own)\b`)

// troubles are the hardships that "no" turns into ease.
var troubles = set("problem problems prob probs trouble bother issue issues effort difficulty difficulties struggle")

// dayAhead is a day behind "talking": "talking Mon easy, Wed hard".
var dayAhead = re(`^[\s:–-]*\x00`)

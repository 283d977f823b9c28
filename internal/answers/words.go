package answers

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// set makes a set of the words of a text.
func set(text string) map[string]bool {
	out := map[string]bool{}
	for w := range strings.FieldsSeq(text) {
		out[w] = true
	}
	return out
}

var (
	// fillers carry nothing by themselves.
	fillers = set(`i it it's its i'm im was is are were am be been a an the my me felt feel feels feeling like say i'd id about around
		approximately ca and then also so with on at in for of to this that these session sessions workout training run walk ride row swim rowing
		cycling running walking today's hi hey hello thanks thank you cheers ok okay yes yep quite very really again still just all good
		great well have had i've ive got but too as usual pretty only day days morning evening afternoon rpe effort exertion borg though however
		best regards wishes bye greetings dear xx xxx x  factor level rating score points point pts stars out coach
		yeah yup ya thx ty tho tbh lol haha hola hiya v here ps rated gave give giving make makes put call there hm hmm we us our lot much more
		overall total went go  week talks mine here's roughly approx prob which likewise otherwise always suppose um uh er erm think guess reckon thinking maybe probably perhaps i'll
		would-say both each now one because cos cuz coz by n honestly actually definitely bike bicycle swimming rower jog jogging spin turbo treadmill hike hiking`)
	// opinions say something of a session that nobody counts.
	opinions = set(`brutal awful horrible rough grim hellish terrible rubbish vibes bien gut bueno ace class lush woeful dreadful lowkey pure total
		lovely nice fine super solid strong fab fantastic brilliant awesome amazing wonderful beautiful windy rainy sunny wet breezy gorgeous grey steady relaxed gentle
		fast slow long short fun happy proud pleased glad phew meh lively decent proper tougher harder easier better worse faster slower
		usual normal quiet busy chill chilled loved hated enjoyable ugh yay wow whoop nicely`)
	// breaks begin something new, so that what stands before does not name the number behind.
	breaks = set("and n so but then because cos cuz coz with for though tho which i we it is")
	// leading words begin a phrase of place: "in the rain".
	leading  = set("in on at along across round around by with near from through to past up down over")
	articles = set("the my a an our this that")
	// negations turn the meaning of what follows.
	negations = set(`no not never without none nothing nope nor neither nil don't dont didn't didnt wasn't wasnt isn't isnt haven't havent hadn't
		hadnt couldn't couldnt can't cant cannot weren't doesn't doesnt hardly barely scarcely rarely seldom wouldnt shouldnt`)
	// poison makes it doubtful that a clause states what was: conditions, wishes, other people,
	// comparisons, parts of a session.
	poison = set(`if when whenever would should might possibly supposedly goal target plan planned planning want
		wanted hope hoping aim limit than until till except instead almost nearly next tomorrow will gonna usually normally used he she him her his
		they their husband wife friend partner brother sister mother father son daughter kids child someone somebody first second third last start
		end warmup cooldown half peak max maximum maximal average avg mean interval intervals bout bouts set before after
		unless wish afraid worried about-to every sometimes mostly other wrong joke joking kidding minus plus
		during while less far nowhere doubt ignore cancel problem gone over`)
	// describing words may come with a sign without changing it.
	describing = set(`some bit little slight slightly mild bad badly strong severe sudden suddenly caught now today have having has legs muscles`)
	// calm words say that what is named before them was fine.
	calm = set(`fine ok okay good great clear normal normally alright easy easily really completely totally all more than last before`)
	// talking words show that a phrase that is not known is about talking.
	talking = set(`talk talked talking speak speaking spoke speech chat chatted chatting conversation sentence sentences words sing breath puffing panting puffed`)
)

// keys are the words that are read with one typing error.
var keys = strings.Fields(`monday tuesday wednesday thursday friday saturday sunday easy easily talk talked talking chatting conversation comfortable enjoyed enjoyment effort problem sentences`)

// foreign are words of German and Spanish that slip into English, which can mean nothing else.
var foreign = map[string]string{
	"montag": "monday", "di": "tuesday", "mi": "wednesday", "dienstag": "tuesday", "mittwoch": "wednesday", "donnerstag": "thursday", "freitag": "friday", "samstag": "saturday", "sonntag": "sunday",
	"lunes": "monday", "martes": "tuesday", "miercoles": "wednesday", "miércoles": "wednesday", "jueves": "thursday", "viernes": "friday",
	"sabado": "saturday", "sábado": "saturday", "domingo": "sunday",
	"leicht": "easy", "facil": "easy", "fácil": "easy", "schwer": "hard", "schwierig": "hard", "dificil": "hard", "difícil": "hard",
	"sprechen": "talking", "reden": "talking", "hablar": "talking",
}

// near are words that are one letter from a key and no typing errors.
var near = set("heard east eas ease walk walked walking tall talc efforts problems sentence talks")

// corrected is the key that a word was meant to be, in another language or with one letter left out, doubled or
// added or two of them swapped, or the word itself.
func corrected(text string) string {
	if word := foreign[text]; word != "" {
		return word
	}
	if len(text) < 3 || near[text] || slices.Contains(keys, text) {
		return text
	}
	for _, key := range keys {
		if len(key) >= 6 && slip(text, key) || len(key) == 4 && len(text) < 5 && slip(text, key) {
			return key
		}
	}
	return text
}

// slip says that two words differ by one letter more or less, or by two neighbours swapped.
func slip(a, b string) bool {
	if len(a) > len(b) {
		a, b = b, a
	}
	i := 0
	for i < len(a) && a[i] == b[i] {
		i++
	}
	switch len(b) - len(a) {
	case 0:
		return i+1 < len(a) && a[i] == b[i+1] && a[i+1] == b[i] && a[i+2:] == b[i+2:]
	case 1:
		return a[i:] == b[i+1:]
	}
	return false
}

// anchor is a verbal anchor of a scale of perceived exertion with its number.
type anchor struct {
	words string
	value float64
}

// effortScale is a scale of perceived exertion.
type effortScale struct {
	name, span string
	low, high  float64
	allowed    float64 // how far a word and a number may be apart: as far as neighbouring anchors (common practice, no source)
	anchors    []anchor
}

// The two scales. Their anchors: 6-20: Borg 1970, in the wording of 1998; 0-10: Borg's
// category-ratio scale as modified for whole sessions by Foster 2001. Both from memory: they serve to
// notice a number and a word that contradict each other, and never to turn a word into a number.
var (
	scale20 = effortScale{"6-20", "from 6 to 20", 6, 20, 3, []anchor{
		{"no exertion at all", 6}, {"extremely light", 7.5}, {"very light", 9}, {"light", 11}, {"somewhat hard", 13}, {"hard", 15}, {"heavy", 15},
		{"very hard", 17}, {"extremely hard", 19}, {"maximal exertion", 20}, {"maximal", 20},
	}}
	scale10 = effortScale{"0-10", "from 0 to 10", 0, 10, 2, []anchor{
		{"rest", 0}, {"very very easy", 1}, {"very, very easy", 1}, {"very easy", 1}, {"easy", 2}, {"moderate", 3}, {"somewhat hard", 4}, {"hard", 5},
		{"very hard", 7}, {"maximal", 10},
	}}
)

// scaleUpTo is the scale with a top of 20 or 10.
func scaleUpTo(top int) effortScale {
	if top == 10 {
		return scale10
	}
	return scale20
}

// anchorOf is the number that belongs to the words on a scale.
func (s effortScale) anchorOf(words string) (float64, bool) {
	i := slices.IndexFunc(s.anchors, func(a anchor) bool { return a.words == words })
	if i < 0 {
		return 0, false
	}
	return s.anchors[i].value, true
}

// contradicts says that a word and a number are further apart than neighbouring anchors are.
func (s effortScale) contradicts(words string, value float64) bool {
	at, ok := s.anchorOf(words)
	return ok && math.Abs(at-value) > s.allowed
}

func (s effortScale) hint(words string) string {
	at, ok := s.anchorOf(words)
	if !ok {
		return ""
	}
	return fmt.Sprintf(anchorBeside, words, figure(at), s.name)
}

// holds says that a value is on the scale.
func (s effortScale) holds(v float64) bool { return v >= s.low && v <= s.high }

func figure(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// word is a run of letters, of signs, or of anything else that is neither space nor punctuation and
// that no form has claimed.
type word struct {
	from, to int
	text     string // in lower case, with a plain apostrophe
	symbol   bool   // an emoji or another sign
}

// number says that a word is or begins with a number.
func (w word) number() bool {
	return w.text != "one" && (w.text[0] >= '0' && w.text[0] <= '9' || !math.IsNaN(inFigures(w.text)))
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

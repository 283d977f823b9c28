package answers

import (
	"nextrung/internal/record"
	"regexp"
)

// Parts of the phrases about talking.
const (
	smoothly  = `easily|comfortably|freely|fine|normally|without (?:any )?(?:problems?|trouble|effort)|no problem|(?:in )?(?:full|whole|complete) sentences`
	allTheWay = `the (?:whole|entire|full) (?:time|way|session|run|walk|ride)|all the (?:time|way)|all along|throughout`
	brokenly  = `(?:short|broken|half|clipped|choppy) (?:sentences?|phrases?)`
	fewWords  = `(?:a )?few words(?: at a time)?`
)

// The phrases about talking, in the order in which they are looked for. Loose ones hold only if
// nothing unknown is next to them.
var talkForms = []struct {
	talk  record.Talk
	loose bool
	re    *regexp.Regexp
}{
	{record.TalkHard, false, regexp.MustCompile(`(?i)\b(?:could(?:n['’]?t| not)|can(?:['’]?t|not| not)|unable to|(?:wasn['’]?t|not) able to)\s+(?:really\s+)?(?:talk|speak|chat)\s+(?:very |too |so |that )?(?:easily|comfortably|well|properly|much|freely|normally|in (?:full|whole|complete|long) sentences)\b`)},
	{record.TalkComfortable, false, regexp.MustCompile(`(?i)\b(?:could|can|was able to|able to|managed to)\s+(?:still |always |just )?(?:talk|chat|speak|sing|(?:hold|have) a conversation)\s+(?:very |quite |really |pretty )?(?:` + smoothly + `|` + allTheWay + `)\b`)},
	{record.TalkComfortable, false, regexp.MustCompile(`(?i)\b(?:could|can)\s+(?:still )?(?:easily|comfortably)\s+(?:talk|chat|speak|(?:hold|have) a conversation)(?: the (?:whole|entire) (?:time|way))?\b`)},
	{record.TalkComfortable, false, regexp.MustCompile(`(?i)\b(?:talked|chatted|spoke|sang|talking|chatting)\s+(?:the (?:whole|entire) (?:time|way)|all the (?:time|way)|all along|throughout|easily|comfortably|freely)\b`)},
	{record.TalkHard, false, regexp.MustCompile(`(?i)\bnot (?:so |very |too |that |really )?(?:easy|comfortable) (?:to )?(?:talk|chat|speak)(?:ing)?\b`)},
	{record.TalkHard, false, regexp.MustCompile(`(?i)\b(?:talk(?:ing)?|chat(?:ting)?|speaking|speech|conversation)(?:\s*[:=]\s*|\s+)(?:was not|wasn['’]?t|is not|not)\s+(?:so |very |too |that |really )?(?:easy|comfortable|comfy|fine)\b`)},
	{record.TalkComfortable, false, regexp.MustCompile(`(?i)\b(?:talk(?:ing)?|chat(?:ting)?|speaking|speech|conversation|talk test)(?:\s*[:=-]\s*|\s+)(?:was |is |felt |were )?(?:very |quite |really |pretty |totally |always |completely )?(?:easy|comfortable|comfy|fine|effortless|no problem|no trouble|not a problem)\b`)},
	{record.TalkComfortable, false, regexp.MustCompile(`(?i)\b(?:easy|comfortable|no problem|no trouble)\s+(?:to )?(?:talk|chat|speak)(?:ing)?\b`)},
	{record.TalkNo, false, regexp.MustCompile(`(?i)\b(?:talk(?:ing)?|chat(?:ting)?|speaking|conversation)(?:\s*[:=-]\s*|\s+)(?:was |is )?(?:impossible|not possible|no|out of the question)\b|\b(?:impossible|not possible) to (?:talk|speak|chat)\b`)},
	{record.TalkHard, false, regexp.MustCompile(`(?i)\b(?:talk(?:ing)?|chat(?:ting)?|speaking|speech|conversation)(?:\s*[:=-]\s*|\s+)(?:was |is |felt |were |got |getting |became )?(?:very |quite |really |pretty |rather |a bit |a little |too )?(?:hard|difficult|tough|tricky|uncomfortable|a struggle|strained)\b`)},
	{record.TalkHard, false, regexp.MustCompile(`(?i)\b(?:hard|difficult|tough|struggled|struggling)\s+to\s+(?:talk|chat|speak)\b`)},
	{record.TalkHard, false, regexp.MustCompile(`(?i)\b(?:could |can )?(?:hardly|barely|scarcely)\s+(?:talk|speak|chat)\b`)},
	{record.TalkHard, false, regexp.MustCompile(`(?i)\b(?:(?:i )?(?:could|can) )?(?:only |just )?(?:(?:talk|speak|chat|answer|say|manage|managed|talking|speaking) )?(?:only |just )?(?:in )?` + brokenly + `\b|\b(?:(?:could|can) )?(?:only|just) (?:(?:talk|speak|say|manage) )?` + fewWords + `\b`)},
	{record.TalkNo, true, regexp.MustCompile(`(?i)\b(?:could(?:n['’]?t| not)|can(?:['’]?t|not| not)|unable to|not able to)\s+(?:really |even )?(?:talk|speak|chat|say (?:a|one|any) words?|say anything|hold a conversation)(?: at all)?\b`)},
	{record.TalkComfortable, true, regexp.MustCompile(`(?i)\bin (?:full|whole|complete) sentences\b`)},
	{record.TalkHard, true, regexp.MustCompile(`(?i)\b(?:a bit |a little |quite |very |totally |completely )?out of breath\b`)},
}

// talk claims the phrases about talking.
func (p *parser) talk(from, to int) []item {
	var out []item
	for _, f := range talkForms {
		out = append(out, p.claim(f.re, from, to, func(match) (item, bool) {
			return item{what: isValue, loose: f.loose, note: record.Note{Talk: f.talk}, means: "talking " + talkWords(f.talk)}, true
		})...)
	}
	return out
}

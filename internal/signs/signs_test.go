package signs_test

import (
	"slices"
	"strings"
	"testing"

	"nextrung/internal/signs"
)

// The values are those that books hold.
func TestSignsOfBooks(t *testing.T) {
	tiers := map[signs.Tier]string{
		signs.Emergency: "chest faint breathless-at-rest confusion",
		signs.Doctor:    "breathless-at-mild-effort breathless-lying dizzy palpitations swollen-ankles calf-pain-walking nausea told-not-to-train hospital-or-new-illness internal-bleeding device-trouble",
		signs.AskAgain:  "unusually-tired poor-sleep cold sore",
		signs.Illness:   "fever chest-illness",
		signs.Other:     "grumpy",
	}
	for tier, words := range tiers {
		for w := range strings.FieldsSeq(words) {
			if got := signs.Sign(w).Tier(); got != tier {
				t.Errorf("%s has tier %d, want %d", w, got, tier)
			}
		}
	}
	last := signs.Emergency
	for _, s := range signs.All() {
		if order := []signs.Tier{signs.Emergency, signs.Doctor, signs.Illness, signs.AskAgain}; slices.Index(order, s.Tier()) < slices.Index(order, last) {
			t.Errorf("%s comes after a milder sign", s)
		}
		last = s.Tier()
	}
}

func TestNamed(t *testing.T) {
	for text, want := range map[string]signs.Sign{
		"chest": signs.Chest, "Chest": signs.Chest, "chest pain": signs.Chest, "CHEST-PAIN!": signs.Chest, "pain in my chest": signs.Chest,
		"fainted": signs.Faint, "dizzyness": signs.Dizzy, "Light headed": signs.Dizzy, "calf_pain_walking": signs.CalfPain,
		"slept badly": signs.PoorSleep, "flu": signs.Fever, "breathless": signs.BreathlessAtRest, "short of air": signs.BreathlessAtRest,
		"wheezing": signs.Wheezing, "wheeze": signs.Wheezing, "sick": signs.Nausea, "sickness": signs.Nausea, "unsteady on feet": signs.Unsteady,
		"unsteady on my feet": signs.Unsteady, "blue lips": signs.PaleOrBlue, "going grey": signs.PaleOrBlue, "murmur": signs.HeartMurmur,
		"a cold": signs.Cold, "cold": signs.Cold, "swollen calf": signs.SwollenLeg, "none": "", "": "", "No": "", "None.": "",
	} {
		if got, ok := signs.Named(text); !ok || got != want {
			t.Errorf("%q is %q (%v), want %q", text, got, ok, want)
		}
	}
	for _, text := range []string{"grumpy", "chestnut", "windy", "chest strap", "no chest pain", "chest pain? no", "tempo", "?!", "pale ale"} {
		if got, ok := signs.Named(text); ok {
			t.Errorf("%q is taken for %q", text, got)
		}
	}
	for _, s := range signs.All() {
		for _, name := range []string{string(s), s.Words()} {
			if got, ok := signs.Named(name); !ok || got != s {
				t.Errorf("%q names %q, want %s", name, got, s)
			}
			read := signs.Read(name)
			if len(read) != 1 || read[0].Sign != s || read[0].Said != signs.Stated {
				t.Errorf("%q reads as %+v", name, read)
			}
		}
	}
}

// list takes "a, b or c" apart.
func list(words string) []string {
	return strings.FieldsFunc(strings.NewReplacer(", or ", ",", " or ", ",", ", ", ",").Replace(words), func(r rune) bool { return r == ',' })
}

// Every sign that a text names is understood by the reader in the words of that text.
func TestTextsAreUnderstood(t *testing.T) {
	heard := func(where, words string, want ...signs.Sign) {
		t.Helper()
		got := what(words)
		for _, s := range want {
			if !slices.Contains(got, string(s)) {
				t.Errorf("%s: %q speaks of %v, want %s", where, words, got, s)
			}
		}
	}
	var stops []signs.Sign
	for _, stop := range signs.Stops() {
		for _, i := range stop.Items {
			heard("stop sign", i.Words, i.Sign)
			if complaints, places, ok := strings.Cut(i.Words, " in the "); ok && i.Sign == signs.Chest {
				for _, c := range list(complaints) {
					for _, place := range list(places) {
						heard("stop sign", c+" "+place, i.Sign)
						heard("stop sign", "some "+c+" in the "+strings.TrimPrefix(place, "between the "), i.Sign)
					}
				}
			}
			heard("stop line", stop.Text(), i.Sign)
			stops = append(stops, i.Sign)
		}
	}
	short := strings.Join(signs.StopShort(), "\n")
	heard("short list", short, stops...)
	heard("one line", signs.StopLine, signs.Chest, signs.Faint, signs.BreathlessAtRest)
	if signs.StopShort()[0] != "Chest pain, fainting, or breathless at rest: stop and call emergency help." {
		t.Errorf("the short list begins %q", signs.StopShort()[0])
	}
	for _, q := range signs.Screening() {
		heard("screening", strings.TrimSuffix(q.Text, "?"), q.Signs...)
	}
	if n := len(signs.Screening()); n != 9 {
		t.Errorf("%d questions, the published list has 9", n)
	}
}

// The strongest instruction comes first and every one has a time; nothing is put under a condition
// before an emergency.
func TestOrderOfStopSigns(t *testing.T) {
	last := 0
	order := []string{"Stop and call emergency help now", "Stop and see a doctor today, urgently", "Stop, and don't train until a doctor has cleared you"}
	for _, s := range signs.Stops() {
		at := slices.Index(order, s.Do)
		if at < last {
			t.Errorf("%q comes after a weaker line", s.Text())
		}
		last = at
		for _, i := range s.Items {
			if emergency := i.Sign.Tier() == signs.Emergency; emergency != (at == 0) {
				t.Errorf("%s: %q", i.Sign, s.Do)
			}
		}
	}
	for _, s := range signs.All() {
		for _, days := range []int{0, 1, 6} {
			advice, urgent := s.Advice(days), s.Urgent(signs.Client, days)
			if advice == "" || strings.HasPrefix(advice, "If ") || strings.HasPrefix(urgent, "If ") {
				t.Errorf("%s after %d days: advice %q, %q", s, days, advice, urgent)
			}
			if now := s.Tier() == signs.Emergency && days == 0; now != strings.HasPrefix(advice, "Stop and call emergency help now.") || now != (urgent == "Call emergency help now") {
				t.Errorf("%s after %d days: advice %q, %q", s, days, advice, urgent)
			}
			today := s.Tier() == signs.Emergency && days > 0 || slices.Contains([]signs.Sign{signs.SwollenLeg, signs.Bleeding, signs.DeviceTrouble, signs.PregnancyWarning}, s)
			if today != strings.Contains(advice, "a doctor today") || today != strings.Contains(urgent, "see a doctor today") && today != strings.Contains(urgent, "See a doctor today") {
				t.Errorf("%s after %d days: advice %q, %q", s, days, advice, urgent)
			}
			until := "a doctor has cleared the client."
			if s == signs.ToldNotToTrain {
				until = "the doctor who advised against it agrees."
			}
			if s.Grave() != strings.Contains(advice, "No training until "+until) || s.Grave() == (urgent == "") {
				t.Errorf("%s after %d days: advice %q, %q", s, days, advice, urgent)
			}
			for _, text := range []string{advice, s.Urgent(signs.Trainer, days)} {
				if strings.Contains(text, "you") {
					t.Errorf("%s after %d days: the trainer reads %q", s, days, text)
				}
			}
		}
	}
	if signs.Sign("grumpy").Advice(0) != "" {
		t.Error("a word that is no sign has advice")
	}
	for _, c := range signs.Cautions(signs.Trainer) {
		if strings.Contains(c, "you") {
			t.Errorf("the trainer reads %q", c)
		}
	}
	if !strings.Contains(signs.Cautions(signs.Trainer)[0], "no training until a doctor has cleared the client") {
		t.Errorf("cautions for the trainer begin %q", signs.Cautions(signs.Trainer)[0])
	}
	if !strings.Contains(signs.Cautions(signs.Client)[0], "don't train until a doctor has cleared you") {
		t.Errorf("cautions begin %q", signs.Cautions(signs.Client)[0])
	}
}

// What is plainly named may be entered; conditions, other people and doubts must be asked about.
func TestStatedOrSuspected(t *testing.T) {
	for text, want := range map[string]signs.Said{
		"chest pain": signs.Stated, "had some chest pain on Monday": signs.Stated, "nearly fainted on Wed": signs.Stated, "Dizzy? yes": signs.Stated,
		"felt dizzy today": signs.Stated, "no fever. Dizzy": signs.Stated, "no pain but dizzy": signs.Stated, "had a bad cold": signs.Stated,
		"chets pain": signs.Suspected, "felt dizy": signs.Suspected, "my husband had chest pain": signs.Suspected, "if I get dizzy I stop": signs.Suspected,
		"dizzy?": signs.Suspected, "no longer dizzy": signs.Suspected, "chest felt a little tight": signs.Suspected, "not only dizzy": signs.Suspected,
		"a bit tired": signs.Suspected, "no dizziness, no chest pain, no fever": signs.Denied, "chest pain? no": signs.Denied,
		"GP said no exercise till the scan": signs.Stated, "been told to rest by the doctor": signs.Stated, "doctor told me not to run too hard": signs.Suspected,
		"skipped on cardiologist's advice": signs.Stated, "my wife's doctor said no exercise": signs.Suspected, "no doctor said no exercise": signs.Suspected,
		"seeing the GP on Tuesday": signs.Suspected, "have you been told not to train? no": signs.Denied,
	} {
		read := signs.Read(text)
		if len(read) == 0 {
			t.Errorf("%q: nothing is read", text)
		}
		if i := slices.IndexFunc(read, func(m signs.Mention) bool { return m.Sign != signs.Fever || len(read) == 1 }); i >= 0 && read[i].Said != want {
			t.Errorf("%q: %+v is %s, want %s", text, read[i], read[i].Said, want)
		}
	}
}

package web

import (
	"slices"

	"nextrung/internal/coach"
	"nextrung/internal/fault"
	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/wording"
	"nextrung/internal/workout"
)

// factSection is a part of what is known of a client, with a form of its own.
type factSection struct {
	ID, Name string
	Lead     string
	Fields   []field
	About    []field // what is asked of a change: its first day, and who said so
}

// factSections are the facts about a client in the order of a first meeting. Every field of coach.Facts is in one of them,
// but the state, which has a form of its own.
func factSections(today workout.Date) []factSection {
	return []factSection{
		{ID: "screening", Name: "Screening and health", Fields: screeningFields(today), About: []field{heldFrom(today), saidSo()},
			Lead: "Ask the questions as worded here. What each answer changes is shown beside it."},
		{ID: "person", Name: "Person", Fields: personFields(today), About: []field{heldFrom(today), saidSo()}},
		{ID: "zones", Name: "Heart rates behind the zones", Fields: zoneFields(), About: []field{{
			Name: coach.From, Label: "First day of the new zones", Kind: aDay, Value: (today + 1).String(),
			Help: "Earlier days keep their zones.",
		}, saidSo()}, Lead: "Talk and effort overrule every number here."},
		{ID: "training", Name: "Training", Fields: trainingFields(), About: []field{heldFrom(today)}},
		{ID: "programme", Name: "Programme", Fields: programmeFields(today), About: []field{heldFrom(today)},
			Lead: "From then on, decisions move the stage: change it here only if it was entered wrongly."},
	}
}

func heldFrom(today workout.Date) field {
	return field{Name: coach.From, Label: "Applies from", Kind: aDay, Latest: today, Help: "Leave it empty if you don't know the day."}
}

// saidSo asks on whose word something that holds training back is taken off the record.
func saidSo() field {
	return field{Name: coach.Because, Label: "Who said so", Kind: aText,
		Help: "Needed if something that holds training back no longer does, such as “the clinic's letter of 3 June”. Kept with the date."}
}

// screeningFields are the questions before anything else.
func screeningFields(today workout.Date) []field {
	signsField := field{Name: "signs", Label: "Signs and symptoms", Kind: questions, Help: "If any answer is yes: " + signs.Dizzy.Advice(0)}
	asked := []signs.Sign{}
	for i, q := range signs.Screening() {
		p := part{Name: string(rune('1' + i)), Label: q.Text, Choices: []option{{Value: noSign, Label: "No"}}}
		all := slices.Clone(q.Signs)
		slices.SortStableFunc(all, func(a, b signs.Sign) int { return int(a.Urgency() - b.Urgency()) })
		for _, s := range all {
			p.Choices = append(p.Choices, signChoice(s, "Yes: "+s.Words()))
		}
		asked = append(asked, all...)
		signsField.Parts = append(signsField.Parts, p)
	}
	for _, s := range signs.All() {
		if !slices.Contains(asked, s) {
			signsField.Choices = append(signsField.Choices, signChoice(s, wording.Capital(s.Words())))
		}
	}
	return []field{
		{Name: "screened", Label: "Day of the screening", Kind: aDay, Latest: today, Help: "Until the questions are answered, no session is planned."},
		signsField,
		{Name: "disease", Label: "Known disease", Kind: oneOf, Help: "With a known disease, no session before a doctor's clearance; if they exercised regularly before, comfortable sessions only until then.", Choices: []option{
			{Value: "none", Label: "None"},
			{Value: "heart", Label: "Heart or vessels"}, {Value: "metabolic", Label: "Metabolic, such as diabetes"}, {Value: "renal", Label: "Kidneys"},
		}},
		{Name: "active", Label: "Active before", Help: "Planned exercise of at least 30 min at moderate effort on at least 3 days a week, for the last 3 months.", Kind: oneOf, Choices: []option{
			{Value: "yes", Label: "Yes"},
			{Value: "no", Label: "No", Means: "Stage 1 takes longer. With a known disease, no session before a doctor's clearance."},
		}},
		{Name: "medicine", Label: "Medicine that changes the heart rate", Kind: oneOf, Choices: []option{
			{Value: "none", Label: "None"},
			{Value: "slows", Label: "One that slows the heart", Means: "Zones and heart-rate targets are switched off: go by effort and talk. Nothing harder than comfortable without a doctor's clearance.", Grave: true},
			{Value: "raises", Label: "One that raises the heart rate", Means: "Zones stay, but effort and talk overrule them."},
		}},
		{Name: "dose_change", Label: "Last change of dose", Kind: aDay, Latest: today, Help: "Heart rates from before that day are not compared with those after it."},
		{Name: "conditions", Label: "Conditions that need care", Kind: someOf, Choices: []option{
			{Value: string(record.Pregnant), Label: "Pregnant, or a baby in the last few months", Means: "Go by effort and talk. Nothing harder than comfortable without clearance; the doctor or midwife has the last word.", Grave: true},
			{Value: string(record.Pacemaker), Label: "Pacemaker", Means: "Counts as heart disease. Go by effort and talk.", Grave: true},
			{Value: string(record.Irregular), Label: "Irregular heart rhythm", Means: "Counts as heart disease. Go by effort and talk.", Grave: true},
			{Value: string(record.Insulin), Label: "Insulin", Means: "Counts as metabolic disease. Every page carries a reminder to check blood sugar.", Grave: true},
			{Value: string(record.Asthma), Label: "Asthma", Means: "Every page carries a reminder of the reliever inhaler and a longer warm-up."},
		}},
		{Name: "clearance", Label: "Doctor's clearance", Kind: aDay, Latest: today,
			Help: "The day of a doctor's written clearance for exercise. It covers what was known when it was entered; a sign, disease or dose that comes later needs a newer one."},
	}
}

// someDay stands for the days since a sign that is chosen in a form, which cannot know them yet: the advice then fits a sign
// that is over and one that is still there.
const someDay = 1

// signChoice is a sign to choose, with what it calls for at once.
func signChoice(s signs.Sign, label string) option {
	return option{Value: string(s), Label: label, Means: s.Advice(someDay), Grave: s.Grave(), Plain: s.Urgency() == signs.ClearFirst}
}

func personFields(today workout.Date) []field {
	return []field{
		{Name: "born", Label: "Day of birth", Kind: aDay, Latest: today, Help: "Zones and cautions depend on age. Under 18, recordings are shown but there are no stages."},
		{Name: "sex", Label: "Sex at birth", Help: "Published formulas need it.", Kind: oneOf, Choices: []option{{Value: "female", Label: "Female"}, {Value: "male", Label: "Male"}}},
		{Name: "height_cm", Label: "Height", Unit: "cm", Kind: aNumber},
		{Name: "mass_kg", Label: "Body mass", Unit: "kg", Kind: aNumber, Help: "Only the walk test needs it."},
		{Name: "time_zone", Label: "Time zone", Kind: aText, Help: "Such as Europe/Oslo. It decides which day a late session belongs to."},
	}
}

func zoneFields() []field {
	return []field{
		{Name: coach.HRRest, Label: "Resting heart rate", Unit: "bpm", Kind: aNumber,
			Help: "The mean of at least three mornings: on waking, lying down, before getting up. Leave it empty until it has been counted; the zones then rest on the maximum alone."},
		{Name: coach.HRMax, Label: "Measured maximum", Unit: "bpm", Kind: aNumber,
			Help: "Enter it only if it was measured; it then holds for every activity. Never push anybody to their limit to find it: without it, an estimate from age is used, which is more than 11 bpm off for one person in three."},
		{Name: coach.HRMaxMode, Label: "Maximum by activity", Unit: "bpm", Kind: inParts, byMode: ",", Parts: modeParts(),
			Help: "On a bike or in the water the maximum is lower than on foot."},
		{Name: coach.Thresholds, Label: "Talk test", Unit: "bpm", Kind: inParts, Parts: []part{{Name: "1", Label: "talking is comfortable up to"}, {Name: "2", Label: "talking is hardly possible from"}},
			Help: "These replace the two inner edges of the zones."},
		{Name: coach.Edges, Label: "Zone edges that you set", Unit: "bpm", Kind: inParts, byMode: " ", Parts: modeParts(),
			Help: "Four edges, such as 110,135,150,168. They replace everything else for that activity."},
		{Name: coach.Limit, Label: "Limit set by a doctor", Unit: "bpm", Kind: aNumber, Help: "No session goes above it, and every zone ends at it. Clear the field only once the doctor has lifted the limit."},
	}
}

func modeParts() []part {
	return record.Map(workout.Modes(), func(m workout.Mode) part { return part{Name: string(m), Label: m.Doing()} })
}

func trainingFields() []field {
	modes := record.Map(workout.Modes(), func(m workout.Mode) option { return option{Value: string(m), Label: wording.Capital(m.Doing())} })
	modes[slices.Index(workout.Modes(), workout.Walk)].Means = "Walks count as sessions only if this is chosen."
	days := []option{}
	for i, name := range []string{"Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"} {
		days = append(days, option{Value: string(workout.Weekdays()[i]), Label: name})
	}
	return []field{
		{Name: "days", Label: "Days a week", Kind: aNumber, Help: "On how many days can the client train?"},
		{Name: "minutes", Label: "Minutes a session", Unit: "min", Kind: aNumber, Help: "How long does the client have each time, warm-up and cool-down included?"},
		{Name: "modes", Label: "Activities", Kind: someOf, Choices: modes},
		{Name: "goal", Label: "Goal", Kind: longText, Help: "In the client's own words."},
		{Name: "equipment", Label: "Equipment", Kind: aText, Help: "What the client can train with, separated by commas: treadmill, exercise bike, gym."},
		{Name: "enjoys", Label: "Enjoys", Kind: aText, Help: "What the client likes doing, separated by commas. It decides whether a plan is kept."},
		{Name: "resistance_days", Label: "Strength training days", Kind: someOf, Choices: days},
		{Name: "tight", Label: "Tight muscles", Kind: aText, Help: "Those that you found tight, separated by commas: calves, hips. Only they are stretched before training."},
		{Name: "sensor", Label: "Heart-rate sensor", Kind: oneOf, Help: "For files that don't say. Heart rate in interval sessions is judged only with a chest strap.", Choices: []option{{Value: "strap", Label: "Chest strap"}, {Value: "wrist", Label: "Wrist"}}},
	}
}

func programmeFields(today workout.Date) []field {
	return []field{
		{Name: "stage", Label: "Stage at the start", Kind: oneOf, Choices: []option{
			{Value: "1", Label: "1", Means: "A base in zone 1. Where nearly everybody begins."},
			{Value: "2", Label: "2", Means: "Intervals into zone 2. For somebody active, whose talk test and history allow it."},
			{Value: "3", Label: "3", Means: "Zone 3 as well. Only after stages 1 and 2."},
		}},
		{Name: "since", Label: "First day of that stage", Kind: aDay, Latest: today},
		{Name: "confirmed", Label: "Unusual values that are right", Kind: someOf, Help: "You have asked, and the value stands.", Choices: []option{
			{Value: string(record.CheckedRest), Label: "Resting heart rate"}, {Value: string(record.CheckedMaximum), Label: "Maximal heart rate"},
			{Value: string(record.CheckedBirth), Label: "Day of birth"}, {Value: string(record.CheckedDisease), Label: "No known disease"},
			{Value: string(record.CheckedPregnant), Label: "Pregnancy"}, {Value: string(record.CheckedActive), Label: "Active before"},
		}},
	}
}

// pick gives the fields that are named, in the order of the names.
func pick(all []field, names ...fault.Field) []field {
	return record.Map(names, func(n fault.Field) field {
		return all[slices.IndexFunc(all, func(f field) bool { return f.Name == n })]
	})
}

package hindsight_test

import (
	"strings"
	"testing"

	"nextrung/internal/hindsight"
	"nextrung/internal/record"
	"nextrung/internal/signs"
	"nextrung/internal/workout"
)

// Each change of what a decision rested on is named; without one there is nothing to say. then is what
// the book gives back for the day of the decision, now what it holds today.
func TestChangedAfterwards(t *testing.T) {
	base := func() *story {
		return newStory().weeks(0, 6, 12).note(10, record.Note{HRRest: 60}).decide(41, record.DoHold)
	}
	for _, c := range []struct {
		name string
		now  func(*story)
		then func(*record.Record) // nil: as the story was
		kind hindsight.ChangeKind
		want string // "" for no change
	}{
		{"nothing", func(s *story) { s.weeks(6, 7, 13) }, nil, "", ""},
		{"a late recording", func(s *story) { s.ride(40, 12); s.r.Recordings[len(s.r.Recordings)-1].Received = day(50) }, nil, hindsight.CameLater,
			"Changed afterwards: the recording of 11 Apr came in on 21 Apr."},
		{"a recording of the days after is no change", func(s *story) { s.ride(43, 12); s.r.Recordings[len(s.r.Recordings)-1].Received = day(50) }, nil, "", ""},
		{"an old export entered afterwards", func(s *story) { s.ride(40, 12) }, func(r *record.Record) {}, hindsight.EnteredSince,
			"Changed afterwards: the recording of 11 Apr was entered or counted again after the decision."},
		{"an exclusion", func(s *story) { s.r.Recordings[3].Aside = record.SetAside(record.Excluded, "her brother's strap") }, nil, hindsight.CountsNoMore,
			"Changed afterwards: the recording of 9 Mar no longer counts (excluded: her brother's strap)."},
		{"taken out of the book", func(s *story) { s.r.Recordings = s.r.Recordings[1:] }, nil, hindsight.OutOfTheBook, "which counted then, was removed or moved to another client."},
		{"a late note with a sign", func(s *story) {
			s.note(39, record.Note{Symptoms: []signs.Sign{signs.Dizzy}})
			s.r.Notes[len(s.r.Notes)-1].Entered = day(45)
		}, nil, hindsight.CameLater, "Changed afterwards: the note about 10 Apr (dizzy) was entered on 16 Apr. With everything known now, the recommendation for 12 April 2026 is see a doctor first; that day it was"},
		{"a late report", func(s *story) {
			s.r.Reports = append(s.r.Reports, record.Report{ID: "r1", Date: day(38), Entered: day(44), Minutes: 30, Sport: workout.Cycling})
		}, nil, hindsight.CameLater, "the session reported for 9 Apr was entered on 15 Apr"},
		{"a note taken back", func(s *story) { s.r.Notes = s.r.Notes[:len(s.r.Notes)-1] }, func(*record.Record) {}, hindsight.TakenBack, "the note about 12 Mar was undone"},
		{"zones of days before", func(s *story) { s.r.Client.Zones = []record.ZoneSet{{HRRest: 58}} },
			func(r *record.Record) { r.Client.Zones = []record.ZoneSet{{HRRest: 64}} }, hindsight.ZonesChanged, "the zones for earlier days were changed"},
		{"zones of days after", func(s *story) {
			s.r.Client.Zones = append(s.r.Client.Zones, record.ZoneSet{From: day(50), HRRest: 58})
		}, func(r *record.Record) { r.Client.Zones = r.Client.Zones[:1] }, "", ""},
		{"a screening that was answered before and entered later", func(s *story) {}, func(r *record.Record) { r.Client.Screening = record.Screening{} }, hindsight.FactsChanged, "facts were entered or changed: screening"},
		{"a medicine, with the date of its dose", func(s *story) { s.r.Client.Medicine, s.r.Client.DoseChange = record.Slows, day(20) },
			func(r *record.Record) { r.Client.Medicine, r.Client.DoseChange = "", 0 }, hindsight.FactsChanged, "facts were entered or changed: medicine"},
		{"a medicine without it", func(s *story) { s.r.Client.Medicine = record.Slows }, func(r *record.Record) { r.Client.Medicine = "" }, hindsight.UndatedChange, "does not show from which day"},
		{"a medicine since then", func(s *story) { s.r.Client.Medicine, s.r.Client.DoseChange = record.Slows, day(60) },
			func(r *record.Record) { r.Client.Medicine, r.Client.DoseChange = "", 0 }, "", ""},
		{"another policy, the same verdict", func(s *story) { s.r.Decisions[0].Policy = "sha256:0123456789" }, nil, "", ""},
		{"another policy, another verdict", func(s *story) {
			s.last(otherVerdict).last(func(d *record.Decision) { d.Policy = "sha256:0123456789" })
		}, nil, "", "The policy has changed since (then 01234567): under today's"},
		{"another verdict and nobody knows why", func(s *story) { s.last(otherVerdict) }, nil, "", "Either something was entered for that day afterwards"},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := base()
			k := hindsight.Known{On: day(70)}
			if c.then != nil {
				then := base().r.Until(day(41))
				c.then(&then)
				k.Then = map[workout.Date]record.Record{day(41): then}
			}
			c.now(s)
			k.Now = s.r
			got := hindsight.Back(k, defaults).Decisions[0].Changed
			if c.want == "" {
				if got != nil {
					t.Fatalf("changed: %s", got.Text())
				}
				return
			}
			if got == nil {
				t.Fatal("nothing is said")
			}
			if !strings.Contains(got.Text(), c.want) {
				t.Errorf("got %q, want %q in it", got.Text(), c.want)
			}
			if c.kind != "" && (len(got.Changes) != 1 || got.Changes[0].Kind != c.kind) {
				t.Errorf("changes %+v, want one of kind %s", got.Changes, c.kind)
			}
		})
	}
}

func otherVerdict(d *record.Decision) {
	v := record.Ease
	d.Verdict = &v
}

// Knowing takes what is dated from now and what is not from then, and nothing of the days after.
func TestKnowing(t *testing.T) {
	s := newStory().weeks(0, 8, 12)
	then := s.r.Until(day(41))
	then.Client.Modes, then.Client.Sex = []workout.Mode{workout.Walk}, ""
	s.r.Recordings[0].Received = day(55)
	s.r.Client.Clearance = day(45)
	r := hindsight.Knowing(s.r, then, day(41))
	if len(r.Recordings) != 18 {
		t.Errorf("%d recordings, want the 18 of six weeks", len(r.Recordings))
	}
	if r.Client.Modes[0] != workout.Walk || r.Client.Sex != "male" || r.Client.Clearance != 0 {
		t.Errorf("facts %+v", r.Client)
	}
	if s.r.Recordings[0].Received != day(55) {
		t.Error("the record itself was changed")
	}
}

// How a decision stands to the recommendation, in words without blame.
func TestAgreement(t *testing.T) {
	for _, c := range []struct {
		act  record.Act
		said record.Verdict // "" for none
		want hindsight.Agreement
		text string
	}{
		{record.DoAdvance, record.Advance, hindsight.AsRecommended, "as recommended"},
		{record.DoAdvance, record.Hold, hindsight.Bolder, "moved up although the policy said hold"},
		{record.DoAdvance, record.NotAssessable, hindsight.Bolder, "moved up although there was not enough data yet"},
		{record.DoHold, record.Advance, hindsight.MoreCareful, "held although the policy said advance"},
		{record.DoHold, record.NotAssessable, hindsight.AsRecommended, "there was not enough data yet"},
		{record.DoHold, record.StepBack, hindsight.Bolder, "held although the policy said step back"},
		{record.DoEase, record.Hold, hindsight.MoreCareful, "eased although the policy said hold"},
		{record.DoStepBack, record.StepBack, hindsight.AsRecommended, "as recommended"},
		{record.DoEase, record.Refer, hindsight.Bolder, "eased although the policy said see a doctor first"},
		{record.DoRefer, record.Refer, hindsight.AsRecommended, "as recommended"},
		{record.DoPause, record.Refer, hindsight.OwnChoice, "the policy said see a doctor first"},
		{record.DoMaintain, record.Advance, hindsight.OwnChoice, "the policy said advance"},
		{record.DoResume, "", hindsight.NoRecommendation, "no recommendation on that day"},
	} {
		s := newStory().weeks(0, 1, 12).decide(6, c.act)
		s.last(func(d *record.Decision) {
			if d.Verdict = &c.said; c.said == "" {
				d.Verdict = nil
			}
		})
		if e := s.back(10).Decisions[0]; e.Agreement != c.want || e.Agreed() != c.text {
			t.Errorf("%s under %s: %s, %q", c.act, c.said, e.Agreement, e.Agreed())
		}
	}
}

func TestStages(t *testing.T) {
	s := newStory().weeks(0, 6, 12).decide(41, record.DoAdvance).decide(48, record.DoHold).decide(55, record.DoStepBack).decide(62, record.DoAdvance)
	want := []hindsight.Stage{{1, day(0), day(41)}, {2, day(42), day(55)}, {1, day(56), day(62)}, {2, day(63), 0}}
	got := s.back(70).Stages
	if len(got) != len(want) {
		t.Fatalf("stages %+v", got)
	}
	for i := range want {
		if got[i] != want[i] {
			t.Errorf("stage %d: %+v, want %+v", i, got[i], want[i])
		}
	}
	if got := s.back(50).Stages; len(got) != 2 || got[1].To != 0 {
		t.Errorf("as of an earlier day: %+v", got)
	}
}

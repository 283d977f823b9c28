package progression

import (
	"math"
	"slices"

	"nextrung/internal/record"
)

// outlook is the session that is forecast, in the mode in which it would be hardest.
type outlook struct {
	above float64 // points above the effort at the top of zone 1
	sd    float64 // points
	// bearable is the chance that its effort stays within the limit, speech that talking stays possible.
	bearable, speech float64
}

func (o outlook) sure() float64 { return o.bearable * o.speech }

// forecaster holds what is known before the answers: the modes and the heart rate to come.
type forecaster struct {
	modes []scale
	beats float64
	room  float64 // points between the effort at the top of zone 1 and the limit
	talks bool
}

// weigh is an answer so many days old. With m points above what a heart rate h usually feels like, it says
//
//	e = effort - 13 - (h - T) / k,  of variance s² = 1.5² + (5 / k)² / 2,  with the weight w = 0.5^(age / half-life)
//
// where T is the top of zone 1 and k the bpm of a point. Talk is comfortable with the chance σ((T1 - h) / 5), impossible
// with σ((h - T1 - 0.2 R) / 5) and hard in between, T1 = T + d; it counts as ln(0.04 / 3 + 0.96 p), times w.
func (s scale) weigh(x felt, age, halfLife float64) weighed {
	var out weighed
	w := math.Pow(0.5, age/halfLife)
	if x.RPE != nil {
		out.sure = w / (answerError*answerError + heartError*heartError/(s.point*s.point)/2)
		out.above = out.sure * (x.RPE.Value - middle(x.RPE.Scale) - (x.beats-s.top)/s.point)
	}
	if x.Talk == record.NotAsked {
		return out
	}
	sigma := func(z float64) float64 { return 1 / (1 + math.Exp(-z/talkWidth)) }
	out.talk = make([]float64, talkSteps)
	for i := range out.talk {
		t1 := s.top + place(i)
		comfortable, no := sigma(t1-x.beats), sigma(x.beats-t1-talkSpan*s.reserve)
		p := max(0, 1-comfortable-no)
		switch x.Talk {
		case record.TalkComfortable:
			p = comfortable
		case record.TalkNo:
			p = no
		}
		out.talk[i] = w * math.Log(talkLapse/3+(1-talkLapse)*p)
	}
	return out
}

// place is by how many bpm talking stops being comfortable above the top of zone 1: -36 to 36 by 3.
func place(i int) float64 { return talkStep * float64(i-talkSteps/2) }

func middle(scale int) float64 {
	if scale == 10 {
		return middle10
	}
	return middle20
}

// forecast is the posterior of the session to come, in the mode in which it is least sure. With Q = Σ w / s² + 1 / τ²,
// τ² = 1 + (8.5 / k)² and m = Σ (w e / s²) / Q, the session at n bpm feels like 13 + (n - T) / k + m, normal with the
// standard deviation 1 / √Q; half a point above the limit is still rounded down to it. Speech is possible below
// T1 + 0.2 R, with T1 normal around T by 8.5 bpm before the answers.
func (f forecaster) forecast(all []weighed) outlook {
	sure, above := 0.0, 0.0
	talk := make([]float64, talkSteps)
	for _, x := range all {
		sure, above = sure+x.sure, above+x.above
		for i, l := range x.talk {
			talk[i] += l
		}
	}
	var worst outlook
	for i, s := range f.modes {
		q := sure + 1/(personError*personError+zoneError*zoneError/(s.point*s.point))
		o := outlook{above: (f.beats-s.top)/s.point + above/q, sd: 1 / math.Sqrt(q), speech: 1}
		o.bearable = 0.5 * math.Erfc(-(f.room+0.5-o.above)/o.sd/math.Sqrt2)
		if f.talks {
			o.speech = s.speech(talk, f.beats)
		}
		if i == 0 || o.sure() < worst.sure() {
			worst = o
		}
	}
	return worst
}

// speech is the chance that talking is possible at so many bpm.
func (s scale) speech(talk []float64, bpm float64) float64 {
	logs := slices.Clone(talk)
	for i := range logs {
		logs[i] -= place(i) * place(i) / (2 * zoneError * zoneError)
	}
	most := slices.Max(logs)
	sum, can := 0.0, 0.0
	for i, l := range logs {
		p := math.Exp(l - most)
		sum += p
		can += p * min(max(0.5+(s.top+place(i)+talkSpan*s.reserve-bpm)/talkBorder, 0), 1)
	}
	return can / sum
}

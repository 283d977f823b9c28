package web

import (
	"fmt"
	"html/template"
	"math"
	"net/http"
	"slices"

	"nextrung/internal/coach"
	"nextrung/internal/fault"
	"nextrung/internal/physiology"
	"nextrung/internal/reasons"
	"nextrung/internal/record"
	"nextrung/internal/wording"
	"nextrung/internal/workout"
	"nextrung/reports"
)

// recordingsForm is the page of all recordings of a client.
type recordingsForm struct {
	personPage
	Rows    []recordingRow
	Older   int
	Chosen  *chosenRecording
	Refused []coach.RefusedFile
}

// recordingRow is one recording at a glance.
type recordingRow struct {
	ID, Day, Sport, Length string
	Workout, Change        string // links
	Bar                    template.HTML
	Zones, Quality         string
	Aside                  string // why it does not count
	Remarks                []string
}

// chosenRecording is a recording that is to be corrected.
type chosenRecording struct {
	recordingRow
	Others   int // recordings of the same file
	Excluded bool
	Fields   []field
}

// recordingFields are the fields for correcting a recording.
func recordingFields(others []string) []field {
	var to []option
	for _, who := range others {
		to = append(to, option{Value: who, Label: who})
	}
	return []field{
		{Name: "because", Label: "Why", Kind: aText, Help: "Shown beside the recording. For example: somebody else wore the strap; the sensor had slipped."},
		{Name: "to", Label: "Whose is it?", Kind: oneOf, Choices: to},
	}
}

// shownRecordings is how many of the newest recordings the page shows unless the trainer wants all.
const shownRecordings = 40

func (d *Desk) recordingsPage(r *http.Request, who string) (content, error) {
	person, err := d.person(r, who, "recordings")
	if err != nil {
		return content{}, err
	}
	rec, err := d.coach.Record(r.Context(), who, d.on(), false)
	if err != nil {
		return content{}, err
	}
	page := recordingsForm{personPage: person}
	if page.Refused, err = d.coach.RefusedFiles(who); err != nil {
		return content{}, err
	}
	all := slices.Clone(rec.Recordings)
	slices.Reverse(all)
	id := r.FormValue("id")
	if id == "" {
		id = page.refused.of("recording").typed.Get("id")
	}
	for i, x := range all {
		row := recordingRowOf(x, rec.Client.Since)
		if x.ID == id {
			if page.Chosen, err = d.chosen(r, x, row, all, page.refused); err != nil {
				return content{}, err
			}
		}
		if i >= shownRecordings && r.FormValue("all") == "" {
			page.Older++
			continue
		}
		page.Rows = append(page.Rows, row)
	}
	return clientsRoom(who, wording.Capital(wording.Some(len(all), "recording"))+" in the book.", "recordings", page)
}

func (d *Desk) chosen(r *http.Request, x record.Recording, row recordingRow, all []record.Recording, no refused) (*chosenRecording, error) {
	names, err := d.coach.Clients(r.Context())
	if err != nil {
		return nil, err
	}
	names = slices.DeleteFunc(names, func(n string) bool { return n == x.Client })
	same := record.Keep(all, func(o record.Recording) bool { return o.File == x.File })
	return &chosenRecording{recordingRow: row, Others: len(same) - 1, Excluded: x.Aside.Code == record.Excluded, Fields: no.of("recording").apply(recordingFields(names))}, nil
}

func recordingRowOf(x record.Recording, since workout.Date) recordingRow {
	row := recordingRow{
		ID: x.ID, Day: x.Date.Long(), Sport: wording.Capital(string(x.Workout.Sport)), Length: wording.Clock(x.Workout.Seconds),
		Workout: reports.WorkoutFile(x), Quality: quality(x.Measured.HeartRate), Remarks: reasons.Texts(append(slices.Clone(x.Workout.Remarks), x.Measured.Remarks...)),
	}
	if z := x.Measured.Zones; z != nil {
		row.Bar, row.Zones = reports.ZoneBar(*z)
	}
	if !x.Counts() {
		row.Aside = wording.Sentence("Does not count: " + reasons.Text(x.Aside))
	} else if x.Date < since {
		row.Aside = fmt.Sprintf("From before the stage began on %s: it counts for no stage.", since.Long())
	}
	return row
}

// quality says what the heart rate of a recording is worth, in a few words.
func quality(h physiology.Summary) string {
	sensor := map[workout.Sensor]string{workout.Strap: "chest strap", workout.Wrist: "wrist", workout.UnknownSensor: "sensor not known"}[h.Source]
	switch {
	case h.Coverage == nil:
		return "no heart rate"
	case !h.Usable:
		return sensor + ", too little or too poor to be used"
	}
	text := fmt.Sprintf("%s, %d %% recorded", sensor, int(math.Round(100**h.Coverage)))
	if h.Doubtful {
		text += ", doubtful"
	}
	return text
}

// changeRecording leaves a recording out, takes it back in, gives it to another client or takes it out of the book.
func (d *Desk) changeRecording(r *http.Request) (to string, did result, err error) {
	who, to, err := d.clientOf(r, "recordings")
	if err != nil {
		return "", did, err
	}
	id, because := r.PostFormValue("id"), r.PostFormValue("because")
	rec, err := d.coach.Record(r.Context(), who, d.on(), false)
	if err != nil {
		return "", did, err
	}
	i := slices.IndexFunc(rec.Recordings, func(x record.Recording) bool { return x.ID == id })
	if i < 0 {
		return to, did, fault.New(fault.NotFound, "%s no longer has a recording %q: it was moved or removed", who, id)
	}
	what := fmt.Sprintf("%s, %s", rec.Recordings[i].Date.Long(), rec.Recordings[i].Workout.Sport)
	switch r.PostFormValue("do") {
	case "exclude":
		err = d.coach.Exclude(r.Context(), id, because, d.on())
		what += " no longer counts: " + because
	case "include":
		err = d.coach.Include(r.Context(), id)
		what += " counts again"
	case "move":
		var other string
		if r.PostFormValue("to") == "" {
			return to, did, fault.In("to", "", "is missing: choose a client")
		}
		if other, err = d.coach.Named(r.Context(), r.PostFormValue("to")); err == nil {
			err = d.coach.Move(r.Context(), id, other)
		}
		what += " now belongs to " + other
	case "undo":
		if r.PostFormValue("sure") != "yes" {
			return to, did, fault.New(fault.Wrong, "nothing was removed: tick the box to confirm")
		}
		err = d.coach.Undo(r.Context(), id)
		what += " is out of the book"
	default:
		return to, did, fault.New(fault.Wrong, "nothing was chosen")
	}
	if err != nil {
		return to, did, err
	}
	did.Done = []string{wording.Sentence(what)}
	return to, did, nil
}

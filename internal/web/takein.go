package web

import (
	"cmp"
	"context"
	"fmt"
	"io"
	"mime"
	"net/http"
	"slices"
	"strings"

	"nextrung/internal/coach"
	"nextrung/internal/fault"
	"nextrung/internal/reasons"
	"nextrung/internal/record"
	"nextrung/internal/wording"
	"nextrung/internal/workout"
)

// errBrokeOff is an upload that ended, or was too large, after some of its files.
var errBrokeOff = fault.New(fault.Wrong, "the upload broke off or was too large: what is listed here was taken in, the rest was not")

// takeIn keeps the files that were chosen or dropped as they come and then receives them, each on its own: one that is
// refused stops no other, and once a file has come it is taken in even if nobody waits for the answer.
func (d *Desk) takeIn(r *http.Request) (to string, did result, err error) {
	parts, err := r.MultipartReader()
	if err != nil {
		return "", did, fault.New(fault.Wrong, "no files came with the form")
	}
	client, all := "", []coach.Arrived(nil)
	for {
		part, next := parts.NextPart()
		if next == io.EOF {
			break
		}
		if next != nil {
			err = errBrokeOff
			break
		}
		switch part.FormName() {
		case "client":
			b, _ := io.ReadAll(io.LimitReader(part, maxForm))
			if client = string(b); client != "" {
				if client, err = d.coach.Named(r.Context(), client); err != nil {
					return "/", did, err
				}
			}
		case "file":
			_, given, _ := mime.ParseMediaType(part.Header.Get("Content-Disposition"))
			if given["filename"] == "" {
				continue // nothing was chosen
			}
			var a coach.Arrived
			if a, err = d.coach.Arrive(client, given["filename"], part); err == nil {
				all = append(all, a)
				d.coming.expect(1)
			}
		}
		if err != nil {
			err = errBrokeOff
			break
		}
	}
	if len(all) == 0 && err == nil {
		did.Wrong = []string{"No file was chosen."}
	}
	return "/", did, cmp.Or(d.receive(r, all, coach.Intake{On: d.on()}, &did), err)
}

// receive takes in what has arrived and was expected, even if nobody waits for it any more.
func (d *Desk) receive(r *http.Request, all []coach.Arrived, in coach.Intake, did *result) error {
	ctx := context.WithoutCancel(r.Context())
	for i, a := range all {
		var one result
		err := d.locked(func() error {
			receipts, err := d.coach.Take(ctx, a, in)
			one.add(a.Client, receipts)
			return err
		})
		d.coming.took(one)
		did.Done, did.Wrong, did.Unclaimed = append(did.Done, one.Done...), append(did.Wrong, one.Wrong...), did.Unclaimed+one.Unclaimed
		if err != nil {
			for range all[i+1:] {
				d.coming.took(result{})
			}
			return err
		}
	}
	return nil
}

// locked does something with nothing else running beside it.
func (d *Desk) locked(f func() error) error {
	d.acts.Lock()
	defer d.acts.Unlock()
	return f()
}

// takeDrop receives everything in the drop folder.
func (d *Desk) takeDrop(r *http.Request) (to string, did result, err error) {
	files := 0
	err = d.coach.TakeInEach(context.WithoutCancel(r.Context()), d.on(), func(done, all int, take func() (coach.Dropped, error)) error {
		if files == 0 {
			d.coming.expect(all)
		}
		files++
		var f coach.Dropped
		err := d.locked(func() (err error) { f, err = take(); return err })
		var one result
		one.add(f.Client, f.Receipts)
		if f.Waiting != "" && f.Client != "" {
			one.Wrong = append(one.Wrong, fmt.Sprintf("%s was left in the drop folder: %s", f.File, f.Waiting))
		}
		did.Done, did.Wrong = append(did.Done, one.Done...), append(did.Wrong, one.Wrong...)
		d.coming.took(one)
		return err
	})
	if files == 0 {
		did.Done = []string{"The drop folder is empty."}
	}
	return "/", did, err
}

// claim receives files of which the trainer said whose they are.
func (d *Desk) claim(r *http.Request) (to string, did result, err error) {
	if err := r.ParseForm(); err != nil {
		return "/", did, fault.New(fault.Wrong, "the form could not be read")
	}
	if r.PostFormValue("client") == "" {
		return "/", did, fault.New(fault.Wrong, "choose whose files these are")
	}
	who, err := d.coach.Named(r.Context(), r.PostFormValue("client"))
	if err != nil {
		return "/", did, err
	}
	in := coach.Intake{On: d.on(), Backlog: r.PostFormValue("backlog") != ""}
	if typed := r.PostFormValue("day"); typed != "" {
		if in.Day, err = workout.ParseDate(typed); err != nil {
			return "/", did, fault.In("day", typed, "is not a day")
		}
	}
	all, gone := d.coach.Claim(r.Context(), r.PostForm["file"], who)
	if len(r.PostForm["file"]) == 0 {
		gone = fault.New(fault.Wrong, "no file was chosen")
	}
	d.coming.expect(len(all))
	return "/", did, cmp.Or(d.receive(r, all, in, &did), gone)
}

// putAway deletes a refused file that the trainer has dealt with.
func (d *Desk) putAway(r *http.Request) (to string, did result, err error) {
	for _, id := range r.PostForm["id"] {
		if err := d.coach.PutAway(id); err != nil {
			return "/", did, err
		}
	}
	return "/", did, nil
}

// add says what became of received files.
func (r *result) add(who string, receipts []coach.Receipt) {
	if who != "" {
		who += ", "
	}
	for _, f := range receipts {
		switch f.Status {
		case coach.Refused, coach.Waits:
			r.Wrong = append(r.Wrong, fmt.Sprintf("%s%s: %s: %s", who, f.Name, f.Status, f.Why))
			continue
		case coach.Unclaimed:
			r.Unclaimed++
			continue
		}
		line := fmt.Sprintf("%s%s: %s", who, f.Name, f.Status)
		if f.Holder != "" {
			line += " for " + f.Holder
		}
		for _, rec := range f.Recordings {
			line += fmt.Sprintf("; %s, %s, %s", rec.Date.Long(), rec.Workout.Sport, wording.Clock(rec.Workout.Seconds))
		}
		for _, remark := range reasons.Texts(f.Remarks) {
			line += "; " + remark
		}
		r.Done = append(r.Done, line)
	}
}

// filesForm is what the week's page says about files.
type filesForm struct {
	Drop    string
	InDrop  int
	Coming  arrivalsForm
	Strays  []strayGroup
	Refused []coach.Refusal
}

// strayGroup is files that are probably one person's.
type strayGroup struct {
	Client string // the suggestion; "" for none
	Why    string
	Files  []strayFile
}

type strayFile struct{ ID, Name, What string }

// files looks for files that wait. What they hold is read once.
func (d *Desk) files(r *http.Request) (f filesForm, err error) {
	f = filesForm{Drop: d.coach.Drop}
	f.Coming, _ = d.coming.now()
	if f.InDrop, err = d.coach.InDrop(r.Context()); err != nil {
		return f, err
	}
	if f.Refused, err = d.coach.Refusals(); err != nil {
		return f, err
	}
	all, err := d.coach.Strays(r.Context())
	if err != nil || len(all) == 0 {
		return f, err
	}
	versions, err := d.coach.Versions(r.Context())
	if err != nil {
		return f, err
	}
	state := fmt.Sprint(versions)
	for _, s := range all {
		state += s.ID
	}
	all, err = d.strays.get("", state, func() ([]coach.Stray, error) { return d.coach.Compare(r.Context(), all) })
	f.Strays = grouped(all, d.on())
	return f, err
}

// likenesses say what a suggestion rests on.
var likenesses = map[coach.Likeness]string{
	coach.SameDevice: "from the device that records for %s", coach.SameName: "with %s in the name", coach.SameTime: "the same workout as a recording of %s",
}

// grouped puts strays with the same suggestion, or the same device, together; those with a suggestion come first.
func grouped(all []coach.Stray, on workout.Date) []strayGroup {
	type stray struct {
		likely string
		why    coach.Likeness
		device string
	}
	groups := map[stray]*strayGroup{}
	var order []stray
	for _, s := range all {
		key := stray{likely: strings.Join(s.Likely, ", "), why: s.Why}
		g := strayGroup{}
		switch {
		case len(s.Likely) == 1:
			g.Client, g.Why = s.Likely[0], fmt.Sprintf(likenesses[s.Why], s.Likely[0])
		case len(s.Likely) > 1:
			g.Why = "could belong to any of these: " + wording.List(s.Likely)
		case len(s.Workouts) > 0 && s.Workouts[0].Device != "":
			key.device = s.Workouts[0].Device
			g.Why = "from a device that is new here"
		}
		if groups[key] == nil {
			groups[key], order = &g, append(order, key)
		}
		file := strayFile{ID: s.ID, Name: s.Name}
		for i, w := range s.Workouts {
			if i > 0 {
				file.What += "; "
			}
			file.What += dayOf(w, on) + ", " + string(w.Sport) + ", " + wording.Clock(w.Seconds)
		}
		groups[key].Files = append(groups[key].Files, file)
	}
	var suggested, out []strayGroup
	for _, key := range order {
		if g := *groups[key]; g.Client != "" {
			suggested = append(suggested, g)
		} else {
			out = append(out, g)
		}
	}
	return append(suggested, out...)
}

// dayOf is the day of a workout, with the year unless it is of the last months.
func dayOf(w workout.Workout, on workout.Date) string {
	day := workout.DateOf(w.Start, w.Start.Location())
	switch {
	case w.Start.IsZero():
		return "no day"
	case day < on-180 || day > on+180:
		return day.Long()
	}
	return day.Day()
}

// twinForm is a recording that may be somebody else's.
type twinForm struct{ ID, Name, Says string }

// twinDays is for how long a recording that may be somebody else's is asked about.
const twinDays = 28

// twins are the recordings of the last weeks that differ from another one of the same time and that nobody has asked
// about yet.
func twins(r record.Record, on workout.Date, ticks []record.Tick) []twinForm {
	var out []twinForm
	for _, rec := range r.Recordings {
		asked := slices.ContainsFunc(ticks, func(t record.Tick) bool { return t.What == record.ConfirmedAs && t.Of == rec.ID })
		for _, f := range rec.Workout.Remarks {
			if f.Code == record.SomebodyElse && rec.Date > on-twinDays && !asked && rec.Aside.Code != record.Excluded {
				out = append(out, twinForm{rec.ID, rec.Name, rec.Date.Day() + ": " + reasons.Text(f)})
			}
		}
	}
	return out
}

// twin enters whose recording it is, where it differs from another one of the same time.
func (d *Desk) twin(r *http.Request) (to string, did result, err error) {
	who, page, err := d.named(r)
	if err != nil {
		return "", did, err
	}
	id, so := r.PostFormValue("id"), r.PostFormValue("so")
	switch so {
	case "own":
		err = d.coach.Tick(r.Context(), who, record.Tick{What: record.ConfirmedAs, Of: id, Day: d.on()})
		did.Done = []string{"Kept: both recordings are " + who + "’s."}
	case "out":
		err = d.coach.Exclude(r.Context(), id, "Somebody else's recording, made at the same time.", d.on())
		did.Done = []string{"Left out: that recording no longer counts."}
	default:
		err = fault.New(fault.Wrong, "the answer is missing: whose recording is it?")
	}
	return page, did, err
}

package main

import (
	"cmp"
	"reflect"
	"strings"

	"nextrung/internal/coach"
	"nextrung/internal/fault"
)

// facts are the flags that add and set share, one for each field of coach.Facts.
type facts struct {
	Born       string   `help:"Day of birth." placeholder:"DATE"`
	Sex        string   `help:"Sex at birth, for published formulas: female or male." placeholder:"S"`
	Height     string   `name:"height-cm" help:"Height in cm." placeholder:"N"`
	Mass       string   `name:"mass-kg" help:"Mass in kg." placeholder:"N"`
	Modes      string   `help:"Modes trained, e.g. walk,bike. A walk counts as a session only if walk is among them." placeholder:"LIST"`
	HRRest     string   `name:"hr-rest" help:"Resting heart rate: the mean of at least three mornings." placeholder:"N"`
	HRMax      string   `name:"hr-max" help:"Measured maximal heart rate, for every mode." placeholder:"N"`
	HRMaxMode  string   `name:"hr-max-mode" help:"Measured maximal heart rate by mode: run=190,bike=181." placeholder:"LIST"`
	Thresholds string   `help:"Heart rates at which talking stops being comfortable and becomes hardly possible." placeholder:"T1,T2"`
	Edges      []string `help:"Explicit zone edges of a mode: bike=110,135,150,168." placeholder:"MODE=A,B,C,D" sep:"none"`
	Limit      string   `name:"limit-bpm" help:"A heart rate set by a doctor that no session may exceed, at least 20 bpm above rest; 0 lifts it." placeholder:"N"`
	From       string   `help:"First day on which the facts given hold, such as a condition, a state or new zones; earlier zones stay for the days before." placeholder:"DATE"`
	Stage      string   `help:"Stage at the start: 1, 2 or 3." placeholder:"N"`
	Since      string   `help:"First day of that stage." placeholder:"DATE"`
	TimeZone   string   `name:"time-zone" help:"Time zone of the client, e.g. Europe/Oslo." placeholder:"TZ"`
	Sensor     string   `help:"Sensor the client wears, for files that don't say: strap or wrist." placeholder:"KIND"`
	Screened   string   `help:"Day on which the screening questions were answered." placeholder:"DATE"`
	Active     string   `help:"Regular exercise over the last three months: yes or no." placeholder:"YES|NO"`
	Disease    string   `help:"Known disease: none, heart, metabolic or renal." placeholder:"WORD"`
	Signs      string   `name:"signs" help:"Signs and symptoms at screening: none, or words from a list such as chest,dizzy." placeholder:"LIST"`
	Medicine   string   `help:"Effect of medicines on heart rate: none, slows or raises." placeholder:"WORD"`
	DoseChange string   `name:"dose-change" help:"Day of the last change of that medicine's dose." placeholder:"DATE"`
	Clearance  string   `help:"Day of a doctor's clearance for exercise." placeholder:"DATE"`
	Conditions string   `help:"Conditions that need special care: none, or pregnant, pacemaker, irregular-rhythm, insulin, asthma." placeholder:"LIST"`
	Confirmed  string   `help:"Facts that look wrong and that you have checked: none, or hr-rest, hr-max, born, disease, pregnant, active." placeholder:"LIST"`
	Because    string   `help:"Who said so, when a disease, a medicine, a condition or a doctor's limit no longer holds." placeholder:"TEXT"`
	State      string   `help:"active, maintaining, recovery or finished." placeholder:"WORD"`
	Goal       string   `help:"The client's goal." placeholder:"TEXT"`
	Days       string   `help:"Days a week the client can train." placeholder:"N"`
	Minutes    string   `help:"Minutes the client has for each session." placeholder:"N"`
	Enjoys     string   `help:"What the client enjoys: none, or words such as walking,the dog." placeholder:"LIST"`
	Equipment  string   `help:"What the client can train with: none, or words such as treadmill,exercise bike,gym." placeholder:"LIST"`
	Resistance string   `name:"resistance-days" help:"Days of the week with strength training: none, or days such as mon,thu." placeholder:"LIST"`
	Tight      string   `help:"Muscles you found tight: none, or words such as calves,hips." placeholder:"LIST"`
}

// typed gathers what was typed, by field.
func (f facts) typed() coach.Facts {
	out := coach.Facts{}
	v := reflect.ValueOf(f)
	for i := range v.NumField() {
		text := v.Field(i).String()
		if list, ok := v.Field(i).Interface().([]string); ok {
			text = strings.Join(list, " ")
		}
		out[field(v.Type().Field(i))] = text
	}
	return out
}

// field is the field that a flag of facts enters: the flag with underscores.
func field(f reflect.StructField) fault.Field {
	name := cmp.Or(f.Tag.Get("name"), strings.ToLower(f.Name))
	return fault.Field(strings.ReplaceAll(name, "-", "_"))
}

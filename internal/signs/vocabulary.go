package signs

import "strings"

// soft words may stand inside a phrase without changing it.
var soft = set("a an the my me of in on at to some any bit little very really so quite proper properly abit just all i is was im it got get gets went go goes have has had up out like feel feels felt feeling his her your and or are were gone")

// opening words begin a sentence of their own.
var opening = set("but however though although")

// misspellings are those that letters alone do not give away, and abbreviations.
var misspellings = map[string]string{
	"haert": "heart", "hart": "heart", "pian": "pain", "ankel": "ankle", "ankels": "ankles", "diz": "dizzy", "palps": "palpitations",
	"palpitates": "palpitations", "a&e": "casualty", "hosptial": "hospital", "hospitle": "hospital", "bronchitus": "bronchitis", "pnemonia": "pneumonia", "preggers": "pregnant", "preggo": "pregnant", "chst": "chest",
	"collasped": "collapsed", "breth": "breath", "breathin": "breathing", "wheezin": "wheezing", "wooozy": "woozy", "n": "and", "docter": "doctor", "cardioligist": "cardiologist", "cldnt": "couldnt", "temprature": "temperature",
}

// foreign are words of German and Spanish that slip into English, by what they mean (from memory).
var foreign = map[string]string{
	"dizzy":        "mareo mareado mareada mareos schwindel schwindelig schwindlig schwummrig",
	"fainted":      "desmaye desmayé desmayo ohnmacht ohnmächtig umgekippt",
	"palpitations": "palpitaciones herzrasen herzstolpern herzklopfen taquicardia",
	"chest":        "pecho brust brustschmerz brustschmerzen brustkorb brustenge",
	"breathless":   "atemnot kurzatmig ahogo asfixia",
	"swollen":      "geschwollen hinchado hinchada hinchados",
	"nausea":       "übelkeit uebelkeit náusea náuseas vomité erbrochen",
	"fever":        "fieber fiebre",
	"cold":         "erkältung erkältet erkaeltet resfriado resfriada constipado constipada schnupfen husten tos",
	"flu":          "grippe gripe",
	"sore":         "muskelkater agujetas",
	"tablets":      "tabletten tablette pastillas pastilla medikament medikamente medicina medicinas medicamento medicamentos",
	"pregnant":     "schwanger embarazada",
}

func init() {
	for meant, words := range foreign {
		for w := range strings.FieldsSeq(words) {
			misspellings[w] = meant
		}
	}
}

// correctable are the words that a typing error may stand for; correct are words that only look like one of their errors.
var (
	correctable = strings.Fields(`chest fainted fainting dizzy dizziness giddiness palpitations breathless breathlessness breathe breathing confused confusion
		collapsed unconscious consciousness angina blackout vertigo lightheaded wheezing swollen swelling clammy pressure tightness unsteady murmur jelly
		hospital hospitalised pacemaker pregnant bronchitis pneumonia woozy temperature fever nauseous nausea vomited vomiting struggling gasping fluttering indigestion disorientated`)
	correct = set(`smelling smell smells chest chests chesty chess cheat cheats crest cheap cheaper wheeling pressured pressures murmurs confuses confusing
		collapses fainter steady dozy dizzy dizzyness dizzily tightens breath breathes breather breathed dizzying never fewer fever
		grasping gassing spelling selling welling struggle clams jolly belly jell confession`)
)

// harmless phrases hold words that elsewhere speak of a sign. They are passed over unless "like"
// stands before them: "like a strap round my chest".
var harmless = compileAll(`chest strap*/monitor/sensor/belt/press*/fly/flies/day/exercise*/workout/physio/deep/high/height/rub/band/freezer, strap/sensor/monitor/belt on/round/around chest
			treasure chest, lip/lips dry/chapped, dry/chapped lip/lips, it was/is cold, sea/water/weather/wind/gym/room/air/hall & cold, murmur of, collapsed tent/chair/laughing, giddy up
			dizzying, dizzee, legs/arms tired, knocked & minutes/seconds, shattered & record/pb/best, @thing is/was/were/are/went/a wobbl*/unsteady/wheez*/whistl*/sick/funny
			@thing wobbl*/unsteady/wheez*, wobbly table/chair/stool, @thing confus* me, confused about/by/which/over
			the/this/that/our/his/her/its/your ?@body was/is/were/are/went/goes/turned/looked/started/made wobbl*/unsteady/wheez*/sway*/grey/gray/blue/white/sick/funny/pale/purple
			your ?@body made/makes no sense, air in lungs, blue/white/grey & paint*, hit deck/floor for, confusing, make sense of, work/boss/weather/traffic & pain in
			@beast pregnant/pant*/sick, @beast & she/he was pant*, heart of the, heart sank/sinks/broke/melted/warming, took/take heart, ankle sock*/weight*/deep/strap*/boot*/bracelet
			jelly babies/baby, jelly bean*, all way
			arms/shoulders/neck & @pain & from painting/lifting/carrying/weights/press/pull/gardening/digging/hauling/rower/rowing/kayak/planks/plank/desk/driving/ups/slept/sleeping
			since you ask*, effort @belowfever, hungry could/might faint, gasping for pint/cuppa/tea/drink/brew/coffee, breath/wind/puff back quick*/fast*/soon*/easi*/better/straight, breath back within/in minute/seconds/no
			breath came back quick*/fast*/soon, breath came back within/in minute/seconds/no, hardly/barely/scarcely @winded, hardly/barely/scarcely out of @air, @winded/air & on vape
			arms/shoulders/neck/legs/calves & @pain/tight*/stiff*/sore & next/following day/morning, held/hold/holding breath, breathing in through nose, which is nonsense, blood patch
			tyre patch*, calves & tight*/stiff*/sore & stretch*/foam/roll*/rolled/reps, numb/frozen/cold/blue hands/fingers & handlebar*/gloves, breath holds, swayed by
			chest and triceps/biceps/back/arms/shoulders day/workout/session, sick session/view/beat/pb/workout/gym/day/leave/pay/note, hay/cabin/football/spring fever, hit ground running
			turn of speed/events/foot/pace, spell of weather/rain/sun/wind/work, saw/see the stars, lights & power/street/cut, it was/is blowing, blowing gale/hoolie/from/outside
			air/wind & tyre*/tire*, gym/pub/bar/pool/town/place/shop heaving, up in air, hot/open/sea/mountain/salt air, air fryer/bed/show/bike, baited breath, waste of breath
			under breath, breathing space/room/exercise*/app/technique, heart to heart/shaped/felt/content, hand on heart, change of heart, heart and soul, heart goes/went out to
			heart health/foundation, head start/office/teacher/chef/for/up/under/above/torch, head over heels, never/dont mind, mind you/blown, in mind, lost mind, song & head
			woolly/wooly/cotton hat*, private eye, eye opening/opener, keep*/kept eye, face to/mask/paint*/cream, nail varnish/polish, leg of, a leg up, sea legs !on, last legs, pulling leg
			calf/ankle sleeve*/guard*, ankle biters, blackout blind*/curtain*, spin* class/bike/session/studio, music & pound*/thump*/bang*, new @shoes
			@shoes & size/returned/exchange*/order*
			grey/gray/white/blue/purple sky/skies/day/days/weather/cloud*/sea/morning/afternoon/evening/outside/out/start/week/shirt/kit/horses/caps/paint, grey/gray/white/purple light/lights, blue light filter*/glasses, puffed rice
			puff* & vape, foggy/misty morning/day/evening/quay/out/outside, @thing & make/makes/made sense, @thing look*, couldnt be bothered, up in arms, sweet tooth
			arms/shoulders/neck/legs/calves & @pain/tight*/stiff*/sore & day/morning after, arms/shoulders jelly/noodles, temperature/temp dropped/outside/inside/minus
			cold brew/water/drink*, air con, calf & cow/cows, valve & tyre/tube/pump, wind & blow*, balance board/bike/exercise*/drill*, weight/heavy weights, nearly missed/asleep/fell
			went past, chest of drawers, off my chest, armband, jaw dropping, dropped jaw, arm/arms in arm, neck and neck, shoulder to shoulder, neck of, neck warmer, up to neck, tempo
			lol*, sick of, dead easy, killed/crushed/smashed it, heart warming, learn*/know*/knew & by heart, heart set, faint hope/smell/light/sound/line/signal/memory/trace
			pass*/passed out flyers/leaflets/water/cups/drinks/medals/bibs
			cold shower/morning/afternoon/evening/day/run/walk/ride/row/swim/session/wind/water/weather/air/rain/hands/start/drink/beer/out/outside
			no need/reason stop/avoid/rest, not/dont/never stop @train, no end, hasnt/havent/didnt/never @told @nay @train, no @doctor has @told @nay @train, sob story/stories, a sob of, doctor/dr who $, doctor/dr who on/night/episode/special/with
			light run/jog/rain/wind/session/headwind/lunch, heavy rain/traffic/weights/legs/shoes/bag, pounding pavement/pavements/streets/road/music, breath of fresh air, fresh air
			took breath away, spinning class/bike, spinning on bike, head wind, heads up, flat out/route/road/battery, calf raise*/stretch*, leg/legs raise*/press, warm up, warm down
			cool down, blood pressure !@drug ^ @hypertensive/high/roof/sky/soar*/up/spik*, under pressure, tyre pressure, band practice, resistance band, shooting stars, tight schedule/turn/hamstrings/shoes
			stiff breeze/competition/wind, sore loser/point, work life balance, balance of work, no pain no gain, pain au, fell in love, fell asleep, fallen asleep, fell behind, fell short
			knocked off !bike/motorbike, knocked minutes/seconds/two/a off, fell into routine/habit/step/stride/rhythm/bed, fell out, rolled home, kicked for/on, tired but happy/good
			good/happy/pleasantly tired, not too/that tired/sore, temp/temperature & @belowfever, dog/cat/@kin was/is/were/been sick, dizzy heights, fever pitch, cold feet
			rolled & laughing, heart attack/attacks & course/film/drama, heart shaped/op/operation, off sick, went grey outside, pale ale, cough sweets/drops, race on, racing my
			exhausting heat, flu jab, one leg squat*/stand*, on one leg, whistling wind/kettle, heart out !of, tablet computer, @tenths km/k/kg/kilometres/miles
			got breath back quickly/fast/easily/soon, @other !me/i/we/us @ward/@op/pacemaker/icd, @other !me/i/we/us & kidney/gall stone*, gallstones & poor, @ward/@op visit/appointment/trip for/with/to @other
			@other & labour/chemo/vet/@organ, @other !me/i/we/us broke her/his, picked ?@self up @ward, passed the @ward/stone, @op documentary, heart @op documentary, ambulance blocked/past/passed/drill/course, ran/run out of battery, discharged navy/army/cargo
			sat with @other & @ward, past/round/around/near/by/behind @ward, @ward grounds/drama/film/movie/series/show/radio/run/road/hill/gates/gate/lane/work/job/shift/shifts/porter/car/site, @op film/movie/series/drama/programme
			work*/job/shift/shifts/nurse/volunteer* in/at/for/on @ward/ward, drove/took/take/taking/drive/driving/visit*/see/seeing !me/myself/us/i ?@self @ward, co op, photo op, heart @op film/movie/series/drama/programme, pacemakers set off, @op on boat/engine/table/van
			bar stool*, stool/stools at/in/by bar/table/kitchen/mess, kidney bean*/pie`)

// vocabulary is one sign or topic with the patterns that name it and those that may mean it. What is
// named may be entered; what may be meant is asked about.
type vocabulary struct {
	sign         Sign
	topic        Topic
	alone        string // names only where they are all that is said
	named, maybe string
}

var topics = []vocabulary{
	{topic: Medicine, maybe: `*olol/*alol/*ilol/*pril/*sartan/*dipine/*statin/*statins/*oxaban/*cillin/*thyroxine, verapamil, diltiazem, ivabradine, digoxin, warfarin, metformin, insulin, thinner/thinners !than, antibiotic*
			steroid*, blood thinner*, patch*, on something for, something for heart/pressure/cholesterol/nerves, cholesterol, diuretic*, water tablets/pills
			injection/injections/inject*/jab for, got/have/given/need @drug for, hrt, put me on, beta blocker*, betablocker*, antihistamine*, ibuprofen, paracetamol, painkiller*, antidepressant*, sertraline, fluoxetine, citalopram, escitalopram, blood pressure/heart @drug, bp @drug, @change & @drug
			prescrib* & heart/something/me, ~@pills, ran/run out of @drug, put on tablets/pills/meds, on @drug for heart/pressure`},
	{topic: Pregnancy, maybe: `pregnan*, expecting baby/child/twins/first/second/third/again/another/our, expecting in @month, expecting since, were expecting $, expecting $, im expecting
			having/have baby/twins, baby/bun on/in way/oven, baby due/coming, having another one, carrying twins/child/baby, scan & twins/baby, due in @month $, weeks now
			little/wee one on way, little/wee one coming, up duff, knocked up, family way, months/weeks gone/along, trimester, midwife, antenatal, missed period
			positive test & morning/baby, lines/line/positive & test/stick, peed/pee on stick, period & late`},
	{topic: Injury, maybe: `@hurt, falls, turned ankle/knee, went over on ankle/foot, pulled/tore/torn/strained/injured/broke/bruised & @limb/something, done knee/ankle/back/hip in, @limb & gyp/jip/grief, @limb playing/played/acting up
			@aching + @joint, back @aching, @aching in back, bad/dodgy back/knee/hip/ankle, shin splints, knocked off bike/motorbike, came off bike, crashed into/bike, bike crash*, collided, collision, doored, run/ran over by, casualty, fracture*, broken bone/bones, stitches
			@limb mess/bust*/wrecked/screwed/knackered, hit by car/van/bus/bike/scooter, car/van/bus/bike/scooter hit me, tendon*, tendinitis, sciatica, slipped disc
			@therapist & @nay @train, @therapist & rest/resting`},
}

var illnesses = []vocabulary{
	{sign: Fever, alone: `temp, temperature`, named: `fever*, a/high/running temperature, flu, influenza`,
		maybe: `temp/temperature/fever/thermometer & @feverish, temperature, high/raging temp, temp & up/down/high/come, running/ran temp, furnace, running hot, @tenths, covid, rona, shiver*, chills
			hot and shivery/cold, burning/boiling/roasting up, hot to touch, thermometer, burning/hot forehead/brow/head`},
	{sign: ChestIllness, named: `bronchitis, pneumonia, chest infection*, lung infection*, chest bug/illness/cold, chesty cough`,
		maybe: `chest & cough*/bug/phlegm/cold/antibiotics/infect*, lungs & infect*/gunk/phlegm/mucus, bronch*, pneumon*, pleurisy, covid, rona, coronavirus, chesty, cough*/hacking up
			cough* & brown/green/yellow/weeks/shift, phlegm, mucus, antibiotics`},
	{sign: UnusuallyTired, named: `tired, exhausted, fatigue, fatigued, tiredness, knackered, shattered, wiped out, drained, zonked, worn out, no energy, dead on feet`,
		maybe: `@legs concrete/lead/cement/stone/logs, jet lag*, jetlag*, run down, burnt/burned out`},
	{sign: PoorSleep, named: `slept badly, bad sleep, sleepless, insomnia, bad night, @bad sleep, slept @bad, hardly/barely slept, didnt/couldnt/cant sleep
			not sleeping, havent !had slept, havent/not been sleeping, dont sleep, not slept/sleep well/properly/great/much/enough`,
		maybe: `@sleep/night/nights & @bad, awake & night, up all night, toss* turn*, @sleep & @few hour/hours/hr/hrs/h, @sleep & @fewhours, @few hour/hours/hr/hrs & @sleep, keep*/kept waking/wakin, @night & at/around/by/past @few, what sleep, up + times/twice/x & night/nights, up & night/nights & baby/@kin/twins/dog, only & hours & sleep, @cannot & @sleep, didnt sleep wink, no sleep`},
	{sign: Cold, named: `a cold, bad/head/stinking/streaming/heavy/nasty/slight/mild cold, have/had/got cold, full of cold, cough, coughing, sore throat
			throat & sore/scratch*/raw/tickl*, runny nose, bunged up, blocked nose`,
		maybe: `cold, coughed, coughs, tested/test positive/pos, lateral flow, coming/come/came/going/went down with, under weather, lurgy, virus, caught/got/had bug, picked up bug, bug going, not well, poorly, feel/feeling/felt/been/fell/got/am/was ill, sneez*, sniff*, nose & running/runny/blocked/streaming`},
	{sign: Sore, named: `sore, soreness, stiff muscles/legs, doms, achy legs`, maybe: `stiff & as/board/legs/calves/so, muscle* & ach*, aching all over, legs & ach*/stiff`},
}

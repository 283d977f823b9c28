package signs

import "strings"

// groups are words that stand for one another in patterns (common practice, no source; to be checked
// by licensed practice).
var groups = map[string]string{
	"chest":  "chest breastbone sternum rib ribs ribcage breast breasts",
	"arm":    "arm arms forearm forearms jaw jaws neck shoulder shoulders shoulderblades tooth teeth",
	"blades": "blades shoulderblade shoulderblades",
	"pain":   "pain pains painful ache* achy achey aching hurt hurts hurting burn burns burning burnt discomfort uncomfortable cramp* stab* sharp kill kills killing agony twinge* throb* burny nagging sensation soreness uncomfortably",
	"press":  "tight tightness tightening pressure pressing squeez* heavy heaviness weight grip* crush* constrict* pull pulling pinch* numb* tingl* needles band lump clamp* full",
	"odd":    "funny odd oddly weird weirdly strange wrong off stitch sore*",
	"cannot": "cant cannot couldnt couldn unable hardly barely struggl* fight* fought trouble difficult difficulty cldnt wont",
	"winded": "breathless* wheez* gasp* winded puffed puffing puffs panting blowing puffier puffy",
	"air":    "breath breaths puff air",
	"breath": "breath breaths breathe breathing air breathin lungs",
	"still":  "rest resting sitting sat sofa settee couch chair desk telly tv nothing talking reading watching phone home standing still armchair",
	"much":   "far way much more too so ridiculously massively unusually abnormally oddly strangely weirdly sooner",
	"slow":   "easy slow slowly gentle gentlest stroll walk walking recovery warm warmup jog pace usual normal normally expected reason effort should considering than compared",
	"mild":   "stairs stair upstairs steps slow slowly slowest walking strolling pottering climbing flat level floor mild gentle gentlest little slightest any shop car bus bed laces metres yards post",
	"task":   "washing dishes housework chores cooking cleaning hoovering hoover shopping dressed dressing shower showering bed everyday ordinary jobs ironing kitchen garden gardening peeling teeth dog dishwasher laces tea dinner chore washing",
	"lying":  "lying laying lie lay flat bed night pillow pillows asleep sleeping",
	"night":  "wake wakes woke waking woken",
	"spent":  "knackered exhaust* shattered drained tired tiring tires wiped wipes worn wears fatigued zonked pooped finish* effort energy knackers floors done does takes whacked",
	"heart":  "heart hearts heartbeat heartbeats heartrate ticker pulse",
	"beats":  "racing raced races race flutter* skip* stumbl* thump* thud* pound* hammer* bang* gallop* wild mad nuts crazy beating irregular* somersault* flip flips clappers missed misses missing uneven stopped rhythm",
	"swell":  "swoll* swell* swol* puff* balloon* bloated blown fluid fat thick* huge",
	"ankle":  "ankle ankles feet foot",
	"calf":   "calf calves calfs",
	"legs":   "calf calves calfs leg legs thigh thighs shin shins buttock buttocks",
	"walk":   "walk walking walks walked step steps uphill",
	"clot":   "swoll* swell* puffed puffy bigger fatter hot warm red lump tender massive huge balloon* shiny twice",
	"colour": "blue grey gray purple white ashen pale bluish blueish chalk",
	"skin":   "lip lips face skin finger fingers fingertips hands toes nails",
	"head":   "head heads room everything world",
	"spin":   "spun spin spins spinning spinny swim swims swimming swimmy swam swirl* floaty whirl* funny fuzzy rush wonky",
	"wobble": "wobbl* unsteady unsteadiness sway* stagger* lurch* veer* listing",
	"bad":    "bad badly terrible terribly awful awfully rubbish poor poorly crap crappy rough dreadful lousy little",
	"drug":   "tablet tablets pill pills medicine medicines medication medications meds drug drugs dose dosage",
	"change": "new different other another change changed changes changing start started starting stop stopped come came put gave more extra stronger higher lower double doubled halve halved up upped down raised lowered increased reduced switched switch",
	"sleep":  "sleep sleeping slept asleep kip",
	"hurt":   "twisted sprain* rolled tripped fell falls fall fallen knocked kicked stung bitten bashed banged",
	"limb":   "ankle ankles knee knees wrist foot leg calf hamstring back hip shoulder elbow head muscle groin achilles toe thigh quad",
	"month":  "january february march april may june july august september october november december spring summer autumn winter",
}

// soft words may stand inside a phrase without changing it.
var soft = set("a an the my me of in on at to some any bit little very really so quite proper properly abit just all i is was im it got get gets went go goes have has had up out like feel feels felt feeling his her your and or")

// opening words begin a sentence of their own.
var opening = set("but however though although")

// misspellings are those that letters alone do not give away.
var misspellings = map[string]string{
	"haert": "heart", "hart": "heart", "pian": "pain", "clamy": "clammy", "murmer": "murmur", "murmor": "murmur", "murmers": "murmur", "unconcious": "unconscious",
	"ankel": "ankle", "ankels": "ankles", "diz": "dizzy", "palps": "palpitations", "palpitates": "palpitations", "braethless": "breathless",
	"collasped": "collapsed", "wheezin": "wheezing", "wooozy": "woozy", "pnemonia": "pneumonia", "bronchitus": "bronchitis",
	"preggers": "pregnant", "preggo": "pregnant", "chst": "chest", "brething": "breathing", "jelley": "jelly", "breathin": "breathing",
}

// correctable words are looked for behind typing errors, and correct words are none of theirs.
var (
	correctable = strings.Fields(`chest fainted fainting dizzy dizziness palpitations breathless breathlessness confused confusion collapsed
		unconscious angina blackout vertigo lightheaded wheezing swollen clammy pressure tightness unsteady murmur pregnant bronchitis pneumonia woozy`)
	correct = set(`chest chests chesty chess cheat cheats crest cheap cheaper wheeling pressured pressures murmurs confuses confusing
		collapses fainter steady dozy dizzy dizzyness dizzily tightens`)
)

// harmless phrases hold words that elsewhere speak of a sign. They are passed over unless "like"
// stands before them: "like a strap round my chest".
var harmless = compileAll(`chest strap*/monitor/sensor/belt/press*/fly/flies/day/exercise*/workout/physio/deep/high/height/rub/band/freezer
			strap/sensor/monitor/belt on/round/around chest, treasure chest, lip/lips dry/chapped, dry/chapped lip/lips, it was/is cold, sea/water/weather/wind/gym/room/air/hall & cold
			murmur of, collapsed tent/chair/laughing, giddy up, dizzying, dizzee, legs/arms tired, knocked & minutes/seconds
			shattered & record/pb/best, bike/boat/ferry/seat/saddle/table/engine/kettle wobbl*/unsteady/wheez*, calf & cow/cows
			valve & tyre/tube/pump, wind & blow*, balance board/bike/exercise*/drill*, weight/heavy weights, nearly missed/asleep/fell
			went round/past, chest of drawers, off my chest, armband, jaw dropping, dropped jaw, arm/arms in arm, neck and neck
			shoulder to shoulder, neck of, neck warmer, up to neck, tempo, lol*, sick of, dead easy, killed/crushed/smashed it, heart warming
			by heart, heart set, faint hope/smell/light/sound/line/signal/memory/trace
			pass*/passed out flyers/leaflets/water/cups/drinks/medals/bibs
			cold shower/morning/afternoon/evening/day/run/walk/ride/row/swim/session/wind/water/weather/air/rain/hands/start/drink/beer/out/outside
			light run/jog/rain/wind/session/headwind/lunch, heavy rain/traffic/weights/legs/shoes/bag
			pounding pavement/pavements/streets/road/music, breath of fresh air, fresh air, took breath away, spinning class/bike, spinning on bike
			head wind, heads up, flat out/route/road/battery, calf raise*/stretch*, leg/legs raise*/press, warm up, warm down, cool down
			blood pressure !@drug, under pressure, tyre pressure, band practice, resistance band, shooting stars
			tight schedule/turn/hamstrings/shoes, stiff breeze/competition/wind, sore loser/point, work life balance, balance of work
			no pain no gain, pain au, fell in love, fell asleep, fallen asleep, fell behind, fell short, knocked off
			knocked minutes/seconds/two/a off, fell into, fell out, rolled home, kicked for/on, tired but happy/good, good/happy/pleasantly tired
			not too/that tired/sore, temp/temperature & @belowfever, dog/cat/kids/son/daughter was sick, off sick, went grey outside, pale ale
			cough sweets/drops, race on, racing my, exhausting heat, flu jab, one leg squat*/stand*, on one leg, whistling wind/kettle, heart out
			tablet computer, @tenths km/k/kg/kilometres/miles, got breath back quickly/fast/easily/soon`)

// vocabulary is one sign or topic with the patterns that name it and those that may mean it. What is
// named may be entered; what may be meant is asked about.
type vocabulary struct {
	sign         Sign
	topic        Topic
	alone        string // names only where they are all that is said
	named, maybe string
}

var topics = []vocabulary{
	{topic: Medicine, maybe: `*olol/*alol/*ilol, verapamil, diltiazem, ivabradine, digoxin, ramipril/lisinopril/perindopril/enalapril/captopril/amlodipine
			beta blocker*, betablocker*, blood pressure/heart @drug, bp @drug, @change & @drug, prescrib* & heart/something/me
			put on tablets/pills/meds, on @drug for heart/pressure`},
	{topic: Pregnancy, maybe: `pregnan*, expecting baby/child/twins/first/second/third/again/another/our, expecting in @month, expecting since, were expecting $
			expecting $, im expecting, having/have baby/twins, baby on way, up duff, months gone, weeks gone`},
	{topic: Injury, maybe: `@hurt, falls, turned ankle/knee, went over on ankle/foot, pulled/tore/torn/strained/injured/broke/bruised & @limb/something
			done knee/ankle/back/hip in`},
}

var illnesses = []vocabulary{
	{sign: Fever, alone: `temp, temperature`, named: `fever*, a/high/running temperature, flu, influenza`,
		maybe: `temp/temperature/fever & @feverish, temperature, @tenths, covid, shiver*, hot and shivery, burning up`},
	{sign: ChestIllness, named: `bronchitis, pneumonia, chest infection*, lung infection*, chest bug/illness/cold, chesty cough`,
		maybe: `chest & cough/bug/phlegm/cold/antibiotics, coughing up, phlegm, antibiotics`},
	{sign: UnusuallyTired, named: `tired, exhausted, fatigue, fatigued, tiredness, knackered, shattered, wiped out, drained, zonked, worn out, no energy, dead on feet`},
	{sign: PoorSleep, named: `slept badly, bad sleep, sleepless, insomnia, bad night, @bad sleep, slept @bad, hardly/barely slept, didnt/couldnt/cant sleep
			not sleeping`,
		maybe: `@sleep/night/nights & @bad, awake & night, up all night, toss* turn*, only & hours & sleep, @cannot & @sleep, didnt sleep wink
			no sleep`},
	{sign: Cold, named: `a cold, bad/head/stinking/streaming/heavy/nasty/slight/mild cold, have/had/got cold, full of cold, cough, coughing, sore throat
			throat & sore, runny nose, bunged up, blocked nose`,
		maybe: `cold, sneez*, sniff*, nose & running/runny/blocked/streaming`},
	{sign: Sore, named: `sore, soreness, stiff muscles/legs, doms, achy legs`, maybe: `stiff & as/board/legs/calves/so, muscle* & ach*, aching all over, legs & ach*/stiff`},
}

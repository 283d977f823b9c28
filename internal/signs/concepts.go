package signs

// groups are the concepts that patterns are made of: places of the body, complaints, circumstances. The
// words of a group stand for one another (common practice, no source; to be checked by licensed
// practice).
var groups = map[string]string{
	// Places.
	"chest":   "chest breastbone sternum rib ribs ribcage breast breasts bosom",
	"arm":     "arm arms forearm forearms jaw jaws jawbone neck shoulder shoulderblades tooth teeth gums collarbone",
	"throat":  "throat gullet windpipe",
	"blades":  "blades shoulderblade shoulderblades",
	"heart":   "heart hearts heartbeat heartbeats heartrate ticker pulse",
	"breath":  "breath breaths breathe breathing air breathin lungs lung lungful oxygen",
	"air":     "breath breaths puff air wind",
	"head":    "head heads room everything world ground floor walls horizon",
	"sight":   "vision sight eye eyes eyesight",
	"mind":    "mind brain head heads",
	"skin":    "lip lips face skin finger fingers fingertips fingernails hand hands toes nail nails ears cheeks mouth tongue complexion",
	"stomach": "stomach tummy belly guts insides",
	"leg":     "leg calf thigh shin knee",
	"legs":    "calf calves calfs leg legs thigh thighs shin shins buttock buttocks",
	"calf":    "calf calves calfs",
	"pins":    "leg legs knee knees feet foot pins",
	"ankle":   "ankle ankles feet foot",
	"shoes":   "shoe shoes boot boots trainers slippers wellies sandals",

	// Complaints.
	"pain": `pain pains painful paining ache* achy achey aching hurt hurts hurting burn burns burning burnt burny discomfort uncomfortable uncomfortably cramp* stab* sharp
		kill kills killing agony twinge* throb* nagging sensation soreness gripe* gripey griping grumbl* sting* shooting jab* spasm* gnaw* niggl* smart* knife knives gyp pang* tender fire`,
	"press": `tight tightness tightening tightens pressure pressing squeez* squash* squish* heavy heaviness weight weigh* grip* crush* constrict* pull pulling pinch* numb*
		tingl* needles band lump clamp* clench* full lead leaden vice strap belt brick stuck knot knotted seiz* lock* chok* grab* snug`,
	"odd": `funny odd oddly weird weirdly strange strangely queer peculiar wrong off iffy dodgy ropey ropy dicky unwell thing things bother trouble problem
		stitch daft mental misbehav* complain* wonky`,
	"ill":     "@pain @press @odd sore*",
	"not":     "not isnt wasnt arent werent dont doesnt didnt wouldnt wont aint never no",
	"right":   "right good well normal properly proper happy great ok fine clever mine myself working behaving",
	"like":    "band belt vice strap clamp corset girdle boot brick bricks anvil elephant anchor weight rope hoop fist",
	"someone": "someone somebody something elephant",
	"cannot":  "cant cannot couldnt couldn cldnt unable hardly barely scarcely struggl* fight* fought battl* trouble difficult difficulty wont wouldnt impossible",
	"winded":  "breathless* sob wheez* gasp* winded puffed puffing puffs panting blowing puffier pech* huffing",
	"winds":   "leave leaves left leaving has get gets make makes made puff puffs wind winds",
	"much":    "far way much more too so ridiculously massively unusually abnormally oddly strangely weirdly sooner that this",
	"spent": `knackered exhaust* shattered drained drains tired tiring tires wiped wipes worn wore wears fatigued zonked pooped effort weak weary
		knackers floors whacked jiggered wrecked wrecks marathon`,
	"beats": `racing raced races race flutter* skip* stumbl* thump* thud* pound* hammer* bang* gallop* wild mad nuts crazy beating irregular* somersault* flip flips flipping clappers
		missed misses missing uneven stopped rhythm erratic flop* quiver* butterfl*`,
	"swell":  "swoll* swell* swol* puff* balloon* bloated bulg* blown fluid fat thick* huge oedema edema enormous",
	"big":    "balloon* pudding* trunk* sausage* melon* football* elephant* marrow* barrel* log* ham hams",
	"clot":   "swoll* swell* blown puffed puffy big bigger fat fatter thick* hot warm red lump tender massive huge balloon* shiny twice throbbing angry inflamed purple trunk trunks football",
	"colour": "blue grey gray purple purply white ashen pale bluish blueish chalk* pasty waxy putty mottled colourless",
	"spin": `spun spin spins spinning spinny swim swims swimming swimmy swam swirl* floaty floating whirl* funny queer fuzzy rush wonky tilt* tilting reeling swaying
		woolly wooly whoozy woozy lopsided`,
	"blur":    "blur* spots dots double fuzzy swim* swam tunnel* narrow* dark* black grey* funny weird focus cloud* dim* closing closed fading faded",
	"wobble":  "wobbl* unsteady unsteadiness sway* stagger* lurch* veer* listing totter* teeter* reeling weav* stumbl* topple* toppl*",
	"muddle":  "wrong mixed jumbl* muddl* scrambl* garbl* slur* thick funny stuck backwards nonsense gibberish rubbish lost fog* blank mush fuzzy cotton",
	"fogged":  "fog* muddl* scrambl* mush jumbl* fuzzy mixed slur* garbl*",
	"droop":   "droop* dropped drooping lopsided sagg* crooked numb",
	"bad":     "bad badly terrible terribly awful awfully rubbish poor poorly crap crappy rough dreadful lousy little",
	"faintly": "funny odd weird queer bad nasty dizzy strange peculiar wee fainting giddy turny",

	// Circumstances.
	"still": `rest resting sitting seated sofa settee couch chair desk telly tv television nothing talking reading watching phone home standing still armchair
		netflix film book paper crossword knitting bath eating queue driving stool bench table`,
	"seated": "sitting sat seated sofa settee couch chair desk telly lying bed asleep sleep reading watching armchair",
	"slow": `easy slow slowly slowest gentle gentlest light stroll walk walking recovery warm warmup jog pace usual normal normally expected reason effort should considering
		than compared simple zone plod amble deserved crawl dawdle barely level`,
	"mild": `stairs stair upstairs staircase steps step flight flights landing slow slowly slowest walking stroll strolling pottering ambling climbing flat level floor mild gentle
		gentlest little slightest any shop shops car bus bed laces shoelaces metres yards post letterbox gate ramp supermarket aisle bins corridor hallway hall drive loo toilet bathroom`,
	"stairs": "stairs stair staircase steps flight flights slope hill brae",
	"task": `washing laundry dishes dusting housework chores cooking cleaning hoovering hoover vacuuming shopping groceries dressed dressing shower showering everyday ordinary
		jobs ironing kitchen garden gardening peeling teeth dishwasher laces chore errands pots pans spuds potatoes bath carrots kettle buggy pram hair shave shaving trolley sweeping mopping sandwich`,
	"meal":  "bed tea dinner lunch breakfast sandwich",
	"lying": "lying laying lie lay flat bed night pillow pillows asleep sleeping",
	"night": "wake wakes woke waking woken",
	"walk":  "walk walking walks walked step steps uphill",
	"where": "where day name address street way home words going who date year month house birthday",
	"effort": `hill hills hilly climb climbs climbing sprint* interval* bout bouts harder hardest top end ending finish* race races racing rep reps set sets
		push* planned plan recover* steep intensity tempo burpee* squat* within supposed stage chasing`,
	"side": "one left right other side only l r",
	"thing": `boat ferry pontoon ship bike table chair stool seat saddle bridge ladder plank board engine kettle watch app dog cat horse trailer treadmill
		machine weather work job boss traffic forecast plan schedule diary menu menus instructions zones phone radio car van strap signal video screen file files sensor battery gps engine lift bagpipe band`,
	"kin": "kids kid child children baby toddler bairn wean son daughter nephew niece boy girl grandson granddaughter",
	"body": `head heart ticker pulse chest breast breastbone rib ribs leg legs knee knees foot feet calf calves ankle ankles face lips lip skin hand hands finger fingers nails breath breathing
		stomach tummy speech words vision sight eyes room world floor ground walls balance jaw arm arms neck throat i we he she they me`,
	"observer": "says said say reckons reckoned thought thinks noticed noticing told tells",
	"praise":   "slimmer fitter better great well good strong stronger younger fine happy thinner fresh smart",
	"calmly":   "back nose drill* exercise* hold holds deep away space room easily easy calm calmly steady nicely fresh",
	"beast":    "dog cat cow ewe mare horse sheep goat bitch pony",
	"drug":     "tablet tablets pill pills medicine medicines medication medications meds drug drugs dose dosage inhaler injection injections prescription",
	"pills":    "tablet tablets pill pills meds medicine medicines medication medications inhaler puffer",
	"fewhours": "1h 2h 3h 4h 5h 1hr 2hrs 3hrs 4hrs 5hrs 2hr 3hr 4hr 5hr",
	"change": `new different other another change changed changes changing start started starting stop stopped come came put gave given give more extra stronger
		higher lower double doubled halve halved up upped down raised lowered increased reduced switched switch taking`,
	"sleep":  "sleep sleeping slept asleep kip",
	"hurt":   "twisted sprain* rolled tripped fell falls fall fallen knocked kicked stung bitten bashed banged",
	"limb":   "ankle ankles knee knees wrist foot leg calf hamstring back hip shoulder elbow head muscle groin achilles toe thigh quad",
	"joint":  "knee knees hip hips ankle ankles wrist wrists elbow elbows heel heels foot feet toe toes achilles groin hamstring shin shins",
	"aching": "pain pains painful hurt hurts hurting ache aches ached aching achy agony killing niggl* twinge*",
	"self":   "me myself i us we to the in at on",
	"ward":   "hospital hospitals hosp casualty icu",
	"op":     "surgery op operation procedure biopsy",
	"organ":  "appendix gallbladder bladder hernia prostate womb tonsils spleen thyroid cyst lump mole hip ovary cataract cataracts",
	"out":    "out removed taken took",
	"stools": "stool stools poo poos poop poops motion motions bowels turd turds",
	"pee":    "pee wee urine peed piss pissing peeing weeing waterworks",
	"passed": "@stools @pee phlegm mucus sputum sick vomit spit",
	"device": "pacemaker pacer pacing icd defibrillator defib implant recorder device",
	"trouble": `fail* beep* buzz* shock* alarm* alert* low replac* moved shifted wrong problem* fault* reprogram* adjust* sore red fired off infect* dislodged loose warning called phoned
		rang recall* picked flat trouble acting playing out vibrat*`,
	"other": `@kin mum mam mother dad father wife husband partner sister brother friend mate neighbour neighbor gran nan granny grandma grandad granddad grandpa grandmother grandfather aunt auntie
		uncle cousin colleague boss dog cat horse girlfriend boyfriend flatmate skipper cook captain`,
	"month": "january february march april may june july august september october november december spring summer autumn winter",

	// Doctors and what they say. What stands for bad news, or for a date to wait for, is none beside good news.
	"doctor":    "doctor doctors doc docs dr gp gps cardiologist cardiologists cardiology consultant consultants specialist surgeon physician medic paramedic paramedics nurse",
	"medics":    "@doctor hospital clinic ward nhs 111",
	"therapist": "physio physios physiotherapist dentist osteopath osteo chiropractor chiro podiatrist",
	"bosses":    "@therapist @thing you coach trainer",
	"told":      "said say says tell tells told advise advises advised order orders ordered instructed recommended recommends want wants wanted",
	"nay":       "no not dont wont stop stops stopped stopping avoid* refrain* against without cant cannot shouldnt mustnt never off ban* forbid* forbade barred",
	"train": `exercise exercises exercising train training run running runs workout workouts sport sports session sessions walk walks walking cycle cycling bike biking row rowing swim swimming
		gym exertion activity physical hill hills cardio strenuous`,
	"test":    "scan scans echo ecg ekg echocardiogram angiogram mri holter ultrasound tape",
	"halt":    "sit rest resting hold wait waiting until till til before leave fire quit rather stop stops stopped stopping nothing avoid* refrain* paus* off cant cannot shouldnt mustnt ban* forbid* forbade barred",
	"pending": "@test before come no not dont low week weeks fortnight month months moment present bloods test tests trace monitor results high letter appointment appt see seeing advice order orders",
	"weekday": "monday tuesday wednesday thursday friday saturday sunday mon tue tues wed weds thu thur thurs fri sat sun tomorrow",
	"relief":  "worry worrying worried problem problems limit limits restriction restrictions friend mate film smoking drinking",
	"well":    "saw fine fit clear cleared pleased good great well carry more every daily",
}

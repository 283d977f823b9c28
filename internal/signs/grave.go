package signs

// graves are the ways in which people write of the signs that need emergency help or a doctor (common
// practice, no source; to be checked by licensed practice). Most of what may mean a sign is a place and
// a complaint, or a complaint and its circumstances; the rest are idioms.
var graves = []vocabulary{
	{sign: Chest, named: `chest pain*, chest pressure/tightness/discomfort/hurts/hurting/hurt, tight chest
			pain/pains/pressure/tightness/burning/discomfort in chest, angina, jaw/arm/neck pain, chest was/felt/feels hurting/sore`,
		maybe: `~chest/breastbone/sternum/breast, tight chested, cp !rail/railway/test/power/watts/1/2/3/4/5, @chest & @ill, breast bone & @pain/@press/@odd, cheats/chess/crest/chests/guest pain*/tight*/pressure, heart/ticker !rate & @pain/@press
			@arm & @pain/@press/dead/deadness/funny/weird, arms & lead, @throat & @press/burn*/chok*/ache*/clos*, not/couldnt/cannot/cant feel left/left arm/hand/side, between & @blades/shoulders & @pain/@press/sore/soreness, @blades & @pain/@press
			like a/tight @like, band round/around, bra & tight/small, elephant & chest/sat/sitting/standing, like @someone & on/round/stood/punch*/squeez*/parked
			@someone/car/lorry/ton/heavy/pressure/weight & on me, @pain/@press & front/middle/centre/center, up into jaw/neck/throat/arm/shoulder, down arm/arms, reflux, heartburn
			heart burn, indigestion, antacid*, toothache, left & fingers/hand/elbow/wrist/side & @pain/@press, grabs/grips/catches me, pectoral* & @pain/@press
			not right/something & @chest, the/old pump & @pain, band thing, @arm dead, tight & round/around top/middle/front/body, side/arm & went dead, had/having/have/think heart attack
			jaw/jaws/teeth/collarbone/left arm/jawbone & @ill, left arm & @ill, @throat & @pain/funny/weird/odd/wrong, @arm/@throat/@chest playing/acting up
			@arm/@throat/@chest @not right/happy, @arm/@throat & odd/funny/weird/strange feeling/sensation, not right & @arm/@throat, upper back & @pain/@press/@odd, under collar
			arms round me, chin/ear & @pain, chest & bruised, punched/kicked & chest
			invisible/giant/big hand/hands/fist/belt, hand/hands/fist/fists & @chest, @chest & too small/tight/strapped, @someone/giant & on @chest, someone squeezing, plank/boulder/stone & @chest, bodice, hug* & hard/@chest, corset, hold of me, arms wrapped/round/around & @chest`},
	{sign: Faint, alone: `faint`, named: `fainted, fainting, passed out, blackout, blacked out, collapsed, unconscious, nearly/almost fainted, felt faint`,
		maybe: `faint/faints/fainted/fainting/fainty/faintish/faintness, collaps*, swoon*, keel*, pass/passing/passes out, passed clean/right out, conk*/flak*/spark out, out cold
			out for count, out like light, blackout*, black* out, went black, everything/all went/going/goes black/dark, everything & black/dark, lights went/going/go/gone out
			@sight & @blur/went, saw/see/seeing stars, unconscious*, unresponsive, consciousness, woke & over/people/around/floor/ground/ceiling/ambulance/hospital
			came round & people/floor/faces/ground/standing, next thing & floor/ground/ceiling/up, looking at/up ceiling, came to $
			came to & floor/mat/ground/deck/people/lying/looking/grass/pavement, lost/out/gone/away few/for second/seconds/sec/secs/moment, gone/out for few/couple
			hit/hitting floor/deck/ground/mat/carpet/tiles/pavement/grass/path !running, ended up on floor/deck/ground, went/dropped/fell down like, fell down
			slid/slumped down/off wall/stool/chair/seat, slumped, legs/knees gave/give/giving/gives way/out/up/under, legs/knees went $, legs/knees went under/from/on, knees & buckl*/fold*
			nearly/almost/before dropped !the/my/a/an/our/it, nearly/almost went $, nearly/almost went over/down, about to drop !the/my/a/an/our/it, about to faint/keel/collapse
			lights & going out, felt myself going, wouldve gone, would have gone, had to catch me, head between knees/legs, @faintly turn/turns/spell/do, took turn $
			grab*/grabbed & rail/wall, dropped/fell like stone/sack/log/tree, like i was going/gonna go/pass/drop, all/everything went/going & dim/far/distant/quiet/fuzzy/white/grey/spotty
			greyed/whited/zoned/faded out, no memory, lost minute/minutes & memory/remember, found/finding me & floor/ground/lying, helped/picked/lifted & me/up & floor/ground
			sank/sunk & floor/ground, head went $, head went and, smelling salts, seizure*, had/having a fit !of/over/about, epileptic, epilepsy, convulsi*, up to meet me, nearly/almost/about/close passing/pass/blacking/fainting
			went over in/at shower/bath/kitchen/street/gym/queue, legs/knees folded/buckled, slip*/drift* away, passed away, switched off
			@not/@cannot remember* falling/getting/hitting/going/happened/it, ready/going/gonna drop, before fell/dropped, legs & down & was, lost time
			went/gone/was away with/for a second, went limp, dropped $, dropped on/in spot, sparked out, nearly/almost out $, i/just went down $, i/just went down hard/in
			i/just dropped !the/my/a/an/our/it/off/in/by, crumpl*, in heap, saw/seeing black, on floor before, conscious, about to go $, about to go over, thought i going $
			slid to floor/ground, be caught, eyes rolled/rolling, how i got there/here, curtain & down, propped up, folded up, couldnt/didnt answer, sent me home, came to in/on
			flat on my back/face, sat/lay in ditch/road/gutter, hands and knees, saw the grass/ceiling/sky, thought i dying/goner, thought that was it
			asked/asking/asks if i ok/alright/okay, made me sit/lie, had to be carried/helped/driven/held/caught/lifted/revived, called/rang ambulance/999/doctor, held/propped/hauled me up
			no idea/clue how long, came back to, next i knew, legs couldnt/wouldnt`},
	{sign: BreathlessAtRest, alone: `breathless, breathlessness, short/shortness of breath/air`, named: `breathless/sob at rest, short of breath at rest, breathlessness at rest, cant/cannot breathe, shortness of breath at rest`,
		maybe: `breathless, breathlessness, short/shortness of @air, short breath, out of @air & @still, out of @air & sat !@belowfever, @winded & @still, @winded & sat !@belowfever, sob, winded, gasping & hour/minutes/after, @cannot & @breath
			@cannot get/catch/find/draw wind/puff, no @breath, no @air left, ~lungs, ~breathing was/is/felt/feels/like/seems, not/didnt/wouldnt get/getting/catch breath/air, not breathe
			not get/getting enough air/breath/oxygen, every breath, air hunger, laboured ^ conversation, gasp* & fish, nothing & gasp*/@winded/puff*, suffocat*, smother*
			@breath/puff/wind & back & hour/hours/ages/long/forever/never/wont/not, still/hour/minutes & @winded, out of air, hard/trying to breathe !through, yawn* & @breath
			finish/halfway/middle/stop* & sentence, gulp* & @air, hard & get & air, breathing & difficult/hard work, @cannot & fill, ~my breathing/breath/puff
			~breath/breathe/breathing ^ @effort/@calmly, something/summat & @breath, breath/breathing catch*/quick*/shallow/rapid/ragged/tight/bad/worse/hurts, short/shallow breaths
			gasp* ^ @effort, air/breath & panic/starv*, not right & @breath, breathing/breath & @not @right, chest heaving, breathing + fast/quick/quickly/hard/heavy/heavily + @still/sat
			@breath & @not going in, @breath & straw, @not going in, breath/breathing & @pain/@odd ^ @effort, breath keeps, breath/breathing playing/acting up
			breath/breathing hard/heavy/poor/short/fast/laboured/effort ^ @effort, breath/breathing all over`},
	{sign: BreathlessBeyond, named: `breathless beyond effort`,
		maybe: `@much + out of @air + @slow, @much + @winded + @slow, @winded/breathing/blowing/puffing + @much + @slow, out of @air + @slow, short of @air + @slow, @winded + @slow
			@much out of @air, @much @winded, @much short of @air, gasping for air, out of breath for no reason, run/ran out of @air, breathing + heavier/harder, breathing + too hard
			breathing like, breathing way/far/much/too hard, @breath & all wrong, @breath & @not @right, @breath/puff went/gone/goes/deserted, blowing out/hard/like, suck* air/wind
			puffier, out of proportion, never & @winded/out/short & before/normally/this/that, steam train, @air + only ^ @effort, enough breath, @breath + enough, no puff, altitude
			@cannot get/say & words + @slow/normally, no business/right & out/@winded, heaving for/like, @cannot & conversation/talk/chat/speak + @slow, dying + @slow, dying & air/breath
			lungs + @slow/crawl, @winded ^ @effort/bit/wee/slightly/fair, out of @air ^ @effort, i/im/me/was/still blowing ^ @effort, puffing like, no wind in me, @cannot say/speak word + @slow
			start*/off/begun & @winded/blowing, out of @air & before/started, never seen me @breath, for breath ^ @effort, get enough in, finished + slow/pace/easy/nan, hanging on`},
	{sign: Confusion, named: `confused, confusion, disoriented, disorientated, slurred speech`,
		maybe: `double vision, saw/seeing/see double, bewildered, confusion, confuzzled, muddled, dazed, delirious, incoherent, everything & fuzzy, like/in dream, felt/feel/feeling/very foggy, foggy headed, spaced out
			felt/feeling/was/im/totally/completely out of it, away with fairies, brain/mind & @muddle, @mind & @fogged, ~speech, speech/words/tongue & @muddle, wrong word
			talk* & thick/funny/@fogged, my words, slur*, gibberish, nonsense, talking rubbish, marbles & mouth, @not/without make/making/makes/made & sense, string & sentence
			think & straight, @cannot & words, same question/questions, ask*/say*/said/repeat* same thing, @not & know/sure & where/who/what day/year/month
			@not/@cannot & remember/recognise/recognize/tell & @where, @not/@cannot find way/home/words/street, @not know where i/im/we, forgot/forgotten/forget where/name/address
			no idea & how/where, lost track & where, couldnt work out why, @mind not right, not right in head, face/mouth/smile/eyelid/cheek & @droop, face & slid*
			@cannot think/say/recall/count/spell & what/own/straight/meant/names/number/time, @cannot & read clock/sign/screen, couldnt tell you why/where, double dutch
			own name/street/house/number/brother/sister/phone & @not/@cannot/lost/forgot, lost & thread/plot, face/arm/hand & numb & side, mixing/mixed up my
			couldnt speak/talk proper/right/straight, call*/called by name/names, kept asking, ask*/asked & again/twice, @not/without knowing why/where, @cannot add/count/spell/follow
			couldnt see/say/think why, seem*/looked lost/vacant/blank/distant, went blank, head like, half & face, face & dead, words & wouldnt/wont, mumbl*, drunk & speech/sounded/talk*
			lost for words, out of sorts and, make/makes/made/making no sense, head & all over, words/brain/mind gone/wouldnt/wont, brain/mind/head wrong
			@cannot speak/answer/follow !to ^ @effort, lost way home, not/wasnt with it, not/wasnt all there, in daze, mixed up about, couldnt work out where
			@not/@cannot recognise/recognize, @cannot remember what i did/said/was/had, no clue/idea what/where/how/who/why, mouth/tongue wouldnt/wont/couldnt, wondering how/where/why i
			@cannot & word for, @cannot get words/word, what town/day/year/month it was, couldnt find/remember word/words, eyes/hand/arm/fingers wouldnt/wont/couldnt ^ @effort
			whole/left/right/one side & numb/dead/weak/gone/heavy/droop*, arm/hand/face & limp/slack/lazy, couldnt lift arm/hand
			worst/sudden/suddenly/thunderclap/explosive & headache/migraine, @cannot/@not feel & arm/face/side, @cannot/@not see & one/left/right & eye, blind/lost & one/left/right eye`},
	{sign: Unsteady, named: `unsteady, unsteadiness, unsteady on feet, wobbly on feet`,
		maybe: `@wobble, ~balance, balance & @cannot, no balance, los* & balance, off balance, balance & off/keep/gone/shot, tipsy, felt/feel/feeling/like/was drunk, on pins, to/like jelly
			@pins & rubber*/jelly/jellied, @pins/pin @not mine/myself/working/work/right/responding/behaving, @pins & @not & own/obey/listen/mine/hold/trust/go, @cannot trust legs/feet
			stay & feet, legs & under, hold*/held/lean*/cling*/clung & onto/wall, hold on & upright/rail, stay/keep upright, nearly/almost fell over, @cannot & straight line
			@cannot walk/stand/stay & straight/up/upright/steady, tip/tipping over, like a drunk, like a newborn*/foal, not stable/steady
			drift*/veer* & to/into left/right/side/hedge/verge/road/wall, crawl* & stairs/wall, ground/floor/walls & moving, @cannot stand/walk & holding/help/without, one foot in front
			bump*/walk*/crash* into & things/wall*/door*/furniture/frame, fell/fall/falling into hedge/wall/bush/side, fell & no reason/nothing, walk*/like & drunken/drunk/sailor
			walking on cotton/sponge/marshmallow/air/castle/bouncy, like walking on, felt/like walking & sideways/deck, feet dont/wont/wouldnt
			had to hold/grab/lean/cling & arm/rail/wall/bar/on/someone/him/her/railing, clip*/hit/catch*/caught doorframe/door/frame, not right on feet, wander* & over/path/road
			leg/foot drag*, drag* leg/foot, legs/knees/feet like !lead/stone/new, fall/falling sideways/over/backwards, fell sideways, not/@not steady, floor/ground & coming/kept
			like @someone & drunk, legs & string/cooked/noodles/spaghetti/cotton, feel/felt feet/legs & cannot/cant/not, all over pavement/path/road, @pins & buckl*
			@pins & shaky/shaking/trembl* ^ @effort, @pins gave/give way, @pins all over place/shop, @pins not doing, @pins wont/wouldnt/cant carry/hold/work/go, feet went from/under
			@pins werent/wouldnt/wont/arent ^ @effort, swerv*, both hands on rail/wall/bannister/banister, feet wide, be over $, fall over, near to fall/falling, steady & not me
			@pins like !lead/stone/new ^ @effort, sea legs on land, zigzag*, side to side, like @someone & trawler/boat/ship & walk*`},
	{sign: PaleOrBlue, named: `blue lips, lips went/were/are/turned blue, cold and clammy, going grey, went/gone grey, cold sweat, clammy skin, grey/blue skin`,
		maybe: `clammy, cold sweat*, @skin & cold/sticky/clammy, @skin & @colour, @skin & colour, @colour & sheet/ghost, @colour and clammy, ice cold, cold & soaked
			nose & @colour, colour/color & drained/no/lost/gone, no blood & face/cheeks/lips, mottled, ashen, shade of @colour, no colour, funny/odd/weird/bad/ghastly/horrible/terrible/awful colour
			~lip/lips, look*/totally/went/go/going/gone/turned/turning/face/very/really grey/gray/pale/blue/white/pasty/waxy, @colour about/round lips/mouth/gills, pale as, pale and sweaty
			death warmed, looked/looking like death/ghost/corpse, @skin like ice, cold/freezing/icy to touch, waxy, grey/green/pale/white & sweat*/wet/clammy/shaky, lost colour/color
			whiter/greyer than, white to lips, sweat* & cold & nowhere, was/went/face/gone/turned/looked colour/color of
			look* grim/awful/dreadful/terrible/shocking/ill/peaky/poorly/ghastly/horrible, all grey/white/blue, sweat* & ice
			face/skin/lips & like wax/ice/sheet/ghost/putty/paper/chalk/marble, felt/skin like ice, blood & my/the face/cheeks/lips, i grey/gray/pale/white/ashen, @colour as, washed out
			@observer & i was/looked green/grey/white/awful, @observer & look* ^ @praise, sent me home, face like !beetroot/tomato, hands like fish/ice/marble, i green, was/looked green
			look at me & home/lie/sit`},
	{sign: SwollenLeg, named: `swollen calf, calf swollen, one swollen leg, swollen leg, one leg swollen`,
		maybe: `calf & @clot, leg/legs & @side & @clot, leg/calf & swoll*/swell*/balloon*/twice, calf & hard, leg & fat, behind knee & @clot
			@leg & hot/warm/red & tight*/sore/hurt*/pain*/swoll*/tender, swelling in leg, calf/leg & warm/painful & swollen/one, calf/leg & up like, calf & burst*, leg & double
			shin/thigh/leg & streak*, shin/thigh & @side & @clot, lump & @leg, calf & side/one & sore/up, leg/calf like, jeans/trousers/sock/boot/leggings & wont/tight & calf/leg
			grown/growing & calf/leg`},
	{sign: BreathlessMild, named: `breathless at/on/with mild effort, breathless on stairs`,
		maybe: `@winded & @mild, out of @air & @mild, short of @air & @mild, ~@breath & stairs/stair, @winds me & @winded/puffed
			stop*/stand/need & air/breath/breather/puff & way/walk*/@stairs/top, stop*/stand & get/catch wind, breath & short & @mild, los* breath
			los*/goes/went & breath & up/hill/flat/@stairs, need breather, stop*/stopping & breath & walk*/car, puff* & @mild/bed, @winded & hardly any
			huffing and puffing & slow/walking/minutes/mins, hardly/little effort & breath*, breathless & effort, stairs/stair/steps/flight & do/does/kill*/finish*/beat*/wreck* & me
			hardly climb/manage/make & @stairs, @cannot climb/manage/do/make/walk/face & @stairs, @cannot + talk*/chat* + walk*, blowing & @mild
			stop*/rest*/pause* & every/each & landing/stair/step/lamp/few/yards/metres, stop/stopping/stopped for breath/air, get/catch/got breath & @stairs/landing
			makes/has/leaves/gets/had/left/getting me pant*/puff*/gasp*/blow*, stairs/steps & goes/attempts/stages, talk*/chat* & move/walk*/moving & beyond/hard
			@winded/puffed & time/just/carrying/hanging/bringing/lap, out of @air hanging/carrying/bringing/putting/tying/getting/making/doing, stop talk*/chat* when/walk*
			steps/yards/metres and & rest/stop/sit, @cannot keep up & flat/gran/nan/kids/toddler, puff & now/things, @cannot & push/carry & out of @air
			talk*/chat* & walk* & possible/impossible, stop*/rest*/pause* & each/every floor/landing/step/corner/bench, used to & now & stop*/rest*/puff*/breath*/cannot/cant
			struggl* & stairs/walk*/flat, no longer & stairs/walk*, can only & steps/stairs/walk*/yards/metres & stop*/rest*/breath*`},
	{sign: EverydayTasks, named: `tired/breathless at everyday tasks`,
		maybe: `@spent & @task, @spent & make/makes/making/cook/cooking/made @meal, @spent & climbing/getting into bed, @spent & walking/carrying, so/too tired + housework/cook*/wash*/clean*
			too tired do anything/things, @winded & @task, out of @air & @task, drained by, drained & things, @cannot do/manage/get/face/finish/carry/lift/push/keep + @task
			do/does/did/done me in, done in $, done in for hour/hours, done in after/from/by, takes/took & out of me, no energy/strength & everyday/@task
			need*/have/having/had/must rest/sit/nap/lie/stop !day & @task/halfway, @task & finish*/kill*/floors/wipes/beats/ruins/wrecks/flattens me, finish* me off
			without rest*/stop*/sit* & @task, worn/shattered/tired & by nothing/pottering, need*/have/having/had/must rest/sit/nap/lie/stop & make/making/cook*/makes @meal
			@task & beyond/effort/twice/floors, everyday things/jobs/tasks/life, home & finished, too much & garden/house*/task*, brushing teeth, shop & floors/@spent
			@task & workout/ordeal/mission/mountain/struggle, tires/exhausts/wears/wipes/finished me, minutes/hour and & finished/done, @cannot stand & cook/long
			little/least/smallest job/jobs/thing & @spent, shattered/spent/@spent & everyday/normal/nothing/simplest, changing/making sheets/bed & @spent/finished, too weak to/for
			no strength/energy to !train/run, all i did & bed/sleep/lie, worn/wiped/shattered by lunchtime/noon/midday, @task & does/do for me, too much & @task
			@cannot/energy & make/making @meal, make/making bed & finish*/@spent, need*/took hour/hours & recover/settee/sofa/bed/chair, rest* & bath/drying/dressing/washing
			about all im good for/able, used to & now & @task, struggl* + @task, no longer & @task, can only & @task`},
	{sign: BreathlessLying, named: `breathless lying, breathless when lying, breathless lying down/flat, breathless at night`,
		maybe: `@winded & @lying, @cannot & @breath & @lying, out of @air & @lying, short of @air & @lying, @night & gasp*/@winded/@breath/chok*, breath & short & @lying
			~breathing & lying/lie/flat, ~breath/air & lie/lying/flat, drown*/smother*/suffocat* & lie/lying/flat, propped & breath*, bolt upright, night & chok*/breath*, recliner
			pillow*/cushion* & breath*/chok*/piled/stack*/prop*, need*/extra pillow*/cushion*, two/three/four/five/more/2/3/4 pillow* & sleep*/slept/night/nights/flat, sleep*/slept & sitting/upright/armchair/chair/flat, sit/sat up & breath/breathe
			bed/pillow/cushion* & air/breathe, prop* & sleep*/cushion*/pillow*, night & air, window & breathe/air & up/night, sit/sat up all night, chok* & @lying, no air/puff + @lying`},
	{sign: Dizzy, named: `dizzy, dizziness, dizzyness, light headed, lightheaded, vertigo, giddy, woozy`,
		maybe: `street/road/world/everything/floor/room & sideways, sugar/sugars/glucose & low/dropped/drop/crash* ^ tea/coffee/no, hypo, hypos, hypoglyc*, dizz*, gidd*, light headedness, lightheadedness, woosy, whoozy, lighthead*, light in head, head & light/swirly, head not right, @head & @spin, head & cotton/whirl/clouds
			@head that turn*/spin*, head turns/turning/turned !to/towards/at/away/back, @head went/going/goes/turning/turned/spinning round, room/world/floor & moving/turning, head going $, head/gym/place/bed/ceiling/it/world/everything/room going/goes round
			head & all over, all/everything/things turning/turned/turns round/around, stars & eyes, walls/room/floor/bed & moving, room & round/spin*/turn*, @sight & @blur, @sight went/gone funny/odd/weird, saw/see/seeing spots, seeing double
			@faintly turn/turns, swirly, swimmy, spinny, wonky, like on/in/walking boat/ship/ferry/deck/swell, like & boat/ship/ferry/deck & swell/sea/storm/gale
			came/come/comes/coming/took over & funny/queer/strange/odd/weird/peculiar/shaky/weak/light/hot, went/gone/go funny/queer/woolly/wooly/floaty/faint/shaky
			had to sit/lie/crouch/kneel before/or, sit/lay me down, had to sit/lie/crouch/kneel down $, going round me, spinning out, felt/feel/feeling peculiar/queer/funny $
			felt/feel/feeling weird/strange/odd $, everything & sway*/mov*/tilt*/round, merry go round/carousel/roundabout & like/head, ~head was/felt/feels/goes/gone/went
			room/floor/walls/world did/kept/keeps, everything double/doubled, roundabout & felt/like/as
			spinning ^ class/classes/bike/bikes/studio/session/wheels/thursday/minutes/legs/easy/min, waltzers, like/felt & seasick/roundabout/fairground
			felt/feel/feels/feeling as if/though, felt/feel/feels like i was/might/would/floating/falling ^ @praise/flying/could/king`},
	{sign: Palpitations, named: `palpitation*, heart flutter*, fluttering heart, heart races/racing, racing heart, heart stumbles, irregular heartbeat
			heartbeat irregular`,
		maybe: `~heart/ticker !rate/rates/monitor/beats, heart beat !per @heart !rate & jump*, afib, fibrillation, arrhythmia, palpit*, palpat*, @heart & @beats, @heart all over
			@heart & funny/odd/weird/strange/queer/peculiar/dicky/dodgy/iffy, pulse/heartbeat !rate/alarm & @ill, pulse/heartbeat @not right, @heart !rate & too/so/very/really fast/quick
			pulse/heartbeat !rate & jump*/pause*/dance*/flip*/bumpy/mind/slow/settle, @heart fast & rest/reason/still/bed, @heart playing/acting up, @heart & out of time/rhythm/sync
			flutters, fluttery, extra/missed/skipped/ectopic beats, beats & skip*/miss*/extra, irregular rhythm/beat*/pulse, @heart & beating, @heart & calm/settle, heart/pulse rate/hr & shot/shoot*/spike*/spiking/leapt/rocket*/soar* & flat/walk*/jog*/easy/slow/rest/still/stay*/stuck, hr & shot/shoot*/spike*/spiking/leapt/rocket*/soar* & flat/walk*/jog*/easy/slow/rest/still/stay*/stuck
			chest/throat/ears/neck & @beats/boom* !training/session*/run*/lunch/dinner/work/day, @fast & @heart & @seated, @heart & nothing/mental/mad/one/stops, heart beats & then/funny/fast, pulse going/doing/keeps/kept
			the beat & goes/quick/pause/thud/skips, pause & thud/thump, abnormal/irregular rhythm/heartbeat, rhythm notification/alert/warning`},
	{sign: SwollenAnkles, named: `swollen ankle*, ankle* swollen, ankle swelling, swollen feet, ankles swell`,
		maybe: `~ankles, ankle & @odd/puff*/fat, see & ankle bones, cankles, @ankle & @swell, feet/legs like @big, both & legs & @swell, legs & swoll*/puffy/swell*/waterlogged
			@not/@cannot fit/get & @shoes, @shoes & @not/@cannot & fit/go/get/on, water retention, oedema, edema, fluid/water/waterlogged & ankles/legs/feet, shoes & swollen
			dent/dents & leg*/shin*/press*/sock*, sock* & groove*/deep/puff*, sausage feet/toes/ankles, @shoes tight !new, ankle/ankles/shin/foot & print/pit/pits/dent/thumb
			feet/ankles like !ice/blocks`},
	{sign: CalfPain, named: `calf pain, calf cramp*, calf pain when walking`,
		maybe: `claudication, @calf & @pain/tight*/seiz*/grip*/knot*/lock*/concrete, @legs & grip* & @walk, @legs & @pain & @walk/stop/stand/rest, @legs & seiz*/cramp* & @walk
			@calf & stop/stopping/rest & @walk/shop/way, @calf & grief/gyp/trouble/bother, stop*/pause*/rest* & @legs & @pain, @calf & sore/scream* & walk*/step*, @calf & @odd
			@calf & playing/plays/acting up, @calf & grab*/bite*/murder/scream* ^ @effort, @calf & ease*/eases & sit/stop/stand/rest`},
	{sign: HeartMurmur, alone: `murmur`, named: `heart murmur, a murmur, murmur on heart`,
		maybe: `murmur*, ~valve/valves, stenosis, prolapse, regurgitation, whoosh*, heart !rate/rates/monitor & hole/leak*/swish*/whoosh*/mumbl*/noise*/sound*/click*/echo
			heard & extra/something/noise/sound & @heart`},
	{sign: Wheezing, named: `wheezing, wheeze, wheezy, wheezed, wheezes, wheeziness`,
		maybe: `~asthma/inhaler/reliever/puffer, wheez*, squeak* & lungs/chest/breath*, bagpipes, chest/lungs & whistl*/rattl*/crackl*/crackly, rattly, whistl* & breath*/chest
			@breath & kettle/noise/noises/noisy/rattl*/whistl*/squeak*/hiss*/crackl*/gurgl*/accordion/gate, whistl* like kettle, i whistle`},
	{sign: Nausea, named: `felt/feel/feeling sick, nausea, nauseous, nauseated, queasy, threw up, vomited, vomiting, was sick, sickness`, alone: `sick`,
		maybe: `sick, nause*, @stomach bug/upset, upset/dodgy/bad @stomach, gastro*, norovirus, food poisoning, diarrh*, trots, queas*, bilious, retch*, barf*, boke*, boak*, vomit*, puke*, puking, pukey, puky, spew*, feel/felt/feeling/like/nearly/almost hurl*, urge & up, chunder*
			gagging !for, throw* up, thrown up, chuck* up, guts & up/heav*/threw/turn*, brought/bring/bringing & up & lunch/breakfast/dinner/tea/food
			lunch/breakfast/dinner/tea/food came/coming up, @cannot keep & down, @stomach & turn*/churn*/heav*/flip*/roll*/lurch*/unsettled, @stomach @not right/good/happy, green & gills
			heav* over side, dry heav*, be sick, been sick, sick to stomach, sick twice/again/after, felt rough and sick, lost/losing breakfast/lunch/dinner/tea, vom/vommed/voms, wretch*
			@stomach & rotten/knots/queer/funny/wrong/delicate, off food, honk*, toilet & hug*/head/over, head in toilet/bucket/bin/bowl, stomach emptied, saw my breakfast/lunch again
			came back up`},
	{sign: HospitalOrIll, named: `hospitalised, hospitalized`,
		maybe: `@ward, paramedics ^ past/station, aneurysm, *carditis, *myopathy, heart failure, blood pressure & @hypertensive/high/roof/sky/soar*/up/spik* ^ down/no, bp & @hypertensive/high/roof/sky/soar*/up/spik* ^ down/no, ambulance & me/i !turned, taken in, urgent/intensive care, minor injuries unit, blue light*, inpatient, stretcher, had to call/ring/dial 112/999/911, in/on/off/onto ward & night*/day*/home/back ^ work*/shift*, got/was/been/were/being/getting admitted, admitted to/on/for/with/yesterday/last/today/overnight
			discharged yesterday/today/from/on/home/this/last, discharged $, kept me in, kept in for/night, kept overnight, to/in/at/the er, to/in/at/up a and e !bike, emergency room/department/ward, stay/stayed/kept in overnight
			had/having/have/need/needs/after/post/since/before/my/for/under/an/small/minor @op, @op on @limb/@organ/hand/neck/eye/eyes/heart, @limb/@organ/heart/day/keyhole/hand/eye @op
			@op last/next/on/this & week/month/@weekday ^ @doctor, operated, post op, operating theatre, went under knife, anaesthe*, anesthe*, stitches & out/come/wound/day/days, @organ & @out
			kidney/kidneys & stone*/infect*/@pain, passed/passing stone*, gallstone*, gall/kidney/bladder & attack, appendicitis, appendix, hernia, pancreatitis, sepsis, shingles, diverticulitis
			diagnosed ^ @other, diagnosis, @doctor/they found, blood clot*, clot/clots & @leg/lung/lungs/found, dvt, embolism, mini stroke, tia, had stroke !rate/rates, transfusion, on drip, tumour, tumor, cancer, chemo*, diabetes, diabetic, *thyroid, anaemi*, anemi*, crohns, colitis, liver
			*ectomy/*oscopy/*plasty, @limb/hip/valve replacement*, replacement in/on/next/last, cataract*, c/caesarean/cesarean section, wisdom tooth/teeth, under general/gas, put under, bypass ^ road, plate and screws, screws in`},
	{sign: Bleeding, named: `black/tarry/bloody stool*, blood in stool*/poo/urine/pee/wee/phlegm/sick/vomit, coughed/coughing/cough/spat/spitting/threw/throwing/brought/bringing up blood, coughed/coughing/peed/vomited blood`,
		maybe: `pooing/pooed/wiped/wipe/wiping & blood, back passage, piles & blood/bleed*, toilet/loo/water was/is/went/turned red, fresh/bright blood, blood & @passed/toilet/loo/bowl/bottom/bum/backside/paper/pan/below/hanky/tissue/handkerchief/sink ^ test*, cough*/spit*/spat/hack*/brought/bring*/threw/vomit*/puk* & blood/red/pink/rusty
			@stools & black/dark/tar/tarry/blood*/maroon/red, @pee & beetroot, @pee & red/pink/brown/cola/coke/rust*/blood*/tea/orange/dark, coffee grounds, pass*/peed/pee/pissed/weed/losing/lost/lose & blood
			bleed*/bled & bottom/bum/backside/behind/below/down/rectum/inside/internal*/stomach, haematuria, hematuria, red & bowl/pan, tarry, like tar, tar & toilet/loo/bowl/pan, pink froth*, froth* & @breath/cough*, streak*/specks/spots of blood`},
	{sign: DeviceTrouble, named: `pacemaker check failed`,
		maybe: `icd, pacemaker ^ race/parkrun/park/pack/runner/km, leads/wire is/are/has broken/loose, implant* & pause/something, @device & @trouble, @device & @not @right, @device & @not working/checking/pacing, shock* & chest/device/icd/box, defibrillator/defib & me/shock*, battery/lead/leads/wire/wires & @device, @device check/checkup/clinic`},
	{sign: PregnancyWarning, named: `pregnancy warning, waters broke/went/gone/broken`,
		maybe: `pregnancy warning, contraction/contractions ^ muscle/muscles/isometric/eccentric/concentric, waters, leak*/gush* & fluid/water/weeks/baby, bleed*/bled/blood/spotting & weeks/baby/bump/pregnan*/trimester/midwife ^ pressure/test*
			spotting ^ train/trains/bird/birds/gym/bench/for, baby & @nay/less/hardly/barely/stopped/quiet & mov*/kick*, little one & stopped/less/not & mov*/kick*, lost/losing fluid/waters, tightenings, cramp* & belly/weeks ^ ago/last, clot & weeks, blood/bleed* & expecting/down there, bump & tight*/hard/@pain/cramp*, braxton, pre eclampsia, preeclampsia, placenta, miscarr*, labour pains, early labour/labor`},
	{sign: ToldNotToTrain, named: `@medics @told no/not/never/stop/avoid/against/cant/shouldnt/mustnt/dont @train !too/hard/harder/alone, @medics @told not do/doing @train
			@medics @told rest !day/days, told/advised/ordered rest by @medics, told/advised/ordered not/no/stop/avoid/against @train by @medics, @medics stopped/banned/forbidden me
			@medics stopped/banned/forbidden/forbade @train, skipped/missed/cancelled/resting/rested/stopped on/by @medics advice/orders, no/not @train @medics advice/orders
			no @train until/till/til/before @test/@medics`,
		maybe: `@doctor & @halt ^ @relief, @medics @told & @halt ^ @relief, @medics & out of gym, @medics & take/taking easy/things, @doctor & @pending ^ @relief/@well/@kin, @doctor @weekday ^ @relief/@well/@kin, @medics & @nay @train
			@doctor & @not want/like/let/happy/keen/think/recommend/advise, not fit to/for @train, under @medics, refer*/referral & @medics, test/tests & hospital
			said/say/says/told/advised/ordered rest !day/days ^ @bosses, said/say/says/told/advised/ordered no/not/dont/never/stop/avoid @train ^ @bosses, do nothing ^ @bosses
			not permitted, not allowed/supposed/meant exercise/exercising/train/training, must not exercise/train, mustnt exercise/train, banned/barred/forbid*/forbade & @train, @not/hasnt/havent cleared
			till/until/til/wait* & cleared/clearance, till/until/til/wait* & go ahead, till/until/til/wait* & all clear, signed off, signed me off, bed/complete rest
			ecg/ekg/echocardiogram/angiogram/holter/stent*/ablation, heart/chest/hospital/cardiac/echo scan*/test/tests/appointment, wait* & @test, until/till/til/before @test
			wait*/until/till/til + results/bloods ^ race/exam/exams/draw/match, hour/24h/event monitor/recorder, get/getting/be checked, no strenuous, nothing/anything strenuous
			scan/scans/mri/ct ^ baby/twins/pregnan*/midwife/weeks/due/ticket/tickets/code/codes/qr/card/@limb, orders rest, surgery/practice phoned/rang/called/wrote`},
}

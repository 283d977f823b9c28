package signs

// graves are the ways in which people write of the signs that need emergency help or a doctor (common
// practice, no source; to be checked by licensed practice). Most of what may mean a sign is a place and
// a complaint, or a complaint and its circumstances; the rest are idioms.
var graves = []vocabulary{
	{sign: Chest, named: `chest pain*, chest pressure/tightness/discomfort/hurts/hurting/hurt, tight chest
			pain/pains/pressure/tightness/burning/discomfort in chest, angina, jaw/arm/neck pain, chest was/felt/feels hurting/sore`,
		maybe: `~@chest, @chest & @pain/@press/@odd, breast bone & @pain/@press/@odd, cheats/chess/crest/chests/guest pain*/tight*/pressure
			heart/ticker !rate & @pain/@press, @arm & @pain/@press/dead/deadness/funny/weird, arms & lead, @throat & @press/burn*/chok*/ache*
			between & @blades/shoulders & @pain/@press, @blades & @pain/@press, like a/tight @like, band round/around, bra & tight/small
			elephant & chest/sat/sitting/standing, like @someone sat/sitting/standing on, @pain/@press & front/middle/centre/center
			up into jaw/neck/throat/arm/shoulder, down arm/arms, reflux, heartburn, heart burn, indigestion, antacid*, toothache`},
	{sign: Faint, alone: `faint`, named: `fainted, fainting, passed out, blackout, blacked out, collapsed, unconscious, nearly/almost fainted, felt faint`,
		maybe: `faint*, collaps*, swoon*, keel* over, pass/passing/passes out, passed clean/right out, conk*/flak*/spark out, out cold, out for count, out like light
			blackout*, black* out, went black, everything/it & black/dark, lights went/going/go/gone out, @sight & @blur/went, saw/see/seeing stars
			unconscious*, unresponsive, consciousness, woke/came & over/people/around/floor/ground/ceiling, next thing & floor/ground/ceiling/up
			came to $, came to & floor/mat/ground/deck/people/lying/looking/grass/pavement, lost/out/gone for & second/seconds/sec/secs/moment
			hit/hitting floor/deck/ground/mat, ended up on floor/deck/ground, went/dropped/fell down like, fell down, slid/slumped & down/off
			legs/knees gave/give/giving/gives way/out/up/under, legs/knees went $, legs/knees went under/from/on, knees & buckl*/fold*
			nearly/almost dropped, nearly/almost went $, nearly/almost went over/down, about to drop/faint/keel/collapse/pass, felt myself going
			wouldve gone, would have gone, had to catch me, head between knees/legs, @faintly turn/turns/spell/do, took turn, grab*/grabbed & rail/wall`},
	{sign: BreathlessAtRest, alone: `breathless, breathlessness, short/shortness of breath/air`, named: `breathless at rest, short of breath at rest, breathlessness at rest, cant/cannot breathe, shortness of breath at rest`,
		maybe: `breathless, breathlessness, short/shortness of @air, short breath, out of @air & @still, @winded & @still, winded, gasping & hour/minutes/after
			@cannot & @breath, @cannot get/catch/find/draw wind/puff, no @breath, no @air left, ~lungs, ~breathing was/is/felt/feels/like/seems
			not/didnt/wouldnt get/getting/catch breath/air, not breathe, not get enough air/breath, every breath, air hunger, laboured, suffocat*, smother*
			@breath/puff & hour/hours/ages/long/forever/never/wont & back, still/hour/minutes & @winded, out of air, hard/trying to breathe, yawn* & @breath
			finish/halfway/middle/stop* & sentence, gulp* & @air, hard & get & air, breathing & difficult/hard work, fill & lungs/chest`},
	{sign: BreathlessBeyond, named: `breathless beyond effort`,
		maybe: `@much + out of @air + @slow, @much + @winded + @slow, @winded/breathing/blowing/puffing + @much + @slow, out of @air + @slow, short of @air + @slow
			@winded + @slow, @much out of @air, @much @winded, @much short of @air, gasping for air, out of breath for no reason, run/ran out of @air
			breathing + heavier/harder, breathing + too hard, breathing like, breathing way/far/much/too hard, @breath & all wrong, @breath & @not @right
			@breath/puff went/gone/goes/deserted, blowing out/hard/like, suck* air/wind, puffier, out of proportion
			never & @winded/out/short & before/normally/this/that, steam train, @air + only, enough breath, @breath + enough, no puff
			altitude, @cannot get/say & words + @slow/normally`},
	{sign: Confusion, named: `confused, confusion, disoriented, disorientated, slurred speech`,
		maybe: `bewildered, confusion, confuzzled, muddled, dazed, delirious, incoherent, babbling, everything & fuzzy, dream, foggy, spaced out, out of it, away with fairies
			@mind & @muddle, ~speech, speech/words/talk*/tongue & @muddle, my words, slur*, gibberish, nonsense, talking rubbish, marbles & mouth
			@not/without make/making/makes/made & sense, string & sentence, think & straight, @cannot & words, same thing/question twice/again/over
			@not/@cannot & know/remember/sure/recognise/recognize/find/tell & @where, forgot/forgotten/forget & where/name/address/home
			no idea & how/where, lost track & where, couldnt work out, @mind not right, not right in head, face/mouth/side/smile/eyelid/cheek & @droop`},
	{sign: Unsteady, named: `unsteady, unsteadiness, unsteady on feet, wobbly on feet`,
		maybe: `@wobble, ~balance, balance & @cannot, no balance, los* & balance, off balance, balance & off/keep/gone/shot, tipsy, felt/feel/feeling/like/was drunk
			on pins, jelly, @pins & rubber*/jelly/jellied, @pins @not @right, @pins & @not & own/obey/listen/mine/hold/trust, @cannot trust legs/feet
			stay & feet, legs & under, hold*/held/lean*/cling*/clung & onto/wall, hold on & upright/rail, stay upright, nearly/almost fell over
			@cannot & straight line, @cannot walk/stand/stay & straight/up/upright/steady, tip*/tilt* over, like a drunk, like a newborn*/foal, not stable/steady
			drift*/veer*/pull* & to left/right/side, crawl* & stairs/wall, ground & moving`},
	{sign: PaleOrBlue, named: `blue lips, lips went/were/are/turned blue, cold and clammy, going grey, went/gone grey, cold sweat, clammy skin, grey/blue skin`,
		maybe: `clammy, cold sweat*, @skin & cold/sticky/clammy, @skin & @colour, @skin & colour, @colour & sheet/ghost, @colour and clammy, ice cold, cold & soaked
			colour/color & drained/no/lost/gone, no blood & face/cheeks/lips, mottled, ashen, shade of @colour, no colour, funny/odd/weird/bad colour, ~lip/lips
			look*/totally/went/go/going/gone/turned/turning/face/very/really grey/gray/pale/blue/white/pasty/waxy, @colour about/round lips/mouth/gills
			pale as, pale and sweaty, death warmed, looked/looking like death/ghost/corpse, @skin like ice, cold/freezing/icy to touch`},
	{sign: SwollenLeg, named: `swollen calf, calf swollen, one swollen leg, swollen leg, one leg swollen`,
		maybe: `calf & @clot, leg/legs & @side & @clot, leg/calf & swoll*/swell*/balloon*/twice, calf & hard, leg & fat, behind knee & @swell
			leg & hot/warm/red & sore/hurt*/pain*/swoll*/tender, swelling in leg, calf/leg & warm/painful & swollen/one, calf/leg up like`},
	{sign: BreathlessMild, named: `breathless at/on/with mild effort, breathless on stairs`,
		maybe: `@winded & @mild, out of @air & @mild, short of @air & @mild, ~@breath & stairs/stair, @winds me & @winded/puffed
			stop*/stand/need/rest & air/breath/breather/wind/puff & way/walk*/@stairs/top, breath & short & @mild, los*/goes/went & breath & up/hill/flat/@stairs
			need breather, stop*/stopping & breath & walk*/car, puff* & @mild/bed, @winded & hardly any, huffing and puffing & slow/walking/minutes/mins
			hardly/little effort & breath*, breathless & effort, @stairs & do/does/kill*/finish*/beat*/wreck* & me, hardly climb/manage/make & @stairs
			@cannot climb/manage/do/make/walk up @stairs, @cannot & talk*/chat* & walk*, blowing & @mild`},
	{sign: EverydayTasks, named: `tired/breathless at everyday tasks`,
		maybe: `@spent & @task, @spent & make/makes/making/cook/cooking/made @meal, @spent & climbing/getting into bed, @spent & walking/carrying
			so/too tired & do/housework/cook*, @winded & @task, out of @air & @task, drained by, drained & things, @cannot & @task
			do/does/doing/done in & @task, takes/took it/lot/all/everything out, no energy & everyday, rest/sit/nap/stop/lie & @task/halfway
			rest/sit/nap/lie & make/making/cook*/makes @meal, @task & beyond/effort/twice/floors, everyday things/jobs/tasks/life, home & finished
			too much & garden/house*/task*, does/done in, brushing teeth, shop & floors/@spent`},
	{sign: BreathlessLying, named: `breathless lying, breathless when lying, breathless lying down/flat, breathless at night`,
		maybe: `@winded & @lying, @cannot & @breath & @lying, out of @air & @lying, short of @air & @lying, @night & gasp*/@winded/@breath/chok*, breath & short & @lying
			~breathing & lying/lie/flat, @breath/drown*/smother*/suffocat* & lie/lying/flat, propped & breath*, bolt upright, night & chok*/breath*, recliner
			pillow*/cushion* & breath*, need*/extra pillow*/cushion*, sleep*/slept & sitting/upright/armchair/chair/flat, sit/sat up & breath/breathe`},
	{sign: Dizzy, named: `dizzy, dizziness, dizzyness, light headed, lightheaded, vertigo, giddy, woozy`,
		maybe: `dizz*, gidd*, light headedness, lightheadedness, woosy, whoozy, lighthead*, light in head, head & light/swirly/not right, @head & @spin, head & cotton
			room & round/spin*/turn*, @sight & @blur, @sight went/gone funny/odd/weird, saw/see/seeing spots, seeing double, @faintly turn/turns
			swirly, swimmy, spinny, wonky, like/felt & on & boat/ship/ferry, came/come/comes/coming/took over & funny/queer/strange/odd/weird/peculiar/shaky/weak/light/hot
			went/gone/go funny/queer/woolly/wooly/floaty/faint/shaky, had to sit/lie/crouch/kneel before/or, had to sit/lie/crouch/kneel down $`},
	{sign: Palpitations, named: `palpitation*, heart flutter*, fluttering heart, heart races/racing, racing heart, heart stumbles, irregular heartbeat
			heartbeat irregular`,
		maybe: `~heart/ticker !rate/rates/monitor/beats, @heart !rate & jump*, afib, fibrillation, arrhythmia, palpit*, palpat*, @heart & @beats, @heart all over
			@heart & @odd, @heart & @not @right, extra/missed/skipped/ectopic beats, beat* & skip*/miss*/extra, @heart & beating, @heart & calm/settle
			chest/throat/ears & @beats, @fast & @heart & @seated`},
	{sign: SwollenAnkles, named: `swollen ankle*, ankle* swollen, ankle swelling, swollen feet, ankles swell`,
		maybe: `~ankle/ankles, cankles, @ankle & @swell, feet/legs like @big, both & legs & @swell, legs & swoll*/puffy/swell*/waterlogged, @not/@cannot fit/get & @shoes
			@shoes & @not/@cannot & fit/go/get/on, water retention, oedema, edema, fluid/water in ankles/legs/feet, shoes & swollen
			dent/dents & leg*/shin*/press*/sock*, sock* & groove*/deep/puff*, sausage`},
	{sign: CalfPain, named: `calf pain, calf cramp*, calf pain when walking`,
		maybe: `claudication, @calf & @pain/tight*/seiz*/grip*/knot*/lock*/concrete, @legs & grip* & @walk, @legs & @pain & @walk/stop/stand/rest
			@legs & seiz*/cramp* & @walk, @calf & stop/stopping/rest & @walk/shop/way`},
	{sign: HeartMurmur, alone: `murmur`, named: `heart murmur, a murmur, murmur on heart`,
		maybe: `murmur*, ~valve/valves, stenosis, prolapse, regurgitation, whoosh*, @heart & hole/leak*/swish*/whoosh*/mumbl*/noise*/sound*/click*/echo`},
	{sign: Wheezing, named: `wheezing, wheeze, wheezy, wheezed, wheezes, wheeziness`,
		maybe: `~asthma/inhaler/reliever/puffer, wheez*, squeak* & lungs/chest/breath*, bagpipes, chest/lungs & whistl*/rattl*/crackl*/crackly, rattly
			whistl* & breath*/chest, @breath & kettle/noise/noisy/rattl*/whistl*/squeak*/accordion/gate`},
	{sign: Nausea, named: `felt/feel/feeling sick, nausea, nauseous, nauseated, queasy, threw up, vomited, vomiting, was sick, sickness`, alone: `sick`,
		maybe: `sick, nause*, queas*, bilious, retch*, barf*, boke*, boak*, vomit*, puk*, spew*, hurl*, chunder*, gagging, throw* up, thrown up, chuck* up
			guts & up/heav*/threw/turn*, brought/bring/bringing/came/coming/keep/kept up/down & lunch/breakfast/dinner/tea/food, lunch/breakfast & up/down
			@stomach & turn*/churn*/heav*/flip*/roll*/lurch*/unsettled/@not @right, green & gills, heaved/heaving over/up, dry heav*, be sick, been sick
			sick to stomach, sick twice/again/after, felt rough and sick`},
}

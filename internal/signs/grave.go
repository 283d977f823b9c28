package signs

// graves are the ways in which people write of the signs that need emergency help or a doctor (common
// practice, no source; to be checked by licensed practice).
var graves = []vocabulary{
	{sign: Chest, named: `chest pain*, chest pressure/tightness/discomfort/hurts/hurting/hurt, tight chest
			pain/pains/pressure/tightness/burning/discomfort in chest, angina, jaw/arm/neck pain, chest was/felt/feels hurting/sore`,
		maybe: `~@chest, heart/ticker !rate & @pain, @arm & dead/funny/weird, bra & tight/small, like a clamp/belt/corset, arms & lead, reflux
			@chest & @pain/@press/@odd, breast bone & @pain/@press/@odd, @arm & @pain/@press, between & @blades, @blades & @pain/@press
			throat & tight*/pressure/squeez*/chok*/grip*, heartburn, heart burn, indigestion, toothache, like a band/belt/vice/strap
			like tight band/belt/vice, band round/around, elephant & chest/sat/sitting/standing, squeez* & front/middle, like someone sitting on`},
	{sign: Faint, alone: `faint`, named: `fainted, fainting, passed out, blackout, blacked out, collapsed, unconscious, nearly/almost fainted, felt faint`,
		maybe: `faint*, collaps*, unconscious*, consciousness, keel* over, pass out, passing out, blackout*, black* out, saw/seeing stars, everything & black
			went black, vision/sight & blur*/tunnel*/narrow*/dark*/went/black, ~vision, legs gave way/out/up/under, legs went, came to, out like light, felt myself going
			everything & dark, woke & over/people/around, slid & down, conked out, passed clean/right out, hit floor/deck/ground
			grab*/grabbed & rail/wall, nearly dropped, nearly went over, nearly went, went down like, next thing & floor, woke & floor/ground
			wouldve gone, would have gone, hit the deck, fell down`},
	{sign: BreathlessAtRest, alone: `breathless, breathlessness, short/shortness of breath/air`, named: `breathless at rest, short of breath at rest, breathlessness at rest, cant/cannot breathe, shortness of breath at rest`,
		maybe: `breathless, breathlessness, short/shortness of @air, out of @air & @still, @winded & @still, gasping & hour/minutes/after
			@cannot & @breath, no @breath, no @air, no breath left, ~lungs, ~breathing was/is/felt/feels/like/seems
			not/didnt/wouldnt get/getting/catch breath/air, not breathe, not/cant/couldnt get enough air/breath, laboured, finish sentence, oxygen
			gulp* & air, still/hour/minutes & @winded, winded, ages/long/forever & breath & back, suffocat*, out of air, hard to breathe
			hard & get & air, breathing & difficult/hard work`},
	{sign: BreathlessBeyond, named: `breathless beyond effort`,
		maybe: `@much + out of @air + @slow, @much + @winded + @slow, @winded/breathing/blowing/puffing + @much + @slow, out of @air + easy/slow/stroll/warm/usual/normal/reason/should/considering/than/compared
			short of @air + @slow, @much out of @air, @much @winded, gasping for air, gasp* + @slow, @much short of @air
			out of breath for no reason, breathing + heavier/harder, breathing + too hard, breathing like, puffier, breathing way/far/much/too hard
			out of proportion, never normally @winded, never normally this @winded, never been that/so/this @winded
			never been that/so/this out of @air, steam train, @air + only, enough breath, @breath + enough`},
	{sign: Confusion, named: `confused, confusion, disoriented, disorientated, slurred speech`,
		maybe: `bewildered, confusion, foggy, everything & fuzzy, dream, confuzzled, string & sentence, no idea & how/where, ~speech, my words, muddled
			think & straight, gibberish, nonsense, slur*, spaced out
			didnt/dont/couldnt/cant/not & know/remember/sure/recognise/find & where/day/name/address/street/way/words/going, lost track & where
			couldnt work out, brain & fog*, mind & blank, words & wrong/mixed/jumbled/get, talking rubbish, face/mouth/side & droop*
			forgot & where/name/address, head all over`},
	{sign: Unsteady, named: `unsteady, unsteadiness, unsteady on feet, wobbly on feet`,
		maybe: `@wobble, ~balance, balance & cant/couldnt, no balance, weav*, ground & moving, tipsy, toppl*, felt/feel/feeling/like/was drunk, on pins, stay & feet, legs & under
			hold*/held & onto/wall, los* & balance, off balance, balance & off/keep/gone, stumbl*, @cannot & straight line, like a drunk, like a newborn*
			jelly, hold on & upright/rail, stay upright`},
	{sign: PaleOrBlue, named: `blue lips, lips went/were/are/turned blue, cold and clammy, going grey, went/gone grey, cold sweat, clammy skin, grey/blue skin`,
		maybe: `clammy, cold sweat*, colour/color & drained/no/lost/gone, mottled, death warmed, shade of @colour, cold & soaked, @skin & cold
			ice cold, no colour, funny/odd/weird/bad colour, ~lip/lips, @skin & @colour, @colour & sheet/ghost, ashen
			looked/totally/went/go/going/turned/face/very/really grey/pale/blue/white, pale as, pale and sweaty, @colour and clammy`},
	{sign: SwollenLeg, named: `swollen calf, calf swollen, one swollen leg, swollen leg, one leg swollen`,
		maybe: `calf & @clot, leg/legs & one/left/right/other/side & @clot, leg/calf & swoll*/swell*/balloon*/twice, calf & hard, leg & fat
			leg & hot/warm/red & sore/hurt*/pain*/swoll*/tender, swelling in leg, calf/leg & warm/painful & swollen/one`},
	{sign: BreathlessMild, named: `breathless at/on/with mild effort, breathless on stairs`,
		maybe: `@winded & @mild, out of @air & @mild, short of @air & @mild, ~@breath & stairs/stair, stop* & air/breath/breather & way/walk*/stairs
			puffing/blowing & walk/floor/stairs/laces, breath & short & @mild, los*/goes/went & breath & up/stairs/hill/flat, need breather
			stop*/stopping & breath & walk*/car, puff* & walking/stairs/bed/slow, @winded & hardly any
			huffing and puffing & slow/walking/minutes/mins, hardly/little effort & breath*, breathless & effort`},
	{sign: EverydayTasks, named: `tired/breathless at everyday tasks`,
		maybe: `@spent & @task, so/too tired & do/housework/cook*, @winded & @task, out of @air & @task, drained by, drained & things
			no energy & everyday, rest/stop & hoover*/halfway, brushing teeth, everyday things/jobs/tasks/life, home & finished
			lie down after & @task, takes it/all out, too much & garden/house*/task*, does/done in, @task & rest/twice/sit/floors
			shop & floors/@spent`},
	{sign: BreathlessLying, named: `breathless lying, breathless when lying, breathless lying down/flat, breathless at night`,
		maybe: `@winded & @lying, @cannot & @breath & @lying, out of @air & @lying, short of @air & @lying, @night & gasp*/@winded/@breath
			~breathing & lying/lie/flat, propped & breath*, night & chok*/breath*, recliner, breath & short & @lying, wok*/wake* & air
			pillow* & breath*, sleep* & sitting/upright/armchair/chair/flat, sit/sat up & breath/breathe`},
	{sign: Dizzy, named: `dizzy, dizziness, dizzyness, light headed, lightheaded, vertigo, giddy, woozy`,
		maybe: `dizz*, light headedness, lightheadedness, woosy, lighthead*, giddy, light in head, head & light/funny/swirly/floaty, @head & @spin
			room & round/spin*/turn*, funny turn, walls & moving, swirly, swimmy, spinny, wonky, seeing double
			came/come/comes over funny/queer/strange/odd`},
	{sign: Palpitations, named: `palpitation*, heart flutter*, fluttering heart, heart races/racing, racing heart, heart stumbles, irregular heartbeat
			heartbeat irregular`,
		maybe: `~heart/ticker !rate/rates/monitor/beats, @heart !rate & jump*, afib, fibrillation, palpit*, palpat*, @heart & @beats, @heart all over
			@heart & funny/odd/weird/strange, extra/missed/skipped beats, heart in mouth, @heart & beating, @heart & calm/settle`},
	{sign: SwollenAnkles, named: `swollen ankle*, ankle* swollen, ankle swelling, swollen feet, ankles swell`,
		maybe: `~ankle/ankles, feet & fit & shoes/trainers/boots, water retention, dent & leg*/shin*/press*, sausage, @ankle & @swell
			both & legs & swoll*/swell*/puffy, legs & swoll*/puffy/swell*, fluid in ankles/legs/feet, shoes & swollen`},
	{sign: CalfPain, named: `calf pain, calf cramp*, calf pain when walking`,
		maybe: `claudication, @legs & grip* & @walk, @calf & @pain/tight*/seize*, @legs & @pain & @walk/stop/stand/rest, @legs & seize* & @walk`},
	{sign: HeartMurmur, alone: `murmur`, named: `heart murmur, a murmur, murmur on heart`, maybe: `murmur*, ~valve, stenosis, prolapse, whoosh*, hole & heart`},
	{sign: Wheezing, named: `wheezing, wheeze, wheezy, wheezed, wheezes, wheeziness`, maybe: `~asthma/inhaler/reliever/puffer, squeak* & lungs/chest/breath*, bagpipes, wheez*, chest & whistl*/rattl*, rattly
			whistl* & breath*/chest, breathing & kettle/noisy/rattl*/whistl*`},
	{sign: Nausea, named: `felt/feel/feeling sick, nausea, nauseous, nauseated, queasy, threw up, vomited, vomiting, was sick, sickness`, alone: `sick`,
		maybe: `sick, nause*, queas*, retch*, barf*, brought up & lunch/breakfast/dinner/tea, tummy/stomach & turn*/churn*, green & gills, vomit*, puk*
			throw* up, thrown up, chuck* up, heav*/threw guts, spew*, stomach & turn*/heav*, chunder*, be sick, been sick, sick to stomach
			sick twice/again/after, felt rough and sick`},
}

package signs

// graves are the ways in which people write of the signs that need emergency help or a doctor (common
// practice, no source; to be checked by licensed practice).
var graves = []vocabulary{
	{sign: Chest, named: `chest pain*, chest pressure/tightness/discomfort/hurts/hurting/hurt, tight chest, pain/pains/pressure/tightness/burning/discomfort in chest, angina, jaw/arm/neck pain, chest was/felt/feels hurting/sore`,
		maybe: `~chest, @chest & @pain/@press/@odd, breast bone & @pain/@press/@odd, @arm & @pain/@press, between & @blades, @blades & @pain/@press, throat & tight*/pressure/squeez*/chok*/grip*
		heartburn, heart burn, indigestion, toothache, like a band/belt/vice/strap, like tight band/belt/vice, band round/around, elephant, on my chest, squeez* & front/middle, like someone sitting on`},
	{sign: Faint, named: `faint, fainted, fainting, passed out, blackout, blacked out, collapsed, unconscious, nearly/almost fainted, felt faint`,
		maybe: `faint*, collaps*, unconscious*, consciousness, keel* over, pass out, passing out, blackout*, black* out, stars, everything & black, went black, vision/sight & blur*/tunnel*/narrow*/dark*/went/black
		legs gave, nearly dropped, nearly went over, nearly went, went down like, next thing & floor, woke & floor/ground, wouldve gone, would have gone, hit the deck, fell down`},
	{sign: BreathlessAtRest, named: `breathless at rest, short of breath at rest, breathlessness at rest, cant/cannot breathe, shortness of breath at rest`,
		maybe: `breathless, breathlessness, short/shortness of @air, out of @air & @still, @winded & @still, gasping & hour/minutes/after, @cannot & @breath, no @breath, no @air, no breath left, ages/long/forever & breath & back, suffocat*, out of air, heavy/hard to breathe`},
	{sign: BreathlessBeyond, named: `breathless beyond effort`,
		maybe: `@much & out of @air & @slow, @much & @winded & @slow, @winded/breathing/blowing/puffing & @much & @slow, out of @air & @slow, short of @air & @slow, @much out of @air, @much @winded, gasping for air, gasp* & @slow
		@much short of @air, out of breath for no reason, breathing & heavier/harder/hard/much, enough breath, @breath & enough`},
	{sign: Confusion, named: `confused, confusion, disoriented, disorientated, slurred speech`,
		maybe: `confus*, disorient*, muddled, think & straight, gibberish, nonsense, slur*, spaced out, didnt/dont/couldnt/cant/not & know/remember/sure & where/what/name/day/address/going, brain & fog*, mind & blank
		words & wrong/out, face/mouth/side & droop*, forgot & where/name/what, head all over`},
	{sign: Unsteady, named: `unsteady, unsteadiness, unsteady on feet, wobbly on feet`,
		maybe: `@wobble, los* & balance, off balance, balance & off/keep/gone, stumbl*, straight line, like a drunk, like a newborn*, jelly, hold on & upright/rail, stay upright`},
	{sign: PaleOrBlue, named: `blue lips, lips went/were/are/turned blue, cold and clammy, going/went/gone grey, cold sweat, clammy skin, grey/blue skin`,
		maybe: `clammy, cold sweat*, @skin & @colour, @colour & sheet/ghost, ashen, looked/totally/went/go/going/turned/face/very/really grey/pale/blue/white, pale as, pale and sweaty, @colour and clammy`},
	{sign: SwollenLeg, named: `swollen calf, calf swollen, one swollen leg, swollen leg, one leg swollen`,
		maybe: `calf & @clot, leg/legs & one/left/right/other/side & @clot, leg & swoll*/swell*, leg & hot/warm/red & sore/hurt*/pain*/swoll*/tender, swelling in leg, calf/leg & warm/painful & swollen/one`},
	{sign: BreathlessMild, named: `breathless at/on/with mild effort, breathless on stairs`,
		maybe: `@winded & @mild, out of @air & @mild, short of @air & @mild, ~breath & stairs, stop* & breath & walk*/car, puff* & walking/stairs/bed/slow, @winded & hardly any, huffing and puffing & slow/walking/minutes/mins, hardly/little effort & breath*, breathless & effort`},
	{sign: EverydayTasks, named: `tired/breathless at everyday tasks`,
		maybe: `@spent & @task, so/too tired & do/housework/cook*, @winded & @task, out of @air & @task, drained by, drained & things, no energy & everyday, rest/stop & hoover*/halfway, brushing teeth`},
	{sign: BreathlessLying, named: `breathless lying, breathless when lying, breathless lying down/flat, breathless at night`,
		maybe: `@winded & @lying, @cannot & @breath & @lying, out of @air & @lying, short of @air & @lying, @night & gasp*/@winded/@breath, ~breathing & lying/lie/flat, pillow* & breath*, sleep* & sitting/upright/armchair/chair/flat, sit/sat up & breath/breathe`},
	{sign: Dizzy, named: `dizzy, dizziness, light headed, lightheaded, vertigo, giddy, woozy`,
		maybe: `dizz*, light headedness, lightheadedness, woosy, lighthead*, giddy, light in head, head & light/funny/swirly/floaty, @head & @spin, room & round/spin*/turn*, funny turn, swirly`},
	{sign: Palpitations, named: `palpitation*, heart flutter*, fluttering heart, heart races/racing, racing heart, heart stumbles, irregular heartbeat, heartbeat irregular`,
		maybe: `palpit*, palpat*, @heart & @beats, @heart all over, @heart & funny/odd/weird/strange, extra/missed/skipped beat*, heart in mouth, @heart & beating, @heart & calm/settle`},
	{sign: SwollenAnkles, named: `swollen ankle*, ankle* swollen, ankle swelling, swollen feet, ankles swell`,
		maybe: `@ankle & @swell, both & legs & swoll*/swell*/puffy, legs & swoll*/puffy/swell*, fluid in ankles/legs/feet, shoes & swollen`},
	{sign: CalfPain, named: `calf pain, calf cramp*, calf pain when walking`,
		maybe: `@calf & @pain/tight*/seize*, @legs & @pain & @walk/stop/stand/rest, @legs & seize* & @walk`},
	{sign: HeartMurmur, named: `heart murmur, a murmur, murmur on heart`, maybe: `murmur, murmurs, heart & valve, leak* valve, valve & leak*`},
	{sign: Wheezing, named: `wheezing, wheeze, wheezy, wheezed, wheezes, wheeziness`, maybe: `wheez*, chest & whistl*/rattl*, rattly, whistl* & breath*/chest, inhaler, breathing & kettle/noisy/rattl*/whistl*`},
	{sign: Nausea, named: `felt/feel/feeling sick, nausea, nauseous, nauseated, queasy, threw up, vomited, vomiting, was sick, sickness, sick`,
		maybe: `nause*, queas*, vomit*, puk*, throw* up, thrown up, chuck* up, heav* guts, stomach & turn*/heav*, chunder*, be sick, been sick, sick to stomach, sick twice/again/after, felt rough and sick`},
}

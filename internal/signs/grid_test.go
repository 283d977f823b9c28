package signs_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

func TestGrid(t *testing.T) {
	for _, g := range []struct{ want, places, complaints string }{
		{"chest", "chest,breastbone,ribs,jaw,left arm,neck,throat,teeth,both arms,upper back,collarbone", "X hurts,X is sore when i run,X aches,X went tight,pressure in my X,X got heavy,squeezing in my X,X burning,X went numb,tingling in my X,pinching in X,stabbing X,X is playing up,X feels funny,X feels wrong,X isnt right,X giving me bother,weight on my X,X cramped,X throbbing,X went dead,X on fire,X uncomfortable,X niggle on the hill,X not happy,X seized,a squeeze in the X,X does that thing again,odd feeling in my X,X feels like its in a vice,X killing me,X acting up,something not right with my X,X a bit tender,X tight as a drum,pain up my X,pang in my X,X like lead"},
		{"palpitations", "heart,ticker,pulse,heartbeat", "X racing,X fluttering,X skipping,X pounding while sat down,X went funny,X is all over the place,X missed a beat,X irregular,X feels wrong,X not right,X jumping about,X going like mad in bed,X too fast for no reason,X thumping,X stops and starts,X has a mind of its own,X went daft,X playing up,X flipping,X bumpy,X out of rhythm,X out of time,X fast at rest,X doing strange things,X wont slow down,X took off,X quivering,X uneven"},
		{"dizzy", "head,room,world,everything", "X spinning,X swimming,X went round,X spun,X was moving,X swaying,X tilted,X went fuzzy,X went funny,X whirling,X turning round and round"},
		{"dizzy", "head", "X not right,X feels light,X woozy,X floaty,X felt empty,X felt odd,X went all light,X like cotton wool,X went strange,X fuzzy,X feels heavy and weird,X in the clouds,X going"},
		{"unsteady", "legs,feet,knees", "X not mine,X like jelly,X wobbly,X gave way,X wouldnt hold me,X went,X not doing what i told them,X unsteady,X buckling,X shaky,X like rubber,X all over the place,X not working,X went from under me,X gone to jelly,X felt drunk,X wouldnt work,X wont carry me,X didnt feel like mine,X weak and wobbly"},
		{"breathless-at-rest", "breath,breathing", "X not right,X funny,X bad today,X is hard,X is short,X laboured,struggling for X at home,X wont settle,X heavy sat down,X fast at rest,cant get my X,X feels tight,X difficult,trouble with my X,problems with my X,X playing up,X poor,X not good,X quick and shallow,having to work for my X,X is an effort,X gone funny,X all over the place"},
		{"breathless-beyond-effort", "out of breath,puffed,breathless,winded,gasping,panting,short of breath,out of puff,blowing,puffing,huffing,struggling for air,fighting for breath", "X for nothing,i was X on the easy one,X more than usual,X straight away,so X i had to stop,X after two minutes,X walking on the flat,way too X,X on a slow jog,X much sooner than normal,really X today,X and i dont know why,X for no reason,X the whole time,had me X in no time,X on the warm up,too X to talk"},
		{"pale-or-blue", "lips,face,skin,hands,fingertips", "X went blue,X blue,X looked grey,X white as a sheet,X a funny colour,X clammy,X pale,X gone purple,X lost all colour,X ashen"},
		{"pale-or-blue", "i", "X went grey,X went white,X looked grey,X turned blue,X was clammy,X looked terrible and pale,X was a bad colour,X looked like a ghost,they said X was grey,X came out in a cold sweat,X had no colour,X was pale and sweating,X went pasty,X looked washed out,X was white as anything,X was cold and clammy,X was dripping in cold sweat,wife says X looked grey"},
		{"swollen-leg", "calf,left leg,one leg,right leg,right calf", "X swollen,X swelled up,X is hot,X red and sore,X bigger than the other,X puffy,X twice the size,X is throbbing and swollen,X hard and hot,X blown up,X came up like a balloon,X is tight and shiny,X swelling,X feels warm and sore,X painful and red,X ballooned"},
		{"swollen-ankles", "ankles,feet,both ankles", "X swollen,X puffy,X like balloons,X swelling up,X fat,X puffed up,X up again,X bulging,X huge by evening,X filled with water,X look thick,X swell at night,X full of fluid,X bloated"},
		{"calf-pain-walking", "calf,calves,leg muscles", "X hurt when i walk,X cramp when walking then fine,X ache walking to the shop,X go tight walking and i have to stop,X burn on the walk and ease at rest,X pain after 200 m walking,X seize up walking,X sore walking stops when i stop"},
		{"confusion", "words,speech,head,mind,brain", "X muddled,X went blank,X all mixed up,X wrong,X jumbled,X slurred,X foggy,X wouldnt come,X scrambled,X gone"},
		{"confusion", "i", "X was confused,X didnt know where i was,X couldnt speak properly,X forgot my name,X was slurring,X couldnt find the words,X lost my way home,X was talking nonsense,X didnt make sense,X wasnt with it,X was miles away and couldnt answer,X couldnt remember what i did,X was muddled,X was not all there,X couldnt follow a thing,X didnt recognise her,X was in a daze,X got mixed up about the day,X couldnt work out where to go"},
		{"faint", "i", "X fainted,X passed out,X blacked out,X collapsed,X went down,X keeled over,X hit the floor,X nearly passed out,X nearly went,X thought i was going,X felt faint,X came round on the floor,X was out cold,X lost consciousness,X was gone for a few seconds,X nearly keeled over,X had a blackout,X crumpled,X dropped,X slumped,X fell in a heap,X saw black,X saw stars,X went wobbly and dropped,X swooned,X nearly fainted,X was on the floor before i knew it,X couldnt stay conscious,X was about to go over,X went out,X slid to the floor,X had to be caught,X nearly dropped,X felt myself going"},
		{"breathless-at-mild-effort", "out of breath,puffed,breathless,gasping,short of breath,winded,panting,blowing", "X on the stairs,X walking to the shop,X after one flight,X getting dressed,X walking slowly,X going up to bed,X tying my shoes,X just walking,X climbing stairs,X with a bit of shopping,X crossing the road,X at the slightest thing,X on the flat"},
		{"breathless-lying", "lying down,lying flat,in bed,at night,on my back", "cant breathe X,breathless X,short of breath X,gasping X,struggle to breathe X,no air X,breathing bad X,cant get my breath X,choking X,need more pillows to breathe X,have to sit up X to get air"},
		{"tired-at-everyday-tasks", "the dishes,hoovering,cooking,getting dressed,a shower,the shopping,housework,making the bed,ironing,washing my hair", "X exhausts me,X wipes me out,knackered after X,X is too much now,too tired for X,shattered just from X,need to rest after X,X wears me out,X leaves me drained,cant manage X any more,have to sit down during X,X finishes me,weak after X,no energy for X,done in by X"},
	} {
		var missed []string
		n := 0
		for _, p := range strings.Split(g.places, ",") {
			for _, c := range strings.Split(g.complaints, ",") {
				text := strings.Replace(c, "X", p, 1)
				n++
				if got := what(text); !slices.ContainsFunc(got, func(x string) bool { return x == g.want || graver(x, g.want) }) {
					missed = append(missed, fmt.Sprint(text, got))
				}
			}
		}
		t.Logf("%s: %d of %d missed: %s", g.want, len(missed), n, strings.Join(missed, "; "))
	}
}

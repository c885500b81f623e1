package main

import (
	"asleft/generator/entry"
	"asleft/generator/logbook"
)

var titles = []string{
	"Back to {noun}", "{Time} with {noun}", "Not {noun} after all", "It runs", "It does not run", "Waiting for parts", "{noun} off again",
	"A step back", "Trying it out", "Cleaning before anything else", "Second opinion on {noun}", "Putting it together", "A short evening",
	"{noun} measured twice", "What came in the mail", "Rain and {noun}", "Wrong about {noun}", "Paint can wait",
}

var stories = []string{
	"Ran when it was parked, he said. Nobody could say when that was.",
	"Came out of a barn that was sold with everything in it.",
	"Was her father's. Started every spring until it did not.",
	"Lent to a neighbor and came back like this.",
	"Stood under a tree for six winters with fuel in it.",
	"Bought new, used twice, and then the key was lost.",
}

var views = []string{"A close view", "The left side", "A picture by flashlight", "The worn face", "The underside", "Half"}

var captions = []string{"As it came", "After cleaning", "The part in question", "Before anything was touched", "How it sits now", "For the next one who does this"}

var outlays = []string{"fetching it", "fuel and oil for trying it", "lapping paste and solvent", "a day of the welder", "scrap fee", "sand for the blast box"}

var small = []string{"engine oil", "gear oil", "wheel bearing grease", "wire and terminals", "cotter pins", "gasket sheet"}

var vendors = []string{"Hollin Small Parts", "the counter at Marl Street", "Oxbow Surplus"}

// cares are service, and the system it is of.
var cares = []entry.Service{
	{What: "engine oil", Amount: "0.6 qt", Grade: "SAE 30", System: "engine", Every: "50 h"},
	{What: "air filter washed and oiled", System: "fuel", Every: "25 h"},
	{What: "grease at the pivots", Grade: "lithium", System: "controls", Every: "6 months"},
	{What: "gear oil topped up", Amount: "4 fl oz", Grade: "SAE 90", System: "drive", Every: "100 h or 1 year"},
}

var notes = map[string][]string{
	logbook.Works:        {"tried twice", "after cleaning", "as the sheet says, from where the user stands", "dented but whole"},
	logbook.Fails:        {"every time", "three times of five", "it sticks when it is warm", "somebody has been here with wire", "worn past use"},
	logbook.DoesNotApply: {"this one was made without it", "it has none, and never had one", "the maker left it off this model"},
	logbook.NotChecked:   {"it does not run yet", "no load to try it with", "too dark by then", "the manual is on its way"},
}

var trail = []entry.Step{
	{Tried: "spark tester", Saw: "fat spark, every pull", So: "not spark", System: "ignition"},
	{Tried: "a teaspoon of fuel down the throat", Saw: "caught, ran three seconds", So: "no fuel gets through", System: "fuel"},
	{Tried: "pulled the line off the tank", Saw: "a drip, then nothing", So: "the pick-up is plugged", System: "fuel"},
	{Tried: "rocked the crank with the plug out", Saw: "dead travel before the piston moves", So: "something is loose below", System: "engine"},
	{Tried: "air into the cylinder at half stroke", Saw: "hiss at the breather", So: "rings", System: "engine"},
	{Tried: "meter on the posts", Saw: "11.6 V at rest", So: "charge it, then see", System: "electrical"},
	{Tried: "belt off and run again", Saw: "the noise is still there", So: "not the drive", System: "drive"},
	{Tried: "new plug", Saw: "the same", So: "not the plug", System: "ignition"},
	{Tried: "blew through the vent", Saw: "no air", So: "a wasp has lived in it", System: "fuel"},
	{Tried: "wiped it dry and ran it ten minutes", Saw: "wet again at the seam", So: "gasket, not the plug", System: "engine"},
	{Tried: "held the lever with a spring scale", Saw: "twice what it was", So: "the cable binds", System: "controls"},
	{Tried: "swapped the coil for one that works", Saw: "no change", So: "the coil was all right", System: "ignition"},
}

var nouns = []string{
	"the carburetor", "the gear case", "the coil", "the belt", "the governor link", "the flywheel", "the muffler", "the fuel line", "the starter rope",
	"the head", "the intake valve", "the crank seal", "the drive pulley", "the cable", "the switch", "the guard", "the bearing", "the deck", "the tank",
	"the air cleaner", "the brake band", "the spindle", "the cover plate", "the key and keyway", "the oil slinger", "the reed", "the idler", "the clutch",
}

// slots are what a sentence is put together from. Every one but the last ends
// in words without slots, so that filling in comes to an end.
var slots = map[string][]string{
	"noun":  nouns,
	"tool":  {"a feeler gauge", "the small puller", "a brass drift", "a long screwdriver", "the torque wrench", "a pick and a mirror", "the bench vise", "a soft hammer", "the old meter", "two wrenches and a rag"},
	"time":  {"an hour", "most of an evening", "twenty minutes", "longer than I will say", "two cups of coffee", "a quarter of an hour", "a Saturday morning"},
	"Time":  {"An hour", "An evening", "A morning", "Too long"},
	"where": {"on the bench", "under the light", "outdoors, away from the door", "in the parts washer", "on the floor with the plug lead off", "by the window", "in the vise with soft jaws"},
	"state": {"worn", "dry", "stiff", "better than I hoped", "cracked at one corner", "full of old varnish", "the wrong one", "put in backward once", "rusted solid", "as clean as new", "bent a hair", "loose by a quarter turn"},
	"cause": {"somebody had been there before with the wrong wrench", "the fuel had turned to varnish", "it ran low on oil once", "mice", "the wrong bolt was in it", "water stood in it over a winter", "it was never greased", "nobody had the sheet"},
	"sense": {"by ear", "by feel", "with a glass", "twice", "against the sheet", "before and after", "with the lamp from behind"},
	"maybe": {"I think", "I am fairly sure", "I would not swear to it, but", "For now I say", "My guess is that", "I wrote down that"},
	"and":   {"and that was that", "and then I stopped for the night", "which changes the plan", "and it stayed that way", "so it goes back on the list", "and I was wrong about the rest", "and nobody was more surprised than I was"},
	"who":   {"The last owner", "The neighbor", "Whoever had it apart before", "The man who sold it", "My own note from last time"},
}

var sentences = []string{
	"Plug lead off before anything else.",
	"I had {noun} off in {time}, {where}.",
	"{noun} was {state}, {and}.",
	"With {tool} it took {time}.",
	"{maybe} {cause}, {and}.",
	"{maybe} {noun} is *{state}*.",
	"{who} said it was {noun}; it was {noun}.",
	"I looked at {noun} {sense}, and it is {state}.",
	"I measured {noun} {sense} and wrote it under **measured**, where it belongs.",
	"There were {n} thousandths where there should be a few.",
	"{noun} came back together with {tool}, {n} minutes, no swearing to speak of.",
	"Nothing about {noun} looks right to me yet.",
	"Then {noun}, since it was {where} anyway.",
	"It ran for {n} minutes and I stood to one side the whole time.",
	"When it was cold again I looked at {noun}: {state}.",
	"I did not look at {noun} this time, and it says so above.",
	"The question was whether {noun} or {noun} came first, and I took {noun}.",
	"If {noun} is {state} again next week, it was not {noun}.",
	"I put {noun} aside with a tag on it.",
	"*{cause}*: that would explain {noun}.",
	"That leaves {noun} and, after it, {noun}.",
	"For the record: {noun} was {state} when it came, and it is {state} now.",
	"The sheet wants it done cold, so I waited {time}.",
	"{tool} slipped once; no harm to anything but a knuckle, through the glove.",
	"I tried it {n} times, because once proves nothing.",
	"Washed {noun} {where}, outdoors, with the door open.",
	"What I took for {noun} was `{noun}` by the number cast in it.",
	"Somebody will ask about {noun} in two years; the answer is that it was {state}.",
	"The old part is in the box under the bench, with the date on it.",
	"It is late, and {noun} can wait until {noun} is here.",
	"Tight is what the sheet says it is, so {tool} and the sheet, side by side.",
	"I would sooner say that {noun} is {state} than have a buyer find it.",
}

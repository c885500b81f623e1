package benchtest

// kindsOther are the tests of everything but the engine.
var kindsOther = []kind{
	batteryAtRest,
	cranking,
	charging,
	voltageDrop,
	parasiticDraw,
	generatorOutput,
	insulationResistance,
	bladeTipSpeed,
	bladeStoppingTime,
	beltDrive,
	groundSpeed,
	gearReduction,
	squareness,
	parallelism,
	backlash,
	spindleRunout,
}

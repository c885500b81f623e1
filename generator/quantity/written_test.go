package quantity

import (
	"math/big"
	"testing"
)

// wellWritten are quantities as mechanics write them, the one dimension that
// the field takes (None: any), and what each is told as.
var wellWritten = []struct {
	want    string
	of      Dimension
	written []string
}{
	{"60 psi", None, []string{"60 psi", "60psi", "60 PSI", "60 psig", "60 psi ", " 60 psi", "60\tpsi", "60\u00a0psi", "  60   PSI "}},
	{"60 lb", None, []string{"60 pounds"}},
	{"95 psi", None, []string{"95 psi."}},
	{"0 psi", None, []string{"0 psi"}},
	{"0 V", None, []string{"0 V"}},
	{"0 ohm", None, []string{"0 ohms"}},
	{"0.0 in", None, []string{"0.0 in"}},
	{"-5 inHg", None, []string{"-5 inHg"}},
	{"18 inHg", None, []string{`18" Hg`, "18 in. Hg", "18 inches of mercury"}},
	{"4 inH2O", None, []string{`4" H2O`, "4 in H2O"}},
	{"2 bar", None, []string{"2 bar"}},
	{"200 kPa", None, []string{"200 kPa"}},
	{"1.5 MPa", None, []string{"1.5 MPa"}},
	{"14 kgf/cm2", None, []string{"14 kgf/cm2", "14 kg/cm2", "14 kg/cm²"}},
	{"0.030 in", None, []string{".030 in", `.030"`}},
	{"30 thou", None, []string{"30 thou", "30 mil", "30 thousandths"}},
	{"1/2 in", None, []string{"1/2 in", `1/2"`, "½ in", "1⁄2 in"}},
	{"3/64 in", None, []string{"3/64 in"}},
	{"1-3/8 in", None, []string{"1-3/8 in", "1 3/8 in", `1 3/8"`}},
	{"93-1/2 in", None, []string{`93-1/2"`, `93½"`}},
	{"1-1/2 in", None, []string{"1½ in", "1 ½ in", "1 1⁄2 in"}},
	{"5 ft 3 in", None, []string{`5' 3"`, `5'3"`, "5 ft 3 in", "5 ft. 3 in.", `5'-3"`, "5' 3", "5′ 3″", "5’ 3”"}},
	{"5 ft 3-1/2 in", None, []string{`5' 3-1/2"`}},
	{"6 ft", None, []string{"6'"}},
	{"1/3 turn", None, []string{"1/3 turn"}},
	{"1-1/8 in", None, []string{"9/8 in"}},
	{"1 in", None, []string{"8/8 in"}},
	{"2/4 in", None, []string{"2/4 in"}},
	{"1/2 hp", None, []string{"1/2 hp"}},
	{"1/10 hp", None, []string{"1/10 hp"}},
	{"1/6 hp", None, []string{"1/6 hp"}},
	{"3/4 hp", None, []string{"3/4 HP"}},
	{"3.5 hp", None, []string{"3.5 hp"}},
	{"3-1/2 hp", None, []string{"3-1/2 hp"}},
	{"1-1/2 turns", None, []string{"1 1/2 turns"}},
	{"1 turn", None, []string{"1 turn"}},
	{"0.5 turn", None, []string{"0.5 turns"}},
	{"2 turns", None, []string{"2 turns"}},
	{"1/4 turn", None, []string{"1/4 turn"}},
	{"20 mm", None, []string{"20 mm"}},
	{"0.02 mm", None, []string{"0.02 mm"}},
	{"20 um", None, []string{"20 µm", "20 um", "20 microns"}},
	{"2 cm", None, []string{"2 cm"}},
	{"1.2 m", None, []string{"1.2 m"}},
	{"4200 mi", None, []string{"4200 miles", "4200 mi"}},
	{"6800 km", None, []string{"6800 km"}},
	{"412.6 h", None, []string{"412.6 h", "412.6 hrs", "412.6 hours"}},
	{"90 min", None, []string{"90 min"}},
	{"1 h 30 min", None, []string{"1 h 30 min", "1 hr 30 mins"}},
	{"45 s", None, []string{"45 s", "45 sec"}},
	{"68 degF", None, []string{"68 F", "68 °F", "68°F", "68 degF", "68 deg F", "68 degrees F"}},
	{"68 deg", None, []string{"68 degrees"}},
	{"8 deg", None, []string{"8 degrees", "8°"}},
	{"-10 degC", None, []string{"-10 C"}},
	{"20 degC", None, []string{"20 °C", "20C"}},
	{"300 kelvin", Temperature, []string{"300 K"}},
	{"300 kelvin", None, []string{"300 kelvin"}},
	{"8.2 kohm", None, []string{"8.2 kohm", "8.2 kΩ", "8.2 k ohms", "8.2 kilohms"}},
	{"2 Mohm", None, []string{"2 Mohm", "2 megohms", "2 Meg"}},
	{"550 Mohm", None, []string{"550 MΩ"}},
	{"5 Gohm", None, []string{"5 Gohm", "5 GΩ"}},
	{"0.2 ohm", None, []string{"0.2 ohms", "0.2 Ω"}},
	{"200 mohm", None, []string{"200 mohm"}},
	{"12.6 VDC", None, []string{"12.6 VDC", "12.6 V DC", "12.6 volts DC", "12.6 Vdc"}},
	{"120 VAC", None, []string{"120 VAC", "120 volts AC"}},
	{"240 VAC", None, []string{"240 V AC"}},
	{"12.6 V", None, []string{"12.6 V", "12.6 volts"}},
	{"0.35 V", None, []string{"0.35 V"}},
	{"350 mV", None, []string{"350 mV"}},
	{"15 kV", None, []string{"15 kV"}},
	{"13.8 to 14.4 V", None, []string{"13.8-14.4 V"}},
	{"3.2 A", None, []string{"3.2 A", "3.2 amps"}},
	{"40 mA", None, []string{"40 mA"}},
	{"5 uA", None, []string{"5 uA"}},
	{"250 CCA", None, []string{"250 CCA", "250 cca"}},
	{"0.2 uF", None, []string{"0.2 uF", "0.2 µF", "0.2 MFD"}},
	{"0.22 uF", None, []string{".22 mfd"}},
	{"200 nF", None, []string{"200 nF"}},
	{"470 pF", None, []string{"470 pF"}},
	{"50 degF", None, []string{"50 F"}},
	{"1500 W", None, []string{"1500 W"}},
	{"1.5 kW", None, []string{"1.5 kW"}},
	{"1500 VA", None, []string{"1500 VA"}},
	{"2 kVA", None, []string{"2 kVA"}},
	{"20 Ah", None, []string{"20 Ah", "20 AH", "20 amp hours"}},
	{"2600 mAh", None, []string{"2600 mAh"}},
	{"500 Wh", None, []string{"500 Wh"}},
	{"1.2 kWh", None, []string{"1.2 kWh"}},
	{"18 oz", None, []string{"18 oz"}},
	{"18 fl oz", None, []string{"18 fl oz", "18 fl. oz."}},
	{"20 fl oz", None, []string{"20 fl. oz."}},
	{"1 pt", None, []string{"1 pt", "1 pint"}},
	{"0.7 qt", None, []string{"0.7 qt"}},
	{"1/2 qt", None, []string{"1/2 qt"}},
	{"1.1 qt", None, []string{"1.1 quarts"}},
	{"2 gal", None, []string{"2 gal"}},
	{"208 cc", None, []string{"208 cc", "208 ccm"}},
	{"12.5 cu in", None, []string{"12.5 cu in", "12.5 ci"}},
	{"500 mL", None, []string{"500 mL", "500 ml"}},
	{"1.5 L", None, []string{"1.5 L", "1.5 liters"}},
	{"25 lb", None, []string{"25 lb", "25 lbs"}},
	{"25 lbf", None, []string{"25 lbf"}},
	{"2 lb 4 oz", None, []string{"2 lb 4 oz"}},
	{"25 kgf", None, []string{"25 kgf"}},
	{"10 N", None, []string{"10 N"}},
	{"25 lbf-ft", None, []string{"25 ft-lb", "25 ft lbs", "25 ft.lbs", "25 foot pounds", "25 ft·lb"}},
	{"110 lbf-in", None, []string{"110 in-lb", "110 inch pounds"}},
	{"12 N·m", None, []string{"12 Nm", "12 N·m", "12 N-m"}},
	{"120 N·cm", None, []string{"120 N-cm"}},
	{"1.2 kgf-m", None, []string{"1.2 kgf-m", "1.2 kg-m"}},
	{"3600 rpm", None, []string{"3600 rpm", "3600 RPM", "3600rpm"}},
	{"60 Hz", None, []string{"60 Hz"}},
	{"3.5 mph", None, []string{"3.5 mph"}},
	{"10 km/h", None, []string{"10 km/h"}},
	{"19000 ft/min", None, []string{"19000 ft/min", "19000 fpm"}},
	{"5 gpm", None, []string{"5 gpm"}},
	{"20 L/min", None, []string{"20 L/min", "20 lpm"}},
	{"9 cfm", None, []string{"9 cfm"}},
	{"0.6 gph", None, []string{"0.6 gph"}},
	{"2.2 mPa·s", None, []string{"2.2 mPa-s", "2.2 cP"}},
	{"50:1", None, []string{"50:1", "50 : 1"}},
	{"8.5:1", None, []string{"8.5:1"}},
	{"20 TPI", None, []string{"20 TPI", "20 tpi"}},
	{"14 AWG", None, []string{"14 AWG"}},
	{"2/0 AWG", None, []string{"2/0 AWG", "00 AWG", "-1 AWG"}},
	{"1/0 AWG", None, []string{"1/0 AWG"}},
	{"6 %", None, []string{"6 %", "6%", "6 percent"}},
	{"about 60 psi", None, []string{"about 60 psi", "approx 60 psi", "~60 psi"}},
	{"60 to 70 psi", None, []string{"60-70 psi", "60 - 70 psi", "60–70 psi", "60 to 70 psi", "from 60 to 70 psi", "between 60 and 70 psi", "60 psi to 70"}},
	{"> 550 Mohm", None, []string{"> 550 Mohm", ">550 Mohm", "over 550 Mohm"}},
	{"≥ 60 psi", None, []string{">= 60 psi", "at least 60 psi"}},
	{"< 0.1 V", None, []string{"< 0.1 V", "less than 0.1 V"}},
	{"< 0.001 in", None, []string{`<0.001"`}},
	{"< 5 psi", None, []string{"under 5 psi"}},
	{"OL", None, []string{"OL", "O.L.", "ol", "open", "infinite", "∞", "over limit", "overload", "open circuit", "infinity"}},
	{"0 L", None, []string{"0 L"}},
	{"5 V", None, []string{"+5 V"}},
	{"-5 V", None, []string{"−5 V"}},
	{"0.004 to 0.006 in", None, []string{`.004"-.006"`}},
	{"12 inH2O", None, []string{"12 in. of water"}},
	{"0.5 psi", None, []string{"0.5 psi"}},
	{"1/8 psi", None, []string{"1/8 psi"}},
	{"-1/2 in", None, []string{"-1/2 in"}},
	{"-1-1/2 in", None, []string{"−1-1/2 in"}},
	{"3/4 turn", None, []string{"3/4 turn"}},
	{"1 mi", None, []string{"1 mi"}},
	{"26.2 mi", Length, []string{"26.2 mi"}},
	{"5000 km", Length, []string{"5000 km"}},
	{"85 degF", Temperature, []string{"85 F"}},
	{"2 qt", Volume, []string{"2 qts"}},
	{"2 pt", Volume, []string{"2 pints"}},
	{"5.5 hp", Power, []string{"5.5 hp"}},
	{"1/2 kW", None, []string{"1/2 kW"}},
	{"8 lbf-in", None, []string{"8 in-lbs", "8 in.lbs."}},
	{"1/4 to 3/8 in", None, []string{`1/4" - 3/8"`, "1/4 to 3/8 in"}},
	{"1-1/4 to 1-3/8 in", None, []string{"1-1/4 to 1-3/8 in"}},
	{"5 ft 3 in to 5 ft 4 in", None, []string{`5' 3" to 5' 4"`}},
	{"about 1/4 in", None, []string{"about 1/4 in"}},
	{"about 5 ft 3 in", None, []string{`about 5' 3"`}},
	{"> 2 Mohm", None, []string{"> 2 Mohm"}},
	{"≥ 2 Mohm", None, []string{"≥ 2 MΩ"}},
	{"≤ 0.5 ohm", None, []string{"≤ 0.5 ohm", "<= .5 ohm"}},
	{"> 100 psi", None, []string{"above 100 psi"}},
	{"< 0 degF", None, []string{"below 0 F"}},
	{"≤ 3/16 in", None, []string{"up to 3/16 in"}},
	{"≤ 1 h 30 min", None, []string{"at most 1 h 30 min"}},
	{"about 2 qt", None, []string{"roughly 2 qt"}},
	{"about 3600 rpm", None, []string{"around 3600 rpm", "≈ 3600 rpm"}},
	{"1/2 to 3/4 in", None, []string{"between 1/2 and 3/4 in"}},
	{"about 1/2 qt", None, []string{"~1/2 qt"}},
	{"0 degC", None, []string{"0 degC"}},
	{"0 degF", None, []string{"0 F"}},
	{"0 rpm", None, []string{"0 rpm"}},
	{"0 h", None, []string{"0 h"}},
	{"0:1", None, []string{"0:1"}},
	{"0 in", None, []string{"0/4 in"}},
	{"4/0 AWG", None, []string{"4/0 AWG"}},
	{"1.5 AWG", None, []string{"1.5 AWG"}},
	{"999999999999999999 psi", None, []string{"999999999999999999 psi"}},
	{"25 N·m", None, []string{"25 N.m", "25 Newton meters"}},
	{"6 cu in", None, []string{"6 cu. in.", "6 cubic inches"}},
	{"24 VDC", None, []string{"24VDC"}},
	{"3 lb 2 oz", None, []string{"3 lbs 2 oz"}},
	{"5 min 30 s", None, []string{"5 min 30 s"}},
	{"0.011 in", None, []string{"0.011 in", "0.011\""}},
	{"0.010 in", None, []string{"0.010 in"}},
	{"-3 degC", None, []string{"-3 degC", "\u22123 °C"}},
	{"3 degC", None, []string{"+3 degC"}},
	{"12.31 V", None, []string{"12.31 V"}},
	{"0.5 in", None, []string{".5 in"}},
	{"-0.5 in", None, []string{"-.5in"}},
	{"7 mm", None, []string{"007 mm"}},
	{"0.50 mm", None, []string{"00.50 mm"}},
	{"0.0 psi", None, []string{"-0.0 psi"}},
	{"212 cc", None, []string{"212 cc"}},
	{"12.9 cu in", None, []string{"12.9 cu. in."}},
	{"5 Mohm", None, []string{"5 MΩ"}},
	{"5 mohm", None, []string{"5 m\u2126"}},
	{"999999999999999999 mm", None, []string{"999999999999999999 mm"}},
	{"0.00000000000000001 mm", None, []string{"0.00000000000000001 mm"}},
}

// illWritten are those that are not understood, or not taken by the field, and
// the very message.
var illWritten = []struct {
	text string
	of   Dimension
	want string
}{
	{"60 lbs", Pressure, `read "60 lbs", expected a pressure; 60 lb is a mass; did you mean 60 psi?`},
	{"60 lb", Pressure, `read "60 lb", expected a pressure; 60 lb is a mass; did you mean 60 psi?`},
	{"115 psi dry", None, `read "115 psi dry", expected a unit after the number; write 115 psi alone, and "dry" in a note`},
	{"115 psi (wet)", None, `read "115 psi (wet)", expected a unit after the number; write 115 psi alone, and "wet" in a note`},
	{"0.030", None, `read "0.030", expected a number and a unit; add the unit it was read in, such as psi, in, mm, V or h`},
	{".030", None, `read ".030", expected a number and a unit; add the unit it was read in, such as psi, in, mm, V or h`},
	{".030", Length, `read ".030", expected a length; add the unit, such as 0.030 in`},
	{"0.028", Length, `read "0.028", expected a length; add the unit, such as 0.028 in`},
	{`5' 14"`, None, "read \"5' 14\\\"\", expected less than 12 in behind the ft; give it in one unit, such as 74 in"},
	{"2.5 ft 3 in", None, `read "2.5 ft 3 in", expected whole ft before the in; give it in one unit, such as 5.25 ft`},
	{"1/0 in", None, `read "1/0 in", expected a number with a fraction like 1/2, 3/64 or 1-3/8; write a number other than 0 below the stroke`},
	{"3/7 in", None, `read "3/7 in", expected a number with a fraction like 1/2, 3/64 or 1-3/8; if these are two values, write the one that was read; write other fractions as decimals`},
	{"1-9/8 in", None, `read "1-9/8 in", expected a number with a fraction like 1/2, 3/64 or 1-3/8; if these are two values, write the one that was read; write other fractions as decimals`},
	{"12/24 V", None, `read "12/24 V", expected a number with a fraction like 1/2, 3/64 or 1-3/8; if these are two values, write the one that was read; write other fractions as decimals`},
	{"120/240 V", None, `read "120/240 V", expected a number with a fraction like 1/2, 3/64 or 1-3/8; if these are two values, write the one that was read; write other fractions as decimals`},
	{"50/60 Hz", None, `read "50/60 Hz", expected a number with a fraction like 1/2, 3/64 or 1-3/8; if these are two values, write the one that was read; write other fractions as decimals`},
	{"60/80 psi", None, `read "60/80 psi", expected a number with a fraction like 1/2, 3/64 or 1-3/8; if these are two values, write the one that was read; write other fractions as decimals`},
	{"6/12 V", None, `read "6/12 V", expected a number with a fraction like 1/2, 3/64 or 1-3/8; if these are two values, write the one that was read; write other fractions as decimals`},
	{"1-1/2 turns out", None, `read "1-1/2 turns out", expected a unit after the number; write 1-1/2 turns alone, and "out" in a note`},
	{"20MM", None, `read "20MM", expected a unit after the number; "MM" is not a unit; did you mean mm?`},
	{"4200", Length, `read "4200", expected a length; add the unit, such as 4200 in`},
	{"12 mi 200 ft", None, `read "12 mi 200 ft", expected a unit after the number; "mi 200 ft" is not a unit; write one such as psi, in, mm, V, rpm or degF`},
	{"412.6", Time, `read "412.6", expected a time; add the unit, such as 412.6 h`},
	{"412", Time, `read "412", expected a time; add the unit, such as 412 h`},
	{"412.6 mi", Time, `read "412.6 mi", expected a time; 412.6 mi is a length; for a time write h, min or s`},
	{"1:30 h", None, `read "1:30 h", expected a number and a unit; write a ratio as a number to 1, such as 50:1, and a time in h or min`},
	{"2:30", None, `read "2:30", expected a number and a unit; write a ratio as a number to 1, such as 50:1, and a time in h or min`},
	{"1h30m", None, `read "1h30m", expected a unit after the number; "h30m" is not a unit; write one such as psi, in, mm, V, rpm or degF`},
	{"90 days", None, `read "90 days", expected a unit after the number; write it in h, min or s`},
	{"68 degrees", Temperature, `read "68 degrees", expected a temperature; 68 deg is an angle; did you mean 68 degF or 68 degC?`},
	{"68 deg", Temperature, `read "68 deg", expected a temperature; 68 deg is an angle; did you mean 68 degF or 68 degC?`},
	{"8 deg BTDC", None, `read "8 deg BTDC", expected a unit after the number; write the angle alone, such as 8 deg, and BTDC where or in which state it was read`},
	{"8 degrees BTDC", None, `read "8 degrees BTDC", expected a unit after the number; write the angle alone, such as 8 deg, and BTDC where or in which state it was read`},
	{"300 K", None, `read "300 K", expected a unit after the number; "K" alone says too little; write 300 kohm or 300 kelvin, whichever it was`},
	{"8.2 K", None, `read "8.2 K", expected a unit after the number; "K" alone says too little; write 8.2 kohm or 8.2 kelvin, whichever it was`},
	{"8.2 K", Resistance, `read "8.2 K", expected a unit after the number; "K" alone says too little; write 8.2 kohm if that is what it was`},
	{"8.2 k", None, `read "8.2 k", expected a unit after the number; "k" alone says too little; write 8.2 kohm or 8.2 kelvin, whichever it was`},
	{"8.2K", None, `read "8.2K", expected a unit after the number; "K" alone says too little; write 8.2 kohm or 8.2 kelvin, whichever it was`},
	{"2 M", None, `read "2 M", expected a unit after the number; "M" alone says too little; write 2 m or 2 Mohm, whichever it was`},
	{"2 M", Resistance, `read "2 M", expected a unit after the number; "M" alone says too little; write 2 Mohm if that is what it was`},
	{"2 MOHM", None, `read "2 MOHM", expected a unit after the number; "MOHM" is not a unit; did you mean Mohm or mohm?`},
	{"100 R", None, `read "100 R", expected a unit after the number; "R" alone says too little; write 100 ohm if that is what it was`},
	{"12.6 DC", None, `read "12.6 DC", expected a unit after the number; "DC" alone says too little; write 12.6 VDC if that is what it was`},
	{"12.6", None, `read "12.6", expected a number and a unit; add the unit it was read in, such as psi, in, mm, V or h`},
	{"12.6", Voltage, `read "12.6", expected a voltage; add the unit, such as 12.6 V`},
	{"12,6 V", None, `read "12,6 V", expected a plain number with a decimal point; write 1250, not 1,250, and 0.5, not 0,5`},
	{"12.6 V at rest", None, `read "12.6 V at rest", expected a unit after the number; write 12.6 V alone, and "at rest" in a note`},
	{"12.6 v (engine off)", None, `read "12.6 v (engine off)", expected a unit after the number; write 12.6 V alone, and "engine off" in a note`},
	{"250 A", ColdCranking, `read "250 A", expected a cold cranking rating; 250 A is a current; did you mean 250 CCA?`},
	{"0.2 mF", None, `read "0.2 mF", expected a unit after the number; "mF" alone says too little; write 0.2 uF if that is what it was`},
	{"2 kVB", None, `read "2 kVB", expected a unit after the number; "kVB" is not a unit; write one such as psi, in, mm, V, rpm or degF`},
	{"18 oz", Volume, `read "18 oz", expected a volume; 18 oz is a mass; did you mean 18 fl oz?`},
	{"1,5 L", None, `read "1,5 L", expected a plain number with a decimal point; write 1250, not 1,250, and 0.5, not 0,5`},
	{"25 lb", Torque, `read "25 lb", expected a torque; 25 lb is a mass; did you mean 25 lbf-ft?`},
	{"12 nm", None, `read "12 nm", expected a unit after the number; "nm" is not a unit; did you mean N·m?`},
	{"3,600 rpm", None, `read "3,600 rpm", expected a plain number with a decimal point; write 1250, not 1,250, and 0.5, not 0,5`},
	{"3600 +/- 100 rpm", None, `read "3600 +/- 100 rpm", expected a unit after the number; a tolerance belongs to a limit; write the value alone, and how exact the tool is as gauge`},
	{"60 cycles", None, `read "60 cycles", expected a unit after the number; "cycles" alone says too little; write 60 Hz if that is what it was`},
	{"9 SCFM", None, `read "9 SCFM", expected a unit after the number; "SCFM" is not a unit; did you mean cfm?`},
	{"1:50", None, `read "1:50", expected a number and a unit; write a ratio as a number to 1, such as 50:1, and a time in h or min`},
	{"50 to 1", None, `read "50 to 1", expected a reading like 60 psi, about 60 psi, 60 to 70 psi, > 550 Mohm, < 0.1 V or OL; write a ratio like 50:1`},
	{"22:53", None, `read "22:53", expected a number and a unit; write a ratio as a number to 1, such as 50:1, and a time in h or min`},
	{"14 ga", None, `read "14 ga", expected a unit after the number; "ga" alone says too little; write 14 AWG if that is what it was`},
	{"220 grit", None, `read "220 grit", expected a unit after the number; grit is the name of a paper and not a measure; write it with the paper's name`},
	{"1/4-20", None, `read "1/4-20", expected a unit after the number; write the word "to" between the two ends of a range; the name of a thread goes in a note`},
	{"10-32", None, `read "10-32", expected a number and a unit; add the unit it was read in, such as psi, in, mm, V or h`},
	{"1/4-20 in", None, `read "1/4-20 in", expected a unit after the number; write the word "to" between the two ends of a range; the name of a thread goes in a note`},
	{"15 teeth", None, `read "15 teeth", expected a unit after the number; a count has no unit; write it in a note`},
	{"60ish psi", None, `read "60ish psi", expected a unit after the number; "ish psi" is not a unit; write one such as psi, in, mm, V, rpm or degF`},
	{"60 psi or so", None, `read "60 psi or so", expected a unit after the number; write 60 psi alone, and "or so" in a note`},
	{"60 psi?", None, `read "60 psi?", expected a unit after the number; "psi?" is not a unit; did you mean psi?`},
	{"60/70 psi", None, `read "60/70 psi", expected a number with a fraction like 1/2, 3/64 or 1-3/8; if these are two values, write the one that was read; write other fractions as decimals`},
	{"70-60 psi", None, `read "70-60 psi", expected the lower end first; swap the two ends`},
	{"60 to 70", None, `read "60 to 70", expected a number and a unit; add the unit it was read in, such as psi, in, mm, V or h`},
	{"60 to 70", Pressure, `read "60 to 70", expected a pressure; add the unit, such as 70 psi`},
	{"550+ Mohm", None, `read "550+ Mohm", expected a reading like 60 psi, about 60 psi, 60 to 70 psi, > 550 Mohm, < 0.1 V or OL; write >= 550 Mohm if it was that much or more`},
	{"550 Mohm+", None, `read "550 Mohm+", expected a reading like 60 psi, about 60 psi, 60 to 70 psi, > 550 Mohm, < 0.1 V or OL; write >= 550 Mohm if it was that much or more`},
	{"0L", None, `read "0L", expected a reading like 60 psi, about 60 psi, 60 to 70 psi, > 550 Mohm, < 0.1 V or OL; write OL if the meter showed no value, or 0 L for no liters`},
	{"OL ohms", None, `read "OL ohms", expected a reading like 60 psi, about 60 psi, 60 to 70 psi, > 550 Mohm, < 0.1 V or OL; write OL alone, and the rest in a note`},
	{"none", None, `read "none", expected a number and a unit; begin with the number, like 60 psi`},
	{"n/a", None, `read "n/a", expected a number and a unit; begin with the number, like 60 psi`},
	{"dead", None, `read "dead", expected a number and a unit; begin with the number, like 60 psi`},
	{"no reading", None, `read "no reading", expected a number and a unit; begin with the number, like 60 psi`},
	{"good", None, `read "good", expected a number and a unit; begin with the number, like 60 psi`},
	{"1e3 psi", None, `read "1e3 psi", expected a plain number with a decimal point; write the number out in full, such as 1000 for 1e3`},
	{"1.2.3 V", None, `read "1.2.3 V", expected a plain number with a decimal point; put digits after the point, or leave the point out`},
	{"5. V", None, `read "5. V", expected a plain number with a decimal point; put digits after the point, or leave the point out`},
	{"--5 V", None, `read "--5 V", expected a number and a unit; begin with the number, like 60 psi`},
	{"- 5 V", None, `read "- 5 V", expected a number and a unit; leave no space between the sign and the number`},
	{"60 psu", None, `read "60 psu", expected a unit after the number; "psu" is not a unit; did you mean psi?`},
	{"60 pis", None, `read "60 pis", expected a unit after the number; "pis" is not a unit; write one such as psi, in, mm, V, rpm or degF`}, // psi or pts
	{"60 pis", Pressure, `read "60 pis", expected a unit after the number; "pis" is not a unit; did you mean psi?`},
	{"60 pi", None, `read "60 pi", expected a unit after the number; "pi" is not a unit; write one such as psi, in, mm, V, rpm or degF`},
	{"60 kpaa", None, `read "60 kpaa", expected a unit after the number; "kpaa" is not a unit; did you mean kPa?`},
	{"3 cubits", None, `read "3 cubits", expected a unit after the number; "cubits" is not a unit; write one such as psi, in, mm, V, rpm or degF`},
	{"two turns", None, `read "two turns", expected a number and a unit; begin with the number, like 60 psi`},
	{"#60", None, `read "#60", expected a number and a unit; begin with the number, like 60 psi`},
	{"60 #", None, `read "60 #", expected a unit after the number; "#" alone says too little; write 60 psi, 60 lb or 60 lbf, whichever it was`},
	{"60 # ", Pressure, `read "60 #", expected a unit after the number; "#" alone says too little; write 60 psi if that is what it was`},
	{"20 ton", None, `read "20 ton", expected a unit after the number; write it in lb, or in lbf for a force; a short ton is 2000 of them`},
	{"2 imp gal", None, `read "2 imp gal", expected a unit after the number; gallons, quarts, pints and fluid ounces are those of the U.S. here; write it in L or mL; an imperial gallon is 4.54609 L`},
	{"2 Imp. pints", None, `read "2 Imp. pints", expected a unit after the number; gallons, quarts, pints and fluid ounces are those of the U.S. here; write it in L or mL; an imperial gallon is 4.54609 L`},
	{"20 tons", None, `read "20 tons", expected a unit after the number; write it in lb, or in lbf for a force; a short ton is 2000 of them`},
	{"10 dB", None, `read "10 dB", expected a unit after the number; a sound level cannot be written here; write it in a note`},
	{"5 in x 3 in", None, `read "5 in x 3 in", expected a unit after the number; write 5 in alone, and "x 3 in" in a note`},
	{"5x3 in", None, `read "5x3 in", expected a unit after the number; write one measure here, and the other for itself`},
	{"5 x 3 in", None, `read "5 x 3 in", expected a unit after the number; write one measure here, and the other for itself`},
	{"14 days", None, `read "14 days", expected a unit after the number; write it in h, min or s`},
	{"7/16", None, `read "7/16", expected a number and a unit; add the unit it was read in, such as psi, in, mm, V or h`},
	{"7/16", Length, `read "7/16", expected a length; add the unit, such as 7/16 in`},
	{"3/8-16 UNC", None, `read "3/8-16 UNC", expected a unit after the number; write the word "to" between the two ends of a range; the name of a thread goes in a note`},
	{"M8x1.25", None, `read "M8x1.25", expected a number and a unit; begin with the number, like 60 psi`},
	{"0.004 in/in", None, `read "0.004 in/in", expected a unit after the number; "in/in" is not a unit; write one such as psi, in, mm, V, rpm or degF`},
	{".004-.006", None, `read ".004-.006", expected a number and a unit; add the unit it was read in, such as psi, in, mm, V or h`},
	{".004-.006", Length, `read ".004-.006", expected a length; add the unit, such as 0.006 in`},
	{"1.25 mm pitch", None, `read "1.25 mm pitch", expected a unit after the number; write 1.25 mm alone, and "pitch" in a note`},
	{"55 mph", Length, `read "55 mph", expected a length; 55 mph is a speed; for a length write in, thou, mm or um`},
	{"85", Temperature, `read "85", expected a temperature; add the unit, such as 85 degF`},
	{"60 psi", Voltage, `read "60 psi", expected a voltage; 60 psi is a pressure; for a voltage write V, mV, kV or VDC`},
	{"12 V", Pressure, `read "12 V", expected a pressure; 12 V is a voltage; for a pressure write psi, kPa, bar or inHg`},
	{"3600", RotationalSpeed, `read "3600", expected a turning speed; add the unit, such as 3600 rpm`},
	{"3600 Hz", RotationalSpeed, `read "3600 Hz", expected a turning speed; 3600 Hz is a frequency; for a turning speed write rpm`},
	{"48 oz", Volume, `read "48 oz", expected a volume; 48 oz is a mass; did you mean 48 fl oz?`},
	{"30 kg", Force, `read "30 kg", expected a force; 30 kg is a mass; did you mean 30 kgf?`},
	{"30 kg", Torque, `read "30 kg", expected a torque; 30 kg is a mass; did you mean 30 kgf-m?`},
	{"30 kg", Pressure, `read "30 kg", expected a pressure; 30 kg is a mass; did you mean 30 kgf/cm2?`},
	{"1800 W", ApparentPower, `read "1800 W", expected an apparent power; 1800 W is a power; did you mean 1800 VA?`},
	{"2", Power, `read "2", expected a power; add the unit, such as 2 W`},
	{"20 A", Charge, `read "20 A", expected a battery capacity; 20 A is a current; for a battery capacity write Ah or mAh`},
	{"20", Charge, `read "20", expected a battery capacity; add the unit, such as 20 Ah`},
	{"18 ga", WireSize, `read "18 ga", expected a unit after the number; "ga" alone says too little; write 18 AWG if that is what it was`},
	{"18", WireSize, `read "18", expected a wire size; add the unit, such as 18 AWG`},
	{"about about 60 psi", None, `read "about about 60 psi", expected a reading like 60 psi, about 60 psi, 60 to 70 psi, > 550 Mohm, < 0.1 V or OL; leave out one of the two marks before the number`},
	{"> > 60 psi", None, `read "> > 60 psi", expected a reading like 60 psi, about 60 psi, 60 to 70 psi, > 550 Mohm, < 0.1 V or OL; leave out one of the two marks before the number`},
	{"about OL", None, `read "about OL", expected a number and a unit; begin with the number, like 60 psi`},
	{"> OL", None, `read "> OL", expected a number and a unit; begin with the number, like 60 psi`},
	{"about 60", None, `read "about 60", expected a number and a unit; add the unit it was read in, such as psi, in, mm, V or h`},
	{"about 60", Pressure, `read "about 60", expected a pressure; add the unit, such as 60 psi`},
	{"1-1/2 AWG", None, `read "1-1/2 AWG", expected a wire like 14 AWG or 2/0 AWG; leave out the fraction`},
	{"0/0 AWG", None, `read "0/0 AWG", expected a wire like 2/0 AWG; write 1/0 AWG`},
	{"1000000000000000000 psi", None, `read "1000000000000000000 psi", expected a number of at most 18 digits; round it to what the tool can read`},
	{"60 psi,", None, `read "60 psi,", expected a unit after the number; "psi," is not a unit; did you mean psi?`},
	{"60 psi;", None, `read "60 psi;", expected a unit after the number; "psi;" is not a unit; did you mean psi?`},
	{"60 psi / 4 bar", None, `read "60 psi / 4 bar", expected a unit after the number; write 60 psi alone, and "/ 4 bar" in a note`},
	{"60 p.s.i.", None, `read "60 p.s.i.", expected a unit after the number; "p.s.i." is not a unit; did you mean psi?`},
	{"1 lb 20 oz", None, `read "1 lb 20 oz", expected less than 16 oz behind the lb; give it in one unit, such as 36 oz`},
	{"1 h 75 min", None, `read "1 h 75 min", expected less than 60 min behind the h; give it in one unit, such as 135 min`},
}

func readIn(text string, of Dimension) (Reading, error) {
	if of == None {
		return ParseReading(text)
	}
	return ParseReadingAs(text, of)
}

func TestWhatMechanicsWrite(t *testing.T) {
	for _, c := range wellWritten {
		for _, text := range c.written {
			r, err := readIn(text, c.of)
			if err != nil || r.String() != c.want {
				t.Errorf("%q in a field for %s is %q, %v; want %q", text, c.of, r, err, c.want)
				continue
			}
			again, err := readIn(r.String(), c.of)
			if err != nil || !again.Equal(r) {
				t.Errorf("%q is told as %q, which reads back as %q, %v", text, r, again, err)
			}
		}
	}
	for _, c := range illWritten {
		r, err := readIn(c.text, c.of)
		if err == nil || err.Error() != c.want {
			t.Errorf("%q in a field for %s\n got %q, %v\nwant %s", c.text, c.of, r, err, c.want)
		}
		if !r.IsZero() {
			t.Errorf("%q gave %q beside its error", c.text, r)
		}
	}
}

// Whatever is proposed for a field is something that the field takes.
func TestProposalsFitTheField(t *testing.T) {
	for _, u := range Units() {
		for d := Pressure; d <= WireSize; d++ {
			for _, near := range nearest("x"+u.Symbol(), field{dims: []Dimension{d}}) {
				if near.Dimension() != d {
					t.Errorf("%s is proposed where %s is wanted", near, d)
				}
			}
			for _, text := range []string{"5", "5 " + u.Symbol(), "5 x" + u.Symbol()} {
				q, err := ParseAs(text, d)
				if err == nil && q.Dimension() != d {
					t.Errorf("%q is taken where %s is wanted", text, d)
				}
			}
		}
		if near := nearest(u.Symbol()+"q", field{}); len(near) > 0 {
			for _, n := range near {
				if n.Dimension() != near[0].Dimension() {
					t.Errorf("%v are proposed for one name", near)
				}
			}
		}
	}
}

// A number alone is answered in the units that the field is used with.
func TestParseLike(t *testing.T) {
	for text, want := range map[string]string{
		"4200":     `read "4200", expected a length; add the unit, such as 4200 mi or 4200 km`,
		"4200 h":   `read "4200 h", expected a length; 4200 h is a time; for a length write mi or km`,
		"4200 mls": `read "4200 mls", expected a unit after the number; "mls" is not a unit; for a length write mi or km`,
		"":         `read "", expected a length; write it like 60 mi`,
	} {
		if q, err := ParseLike(text, Mile, Kilometer); err == nil || err.Error() != want {
			t.Errorf("%q: %s, %v; want %s", text, q, err, want)
		}
	}
	if q, err := ParseLike("4200 miles", Mile, Kilometer); err != nil || q.String() != "4200 mi" {
		t.Errorf("4200 miles: %s, %v", q, err)
	}
	const either = `read "412.6", expected a time or a length; add the unit, such as 412.6 h or 412.6 mi`
	if _, err := ParseLike("412.6", Hour, Mile); err == nil || err.Error() != either {
		t.Errorf("412.6: %v; want %s", err, either)
	}
}

// What was written in another form is worth the same.
func TestWrittenFormsAreExact(t *testing.T) {
	for _, c := range []struct{ one, other string }{
		{"1-3/8 in", "1.375 in"},
		{"-1-1/2 in", "-1.5 in"},
		{"3/64 in", "0.046875 in"},
		{`93-1/2"`, "93.5 in"},
		{`5' 3"`, "63 in"},
		{`-5' 3"`, "-63 in"},
		{`5' 3-1/2"`, "63.5 in"},
		{"1 h 30 min", "1.5 h"},
		{"5 min 30 s", "330 s"},
		{"2 lb 4 oz", "36 oz"},
		{"12.6 VDC", "12.6 V"},
		{"68 F", "20 degC"},
		{"1/2 turn", "180 deg"},
		{"1 pt", "16 fl oz"},
		{"1 mi", "5280 ft"},
		{"0.22 MFD", "220 nF"},
		{"1000 gpm", "231000 cu in"},
	} {
		a, b := must(t, c.one), must(t, c.other)
		if c.one == "1000 gpm" { // a flow for a minute is a volume
			if got := new(big.Rat).Mul(a.Base(), big.NewRat(60, 1)); got.Cmp(b.Base()) != 0 {
				t.Errorf("%s for a minute is %s m3", a, got.RatString())
			}
			continue
		}
		if order, err := a.Cmp(b); err != nil || order != 0 {
			t.Errorf("%s against %s: %d, %v", c.one, c.other, order, err)
		}
	}
}

// A fraction, feet and inches become a decimal once one calculates with them.
func TestFractionsInSums(t *testing.T) {
	for _, c := range []struct{ from, unit, want string }{
		{"1-3/8 in", "mm", "34.9 mm"},
		{"3/64 in", "mm", "1.19 mm"},
		{`93-1/2"`, "mm", "2374.9 mm"},
		{`5' 3"`, "ft", "5.25 ft"},
		{"1-3/8 in", "in", "1-3/8 in"},
	} {
		if got, err := must(t, c.from).In(named(t, c.unit)); err != nil || got.String() != c.want {
			t.Errorf("%s in %s is %q, %v; want %q", c.from, c.unit, got, err, c.want)
		}
	}
	sum, err := must(t, "1-3/8 in").Add(must(t, "1/64 in"))
	if err != nil || sum.String() != "1.390625 in" {
		t.Errorf("1-3/8 in and 1/64 in are %q, %v", sum, err)
	}
	left, err := must(t, `5' 3"`).Sub(must(t, "0.5 in"))
	if err != nil || left.String() != "62.5 in" {
		t.Errorf("5 ft 3 in less 0.5 in are %q, %v", left, err)
	}
	if got := must(t, "1-3/8 in").WithPlaces(3).String(); got != "1.375 in" {
		t.Errorf("1-3/8 in with three decimals is %q", got)
	}
	if must(t, "1-3/8 in").Equal(must(t, "1.38 in").WithPlaces(2)) || must(t, "63 in").Equal(must(t, `5' 3"`)) {
		t.Error("another way to write it counts as written alike")
	}
}

// Compares the table of the program named on the command line with the library psychrolib (MIT), which follows
// ASHRAE Handbook - Fundamentals (2017), chapter 1. Relative limits are the spread that rounded constants of the same
// formulas can make; dew points are iterated there to 0.001 K.
import { execFileSync } from "node:child_process";

let library;
try {
  ({ default: library } = await import("psychrolib"));
} catch {
  console.log("skipped: psychrolib is not installed (npm ci in tests/psychrometrics)");
  process.exit(0);
}
library.SetUnitSystem(library.SI);

const rows = execFileSync(process.argv[2], { encoding: "utf8", maxBuffer: 1 << 26 })
  .trim()
  .split("\n")
  .map((line) => JSON.parse(line));

let worst = {};
let failures = 0;
function check(name, ours, theirs, limit, at) {
  const away = limit.relative ? Math.abs(ours / theirs - 1) : Math.abs(ours - theirs);
  worst[name] = Math.max(worst[name] ?? 0, away);
  if (!(away <= (limit.relative ?? limit.absolute))) {
    failures += 1;
    if (failures <= 20) console.error(`${name} at ${at}: ours ${ours}, psychrolib ${theirs}`);
  }
}

for (const row of rows) {
  if (row.length === 2) {
    check("standard pressure", row[1], library.GetStandardAtmPressure(row[0]), { relative: 1e-9 }, row[0]);
    continue;
  }
  const [t, humidity, pressure, saturation, ratio, dew, density, enthalpy] = row;
  const at = `${t} degC, ${humidity}, ${pressure} Pa`;
  const theirRatio = library.GetHumRatioFromRelHum(t, humidity, pressure);
  check("saturation pressure", saturation, library.GetSatVapPres(t), { relative: 1e-9 }, at);
  // The library keeps humidity ratios at or above 1e-7.
  if (theirRatio > 1e-7) {
    check("humidity ratio", ratio, theirRatio, { relative: 1e-9 }, at);
    check("density", density, library.GetMoistAirDensity(t, theirRatio, pressure), { relative: 1e-6 }, at);
    check("enthalpy", enthalpy, library.GetMoistAirEnthalpy(t, theirRatio), { absolute: 0.01 }, at);
  }
  // Below -100 degC the library gives no dew point.
  if (dew > -99) check("dew point", dew, library.GetTDewPointFromRelHum(t, humidity), { absolute: 0.001 }, at);
}
console.log(`${rows.length} rows, largest differences:`, worst);
if (rows.length < 700 || failures > 0) {
  console.error(`${failures} values differ`);
  process.exit(1);
}

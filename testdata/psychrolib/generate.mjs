// Prints testdata/tables/psychrolib-points.csv.
import psychrolib from 'psychrolib';

psychrolib.SetUnitSystem(psychrolib.SI);

const range = (from, to, step) =>
  Array.from({ length: Math.round((to - from) / step) + 1 }, (_, i) => from + i * step);

function* points() {
  // The whole range of climates and altitudes: sea level, 500, 1609 and 3000 m.
  for (const p of [101325, 95461, 83427, 70108])
    for (const t of range(-40, 60, 2.5))
      for (const rh of [2, 10, 20, 35, 50, 60, 70, 80, 90, 100]) yield [t, rh, p];
  // Rooms and houses, closely.
  for (const t of range(5, 35, 1)) for (const rh of range(5, 95, 7.5)) yield [t, rh, 101325];
  // Wet bulb and dew point on both sides of freezing.
  for (const t of range(-1, 9, 0.5)) for (const rh of [10, 15, 20, 30, 50, 80, 100]) yield [t, rh, 101325];
  // Where the saturation curve changes from ice to water.
  for (const t of [-0.01, 0, 0.005, 0.01, 0.011, 0.02, 0.05]) for (const rh of [90, 99, 99.9, 100]) yield [t, rh, 101325];
  // Beyond any building: deep cold, and hot and thin or thick air.
  for (const t of range(-60, -45, 5)) for (const rh of [5, 50, 100]) yield [t, rh, 101325];
  for (const p of [60000, 101325, 110000]) for (const t of range(65, 95, 5)) for (const rh of [5, 15, 30]) yield [t, rh, p];
}

const digits = (x) => String(Number(x.toPrecision(12)));

console.log(`# Moist-air properties computed with the npm package psychrolib 1.1.1 (MIT licence;
# library text "2.5.0"), which follows ASHRAE Fundamentals 2017, ch. 1. Made by
# testdata/psychrolib/generate.mjs. Mark: computed.
# Units: t, td, tw in °C; rh in %; p, pws, pw in Pa; W in kg/kg; h in J/kg and v in
# m³/kg of dry air; rho in kg/m³. td is the frost point at and below 0.01 °C.
# Tolerance: relative 1e-5 for pws, pw, W, h, v, rho; the formulas are the same and
# the table has 12 digits. 0.002 K for td and tw: psychrolib stops its dew point when
# a Newton step is below 0.001 K and its wet bulb when the bracket is below 0.001 K,
# so that its middle is up to 0.0005 K away; it has no way to set that tolerance.`);
console.log('t,rh,p,pws,pw,W,td,tw,h,v,rho');
for (const [t, rh, p] of points()) {
  const φ = rh / 100;
  const W = psychrolib.GetHumRatioFromRelHum(t, φ, p);
  console.log([t, rh, p,
    psychrolib.GetSatVapPres(t),
    psychrolib.GetVapPresFromRelHum(t, φ),
    W,
    psychrolib.GetTDewPointFromRelHum(t, φ),
    psychrolib.GetTWetBulbFromRelHum(t, φ, p),
    psychrolib.GetMoistAirEnthalpy(t, W),
    psychrolib.GetMoistAirVolume(t, W, p),
    psychrolib.GetMoistAirDensity(t, W, p),
  ].map(digits).join(','));
}

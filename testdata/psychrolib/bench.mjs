// node bench.mjs REPOSITORY
// Times psychrolib, then the Go benchmarks of checks/humidair, on the points of
// testdata/tables/psychrolib-points.csv, and prints ns per property, the best of
// five rounds of each, and the ratio.
import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import psychrolib from 'psychrolib';

const repository = process.argv[2];
if (!repository) {
  console.error('usage: node bench.mjs REPOSITORY');
  process.exit(2);
}
psychrolib.SetUnitSystem(psychrolib.SI);

const table = readFileSync(join(repository, 'testdata/tables/psychrolib-points.csv'), 'utf8');
const [header, ...lines] = table.split('\n').filter((l) => l && !l.startsWith('#'));
const columns = header.split(',');
const points = lines.map((l) => {
  const cells = l.split(',').map(Number);
  const r = Object.fromEntries(columns.map((c, i) => [c, cells[i]]));
  return { t: r.t, φ: r.rh / 100, p: r.p, W: r.W };
});

const properties = {
  pws: (q) => psychrolib.GetSatVapPres(q.t),
  pw: (q) => psychrolib.GetVapPresFromRelHum(q.t, q.φ),
  W: (q) => psychrolib.GetHumRatioFromRelHum(q.t, q.φ, q.p),
  td: (q) => psychrolib.GetTDewPointFromRelHum(q.t, q.φ),
  tw: (q) => psychrolib.GetTWetBulbFromRelHum(q.t, q.φ, q.p),
  h: (q) => psychrolib.GetMoistAirEnthalpy(q.t, q.W),
  v: (q) => psychrolib.GetMoistAirVolume(q.t, q.W, q.p),
  rho: (q) => psychrolib.GetMoistAirDensity(q.t, q.W, q.p),
  rh: (q) => psychrolib.GetRelHumFromHumRatio(q.t, q.W * 0.99, q.p),
};

let sum = 0;
function nanoseconds(f) {
  const passes = (n) => {
    const start = process.hrtime.bigint();
    for (let i = 0; i < n; i++) for (const q of points) sum += f(q);
    return Number(process.hrtime.bigint() - start);
  };
  passes(20); // let the compiler settle
  const n = Math.max(1, Math.ceil(2e8 / (passes(20) / 20)));
  const rounds = Array.from({ length: 5 }, () => passes(n) / n / points.length);
  return Math.min(...rounds);
}

const node = Object.fromEntries(Object.entries(properties).map(([k, f]) => [k, nanoseconds(f)]));
const output = execFileSync('go',
  ['test', '-run', '^$', '-bench', 'Properties', '-benchmem', '-benchtime', '0.2s', '-count', '5', './checks/humidair'],
  { cwd: repository, encoding: 'utf8' });

console.log(`node ${process.version}, ${output.match(/^cpu: .*$/m)?.[0] ?? ''}, ${points.length} points, checksum ${sum.toPrecision(6)}`);
console.log('property  psychrolib ns  proveout ns  ratio  allocations');
for (const k of Object.keys(properties)) {
  const rounds = [...output.matchAll(new RegExp(`BenchmarkProperties/${k}(?:-\\d+)?\\s+\\d+\\s+([\\d.]+) ns/op.*?(\\d+) allocs/op`, 'g'))];
  if (rounds.length !== 5) throw new Error(`no Go benchmark for ${k} in:\n${output}`);
  const go = Math.min(...rounds.map((m) => Number(m[1])));
  const allocations = Math.max(...rounds.map((m) => Number(m[2])));
  console.log(`${k.padEnd(8)}  ${node[k].toFixed(1).padStart(13)}  ${go.toFixed(1).padStart(11)}  ${(node[k] / go).toFixed(1).padStart(5)}  ${String(allocations).padStart(11)}`);
}

// The finished program as its user meets it: exit codes, documents, pipes, signals, the live page.
// Run by ctest; WARMSIDE names the program, WARMSIDE_SOURCE the repository.
import { strict as assert } from 'node:assert';
import { spawn, spawnSync } from 'node:child_process';
import { cpSync, existsSync, mkdirSync, mkdtempSync, readFileSync, readdirSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { request } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, before, test } from 'node:test';

const program = process.env.WARMSIDE;
const source = process.env.WARMSIDE_SOURCE;
const house = join(source, 'examples/heron-ridge/house.toml');
let folder;
before(() => { folder = mkdtempSync(join(tmpdir(), 'warmside-')); });
after(() => rmSync(folder, { recursive: true, force: true }));

const run = (...words) => spawnSync(program, words, { encoding: 'utf8', maxBuffer: 1 << 28 });
const json = (...words) => {
  const done = run(...words, '--json');
  assert.equal(done.status, 0, done.stderr);
  return JSON.parse(done.stdout);
};

test('the answer has the names of its schema, SI figures and a reason for every verdict', () => {
  const answer = json('answer', house);
  assert.equal(answer.schema, 1);
  const wall = answer.ladders.find((ladder) => ladder.part === 'wall');
  assert.equal(wall.rungs.length, 6);
  for (const rung of wall.rungs) {
    for (const key of ['name', 'title', 'thickness', 'label_r', 'clear_r', 'clear_u', 'built_r', 'verdict', 'reason', 'assumes']) {
      assert.ok(key in rung, key);
    }
    assert.ok(rung.thickness > 0.1 && rung.thickness < 0.5);
    assert.ok(rung.clear_r > 1 && rung.clear_r < 15);
    assert.ok(Math.abs(rung.clear_r * rung.clear_u - 1) < 1e-9);
    assert.ok(rung.built_r > 0 && rung.built_r < rung.clear_r, 'junctions take away');
    assert.ok(rung.junctions.length >= 8);
    for (const junction of rung.junctions) {
      assert.ok(junction.length > 0 && Number.isFinite(junction.psi_internal) && Number.isFinite(junction.psi_external), junction.name);
      assert.ok(junction.factor > 0.5 && junction.factor < 1, junction.name);
    }
    assert.ok(['dry', 'watch', 'wet'].includes(rung.verdict));
    assert.ok(rung.reason.length > 20);
    assert.ok(rung.assumes.length >= 4);
  }
  const r = wall.rungs.map((rung) => rung.clear_r);
  assert.deepEqual([...r].sort((a, b) => a - b), r, 'each rung of the example is worth more than the one below');
});

test('the same file gives the same bytes twice', () => {
  assert.equal(run('answer', house, '--json').stdout, run('answer', house, '--json').stdout);
});

test('one rung alone answers as among the others', () => {
  const all = json('answer', house).ladders[0].rungs.find((rung) => rung.name === 'w3');
  const alone = json('answer', house, '--rung', 'w3').ladders[0].rungs[0];
  assert.deepEqual(alone, all);
});

test('--out writes a report that needs no network, and the figures', () => {
  const out = join(folder, 'out');
  assert.equal(run('answer', house, '--out', out).status, 0);
  const page = readFileSync(join(out, 'report.html'), 'utf8');
  assert.ok(page.startsWith('<!doctype html>') || page.startsWith('<!DOCTYPE html>'));
  assert.ok(!/(?:src|href)\s*=\s*["']?https?:/.test(page) && !/url\(\s*["']?https?:/.test(page));
  assert.ok(statSync(join(out, 'report.html')).size < 4e6);
  assert.equal(JSON.parse(readFileSync(join(out, 'answer.json'), 'utf8')).schema, 1);
  assert.deepEqual(readdirSync(out).sort(), ['answer.json', 'report.html']);
});

test('a bad file is refused with place, and nothing is written', () => {
  const bad = join(folder, 'bad.toml');
  writeFileSync(bad, readFileSync(house, 'utf8').replace('thickness = "5 1/2 in"', 'thickness = "5 1/2 lb"').replace('"spruce siding"', '"spruce sidling"'));
  const out = join(folder, 'never');
  const done = run('answer', bad, '--out', out);
  assert.equal(done.status, 2);
  assert.equal(done.stdout, '');
  assert.match(done.stderr, /bad\.toml:\d+:\d+: error: thickness "5 1\/2 lb" is not a length/);
  assert.match(done.stderr, /spruce siding/);
  assert.ok(!existsSync(out));
  const document = JSON.parse(run('answer', bad, '--json').stdout);
  assert.ok(document.problems.length >= 2);
});

test('a file, rung, place or path that is not there is said, with exit 2', () => {
  assert.equal(run('answer', join(folder, 'none.toml')).status, 2);
  assert.equal(run('heat', house, '--rung', 'w9').status, 2);
  const lost = join(folder, 'lost.toml');
  writeFileSync(lost, readFileSync(house, 'utf8').replace('Duluth, Minnesota', 'Dulluth, Minnesota'));
  const done = run('heat', lost);
  assert.equal(done.status, 2);
  assert.match(done.stderr, /Duluth/);
  const why = run('why', house, 'ladder/wall/w3/clear_x');
  assert.equal(why.status, 2);
  assert.match(why.stderr, /ladder\/wall\/w3\/clear_r/);
});

test('wrong use is exit 2 and points at the help', () => {
  for (const words of [['anwser', house], ['answer'], ['heat', house, '--frobnicate'], ['open', house, '--port', '99999999']]) {
    const done = run(...words);
    assert.equal(done.status, 2, words.join(' '));
    assert.match(done.stderr, /--help/);
  }
  assert.match(run('anwser').stderr, /did you mean answer/);
});

test('every command helps, and its example stands in the help', () => {
  for (const command of ['answer', 'heat', 'dry', 'detail', 'frame', 'takeoff', 'why', 'new', 'places', 'materials', 'proof', 'open']) {
    const done = run(command, '--help');
    assert.equal(done.status, 0);
    assert.match(done.stdout, new RegExp(`^warmside ${command} - `));
    for (const word of ['Usage:', '--json', '--strict', 'Exit:', `Example: warmside ${command} `]) assert.ok(done.stdout.includes(word), `${command} ${word}`);
  }
  assert.equal(run('--help').status, 0);
  assert.match(run('--version').stdout, /^warmside \d/);
});

test('a pipe gets neither colour nor progress', () => {
  const done = run('answer', house);
  assert.equal(done.status, 0);
  assert.ok(!done.stdout.includes('\u001b'));
  assert.ok(!done.stderr.includes('\r'));
});

test('--strict fails when a rung is not dry, and only then', () => {
  const answer = json('answer', house);
  const rungs = answer.ladders[0].rungs;
  assert.equal(run('answer', house, '--strict').status, rungs.every((rung) => rung.verdict === 'dry') ? 0 : 1);
});

test('why knows every path that it lists', () => {
  const paths = json('why', house).paths;
  assert.ok(paths.length > 60);
  for (const path of ['ladder/wall/w1/label_r', 'ladder/wall/w6/clear_u', 'ladder/wall/w3/thickness', 'ladder/wall/w2/code_u', 'weather/coldest_month']) {
    assert.ok(paths.includes(path), path);
    const why = json('why', house, path);
    assert.equal(why.path, path);
    assert.ok(why.equation.length > 5);
    assert.equal(typeof why.value, 'number');
  }
  const verdict = json('why', house, 'ladder/wall/w1/verdict');
  assert.ok(verdict.terms.length >= 4);
});

test('a new house file is answered as it stands, and never overwrites', () => {
  const file = join(folder, 'my-house.toml');
  assert.equal(run('new', file).status, 0);
  assert.equal(run('answer', file).status, 0, run('answer', file).stderr);
  assert.equal(run('new', file).status, 2);
});

test('places and materials have sources', () => {
  const places = json('places').places;
  assert.ok(places.length >= 20);
  for (const place of places) assert.ok(JSON.stringify(place).includes('evidence'));
  assert.ok(json('places', 'minnesota').places.length >= 5, 'a state in full');
  assert.match(run('places', 'atlantis').stderr, /nothing matches "atlantis"/);
  const built = json('materials');
  assert.ok(built.materials.length >= 45);
  assert.ok(built.membranes.length >= 8);
  assert.ok(json('materials', 'wool').materials.length >= 3);
  assert.equal(run('materials', 'unobtainium', '--strict').status, 1);
});

test('proof recomputes the published checks: none fails', () => {
  const checks = json('proof').checks;
  assert.ok(checks.length > 500, `${checks.length}`);
  const rooms = new Set(checks.map((check) => check.id.split('/')[0]));
  for (const room of ['air', 'climate', 'material', 'thermal', 'moisture']) assert.ok(rooms.has(room), room);
  for (const check of checks) {
    for (const key of ['id', 'room', 'expected', 'got', 'tolerance', 'unit', 'source', 'evidence', 'result']) assert.ok(key in check, key);
    assert.ok(['pass', 'known_gap'].includes(check.result), `${check.id}: ${check.got} against ${check.expected}`);
  }
  assert.equal(new Set(checks.map((check) => check.id)).size, checks.length, 'ids are unique');
});

test('Ctrl-C stops with exit 3, says so, and leaves nothing half written', async () => {
  const out = join(folder, 'stopped');
  const child = spawn(program, ['answer', house, '--out', out]);
  let error = '';
  child.stderr.on('data', (text) => { error += text; });
  await new Promise((done) => setTimeout(done, 250));
  child.kill('SIGINT');
  const code = await new Promise((done) => child.on('exit', done));
  if (code === 0) return; // a machine fast enough to be done by then
  assert.equal(code, 3);
  assert.match(error, /stopped/);
  assert.ok(!existsSync(out));
});

/** Rows of a CSV without quoted line ends: cells as text. */
const table = (path) => {
  const text = readFileSync(path, 'utf8');
  assert.ok(text.endsWith('\r\n'));
  return text.slice(0, -2).split('\r\n').map((line) => [...line.matchAll(/(?:^|,)(?:"((?:[^"]|"")*)"|([^,]*))/g)].map((m) => m[1] ?? m[2]));
};

test('dry writes pictures and tables of the deciding run, and says so in verdicts.csv', () => {
  const out = join(folder, 'dry');
  const done = run('dry', house, '--no-causes', '--rung', 'w3', '--out', out, '--temperature', '--csv');
  assert.equal(done.status, 0, done.stderr);
  assert.match(done.stdout, /^ +rung +dry\? +decided by/);
  assert.deepEqual(readdirSync(out).sort(), ['verdicts.csv', 'w3-humidity.png', 'w3-humidity.svg', 'w3-layers.csv', 'w3-layers.png', 'w3-layers.svg',
    'w3-places.csv', 'w3-temperature.png', 'w3-temperature.svg']);
  for (const name of readdirSync(out)) {
    const bytes = readFileSync(join(out, name));
    if (name.endsWith('.png')) assert.equal(bytes.subarray(1, 4).toString('latin1'), 'PNG');
    if (name.endsWith('.svg')) assert.ok(bytes.toString().startsWith('<svg') && bytes.toString().includes('settled year'), name);
  }
  const rows = table(join(out, 'verdicts.csv'));
  assert.equal(rows.length, 2);
  const answer = json('dry', house, '--no-causes', '--rung', 'w3').ladders[0].rungs[0];
  assert.equal(rows[1][rows[0].indexOf('verdict')], answer.verdict);
  assert.ok(Math.abs(Number(rows[1][rows[0].indexOf('value')]) - answer.deciding.value) < 1e-3);
  const layers = table(join(out, 'w3-layers.csv'));
  assert.equal(layers.length, 3 * 8760 + 1);
  const places = table(join(out, 'w3-places.csv'));
  assert.equal(places.length, 3 * 8760 + 1);
  assert.ok(places.every((row) => row.length === places[0].length));
});

test('any depth at any interval: rows, units, and means that are those of the hours', () => {
  const at = (every) => {
    const out = join(folder, `depth-${every.replace(' ', '-')}`);
    const done = run('dry', house, '--no-causes', '--rung', 'w3', '--out', out, '--depth', '120 mm', '--depth', '4 3/4 in', '--every', every, '--years', '2');
    assert.equal(done.status, 0, done.stderr);
    return table(join(out, 'w3-places.csv'));
  };
  const hours = at('1 h'), days = at('1 day'), weeks = at('1 week');
  assert.equal(hours.length, 2 * 8760 + 1);
  assert.equal(days.length, 2 * 365 + 1);
  assert.equal(weeks.length, Math.ceil(2 * 8760 / 168) + 1);
  assert.deepEqual(hours[0].slice(0, 6), ['time since start (h)', 'date', '120 mm temperature (degC)', '120 mm relative humidity (%)',
    '120 mm vapour pressure (Pa)', '120 mm water content (kg/m3)']);
  assert.equal(hours[0][6], '4 3/4 in temperature (degC)');
  assert.equal(hours[1][0], '1');
  assert.equal(hours[1][1], '2001-10-01T01:00');
  assert.equal(days[1][1], '2001-10-02T00:00');
  assert.equal(days.at(-1)[0], String(2 * 8760));
  for (const [rows, length] of [[days, 24], [weeks, 168]]) {
    for (const day of [0, 17, 51, 103]) {
      for (let column = 2; column < hours[0].length; ++column) {
        const of = hours.slice(1 + day * length, 1 + (day + 1) * length).map((row) => Number(row[column]));
        const mean = of.reduce((a, b) => a + b) / of.length;
        // Half of the last printed figure of both: 0.005 Pa is the coarsest.
        assert.ok(Math.abs(Number(rows[1 + day][column]) - mean) <= 0.0101, `${hours[0][column]}, ${day}: ${rows[1 + day][column]} ${mean}`);
      }
    }
  }
  // 120 mm and 4 3/4 in (120.65 mm) lie 0.65 mm apart in the same batt.
  for (const row of days.slice(1)) assert.ok(Math.abs(Number(row[2]) - Number(row[6])) < 1);
});

test('a depth outside the wall, a wrong unit, an interval of no whole hours and tables without a folder are said, with exit 2', () => {
  const out = join(folder, 'refused');
  for (const [words, what] of [
    [['--depth', '500 mm'], /--depth "500 mm" is outside w3, which is 9 7\/16 in \(240 mm\) thick/],
    [['--depth', '-5 mm'], /outside w3/],
    [['--depth', '7 lb'], /--depth "7 lb" is not a length/],
    [['--csv', '--every', '90 min'], /--every "90 min" is not a whole number of hours/],
    [['--csv', '--every', 'now and then'], /--every "now and then" is not a time/],
    [['--years', '1'], /--years/],
    [['--run', 'west'], /no run of w3 has the words "west"; its runs are: w3 north/],
  ]) {
    const done = run('dry', house, '--no-causes', '--rung', 'w3', '--out', out, ...words);
    assert.equal(done.status, 2, words.join(' '));
    assert.match(done.stderr, what);
    assert.equal(done.stdout, '');
    assert.ok(!existsSync(out) || readdirSync(out).length === 0);
  }
  const nowhere = run('dry', house, '--rung', 'w3', '--csv');
  assert.equal(nowhere.status, 2);
  assert.match(nowhere.stderr, /need --out DIR/);
});

const details = join(source, 'examples/details');

test('detail: flows that balance, factors, probes, and pictures of every example', () => {
  for (const name of readdirSync(details)) {
    const out = join(folder, `detail-${name}`), file = join(details, name);
    const done = run('detail', file, '--out', out, '--tolerance', '2 %');
    assert.equal(done.status, 0, `${name}: ${done.stderr}`);
    assert.match(done.stdout, /coldest surface/);
    const stem = name.replace('.toml', '');
    assert.deepEqual(readdirSync(out).sort(), ['flow.png', 'flow.svg', 'temperature.png', 'temperature.svg'].map((end) => `${stem}-${end}`));
    for (const picture of readdirSync(out)) {
      const bytes = readFileSync(join(out, picture));
      if (picture.endsWith('.png')) assert.equal(bytes.subarray(1, 4).toString('latin1'), 'PNG');
      else assert.ok(bytes.toString().startsWith('<svg') && bytes.toString().endsWith('</svg>'));
      assert.ok(bytes.length < 600e3, `${picture} ${bytes.length}`);
    }
    const answer = json('detail', file, '--tolerance', '2 %');
    assert.equal(answer.schema, 1);
    const flows = answer.environments.map((each) => each.flow);
    assert.ok(Math.abs(flows.reduce((a, b) => a + b)) < 1e-6 * Math.max(...flows.map(Math.abs)), name);
    for (const [i, each] of answer.environments.entries()) {
      // What an environment gives off is what its couplings carry.
      const carried = answer.couplings.reduce((sum, c) => {
        const other = c.from === each.name ? c.to : c.to === each.name ? c.from : null;
        return other === null ? sum : sum + c.value * (each.temperature - answer.environments.find((e) => e.name === other).temperature);
      }, 0);
      assert.ok(Math.abs(carried - flows[i]) < 1e-6 * Math.max(...flows.map(Math.abs)), `${name}: ${each.name}`);
      if (each.factor !== null) assert.ok(each.factor > 0 && each.factor <= 1);
    }
    for (const probe of answer.probes) {
      const air = answer.environments.map((each) => each.temperature);
      assert.ok(probe.temperature > Math.min(...air) && probe.temperature < Math.max(...air), probe.name);
    }
    assert.ok(answer.cells > 100);
  }
});

test('detail: the same bytes twice; a tighter tolerance is kept', () => {
  const file = join(details, 'eave.toml');
  assert.equal(run('detail', file, '--json').stdout, run('detail', file, '--json').stdout);
  const fine = json('detail', file, '--tolerance', '0.1 %'), coarse = json('detail', file, '--tolerance', '5 %');
  assert.ok(fine.error <= 1e-3 && fine.cells >= coarse.cells);
});

test('detail: a bad file, a house file, a bad tolerance and --dark without a folder are said, with exit 2', () => {
  const bad = join(folder, 'bad-detail.toml'), out = join(folder, 'no-detail');
  writeFileSync(bad, readFileSync(join(details, 'eave.toml'), 'utf8').replace('"osb"', '"obs"').replace('"18 in"]', '"18 lb"]'));
  const done = run('detail', bad, '--out', out);
  assert.equal(done.status, 2);
  assert.equal(done.stdout, '');
  assert.match(done.stderr, /bad-detail\.toml:\d+:\d+: error: there is no material "obs"/);
  assert.match(done.stderr, /bad-detail\.toml:\d+:\d+: error: corners "18 lb" is not a length/);
  assert.ok(!existsSync(out));
  assert.ok(JSON.parse(run('detail', bad, '--json').stdout).problems.length >= 2);
  assert.match(run('detail', house).stderr, /this is a house file/);
  assert.match(run('heat', join(details, 'eave.toml')).stderr, /this is a detail file/);
  for (const words of [['--tolerance', '50 %'], ['--tolerance', 'tight'], ['--dark']]) {
    const refused = run('detail', join(details, 'eave.toml'), ...words);
    assert.equal(refused.status, 2, words.join(' '));
    assert.match(refused.stderr, new RegExp(words[0]));
  }
});

test('Ctrl-C stops a detail with exit 3 and leaves no file', async () => {
  const out = join(folder, 'detail-stopped');
  const child = spawn(program, ['detail', join(details, 'bracket.toml'), '--tolerance', '0.001 %', '--out', out]);
  let error = '';
  child.stderr.on('data', (text) => { error += text; });
  await new Promise((done) => setTimeout(done, 300));
  child.kill('SIGINT');
  const code = await new Promise((done) => child.on('exit', done));
  if (code === 0) return; // a machine fast enough to be done by then
  assert.equal(code, 3);
  assert.match(error, /stopped/);
  assert.deepEqual(readdirSync(out), []);
});

test('heat writes pictures of the repeating cell', () => {
  const out = join(folder, 'heat');
  assert.equal(run('heat', house, '--rung', 'w3', '--out', out).status, 0);
  const files = readdirSync(out);
  for (const end of ['temperature.svg', 'temperature.png', 'flow.svg', 'flow.png']) assert.ok(files.includes(`w3-clear-field-${end}`), end);
  assert.match(readFileSync(join(out, 'w3-clear-field-temperature.svg'), 'utf8'), /plan, through the 2x2/);
  assert.equal(run('heat', house, '--dark').status, 2);
});

test('a folder that cannot be written is an error before anything is computed', () => {
  const file = join(folder, 'a-file');
  writeFileSync(file, 'not a folder');
  const begun = Date.now();
  const done = run('dry', house, '--out', join(file, 'below'));
  assert.equal(done.status, 2);
  assert.match(done.stderr, /cannot make the folder/);
  assert.ok(Date.now() - begun < 60000);
  // A file of ours that turns out to be a folder: found when it is written.
  const out = join(folder, 'blocked');
  mkdirSync(join(out, 'w3-humidity.svg', 'x'), { recursive: true });
  const blocked = run('dry', house, '--no-causes', '--rung', 'w3', '--out', out);
  assert.equal(blocked.status, 2);
  assert.match(blocked.stderr, /cannot write .*w3-humidity\.svg/);
  assert.deepEqual(readdirSync(out), ['w3-humidity.svg']);
});

test('Ctrl-C during dry leaves the rungs that are judged, names the rest, and no draft of a file', async () => {
  const out = join(folder, 'dry-stopped');
  const child = spawn(program, ['dry', house, '--out', out]);
  let text = '', error = '';
  child.stdout.on('data', (part) => { text += part; });
  child.stderr.on('data', (part) => { error += part; });
  const ended = new Promise((done) => child.on('exit', done));
  const gone = ended.then(() => true);
  // As soon as the first rung's last picture stands there.
  while (!(existsSync(out) && readdirSync(out).some((name) => name.endsWith('-layers.png')))) {
    if (await Promise.race([gone, new Promise((done) => setTimeout(() => done(false), 20))])) break;
  }
  child.kill('SIGINT');
  const code = await ended;
  const judged = new Set(readdirSync(out).map((name) => /^(w\d)-/.exec(name)?.[1]).filter(Boolean));
  const rows = table(join(out, 'verdicts.csv'));
  const verdict = Object.fromEntries(rows.slice(1).map((row) => [row[1], row[3]]));
  if (code === 0) return; // a machine fast enough to be done by then
  assert.equal(code, 3);
  assert.match(error, /^stopped: .*not judged; what is judged stays$/m);
  assert.ok(judged.size >= 1 && judged.size < 6, [...judged].join());
  for (const name of ['w1', 'w2', 'w3', 'w4', 'w5', 'w6']) {
    assert.equal(verdict[name] !== 'not judged', judged.has(name), name);
    assert.ok(text.includes(name));
    if (!judged.has(name)) assert.match(error, new RegExp(`stopped: .*${name}`));
    else for (const kind of ['humidity.svg', 'humidity.png', 'layers.svg', 'layers.png']) assert.ok(existsSync(join(out, `${name}-${kind}`)));
  }
  assert.ok(readdirSync(out).every((name) => /\.(svg|png|csv)$/.test(name)), readdirSync(out).join());
});

test('a terminal sees how far dry is; a pipe does not', (t) => {
  assert.ok(!run('dry', house, '--no-causes', '--rung', 'w1').stderr.includes('\r'));
  if (spawnSync('script', ['--version']).error) return t.skip('no `script` to make a terminal with');
  const done = spawnSync('script', ['-qec', `${program} dry --no-causes ${house} > /dev/null`, '/dev/null'], { encoding: 'utf8' });
  assert.equal(done.status, 0);
  assert.match(done.stdout, /\r\u001b\[K.*moisture \d+ %/);
  assert.match(done.stdout, /\d of 6 judged, w\d (?:dry|watch|wet); moisture \d+ %/);
  assert.ok(done.stdout.endsWith('\r\u001b[K'), 'the line is wiped');
});

const get = (port, path, headers = {}) => new Promise((done, fail) => {
  const asked = request({ host: '127.0.0.1', port, path, headers }, (response) => {
    let text = '';
    response.on('data', (part) => { text += part; });
    response.on('end', () => done({ status: response.statusCode, text }));
  });
  asked.on('error', fail);
  asked.end();
});

/** Reads server-sent events until `enough` says so. */
const listen = (port, enough, onEvent = () => {}) => new Promise((done, fail) => {
  const events = [];
  const asked = request({ host: '127.0.0.1', port, path: '/events' }, (response) => {
    let rest = '';
    response.on('data', (part) => {
      rest += part;
      for (let end = rest.indexOf('\n\n'); end >= 0; end = rest.indexOf('\n\n')) {
        const block = rest.slice(0, end);
        rest = rest.slice(end + 2);
        const name = /^event: (.*)$/m.exec(block)?.[1];
        if (!name) continue;
        const data = JSON.parse(block.split('\n').filter((line) => line.startsWith('data: ')).map((line) => line.slice(6)).join('\n'));
        events.push({ name, data });
        onEvent(events.at(-1), events);
        if (enough(events)) { asked.destroy(); done(events); return; }
      }
    });
  });
  asked.on('error', fail);
  asked.end();
});

test('open serves this machine only, streams the carpets, and the latest edit wins', async () => {
  const file = join(folder, 'live.toml');
  cpSync(house, file);
  const child = spawn(program, ['open', file]);
  try {
    const port = await new Promise((done) => child.stdout.once('data', (text) => done(Number(/127\.0\.0\.1:(\d+)/.exec(text)[1]))));
    const page = await get(port, '/');
    assert.equal(page.status, 200);
    assert.match(page.text, /Heron Ridge/);
    assert.equal((await get(port, '/', { Host: 'evil.example' })).status, 403);
    assert.equal((await get(port, '/', { Origin: 'http://evil.example' })).status, 403);

    // An edit while the first generation runs: its figures never come to an end, the second one's do.
    let edited = false;
    const whole = (events) => events.some((event) => event.name === 'finished' && event.data.rung === null && event.data.generation >= 2);
    const events = await listen(port, whole, (event) => {
      if (edited || event.name !== 'column') return;
      edited = true;
      writeFileSync(file, readFileSync(house, 'utf8').replace('2x4, the old minimum', '2x4, edited'));
    });
    assert.ok(edited, 'carpet columns came before the verdicts');
    const names = events.map((event) => event.name);
    assert.ok(names.indexOf('steady') < names.indexOf('column'));
    const second = events.filter((event) => event.data.generation === 2);
    assert.ok(second.some((event) => event.name === 'column'));
    assert.ok(second.some((event) => JSON.stringify(event.data).includes('2x4, edited')));
    const lastOfFirst = events.findLastIndex((event) => event.data.generation === 1);
    const firstOfSecond = events.findIndex((event) => event.data.generation === 2);
    assert.ok(lastOfFirst < firstOfSecond, 'an old generation speaks no more');

    // A file that no longer reads: the problem is shown, the server lives.
    writeFileSync(file, 'this is no house');
    const trouble = await listen(port, (all) => all.some((event) => event.name === 'problem'));
    assert.ok(trouble.at(-1).data.problems.length >= 1);
  } finally {
    child.kill('SIGINT');
  }
  const code = await new Promise((done) => child.on('exit', done));
  assert.equal(code, 0);
});

test('open: an edited spacing changes wood, cost and drawings before any verdict', async () => {
  const file = join(folder, 'live-spacing.toml');
  cpSync(house, file);
  const child = spawn(program, ['open', file]);
  const cell = (html, id) => new RegExp(`<td id="${id}">(.*?)</td>`).exec(html)[1];
  const figures = async (port, generation) => {
    const of = (events, name) => events.filter((event) => event.name === name && event.data.generation === generation);
    const events = await listen(port, (all) => of(all, 'priced').length === 6);
    assert.equal(of(events, 'finished').length, 0, 'money comes before verdicts');
    const html = of(events, 'steady')[0].data.html;
    const costs = Object.fromEntries(of(events, 'priced').map((event) => [event.data.rung, event.data.cells[`cost-wall-${event.data.rung}`]]));
    const drawing = await get(port, '/elevation?rung=w4&panel=1&shown=frame');
    assert.equal(drawing.status, 200);
    assert.match(drawing.text, /<svg.*ground east/s);
    return { wood: (rung) => cell(html, `wood-wall-${rung}`), costs, drawing: drawing.text, html };
  };
  try {
    const port = await new Promise((done) => child.stdout.once('data', (text) => done(Number(/127\.0\.0\.1:(\d+)/.exec(text)[1]))));
    const before = await figures(port, 1);
    assert.match(before.html, /data-picture="elevation\?rung=w4&amp;panel=1&amp;shown=furring"/);
    for (const bad of ['rung=w4&panel=99&shown=frame', 'rung=w9&panel=0&shown=frame', 'rung=w4&panel=0&shown=all', 'rung=w4&panel=x&shown=frame', '']) {
      assert.equal((await get(port, `/elevation?${bad}`)).status, 404, bad);
    }
    const closer = readFileSync(house, 'utf8').replace('member = "2x8", spacing = "24 in"', 'member = "2x8", spacing = "16 in"');
    writeFileSync(file, closer); // the first 2x8 is w4's
    const after = await figures(port, 2);
    assert.notEqual(after.wood('w4'), before.wood('w4'));
    assert.notEqual(after.costs.w4, before.costs.w4);
    assert.notEqual(after.drawing, before.drawing);
    for (const rung of ['w1', 'w2', 'w3', 'w6']) {
      assert.equal(after.wood(rung), before.wood(rung), rung);
      assert.equal(after.costs[rung], before.costs[rung], rung);
    }
    // w5 stands over w4: its own price stays, its step changes.
    assert.equal(after.wood('w5'), before.wood('w5'));
    assert.notEqual(after.costs.w5, before.costs.w5);
  } finally {
    child.kill('SIGINT');
  }
  assert.equal(await new Promise((done) => child.on('exit', done)), 0);
});

test('frame writes every drawing and each member once; wrong use is said', () => {
  const out = join(folder, 'frame');
  const done = run('frame', house, '--rung', 'w3', '--out', out);
  assert.equal(done.status, 0, done.stderr);
  const files = readdirSync(out);
  for (const panel of ['ground-south', 'ground-south-furring', 'ground-south-battens', 'floor-upper', 'ceiling-main', 'roof-main-north']) {
    for (const end of ['svg', 'png']) assert.ok(files.includes(`w3-${panel}.${end}`), `${panel}.${end}`);
  }
  const rows = table(join(out, 'w3-members.csv'));
  const rung = json('frame', house, '--rung', 'w3').rungs[0];
  const members = rung.panels.flatMap((panel) => panel.members.map((member) => `${panel.panel}/${member.mark}`));
  assert.deepEqual(rows.slice(1).map((row) => `${row[0]}/${row[1]}`), members);
  assert.ok(rows.every((row) => row.length === rows[0].length));
  for (const [words, what] of [[['--dark'], /--dark needs --out DIR/], [['--rung', 'w9'], /no ladder has a rung "w9"/], [['--out', join(house, 'x')], /cannot make the folder/]]) {
    const refused = run('frame', house, ...words);
    assert.equal(refused.status, 2, words.join(' '));
    assert.match(refused.stderr, what);
    assert.equal(refused.stdout, '');
  }
});

test('frame and takeoff fit a terminal of 80 columns and say the caution', (t) => {
  if (spawnSync('script', ['--version']).error) return t.skip('no `script` to make a terminal with');
  for (const command of ['frame', 'takeoff']) {
    const done = spawnSync('script', ['-qec', `stty cols 80; ${program} ${command} ${house} 2> /dev/null`, '/dev/null'], { encoding: 'utf8', maxBuffer: 1 << 26, env: { ...process.env, NO_COLOR: '1' } });
    assert.equal(done.status, 0);
    const lines = done.stdout.replaceAll(/\u001b\[[0-9;]*m/g, '').split(/\r?\n/);
    assert.ok(lines.length > 200);
    for (const line of lines) assert.ok([...line].length <= 80, line);
    assert.match(done.stdout, /caution +First-order engineering aid/);
  }
});

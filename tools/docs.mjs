// Runs what the documents say: every `$ command` of a ```console block in README.md and docs/, and every example of
// every --help. The output must be what stands there; a line "..." stands for any lines. With --write, blocks without
// "..." are replaced by what the command prints now. What stands between "<!-- printed by: COMMAND -->" and
// "<!-- end -->" is compared and replaced alike.
import { execFileSync, spawnSync } from 'node:child_process';
import { readFileSync, writeFileSync } from 'node:fs';

const write = process.argv.includes('--write');
const files = execFileSync('git', ['ls-files', 'README.md', 'docs/*.md', 'docs/**/*.md'], { encoding: 'utf8' }).split('\n').filter(Boolean);
let wrong = 0;

const runLine = (line) => spawnSync('sh', ['-c', line.replace(/^warmside\b/, './build/warmside')], { encoding: 'utf8' });

/** Does `got` match `expected`, in which a line "..." stands for any number of lines? */
function matches(expected, got) {
  if (expected.length === 0) return got.length === 0;
  if (expected[0] === '...') {
    for (let skip = 0; skip <= got.length; ++skip) if (matches(expected.slice(1), got.slice(skip))) return true;
    return false;
  }
  return got.length > 0 && expected[0] === got[0] && matches(expected.slice(1), got.slice(1));
}

function checkBlock(file, block) {
  const lines = block.split('\n');
  const out = [];
  for (let i = 0; i < lines.length;) {
    const command = lines[i++];
    out.push(command);
    if (!command.startsWith('$ ')) continue;
    const expected = [];
    while (i < lines.length && !lines[i].startsWith('$ ')) expected.push(lines[i++]);
    const got = runLine(command.slice(2)).stdout.replace(/\n$/, '').split('\n');
    if (write && !expected.includes('...')) {
      out.push(...got);
    } else {
      out.push(...expected);
      if (!matches(expected, got)) {
        ++wrong;
        console.error(`${file}: "${command}" prints something else:\n${got.slice(0, 40).join('\n')}`);
      }
    }
  }
  return out.join('\n');
}

function checkPrinted(file, command, block) {
  const got = runLine(command).stdout;
  if (write) return got;
  if (got !== block) {
    ++wrong;
    console.error(`${file}: "${command}" prints something else:\n${got}`);
  }
  return block;
}

for (const file of files) {
  const text = readFileSync(file, 'utf8').replace(
    /(<!-- printed by: (.*) -->\n)([\s\S]*?)(<!-- end -->)/g,
    (_, head, command, block, end) => head + checkPrinted(file, command, block) + end);
  const checked = text.replace(/```console\n([\s\S]*?)\n```/g, (_, block) => '```console\n' + checkBlock(file, block) + '\n```');
  if (write && checked !== readFileSync(file, 'utf8')) writeFileSync(file, checked);
}
for (const command of ['answer', 'heat', 'dry', 'why', 'new', 'places', 'materials', 'proof']) {
  const help = runLine(`warmside ${command} --help`).stdout;
  const example = /^Example: (.*)$/m.exec(help)?.[1];
  // `new` writes where it is told: a scratch name, so that nothing is left in the tree.
  const line = command === 'new' ? 'warmside new out/example-of-help.toml' : example;
  if (command === 'new') spawnSync('sh', ['-c', 'mkdir -p out && rm -f out/example-of-help.toml']);
  if (!line || runLine(line).status !== 0) {
    ++wrong;
    console.error(`the example of warmside ${command} --help does not run`);
  }
}
console.log(wrong ? `${wrong} places differ` : 'documents say what the program does');
process.exit(wrong ? 1 : 0);

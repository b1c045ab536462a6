// The page's engine against the program, over all examples: the same words, every number within
// 1e-9 of itself. Also what size and speed the engine has; those are told, never judged.
//
//   node tests/page/same_numbers.mjs FOLDER THOLE EXAMPLES
//
// FOLDER holds thole_engine.js and .wasm, THOLE is the native program.

import {execFileSync, spawnSync} from 'node:child_process';
import {readFileSync, readdirSync, statSync} from 'node:fs';
import {resolve} from 'node:path';
import {gzipSync} from 'node:zlib';
import {loadEngine} from './engine.mjs';

const [folder, thole, examples] = process.argv.slice(2).map((path) => resolve(path));
const within = 1e-9;
let numbers = 0;
let largest = 0;
const wrong = [];

function compare(ours, theirs, place) {
  if (typeof theirs === 'number' && typeof ours === 'number') {
    numbers += 1;
    const off = Math.abs(ours - theirs) / Math.max(Math.abs(ours), Math.abs(theirs), 1e-300);
    if (ours === theirs) return;
    largest = Math.max(largest, off);
    if (off > within) wrong.push(`${place}: ${ours} where the program has ${theirs}`);
  } else if (theirs !== null && typeof theirs === 'object' && ours !== null &&
             typeof ours === 'object') {
    const keys = [Object.keys(ours), Object.keys(theirs)].map((list) => list.join('\n'));
    if (keys[0] !== keys[1]) return wrong.push(`${place}: other keys`);
    for (const key of Object.keys(theirs)) compare(ours[key], theirs[key], `${place}.${key}`);
  } else if (ours !== theirs) {
    wrong.push(`${place}: ${JSON.stringify(ours)} where the program has ${JSON.stringify(theirs)}`);
  }
}

// The build is named in every report: another compiler is no difference.
function withoutBuild(report) {
  const {build, ...rest} = report;
  return {...rest, tables: build.tables};
}

function timed(work) {
  const from = performance.now();
  const result = work();
  return [result, performance.now() - from];
}

const ask = await loadEngine(folder);
const files = readdirSync(examples).filter((name) => name.endsWith('.yaml')).sort();
if (files.length < 18) throw new Error(`only ${files.length} examples in ${examples}`);
const speed = [];
for (const file of files) {
  const text = readFileSync(`${examples}/${file}`, 'utf8');
  const [answer, here] = timed(() => ask('check', text, {file}));
  if (!answer.ok) {
    wrong.push(`${file}: ${answer.problems[0].message}`);
    continue;
  }
  const [native, there] = timed(() => spawnSync(thole, ['check', '--json', file],
      {cwd: examples, encoding: 'utf8', maxBuffer: 1 << 27}));
  compare(withoutBuild(JSON.parse(answer.report)), withoutBuild(JSON.parse(native.stdout)), file);
  const screen = spawnSync(thole, ['check', file], {cwd: examples, encoding: 'utf8'}).stdout;
  if (answer.terminal !== screen) wrong.push(`${file}: the printed report has other words`);
  const {words} = ask('check', text, {file, first: true});
  for (const key of ['verdict', 'sentence', 'hold_limit', 'setting', 'holds_if', 'reasons'])
    compare(words[key], answer.words[key], `${file}, first answer, ${key}`);
  speed.push({file, here, there});
}

const ratio = speed.reduce((sum, s) => sum + s.here, 0) / speed.reduce((sum, s) => sum + s.there, 0);
console.log(`${files.length} examples, ${numbers} numbers, largest difference ${largest}`);
console.log(`whole assessment, page over program, both in this run: ${ratio.toFixed(2)}`);

const skiff = readFileSync(`${examples}/fjord-skiff.yaml`, 'utf8');
const handle = ask('draw', skiff).handles[0];
function least(work) {
  return Math.min(...Array.from({length: 9}, (_, i) => timed(() => work(i))[1])).toFixed(1);
}
console.log('fjord-skiff.yaml, least of nine: ' +
    `draw ${least((i) => ask('draw', skiff + ' '.repeat(i + 1)))} ms, ` +
    `move ${least((i) => ask('move', skiff, {handle: handle.id, x: handle.x + 0.5 + i / 4,
      y: handle.y, hold: true}))} ms, ` +
    `first verdict ${least(() => ask('check', skiff, {first: true}))} ms`);
const wasm = readFileSync(`${folder}/thole_engine.wasm`);
console.log(`engine ${wasm.length} bytes, gzip ${gzipSync(wasm, {level: 9}).length}, ` +
    `glue ${statSync(`${folder}/thole_engine.js`).size}`);
console.log(execFileSync(thole, ['--version'], {encoding: 'utf8'}).split('\n')[0]);

if (wrong.length > 0) {
  console.error(`${wrong.length} differences:\n${wrong.slice(0, 20).join('\n')}`);
  process.exit(1);
}

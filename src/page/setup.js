// The setup in hand: its text, what was before, and whether an answer still belongs to it.
// `bad` holds entries that cannot be read or do not fit, by their path: they are not in the text.

const setup = {
  text: '',
  name: 'mount.yaml',
  draw: null,       // the engine's drawing of `text`
  check: null,      // the engine's verdict, of `checkedText`
  checkedText: null,
  bad: new Map(),   // path -> {value, problems}
  before: [],       // {text, words, run, whole}: what undo goes back to; whole: of another text
  undone: [],
  touched: false,   // something is typed that has not been read yet
  worded: null,     // the text whose verdict the words on the screen are
  sheet: null,      // {text, paper, whole, html}: for printing at once
  free: {},         // mount -> what a search may choose
  starters: [],     // the engine's blanks, each with what to measure
};

const stepsKept = 200;

let drawBench = null;
let checkBench = null;
let longBench = null;
let paperBench = null;

function isCurrent() {
  return setup.check !== null && setup.checkedText === setup.text && setup.bad.size === 0 &&
      !setup.touched;
}

let keepSoon = 0;

// Not at every step of a drag.
function keepSetup() {
  if (!keepSoon) keepSoon = setTimeout(keepNow, 200);
}

function keepNow() {
  clearTimeout(keepSoon);
  keepSoon = 0;
  if (!setup.text) return;
  const kept = keepWork({
    text: setup.text,
    name: setup.name,
    bad: [...setup.bad].map(([path, {value}]) => ({path, value})),
    at: new Date().toLocaleString(),
  });
  if (kept) return noNotice('store');
  notice('store', 'This browser keeps nothing for this page: save the file before you close it.');
}

// Changes come one after the other: each begins on all that the one before has left, what it was
// refused included.
let turn = Promise.resolve();

function inTurn(work) {
  const mine = turn.then(work);
  turn = mine.catch(() => {});
  return mine;
}

// What a button does comes behind what is typed by then.
function deed(work) {
  document.querySelectorAll('[data-path][data-typed]').forEach((input) => input.readNow());
  return inTurn(work);
}

// Takes over a text that the engine has read and drawn, in turn. `words`: what undo is called, which
// run of changes it belongs to, the path that it sets, and whether it is another text as a whole.
function take(text, draw, words) {
  setup.bad.delete(words.path);
  if (text !== setup.text) {
    const last = setup.before[setup.before.length - 1];
    const goesOn = last && last.run && last.run === words.run;
    if (!goesOn && setup.text) {
      const {said, run, whole} = words;
      setup.before.push({text: setup.text, words: said, run, whole});
      setup.before.splice(0, setup.before.length - stepsKept);
    }
    setup.undone = [];
  }
  showText(text, draw);
}

// Text and drawing change together; the drawing remembers which text it is of.
function showText(text, draw) {
  noNotice('applied');
  noNotice('undone');
  setup.text = text;
  setup.draw = {...draw, of: text};
  keepSetup();
  showSetup();
  askCheck();
}

// The next change begins a step of its own for undo.
function endRun() {
  const last = setup.before[setup.before.length - 1];
  if (last) last.run = null;
}

// A change that the engine makes, in turn.
async function change(what, request, words) {
  const answer = await drawBench.ask(what, setup.text, request);
  if (answer.ok) take(answer.text, answer.draw, words);
  else if (answer.stopped) showStopped(answer);
  return answer;
}

function open(text, name, said) {
  return inTurn(async () => {
    // The engine takes a text up to its first zero: what stands behind it would go unread.
    if (text.includes('\0')) return {ok: false, problems: [{message: 'This is not a text.'}]};
    checkAhead(text, name);
    const answer = await drawBench.ask('draw', text);
    if (!answer.ok) return answer;
    setup.name = name;
    document.querySelectorAll('#text,[data-path]').forEach((one) => delete one.dataset.typed);
    listing += 1;
    withoutRefused(() => take(text, answer, {said, whole: true}));
    return answer;
  });
}

// What was refused goes when another text comes, with a word.
function withoutRefused(show) {
  const refused = [...setup.bad].map(refusedWords).join('; ');
  setup.bad.clear();
  show();
  if (refused) tellTakenBack(refused);
}

function refusedWords([path, {value}]) {
  return `${rows.has(path) ? labelOf(rows.get(path).field) : path}: ${value}`;
}

function tellTakenBack(words) {
  notice('undone', `Taken back, it did not fit: ${words}`);
}

async function goBack(from, to, said) {
  const step = from[from.length - 1];
  if (!step) return;
  const answer = await drawBench.ask('draw', step.text);
  if (!answer.ok) return;
  from.pop();
  to.push({...step, text: setup.text});
  // What comes back of a list may stand before the others.
  const items = itemsOf(answer.fields.map(({path}) => path)).join();
  if (step.whole || items !== itemsOf([...rows.keys()]).join()) listing += 1;
  withoutRefused(() => showText(step.text, answer));
  say(`${said}: ${step.words}`);
}

// What was refused last goes first: it is in no text that undo could go back to.
function undo() {
  const refused = [...setup.bad].pop();
  if (!refused) return goBack(setup.before, setup.undone, 'Undone');
  const words = refusedWords(refused);
  const row = rows.get(refused[0]);
  if (row) giveUp(row.input);
  else forgetBad(refused[0]);
  return tellTakenBack(words);
}

function redo() {
  return goBack(setup.undone, setup.before, 'Done again');
}

let checkSoon = 0;
let wholeSoon = 0;
let ahead = null;  // a text that is checked while it is drawn

function firstCheck(text, file, more) {
  return checkBench.ask('check', text, {first: true, file, ...more}, 'check');
}

// `more`: another source of the text, which is told afterwards.
function checkAhead(text, name, more) {
  if (ahead?.text === text && ahead.name === name) return;
  ahead = {text, name, answer: firstCheck(text, name, more)};
}

// The verdict follows when things rest; a newer question takes the place of one that waits, and
// work on the setup before is given up.
function askCheck() {
  showVerdict();
  clearTimeout(checkSoon);
  clearTimeout(wholeSoon);
  clearTimeout(paperSoon);
  if (setup.checkedText !== setup.text) leavePaper();
  checkSoon = setTimeout(runCheck, 60);
}

// First the verdict with its limits, later what takes longer: margins, what a loss does.
async function runCheck() {
  if (setup.bad.size > 0) return showVerdict();
  if (setup.checkedText !== setup.text) {
    const {text, name} = setup;
    const early = ahead?.text === text && ahead.name === name ? ahead.answer : null;
    ahead = null;
    const answer = await early || await firstCheck(text, name);
    if (!answer || text !== setup.text) return;
    setup.check = answer;
    setup.checkedText = text;
  }
  showCheck();
  sayVerdict();
  if (isCurrent() && setup.check.ok) wholeSoon = setTimeout(runWhole, 700);
}

async function runWhole() {
  const text = setup.text;
  if (setup.check.first) {
    const answer = await paperBench.ask('check', text, {file: setup.name}, 'check');
    if (!answer?.ok || text !== setup.text) return;
    setup.check = answer;
    showCheck();
  }
  preparePaper();
}

function today() {
  const now = new Date();
  const two = (n) => String(n).padStart(2, '0');
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}

function sheetRequest() {
  return {file: setup.name, date: today(), paper: byId('paper').value};
}

// Fields as the engine lists them, each with what was typed and the engine's own message.

const rows = new Map();  // path -> {row, input, message, mark, box}
let listed = '';

function showMeasures(fields) {
  const list = JSON.stringify(fields.map((field) => [field.path, field.group, field.kind]));
  const before = new Map(rows);
  if (list !== listed) {
    listed = list;
    buildGroups(fields);
  }
  // One more stands behind the others, which count on.
  if (itemsOf([...before.keys()]).some((item) => !itemsOf([...rows.keys()]).includes(item)))
    listing += 1;
  fields.forEach(showField);
  before.forEach(goOnTyping);
  lookTyped();
  showCounts();
}

// Goes up when a path like gear.1.ball may count another item than before.
let listing = 0;

function itemOf(path) {
  return path.match(/.*\.\d+(?=\.)/)?.[0];
}

function itemsOf(paths) {
  return [...new Set(paths.map(itemOf))];
}

// Whether it may be another's by now, where `then` was what `listing` was.
function isMoved(path, then) {
  return then !== listing && Boolean(itemOf(path));
}

// In the entry that a new list has in the place of the old one.
function goOnTyping({input}, path) {
  const now = rows.get(path)?.input;
  if (!input.dataset.typed || now === input) return;
  if (!now || isMoved(path, input.listing)) return tellChanged();
  now.value = input.value;
  now.listing = input.listing;
  now.dataset.typed = 'yes';
}

// A box is known by the path of its first entry: its heading may change with what is typed.
function buildGroups(fields) {
  const wasOpen = new Set([...document.querySelectorAll('#groups details')]
      .filter((box) => box.open).map((box) => box.dataset.first));
  const focused = document.activeElement?.dataset?.path;
  const first = rows.size === 0;
  rows.clear();
  const groups = new Map();
  for (const field of fields) {
    const name = topOf(field.group);
    if (!groups.has(name)) groups.set(name, []);
    groups.get(name).push(field);
  }
  // To begin with what the first ring moves, and what stands before it.
  const begin = topOf(fieldOf(setup.draw.handles[0]?.path)?.group || '');
  const until = first ? [...groups.keys()].indexOf(begin) : -1;
  fill('groups', ...[...groups].map(([name, members], i) => newGroup(name, members,
      wasOpen.has(members[0].path) || i <= until && members.some(isOfMount), wasOpen)));
  if (!rows.has(focused)) return;
  openTo(rows.get(focused).row);
  rows.get(focused).input.focus({preventScroll: true});
}

function isOfMount(field) {
  return field.known && field.path.startsWith('mount.');
}

// What may be left out and is goes behind the rest, folded; only here, so that nothing moves while
// one types.
function newGroup(name, members, open, wasOpen) {
  const isMissing = (field) => !field.required && !field.text && !setup.bad.has(field.path);
  const spare = members.every(isMissing) ? [] : members.filter(isMissing);
  const given = members.filter((field) => !spare.includes(field));
  // On which side it is comes first.
  given.sort((a, b) => b.path.includes('.on_board.') - a.path.includes('.on_board.'));
  const more = `${members[0].path} more`;
  const box = element('details', {open},
      element('summary', {}, element('b', {}, name), ' ', element('span', {className: 'count'})),
      ...itemButtons(members[0].path, name), ...withHeadings(given, name, partButton),
      element('p', {className: 'row all'}, button('', () => markAll(box, name))),
      ...(spare.length === 0 ? [] : [element('details', {'data-first': more,
        open: wasOpen.has(more)}, element('summary'), ...withHeadings(spare, name, () => []))]));
  box.dataset.first = members[0].path;
  for (const {path} of members) rows.get(path).box = box;
  return box;
}

function openTo(node) {
  for (let box = node.closest('details'); box; box = box.parentElement.closest('details'))
    box.open = true;
}

// "Ledges, ledge, bolts": the first is the heading of a box, the rest one inside it.
function topOf(group) {
  return group.split(', ')[0];
}

function withHeadings(members, top, below) {
  let last = '';
  return members.flatMap((field) => {
    if (field.group === last) return [newRow(field)];
    last = field.group;
    const heading = last === top ? [] :
        [element('h3', {}, capital(last.split(', ').slice(1).join(', ')) || last)];
    return [...heading, ...below(field), newRow(field)];
  });
}

// Several entries of one heading may be called alike: then the name in the file tells them apart.
function labelOf(field) {
  const alike = setup.draw.fields.filter((other) =>
    other.group === field.group && other.label === field.label);
  const key = field.path.split('.').pop().replaceAll('_', ' ');
  return capital(alike.length > 1 ? `${field.label} (${key})` : field.label);
}

function newRow(field) {
  const id = `field-${rows.size}`;
  const message = element('p', {className: 'wrong', id: `${id}-wrong`, hidden: true});
  const note = element('p', {className: 'help', id: `${id}-note`, hidden: !field.help},
      capital(field.help || ''));
  const input = newInput(field, id);
  input.setAttribute('aria-label', `${labelOf(field)}, ${field.group}`);
  input.dataset.path = field.path;
  input.dataset.describe = field.help ? `${id}-note` : '';
  const mark = newMark(field);
  const row = element('div', {className: `field kind-${field.kind}`},
      element('label', {htmlFor: id}, labelOf(field)),
      element('div', {className: 'row'}, input, mark), message, note);
  rows.set(field.path, {row, input, message, mark, field});
  wireEntry(input, () => field.label);
  // Once open it stays: what is tapped below must not move away from under the finger.
  input.onfocus = () => { note.dataset.open = 'yes'; };
  return row;
}

function newInput(field, id) {
  if (field.kind === 'choice' || field.kind === 'yes_no')
    return element('select', {id});
  const input = element('input', {
    id, type: 'text', autocomplete: 'off', spellcheck: false, placeholder: 'not given',
  });
  input.setAttribute('autocapitalize', 'off');
  input.setAttribute('enterkeyhint', 'next');
  if (field.kind === 'text') input.dir = 'auto';
  if (field.names) input.setAttribute('list', `names-${field.names}`);
  return input;
}

// What the tables hold, offered while one types: a list for each kind of table.
function showNames(names) {
  document.body.append(...Object.entries(names).map(([kind, all]) =>
      element('datalist', {id: `names-${kind}`},
          ...all.map((one) => element('option', {value: one})))));
}

// "Board         width, thickness ..." with its lines behind each other; a line alone is a heading.
function measuringParts(text) {
  const parts = [];
  for (const line of text.split('\n').filter(Boolean)) {
    const [, term, words] = line.match(/^(\S.*?) {2,}(.*)$/) || [];
    if (line.startsWith('   ')) parts[parts.length - 1].append(` ${line.trim()}`);
    else if (term) parts.push(element('p', {}, element('b', {}, term), `: ${words}`));
    else parts.push(element('h3', {}, line));
  }
  return parts;
}

function showMeasuring(mount) {
  const box = byId('measuring');
  if (box.dataset.of === mount) return;
  box.dataset.of = mount;
  const words = setup.starters.find((one) => one.mount === mount)?.measuring || '';
  box.hidden = !words;
  box.lastElementChild.replaceChildren(...measuringParts(words));
}

// ---- what is added or removed: its figures are nobody's, so they count as assumed ---------------

function marksOf(fields, wordOf) {
  return fields.filter((field) => field.known && field.text && field.text !== 'not known' &&
      field.known !== wordOf(field)).map((field) => ({path: field.path, value: wordOf(field)}));
}

function tellRefusal(what, {problems}) {
  notice('item', `${what}. ${problems.map(problemWords).join('. ')}`);
}

async function addGuessed(what, request, said, under) {
  let answer = await drawBench.ask(what, setup.text, request);
  if (answer.ok) {
    const own = answer.draw.fields.filter(({path}) => path.startsWith(under));
    const marks = marksOf(own, () => 'assumed');
    if (marks.length > 0) answer = await drawBench.ask('mark', answer.text, {marks});
  }
  if (!answer.ok) return tellRefusal('Not added', answer);
  noNotice('item');
  take(answer.text, answer.draw, {said});
  goToField(answer.draw.fields.find(({path}) => path.startsWith(under))?.path);
}

function tellChanged() {
  notice('item', 'This has changed meanwhile: look at it, then tap again.');
}

function blankOfMount() {
  const {mount, units} = setup.draw;
  return (setup.starters.find((one) => one.mount === mount) || setup.starters[0])[units];
}

// With the figures of the blank's comments.
function addBoat() {
  const keys = blankOfMount().matchAll(
      /^# {3}((?:length|beam|freeboard|loaded_mass): +[^#\n]+?) *(?:#.*)?$/gm);
  const value = `{${[...keys].map(([, words]) => words).join(', ')}}`;
  return addGuessed('apply', {edits: [{path: 'boat', value}]}, 'the boat described', 'boat.');
}

function addLegs() {
  const [, leg] = blankOfMount().match(/# legs:[^-]*- (\{[^}]*\})/);
  const value = `[${leg.replace(/\n *#/g, '')}]`;
  return addGuessed('apply', {edits: [{path: 'mount.legs', value}]}, 'legs', 'mount.legs.');
}

function addHolds() {
  const [, block] = blankOfMount().match(/^ {2}hold_downs:.*\n((?: {4}.*\n)+)/m);
  const items = block.replace(/ *#.*/g, '').split(/^ {4}- /m).filter(Boolean)
      .map((one) => `{${one.trim().replace(/\n */g, ', ')}}`);
  return addGuessed('apply', {edits: [{path: 'mount.hold_downs', value: `[${items.join(', ')}]`}]},
      'hold-downs', 'mount.hold_downs.');
}

function showAdds() {
  const none = (begin) => ![...rows.keys()].some((path) => path.startsWith(begin));
  show('boat-row', none('boat.'));
  const board = setup.draw.mount === 'cross_board';
  show('legs-row', board && none('mount.legs.'));
  show('holds-row', board && none('mount.hold_downs.'));
}

// Read aloud with what it is about: others are called alike.
function callIt(one, name, words) {
  one.textContent = words;
  one.setAttribute('aria-label', `${words}: ${name}`);
  return one;
}

// Of a list that has changed by then it would be another's.
function itsButton(name, words, action) {
  const one = button('', () => deed(() => one.isConnected ? action() : tellChanged()));
  return callIt(one, name, words);
}

// What the setup may do without goes with all its figures: a plate that is not there must not count.
function partButton({part, group}) {
  const own = group.split(', ').pop();
  return part ? [element('p', {className: 'row item'},
      itsButton(group, `No ${own.toLowerCase()}`, () => leaveOut(part, own)))] : [];
}

async function leaveOut(part, name) {
  const answer = await drawBench.ask('apply', setup.text, {edits: [{path: part, value: ''}]});
  if (!answer.ok) return tellRefusal('Not left out', answer);
  noNotice('item');
  for (const path of [...setup.bad.keys()])
    if (path.startsWith(`${part}.`)) setup.bad.delete(path);
  take(answer.text, answer.draw, {said: `${name} left out`});
  byId('measures-title').focus({preventScroll: true});
  say(`${name} left out.`);
  await tryBadAgain();
}

function itemButtons(path, name) {
  const [, item, list, number] = path.match(/^((gear|mount\.(?:hold_downs|legs))\.(\d+))\./) || [];
  if (!item) return [];
  const count = new Set(setup.draw.fields.filter((field) => field.path.startsWith(`${list}.`))
      .map((field) => field.path.slice(list.length + 1).split('.')[0])).size;
  return [element('p', {className: 'row item'},
      itsButton(name, 'Another like it', () => addGuessed('another', {path: item},
          `another like ${name}`, `${list}.${count}.`)),
      itsButton(name, 'Remove', () => removeItem(list, Number(number), count, name)))];
}

// The last goes with its list; whether that may be missing the engine says.
async function removeItem(list, number, count, name) {
  const path = count === 1 ? list : `${list}.${number}`;
  const answer = await drawBench.ask('apply', setup.text, {edits: [{path, value: ''}]});
  if (!answer.ok) return tellRefusal(count === 1 ? 'Not removed: one is needed' : 'Not removed', answer);
  noNotice('item');
  moveBad(list, number);
  take(answer.text, answer.draw, {said: `${name} removed`});
  const near = [...document.querySelectorAll('#groups > details')].reverse()
      .find((box) => box.dataset.first.startsWith(`${list}.`) &&
          Number(box.dataset.first.slice(list.length + 1).split('.')[0]) <= number);
  (near?.firstElementChild || byId('measures-title')).focus({preventScroll: true});
  say(`${name} removed.`);
  await tryBadAgain();
}

// What was refused of an item that goes, goes with it; what of one behind it moves up.
function moveBad(list, number) {
  setup.bad = new Map([...setup.bad].flatMap(([path, bad]) => {
    const [at, ...key] = path.startsWith(`${list}.`) ? path.slice(list.length + 1).split('.') : [];
    if (!key.length || at < number) return [[path, bad]];
    return at > number ? [[[list, at - 1, ...key].join('.'), bad]] : [];
  }));
}

function newMark(field) {
  const mark = element('button', {
    type: 'button', className: 'mark',
    onclick: () => toggleMark(field.path),
  }, element('span', {}), element('span', {}, 'assumed'));
  return mark;
}

// What is read off a tag or stamp is not measured.
function trueMark(field) {
  if (field.known === 'tagged') return 'tagged';
  return isWords(field) ? 'tagged' : 'measured';
}

// A mark is of the value that stood there when it was tapped, and of no other.
function isStill({path, value, then}) {
  const text = fieldOf(path)?.text;
  return !setup.bad.has(path) && !isMoved(path, then) &&
      (text === value || text === asWritten(path, value.trim()));
}

function seenAt(path) {
  return {path, value: rows.get(path).input.value, then: listing};
}

function toggleMark(path) {
  const seen = seenAt(path);
  const {field, before: was} = rows.get(path);
  const known = field.known === 'assumed' ? was || trueMark(field) : 'assumed';
  const before = field.known === 'assumed' ? null : field.known;
  return deed(async () => {
    if (!isStill(seen)) return tellChanged();
    const answer = await change('mark', {path, known}, {said: `${field.label}: ${known}`});
    if (!answer.ok) return showBad(path, seen.value, answer.problems);
    rows.get(path).before = before;
    say(`${field.label}: ${known}`);
  });
}

function showChoices(input, field, value) {
  if (input.tagName !== 'SELECT') return;
  const words = field.kind === 'yes_no' ? ['yes', 'no'] : field.choices || [];
  const all = [...new Set([...(field.required && value ? [] : ['']), ...words, value])];
  const chosen = input.dataset.typed ? input.value : value;
  input.replaceChildren(...all.map((one) =>
    element('option', {value: one}, one.replaceAll('_', ' ') || 'not given')));
  input.value = chosen;
}

function showField(field) {
  const row = rows.get(field.path);
  const same = JSON.stringify(row.field) === JSON.stringify(field) && row.shown;
  row.field = field;
  const bad = setup.bad.get(field.path);
  const value = bad ? bad.value : field.text;
  if (!same) {
    row.shown = true;
    showChoices(row.input, field, value);
    showMark(row.mark, field);
    if (field.text && isSpare(row)) row.row.parentElement.open = true;
  }
  // A tick beside "not known" would look like a thing looked at; what is refused is in no text.
  row.mark.hidden = !field.known || field.text === 'not known' || Boolean(bad);
  putValue(row.input, value);
  showWrong(row.input, row.message, bad);
  if (!bad) return;
  openTo(row.row);
  row.message.append(...offers(bad, field.path).map((words) => button(words, () => {
    row.input.value = words;
    row.input.dispatchEvent(new Event('change'));
  })));
  // The engine may find fault with the other of two that do not go together.
  const others = bad.problems.map(({path}) => path).filter((path) => path !== field.path);
  row.message.append(...waysTo(others, true));
}

function showMark(mark, field) {
  const word = trueMark(field);
  mark.firstElementChild.textContent = word;
  mark.setAttribute('aria-label', `${labelOf(field)}, ${field.group}: ${word}`);
  mark.setAttribute('aria-pressed', String(field.known !== 'assumed'));
}

// Folded away behind the rest.
function isSpare({row, box}) {
  return row.parentElement !== box;
}

// What one may say of the values of a box at once: of all that stand above the button.
function markable(box) {
  return [...rows].filter(([, row]) => row.box === box && row.field.known === 'assumed' &&
      !row.mark.hidden && !isSpare(row));
}

function showCounts() {
  const boxes = new Map();
  const spares = new Map();
  for (const [path, row] of rows) {
    const {box, field} = row;
    if (!boxes.has(box)) boxes.set(box, {assumed: 0, wrong: false});
    const of = boxes.get(box);
    if (field.known === 'assumed') of.assumed += 1;
    if (setup.bad.has(path)) of.wrong = true;
    const fold = row.row.parentElement;
    if (isSpare(row)) spares.set(fold, (spares.get(fold) || 0) + !field.text);
  }
  for (const [fold, count] of spares)
    fold.firstElementChild.textContent = `${count} not given, if you know them`;
  let sum = 0;
  for (const [box, {assumed, wrong}] of boxes) {
    sum += assumed;
    const marks = markable(box).length;
    const all = box.querySelector('.all');
    box.querySelector('.count').textContent = [wrong ? '! does not fit' : '',
      assumed ? `? ${assumed} assumed` : ''].filter(Boolean).join(', ');
    all.hidden = marks < 2 || wrong;
    callIt(all.firstElementChild, box.querySelector('b').textContent,
        `I measured or read off all ${marks} of these`);
  }
  byId('assumed').textContent = sum ? `: ${sum} still assumed` : '';
}

// Only where its owner says so: what is assumed is the cautious branch.
function markAll(box, name) {
  const seen = markable(box).map(([path]) => seenAt(path));
  return deed(async () => {
    const still = seen.filter(isStill);
    if (still.length < seen.length) tellChanged();
    const marks = marksOf(still.map(({path}) => fieldOf(path)), trueMark);
    if (marks.length === 0) return;
    const said = `${name}: ${marks.length} measured or read off`;
    const answer = await change('mark', {marks}, {said});
    if (!answer.ok) return tellRefusal('Not marked', answer);
    box.firstElementChild.focus({preventScroll: true});
    say(said);
  });
}

// Never under the fingers of who is typing.
function putValue(input, value) {
  const typing = document.activeElement === input && input.value.trim() === value;
  if (!input.dataset.typed && !typing && input.value !== value) input.value = value;
}

// ---- entries: read when the fingers pause, told what is wrong at the end

const pause = 600;  // ms without a key: the entry may be complete

let left = null;  // the entry that was left for the next one

// From entry to entry with one key of the phone.
function toNext(input) {
  const open = [...document.querySelectorAll('#groups [data-path]')]
      .filter((one) => one.offsetParent);
  const next = open[open.indexOf(input) + 1];
  if (!next || !open.includes(input)) return;
  left = input;
  next.focus();
  if (next.select) next.select();
}

function wireEntry(input, nameOf) {
  let soon = 0;
  let isFresh = false;
  const isText = input.tagName !== 'SELECT';
  input.readNow = () => enter(input, nameOf(), true);
  const isTyped = () => {
    if (!input.dataset.typed) input.listing = listing;
    input.dataset.typed = 'yes';
  };
  input.addEventListener('input', () => {
    isTyped();
    setup.touched = true;
    showVerdict();
    clearTimeout(soon);
    if (isText) soon = setTimeout(() => enter(input, nameOf(), false), pause);
  });
  input.addEventListener('change', () => {
    clearTimeout(soon);
    isTyped();
    input.readNow();
  });
  input.addEventListener('keydown', (event) => {
    isFresh = false;
    if (event.key === 'Escape') giveUp(input);
    if (event.key === 'Enter' && isText) toNext(input);
  });
  // The first tap marks what stands there, so that one may type at once; the next sets the cursor.
  input.addEventListener('focus', () => { isFresh = isText; });
  input.addEventListener('click', () => {
    if (isFresh && input.selectionStart === input.selectionEnd) input.select();
    isFresh = false;
  });
  input.addEventListener('blur', () => {
    if (input.dataset.typed) input.readNow();
    endRun();
  });
}

// As a phone's keyboard writes it, in the letters that the engine reads.
function inPlainLetters(value) {
  return value.replace(/[\u00bc-\u00be\u2150-\u215e]/g,
      (one) => ` ${one.normalize('NFKC').replace('\u2044', '/')}`)
      .replace(/[\u2018\u2019\u2032]/g, '\'').replace(/[\u201c\u201d\u2033]/g, '"')
      .replace(/[\u2010-\u2013\u2212]/g, '-').replaceAll('\u00b0', ' deg')
      .replace(/\s+/g, ' ').trim();
}

function isWords({kind}) {
  return kind === 'text' || kind === 'choice';
}

// One's own words stay as they are; several values are a list, with or without its brackets; a number
// alone has the unit that stands there.
function asWritten(path, value) {
  const field = fieldOf(path) || {};
  const {kind} = field;
  if (isWords(field)) return value;
  const plainly = inPlainLetters(value);
  const unit = /^[\d ./-]+ ([a-z]+)$/.exec(field.text)?.[1];
  if (unit && /^[\d ./-]+$/.test(plainly)) return `${plainly} ${unit}`;
  return kind === 'list' && /^[^[{]*,/.test(plainly) ? `[${plainly}]` : plainly;
}

function enter(input, label, complete) {
  const {path} = input.dataset;
  const value = input.value.trim();
  const then = input.listing;
  // The entry itself, or the one that a new list has in its place.
  const now = () => {
    const one = input.isConnected ? input : rows.get(path)?.input;
    return one?.dataset.path === path ? one : null;
  };
  return inTurn(async () => {
    const one = now();
    // Read meanwhile, or typed on.
    if (one && (!one.dataset.typed || one.value.trim() !== value)) return;
    if (isMoved(path, then)) {
      if (one) untyped(one);
      return tellChanged();
    }
    const before = fieldOf(path);
    const written = asWritten(path, value);
    const words = {said: `${label}: ${value}`, run: `at ${path}`};
    const answer = await change('edit', {path, value: written}, words);
    // What is given for the first time is as good as a guess until somebody says otherwise.
    if (answer.ok && before && !before.text && !isWords(before) &&
        fieldOf(path)?.known === 'tagged')
      await change('mark', {path, known: 'assumed'}, words);
    const still = now();
    if (still && still.value.trim() !== value || !answer.ok && !complete) return;
    if (still) untyped(still);
    if (still && complete && answer.ok && written === `${fieldOf(path)?.text}`) still.value = written;
    if (answer.ok) forgetBad(path);
    else showBad(path, value, answer.problems);
    // Back to what does not fit, unless the fingers are at the next one already.
    if (!answer.ok && left === input && !document.activeElement?.dataset?.typed) still?.focus();
    if (left === input) left = null;
    await tryBadAgain();
  });
}

function untyped(input) {
  delete input.dataset.typed;
  lookTyped();
}

function lookTyped() {
  setup.touched = Boolean(document.querySelector('input[data-typed],select[data-typed]'));
}

// An entry that did not fit may fit now that another has changed, or some that were made one after the
// other together: a size cleared, then width and thickness. In turn.
async function tryBadAgain() {
  const from = setup.text;
  const waiting = [...setup.bad];
  for (const [i, [path, bad]] of waiting.entries()) {
    let last = await drawBench.ask('edit', from, {path, value: asWritten(path, bad.value)});
    if (last.ok) return takeAgain([[path, bad]], last);
    if (setup.bad.get(path) === bad) bad.problems = last.problems;
    for (let j = i + 1; j < waiting.length && last.text; j += 1) {
      const [next, {value}] = waiting[j];
      last = await drawBench.ask('edit', last.text, {path: next, value: asWritten(next, value)});
      if (last.ok) return takeAgain(waiting.slice(i, j + 1), last);
    }
  }
  if (waiting.length > 0) showSetup();
}

// Only where nobody has taken one back meanwhile.
async function takeAgain(entries, answer) {
  if (entries.some(([path, bad]) => setup.bad.get(path) !== bad)) return;
  entries.forEach(([path]) => setup.bad.delete(path));
  take(answer.text, answer.draw, {said: entries.map(([, {value}]) => value).join(', ')});
  if (setup.bad.size > 0) await tryBadAgain();
}

function giveUp(input) {
  untyped(input);
  forgetBad(input.dataset.path);
}

function forgetBad(path) {
  if (setup.bad.delete(path)) keepSetup();
  showSetup();
  askCheck();
}

function showBad(path, value, problems) {
  setup.bad.delete(path);  // the last refused is the last of all
  setup.bad.set(path, {value, problems});
  keepSetup();
  showSetup();
  say(problems.map(problemWords).join(' '));
}

// What the engine asks whether it was meant, and a number with the units that it names.
function offers({value, problems}, path) {
  return problems.filter((one) => one.path === path).flatMap(({message}) => {
    const [meant] = message.match(/(?:did you mean|write) ".*/) || [''];
    const [, like = ''] = message.match(/a unit is required here; .* for example (.*)$/) || [];
    const units = like.split(' or ').map((one) => one.replace(/^[\d ./]+/, '')).filter(Boolean);
    if (/inches are expected after the feet/.test(message)) units.push('in');
    return [...[...meant.matchAll(/"([^"]+)"/g)].map(([, one]) => one),
      ...units.map((unit) => `${value} ${unit}`)];
  });
}

// The place is told by where the message stands.
function problemWords(problem) {
  const {path = '', message} = problem;
  const places = [path, path.replace(/\.\d+(?=\.|$)/g, '')].map((place) => `${place}: `);
  const place = places.find((one) => path && message.startsWith(one)) || '';
  return capital(message.slice(place.length));
}

function waysTo(paths, named) {
  const there = [...new Set(paths)].filter((path) => rows.has(path));
  return there.map((path) => button(`Go to ${named || there.length > 1 ?
    labelOf(rows.get(path).field).toLowerCase() : 'the entry'}`, () => goToField(path)));
}

function showWrong(input, message, bad) {
  message.hidden = !bad;
  message.textContent = bad ? bad.problems.map(problemWords).join('. ') : '';
  if (bad) input.setAttribute('aria-invalid', 'true');
  else input.removeAttribute('aria-invalid');
  const ids = [bad ? message.id : '', input.dataset.describe || ''].filter(Boolean).join(' ');
  if (ids) input.setAttribute('aria-describedby', ids);
  else input.removeAttribute('aria-describedby');
}

function goToField(path) {
  const row = rows.get(path);
  if (!row) return false;
  openTo(row.row);
  row.input.focus();
  row.input.scrollIntoView({block: 'center'});
  return true;
}

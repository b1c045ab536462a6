// Fields as the engine lists them, each with what was typed and the engine's own message.

const rows = new Map();  // path -> {row, input, message, mark, note}
let listed = '';

function showMeasures(fields) {
  const list = JSON.stringify(fields.map((field) => [field.path, field.group, field.kind]));
  if (list !== listed) {
    listed = list;
    buildGroups(fields);
  }
  fields.forEach(showField);
  showCounts(fields);
}

function buildGroups(fields) {
  const wasOpen = new Set([...document.querySelectorAll('#groups details')]
      .filter((box) => box.open).map((box) => box.dataset.group));
  const focused = document.activeElement?.dataset?.path;
  const first = rows.size === 0;
  rows.clear();
  const groups = new Map();
  for (const field of fields) {
    const name = topOf(field.group);
    if (!groups.has(name)) groups.set(name, []);
    groups.get(name).push(field);
  }
  const opened = first ? topOf(fieldOf(setup.draw.handles[0]?.path)?.group || '') : null;
  fill('groups', ...[...groups].map(([name, members]) => {
    const box = element('details', {open: name === opened || wasOpen.has(name)},
        element('summary', {}, element('b', {}, name), ' ', element('span', {className: 'count'})),
        ...withHeadings(members));
    box.dataset.group = name;
    return box;
  }));
  if (focused) rows.get(focused)?.input.focus({preventScroll: true});
}

// "Ledges, ledge, bolts": the first is the heading of a box, the rest one inside it.
function topOf(group) {
  return group.split(', ')[0];
}

function withHeadings(members) {
  let last = topOf(members[0].group);
  return members.flatMap((field) => {
    const heading = field.group === last ? [] :
        [element('h3', {}, field.group.split(', ').slice(1).join(', ') || field.group)];
    last = field.group;
    return [...heading, newRow(field)];
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
  return row;
}

function newInput(field, id) {
  if (field.kind === 'choice' || field.kind === 'yes_no')
    return element('select', {id});
  const input = element('input', {
    id, type: 'text', autocomplete: 'off', spellcheck: false, placeholder: 'not given',
  });
  input.setAttribute('autocapitalize', 'off');
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

// The engine lists the entries of a boat once there is one. The figures are those of the blank, and
// nobody's: assumed.
function guessedBoat() {
  const blank = setup.starters.find((one) => one.mount === setup.draw.mount) || setup.starters[0];
  const keys = [...blank.text.matchAll(
      /^# {3}(length|beam|freeboard|loaded_mass): +([^#\n]+?) *(?:#.*)?$/gm)];
  return ['boat:', ...keys.map(([, key, value]) => `  ${key}: {is: ${value}, known: assumed}`), '']
      .join('\n');
}

async function addBoat() {
  let text = '';
  const answer = await drawBench.queue(() => {
    text = `${setup.text}${setup.text.endsWith('\n') ? '' : '\n'}${guessedBoat()}`;
    return {what: 'draw', text, request: {}};
  });
  if (!answer) return;
  if (!answer.ok) return notice('boat', `Write boat: into the file itself. ${
    answer.problems.map(problemWords).join(' ')}`);
  take(text, answer, {said: 'the boat described'});
  goToField('boat.length');
}

function showBoat() {
  show('boat-row', ![...rows.keys()].some((path) => path.startsWith('boat.')));
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
  return field.kind === 'choice' || field.kind === 'text' ? 'tagged' : 'measured';
}

async function toggleMark(path) {
  const {field} = rows.get(path);
  const known = field.known === 'assumed' ? rows.get(path).before || trueMark(field) : 'assumed';
  rows.get(path).before = field.known === 'assumed' ? null : field.known;
  const answer = await change('mark', {path, known}, {said: `${field.label}: ${known}`});
  if (answer && !answer.ok) showBad(path, rows.get(path).input.value, answer.problems);
  if (answer?.ok) say(`${field.label}: ${known}`);
}

function showChoices(input, field, value) {
  if (input.tagName !== 'SELECT') return;
  const words = field.kind === 'yes_no' ? ['yes', 'no'] : field.choices || [];
  const all = [...new Set([...(field.required && value ? [] : ['']), ...words, value])];
  input.replaceChildren(...all.map((one) =>
    element('option', {value: one}, one.replaceAll('_', ' ') || 'not given')));
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
  }
  putValue(row.input, value);
  showWrong(row.input, row.message, bad);
  if (bad) row.row.closest('details').open = true;
}

function showMark(mark, field) {
  // A tick beside "not known" would look like a thing looked at.
  mark.hidden = !field.known || field.text === 'not known';
  if (mark.hidden) return;
  const word = trueMark(field);
  mark.firstElementChild.textContent = word;
  mark.setAttribute('aria-label', `${labelOf(field)}, ${field.group}: ${word}`);
  mark.setAttribute('aria-pressed', String(field.known !== 'assumed'));
}

function showCounts(fields) {
  for (const box of document.querySelectorAll('#groups details')) {
    const own = fields.filter((field) => topOf(field.group) === box.dataset.group);
    const guessed = own.some((field) => field.known === 'assumed');
    const wrong = own.some((field) => setup.bad.has(field.path));
    box.querySelector('.count').textContent =
        [wrong ? '! does not fit' : '', guessed ? '? assumed' : ''].filter(Boolean).join(', ');
  }
}

// Never under the fingers of who is typing.
function putValue(input, value) {
  const typing = document.activeElement === input && input.value.trim() === value;
  if (!input.dataset.typed && !typing && input.value !== value) input.value = value;
}

// ---- entries: read when the fingers pause, told what is wrong at the end

const pause = 600;  // ms without a key: the entry may be complete

function wireEntry(input, nameOf) {
  let soon = 0;
  const isText = input.tagName !== 'SELECT';
  input.addEventListener('input', () => {
    input.dataset.typed = 'yes';
    setup.touched = true;
    showVerdict();
    clearTimeout(soon);
    if (isText) soon = setTimeout(() => enter(input, nameOf(), false), pause);
  });
  input.addEventListener('change', () => {
    clearTimeout(soon);
    enter(input, nameOf(), true);
  });
  input.addEventListener('keydown', (event) => {
    if (event.key === 'Escape') giveUp(input);
  });
  input.addEventListener('blur', endRun);
}

// As a phone's keyboard writes it, in the letters that the engine reads.
function inPlainLetters(value) {
  return value.replace(/[\u00bc-\u00be\u2150-\u215e]/g,
      (one) => ` ${one.normalize('NFKC').replace('\u2044', '/')}`)
      .replace(/[\u2018\u2019\u2032]/g, '\'').replace(/[\u201c\u201d\u2033]/g, '"')
      .replace(/[\u2010-\u2013\u2212]/g, '-').replaceAll('\u00b0', ' deg')
      .replace(/\s+/g, ' ').trim();
}

// One's own words stay as they are; several values are a list, with or without its brackets.
function asWritten(path, value) {
  const kind = fieldOf(path)?.kind;
  if (kind === 'text' || kind === 'choice') return value;
  const plainly = inPlainLetters(value);
  return kind === 'list' && /^[^[{]*,/.test(plainly) ? `[${plainly}]` : plainly;
}

async function enter(input, label, complete) {
  const {path} = input.dataset;
  const value = input.value.trim();
  const words = {said: `${label}: ${value}`, run: `at ${path}`};
  const request = {path, value: asWritten(path, value)};
  const answer = await change('edit', request, words, `edit ${path}`);
  if (!answer) return;
  if (input.value.trim() !== value) return;
  if (!answer.ok && !complete) return;
  delete input.dataset.typed;
  setup.touched = Boolean(document.querySelector('input[data-typed],select[data-typed]'));
  if (answer.ok) forgetBad(path);
  else showBad(path, value, answer.problems);
  await tryBadAgain();
}

// An entry that did not fit may fit now that another has changed, or some that were made one after the
// other together: a size cleared, then width and thickness.
async function tryBadAgain() {
  const from = setup.text;
  const waiting = [...setup.bad];
  for (const [i, [path, bad]] of waiting.entries()) {
    let last = await drawBench.ask('edit', from, {path, value: asWritten(path, bad.value)});
    if (last?.ok) return takeAgain(from, [[path, bad]], last);
    if (last && setup.bad.get(path) === bad) bad.problems = last.problems;
    for (let j = i + 1; j < waiting.length && last?.text; j += 1) {
      const [next, {value}] = waiting[j];
      last = await drawBench.ask('edit', last.text, {path: next, value: asWritten(next, value)});
      if (last?.ok) return takeAgain(from, waiting.slice(i, j + 1), last);
    }
  }
  if (waiting.length > 0) showSetup();
}

// Only where nothing else has changed meanwhile.
function takeAgain(from, entries, answer) {
  if (setup.text !== from || entries.some(([path, bad]) => setup.bad.get(path) !== bad)) return;
  entries.forEach(([path]) => setup.bad.delete(path));
  take(answer.text, answer.draw, {said: entries.map(([, {value}]) => value).join(', ')});
  if (setup.bad.size > 0) tryBadAgain();
}

function giveUp(input) {
  delete input.dataset.typed;
  setup.touched = Boolean(document.querySelector('input[data-typed],select[data-typed]'));
  forgetBad(input.dataset.path);
}

function forgetBad(path) {
  if (setup.bad.delete(path)) keepSetup();
  showSetup();
  askCheck();
}

function showBad(path, value, problems) {
  setup.bad.set(path, {value, problems});
  keepSetup();
  showSetup();
  say(problems.map(problemWords).join(' '));
}

// The place is told by where the message stands.
function problemWords(problem) {
  const {path = '', message} = problem;
  const places = [path, path.replace(/\.\d+(?=\.|$)/g, '')].map((place) => `${place}: `);
  const place = places.find((one) => path && message.startsWith(one)) || '';
  return capital(message.slice(place.length));
}

function showWrong(input, message, bad) {
  message.hidden = !bad;
  message.textContent = bad ? bad.problems.map(problemWords).join(' ') : '';
  if (bad) input.setAttribute('aria-invalid', 'true');
  else input.removeAttribute('aria-invalid');
  const ids = [bad ? message.id : '', input.dataset.describe || ''].filter(Boolean).join(' ');
  if (ids) input.setAttribute('aria-describedby', ids);
  else input.removeAttribute('aria-describedby');
}

function goToField(path) {
  const row = rows.get(path);
  if (!row) return false;
  row.row.closest('details').open = true;
  row.input.focus();
  row.input.scrollIntoView({block: 'center'});
  return true;
}

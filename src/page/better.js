// What takes long, in a worker of its own: changes, sizes, variants. It can be stopped at any time.

const searches = {
  changes: {progress: 'changes-progress', answer: 'changes', words: 'Trying changes',
    again: 'find-changes'},
  size: {progress: 'size-progress', answer: 'size-answer', words: 'Looking for the smallest',
    again: 'find-size'},
  compare: {progress: 'size-progress', answer: 'size-answer', words: 'Setting side by side',
    again: 'find-compare'},
};

let searching = null;  // {what, text, last}

function searchButtons(disabled) {
  for (const id of ['find-changes', 'find-size', 'find-compare']) byId(id).disabled = disabled;
}

async function search(what, request, showAnswer) {
  stopSearch();
  const {progress, answer: place, words} = searches[what];
  const mine = searching = {what, text: setup.text, last: ''};
  const bar = element('progress', {'aria-label': words});
  const told = element('p', {role: 'status'}, `${words} ...`);
  fill(progress, bar, told, button('Stop', () => stopSearch()));
  fill(place);
  searchButtons(true);
  byId(progress).scrollIntoView({block: 'nearest'});
  longBench.onprogress = (progressed) => showProgress(mine, bar, told, progressed);
  const answer = await longBench.ask(what, setup.text, request);
  if (searching !== mine) return;
  endSearch();
  if (!answer) return;
  fill(progress);
  if (mine.text !== setup.text) return fill(place, againNote());
  if (!answer.ok) return fill(place, ...answer.problems.map((one) =>
      element('p', {className: 'wrong'}, problemWords(one))));
  showAnswer(answer, byId(place));
  say(`${words}: done.`);
}

function showProgress(mine, bar, told, {words, done, of}) {
  mine.last = words;
  told.textContent = words;
  if (!of) return;
  bar.max = of;
  bar.value = done;
}

function endSearch() {
  searching = null;
  searchButtons(false);
}

function stopSearch() {
  if (!searching) return;
  const {what, last} = searching;
  longBench.stop();
  endSearch();
  fill(searches[what].progress, element('p', {role: 'status'},
      last ? `Stopped, as far as it came: ${last}` : 'Stopped.'));
  say('Stopped.');
}

// Answers of a setup that has changed since are taken off.
function dropOldAnswers() {
  for (const {answer} of Object.values(searches)) {
    const place = byId(answer);
    if (place.childElementCount === 0 || place.dataset.of === setup.text) continue;
    place.replaceChildren();
  }
  if (searching && searching.text !== setup.text) stopSearch();
}

function againNote() {
  return element('p', {}, 'The setup has changed meanwhile: try again.');
}

function findChanges() {
  return search('changes', {}, (answer, place) => {
    place.dataset.of = setup.text;
    place.replaceChildren(...answer.list.map((one) => element('li', {}, changeCard(one))));
    if (answer.list.length === 0) place.append(element('li', {}, answer.words || 'None helps.'));
    else if (answer.words) place.prepend(element('li', {className: 'plain', value: 0}, answer.words));
  });
}

function verdictWords(one) {
  return element('p', {className: 'becomes'}, picture(signs[one.sign] || ''), ' ',
      element('b', {}, one.verdict));
}

function changeCard(one) {
  return element('div', {className: 'change'},
      element('p', {className: 'what'}, one.title), verdictWords(one),
      ...lines(one.pull), ...lines(one.factor && `Factor: ${one.factor}`),
      ...lines(one.trouble),
      ...(one.look?.length ? [element('details', {}, element('summary', {}, 'Look at this'),
          element('ul', {}, ...one.look.map((words) => element('li', {}, words))))] : []),
      button('Apply this change', () => applyEdits(one.edits, one.title, 'changes')));
}

// Told where the list was: it goes with the setup that it was of, and the place is kept.
function applyEdits(edits, title, what) {
  const {progress, again} = searches[what];
  const of = setup.text;
  return deed(async () => {
    if (setup.text !== of) return fill(progress, againNote());
    const answer = await change('apply', {edits}, {said: title});
    const {text} = setup;
    if (setup.bad.size > 0) await tryBadAgain();
    const more = !answer.ok ? [] : [
      button(byId(again).textContent + ' again', () => byId(again).click()),
      ...(setup.text === text ?
        [button('Undo it', () => deed(() => setup.text === text ?
          goBack(setup.before, setup.undone, 'Undone') : tellChanged()))] : [])];
    const box = notice('applied', answer.ok ?
      `Applied, its verdict follows in the first line: ${title}` :
      answer.problems.map(problemWords).join(' '), ...more);
    fill(progress, box);
    box.tabIndex = -1;
    box.focus({preventScroll: true});
    box.scrollIntoView({block: 'center', behavior: 'instant'});
  });
}

// Only a file that lists variants or patterns has something to set side by side; whether it does so
// rightly the engine says.
function showCompare() {
  const listed = /\b(variants|patterns)\b['"]?\s*:/.test(setup.text.replace(/#.*$/gm, ''));
  show('find-compare', listed);
  show('compare-help', !listed);
}

let freeOf = '';

function showFree(mount) {
  if (freeOf === mount) return;
  freeOf = mount;
  const free = setup.free[mount] || [];
  show('free', free.length > 0);
  fill('free', element('legend', {}, 'What may be chosen anew (none: the search chooses)'),
      ...free.map((one) => element('label', {className: 'tick'},
          element('input', {type: 'checkbox', value: one.word, checked: one.on}),
          element('span', {}, element('b', {}, capital(one.word)), `: ${one.words}`))));
}

function findSize() {
  const free = [...document.querySelectorAll('#free input:checked')].map((box) => box.value);
  return search('size', {free}, (answer, place) => showDesigns(answer, place, 'size'));
}

function findCompare() {
  return search('compare', {}, (answer, place) => showDesigns(answer, place, 'compare'));
}

// What the engine names without writing it into the setup.
const byHand = {
  size: 'To go on with one: type what it names into the measures. It is checked again as you do.',
  compare: 'To go on with one: make its changes in the measures. It is checked again as you do.',
};

function showDesigns(answer, place, what) {
  place.dataset.of = setup.text;
  const list = answer.designs || answer.rows || [];
  place.replaceChildren(
      ...lines(answer.words),
      ...list.map((one) => element('div', {className: 'change'},
          element('p', {className: 'what'}, one.title), verdictWords(one), ...lines(one.figures),
          one.edits ? button('Use this', () => applyEdits(one.edits, one.title, what)) : '')),
      ...(list.some((one) => !one.edits) ? [element('p', {}, byHand[what])] : []),
      ...(answer.table ? [element('details', {},
          element('summary', {}, 'The whole table'), element('pre', {}, answer.table))] : []));
}

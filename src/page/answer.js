// The verdict and all that goes with it, in the engine's words. What is shown as the verdict
// belongs to the setup on the screen, or says plainly that it does not.

let signs = {};

function say(words) {
  byId('spoken').textContent = words;
}

function showStopped(answer) {
  notice('stopped', answer.problems.map(problemWords).join(' '));
}

// fresh: of this setup. old: of the setup before. none: nothing to show.
function freshness() {
  if (setup.bad.size > 0) return 'none';
  if (isCurrent()) return setup.check.ok ? 'fresh' : 'none';
  return setup.check?.ok ? 'old' : 'none';
}

// The bar keeps its height in every state: nothing moves under a dragging finger.
function showVerdict() {
  const state = freshness();
  byId('bar').dataset.state = state;
  const worded = state === 'fresh' && setup.worded !== setup.text ? 'old' : state;
  for (const id of ['answer-words', 'cautions', 'ladder', 'checks', 'advice'])
    byId(id).dataset.state = worded;
  showAge();
  byId('verdict').setAttribute('aria-busy', String(state !== 'fresh' && setup.bad.size === 0));
  show('answer-words', state !== 'none');
  if (state === 'fresh') return showFresh();
  if (setup.bad.size > 0) return showWrongEntry();
  if (refused()) return showRefused();
  showWord('', setup.touched ? 'ENTRY NOT FINISHED' : 'CALCULATING ...');
  fill('figures', state === 'old' ? before() : '');
}

function before() {
  const {words} = setup.check;
  return element('span', {}, 'Before the last change: ',
      element('s', {}, `${words.verdict}, hold limit ${words.hold_limit}`));
}

function refused() {
  return setup.check && !setup.check.ok && setup.checkedText === setup.text && !setup.touched;
}

function showFresh() {
  const {words} = setup.check;
  showWord(words.sign, words.verdict);
  fill('figures', limit(words.hold_limit),
      figure(...settingWords(words.setting_label, words.setting)));
}

// "none that is of use" of the engine as a sentence of its own: there is nothing to set.
function settingWords(label, setting) {
  if (!setting.startsWith('none')) return [label, setting];
  return ['', `No setting${setting.slice(4).replace(' that is', ' is')}`];
}

function showWrongEntry() {
  showWord('question', 'NO VERDICT');
  fill('figures', 'An entry does not fit: ', element('a', {href: '#problems'}, 'see it'));
}

// The text can be drawn but not judged.
function showRefused() {
  showWord('question', 'NO VERDICT');
  fill('figures', 'The setup cannot be judged: ', element('a', {href: '#problems'}, 'see why'));
}

function showWord(sign, words) {
  fill('sign', picture(signs[sign] || ''));
  fill('verdict-word', words);
  byId('bar').dataset.sign = sign;
}

// A limit in bold alone could be taken for a promise.
function limit(words) {
  return figure(/\d/.test(words) ? 'Hold limit, not above' : 'Hold limit', words);
}

function figure(label, words) {
  return element('span', {className: 'figure'}, label && `${label} `, element('b', {}, words));
}

function showCheck() {
  const {check} = setup;
  // Words that grow or shrink would push the picture away from under the finger.
  if (drawing.drag) return showVerdict();
  setup.worded = setup.checkedText;
  showVerdict();
  showProblems();
  if (!check.ok) return;
  const {words} = check;
  fill('sentence', capital(words.sentence));
  fill('reasons', ...listOf(words.limits.length > 1 ? 'Each gear' : '', limitsOf(words)),
      ...listOf('Only if these are so', words.holds_if),
      ...listOf('Not checked, and it must hold', words.must_hold),
      ...listOf('Why', words.reasons), ...listOf('Look again', words.look_again),
      ...listOf('Test pulls', words.test_pulls));
  fill('setting-note', ...lines(words.setting_note));
  showCautions(words);
  showLadder(words);
  showWorst(words);
  fill('advice', ...listOf('', words.to_do));
  showDrawing(drawingNow());
}

// Where gears differ, what each may be pulled; one alone stands in the first line.
function limitsOf({limits}) {
  if (limits.length < 2) return [];
  return limits.map((one) => {
    const setting = settingWords(one.label, one.setting).filter(Boolean).join(' ');
    return capital([`${one.of}: hold limit ${one.hold}`, setting, one.note].filter(Boolean)
        .join('. '));
  });
}

let said = '';

// Not again what was said last.
function sayVerdict() {
  if (!isCurrent()) return;
  const {ok, words, problems} = setup.check;
  const now = ok ?
      `${words.verdict}. Hold limit ${words.hold_limit}. ${
        settingWords(words.setting_label, words.setting).filter(Boolean).join(' ')}.` :
      `No verdict. ${problems.map(problemWords).join(' ')}`;
  if (now !== said) say(now);
  said = now;
}

// At rest that with the pull and the worst item on it.
function drawingNow() {
  const loaded = setup.check?.draw;
  if (!loaded || !isCurrent() || drawing.drag) return setup.draw;
  return {...setup.draw, views: loaded.views, handles: loaded.handles || setup.draw.handles};
}

function lines(text) {
  return text ? [element('span', {className: 'line'}, text)] : [];
}

function listOf(title, items) {
  if (!items?.length) return [];
  return [...(title ? [element('h3', {}, title)] : []),
    element('ul', {}, ...items.map((words) => element('li', {}, words)))];
}

function showCautions(words) {
  fill('caution-list', ...listOf('', words.cautions), ...listOf('With every mount', words.always));
  byId('deferral').textContent = words.deferral;
}

function showLadder(words) {
  fill('ladder-order', ...words.ladder.order.map((one) => element('li', {}, capital(one))));
  fill('ladder-words', ...(words.ladder.words || []).map((one) => element('p', {}, one)));
}

function showWorst(words) {
  fill('check-words',
      element('ul', {className: 'worst'}, ...words.worst.map((one) => element('li', {},
          element('b', {}, capital(one.what)), ' ',
          element('span', {className: 'line'}, capital(one.figures)),
          ...lines(one.case && capital(one.case)),
          element('small', {className: 'line fine'}, one.source)))),
      ...listOf('The boat', words.boat ? [words.boat] : []),
      ...listOf('A little worse off', setup.check.first ? ['Being worked out ...'] : words.margins),
      ...listOf('Fit', words.fit), ...listOf('Line and wire', words.wire),
      ...listOf('Not checked', words.not_checked));
}

// ---- what cannot be read ------------------------------------------------------------------------

function showProblems() {
  const problems = [...setup.bad].flatMap(([path, bad]) =>
      bad.problems.map((problem) => ({...problem, field: path})));
  showProblemList(problems.length === 0 && refused() ? setup.check.problems : problems);
}

function showProblemList(problems) {
  show('problems', problems.length > 0);
  fill('problems', ...problems.map((problem) => {
    const path = problem.field || problem.path;
    const line = problem.line ? `Line ${problem.line}: ` : '';
    const place = rows.has(path) ? `${labelOf(rows.get(path).field)}: ` : line;
    return element('div', {className: 'problem'},
        element('p', {}, `${place}${problemWords(problem)}`),
        element('p', {className: 'row'}, ...waysTo([path, problem.path])));
  }));
}

// ---- all of it ----------------------------------------------------------------------------------

function showSetup() {
  const {draw} = setup;
  show('start', false);
  show('work', true);
  show('bar', true);
  fill('setup-title', element('bdi', {}, draw.title || 'No title'));
  byId('units-inch').setAttribute('aria-pressed', String(draw.units === 'inch'));
  byId('units-metric').setAttribute('aria-pressed', String(draw.units === 'metric'));
  showDrawing(drawingNow());
  showMeasures(draw.fields);
  showMeasuring(draw.mount);
  showProblems();
  showSteps();
  dropOldAnswers();
  choosePaper(draw.units);
  showFree(draw.mount);
  showCompare();
  showAdds();
  const text = byId('text');
  if (!text.dataset.typed) text.value = setup.text;
  showVerdict();
}

function showSteps() {
  const {before, undone} = setup;
  const [refused] = [...setup.bad].slice(-1).map((one) => ({words: refusedWords(one)}));
  byId('undo').disabled = before.length === 0 && !refused;
  byId('redo').disabled = undone.length === 0;
  const last = refused || before[before.length - 1];
  byId('undo').setAttribute('aria-label', last ? `Undo: ${last.words}` : 'Undo');
}

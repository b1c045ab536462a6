// Start of the page, and what its buttons do.

const mountWords = {
  cross_board: ['Cross-board', 'a plank or tube across the boat'],
  gunwale_plate: ['Plate on the gunwale', 'a base of holder or gear, screwed or bolted down'],
  bracket: ['Bracket', 'on a wall, angle or deck edge'],
};

function showBeginnings(about) {
  // Where feet and pounds are usual; the other is a tap away.
  if (!/^(en-(US|LR)|my)/.test(navigator.language))
    document.querySelector('[name=in][value=metric]').checked = true;
  fill('starters', ...about.starters.map((one) => {
    const [title, words] = mountWords[one.mount] || [one.title, ''];
    return element('li', {}, element('button', {
      type: 'button', onclick: () => beginBlank(one, title),
    }, element('b', {}, title), element('span', {className: 'line'}, words)));
  }));
  fill('examples', ...examplesByMount(about.examples));
  byId('deferral-first').textContent = about.deferral;
  show('deferral-first', Boolean(about.deferral));
  show('beginnings', true);
}

function examplesByMount(examples) {
  return Object.entries(mountWords).map(([mount, [title]]) => element('details', {},
      element('summary', {}, title), element('ul', {className: 'choices'},
          ...examples.filter((one) => one.mount === mount).map((one) => element('li', {},
              button(one.title, () => begin(one.text, `${one.id}.yaml`, one.title)))))));
}

async function begin(text, name, said) {
  const answer = await open(text, name, said);
  if (answer && !answer.ok) showPaste(text, answer.problems);
  else byId('setup-title').focus({preventScroll: true});
  scrollTo(0, 0);
}

// Nobody has measured what stands in a blank: each of its values counts as assumed until somebody
// says otherwise.
async function beginBlank(blank, title) {
  const text = blank[document.querySelector('[name=in]:checked').value];
  const drawn = await drawBench.ask('draw', text);
  const marks = marksOf(drawn?.fields || [], () => 'assumed');
  const marked = await drawBench.ask('mark', text, {marks});
  if (!marked?.ok) return showPaste(text, marked?.problems || []);
  await begin(marked.text, `${blank.mount}.yaml`, `blank ${title}`);
  notice('blank', 'Nothing here is yours yet. Put in what you measured, group by group, and say ' +
      'below each that you measured it.', button('To the measures', () => {
    noNotice('blank');
    byId('measures').scrollIntoView();
    byId('measures-title').focus({preventScroll: true});
  }));
}

async function restore(kept) {
  const answer = await open(kept.text, kept.name || 'mount.yaml', 'restored');
  if (!answer?.ok) {
    if (answer) showPaste(kept.text, answer.problems);
    return false;
  }
  for (const {path, value} of kept.bad || []) {
    await inTurn(async () => {
      const again = await change('edit', {path, value}, {said: value});
      if (!again.ok) showBad(path, value, again.problems);
    });
  }
  const title = element('bdi', {}, setup.draw.title || 'no title');
  notice('kept', element('span', {}, `Your work of ${kept.at} is back: `, title, '.'),
      button('Start anew', startAnew));
  return true;
}

function startAnew() {
  if (setup.text && !confirm('Start anew? Save the file first if you want to keep this mount.'))
    return;
  inTurn(forgetAll);
}

function forgetAll() {
  stopSearch();
  dropWork();
  Object.assign(setup, {
    text: '', draw: null, check: null, checkedText: null, before: [], undone: [], touched: false,
    sheet: null,
  });
  setup.bad.clear();
  location.hash = '';
  document.querySelectorAll('[data-notice]').forEach((one) => one.remove());
  show('work', false);
  show('bar', false);
  show('start', true);
  byId('start-title').focus?.();
  scrollTo(0, 0);
}

function wireButtons() {
  const units = (words, said) => change('units', {units: words}, {said});
  const begun = (action) => () => { action(); };  // and not waited for: it takes long
  const actions = {
    'anew': startAnew,
    'paste': () => showPaste(''), 'paste-first': () => showPaste(''), 'paste-read': readPasted,
    'paste-close': () => byId('paste-box').close(), 'read-text': readText,
    'sheet-print': printPaper, 'sheet-close': () => byId('sheet-box').close(),
    'sheet-save': () => shownPaper && download(shownPaper.name, 'text/html', shownPaper.html),
  };
  const deeds = {
    'undo': undo, 'redo': redo, 'save': saveSetup, 'copy': begun(copySetup),
    'add-boat': addBoat, 'add-legs': addLegs, 'add-holds': addHolds,
    'find-changes': begun(findChanges), 'find-size': begun(findSize),
    'find-compare': begun(findCompare),
    'show-sheet': begun(showSheet), 'show-template': begun(showTemplate),
    'units-inch': () => units('inch', 'reports in inches'),
    'units-metric': () => units('metric', 'reports in mm'),
    'plates-dxf': begun(() => saveOther('dxf')), 'plates-svg': begun(() => saveOther('svg')),
    'forces-csv': begun(() => saveOther('csv')),
  };
  for (const [id, action] of Object.entries(actions)) byId(id).onclick = () => action();
  for (const [id, action] of Object.entries(deeds))
    byId(id).onclick = () => { deed(() => action()); };
  for (const link of document.querySelectorAll('a[href="#text-box"]'))
    link.onclick = () => { byId('text-box').open = true; };
  byId('open').onchange = (event) => openFile(event.target);
  byId('open-first').onchange = (event) => openFile(event.target);
  byId('paper').onchange = () => {
    paperChosen = true;
    preparePaper();
  };
  byId('text').oninput = (event) => { event.target.dataset.typed = 'yes'; };
  byId('sheet-box').onclose = closePaper;
}

function wireWindow() {
  addEventListener('pagehide', keepNow);
  addEventListener('beforeprint', putOnPaper);
  addEventListener('afterprint', takeOffPaper);
  addEventListener('keydown', (event) => {
    if (!(event.ctrlKey || event.metaKey) || event.key.toLowerCase() !== 'z') return;
    if (event.target.matches('input, textarea, select')) return;
    event.preventDefault();
    byId(event.shiftKey ? 'redo' : 'undo').click();
  });
}

function cannotStart(error) {
  byId('loading').textContent =
      `The engine did not start: ${error.message}. It needs a browser of 2023 or later.`;
}

async function startPage() {
  wireButtons();
  wireWindow();
  wireDrawing();
  let module;
  try {
    module = await unpackEngine();
  } catch (error) {
    return cannotStart(error);
  }
  drawBench = new Bench(module);
  checkBench = new Bench(module);
  longBench = new Bench(module);
  paperBench = new Bench(module);
  checkBench.begin();
  checkFirst();
  const about = await drawBench.ask('about', '');
  if (!about?.ok) return cannotStart(new Error(about?.problems.map(problemWords).join(' ')));
  signs = about.signs || {};
  document.head.append(element('style', {id: 'picture-style'}, about.style || ''));
  setup.free = about.free || {};
  setup.starters = about.starters;
  showNames(about.names || {});
  byId('made').textContent = `thole ${about.version}, tables ${about.tables}`;
  showBeginnings(about);
  show('loading', false);
  await firstSetup(about);
  document.documentElement.dataset.ready = 'yes';
}

// What will be opened is checked before the page knows its examples.
function checkFirst() {
  const kept = keptWork();
  const example = location.hash.slice(1);
  if (kept) checkAhead(kept.text, kept.name || 'mount.yaml');
  else if (example) checkAhead('', `${example}.yaml`, {example});
}

// The address may name an example: thole.html#fjord-skiff. Kept work goes first.
async function firstSetup(about) {
  const kept = keptWork();
  if (kept && await restore(kept)) return;
  const named = about.examples.find((one) => `#${one.id}` === location.hash);
  if (named) {
    if (!kept && ahead) ahead.text = named.text;
    return begin(named.text, `${named.id}.yaml`, named.title);
  }
  // An engine that has run is quicker, and its workers share what the browser made of it.
  const board = about.examples.find((one) => one.mount === 'cross_board');
  paperBench.ask('check', board.text, {first: true});
}

addEventListener('DOMContentLoaded', startPage);

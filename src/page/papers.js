// Shop sheet, template, print, files. The page itself prints as the sheet.

function tell(words) {
  byId('paper-words').textContent = words;
}

function download(name, kind, text) {
  const address = URL.createObjectURL(new Blob([text], {type: kind}));
  const link = element('a', {href: address, download: name});
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(address), 60000);
}

function saveSetup() {
  download(setup.name, 'application/yaml;charset=utf-8', setup.text);
  const missing = setup.bad.size > 0 ? ' An entry that does not fit is not in it.' : '';
  tell(`Saved as ${setup.name}: the same file that the command line reads.${missing}`);
}

async function copySetup() {
  try {
    await navigator.clipboard.writeText(setup.text);
    tell('Copied.');
  } catch {
    byId('text-box').open = true;
    byId('text').select();
    tell(document.execCommand('copy') ? 'Copied.' : 'The text is marked: copy it by hand.');
  }
}

const largestFile = 1000000;  // bytes; the engine has its own limits

async function openFile(input) {
  const file = input.files[0];
  input.value = '';
  if (!file) return;
  if (file.size > largestFile) return refuse([{message: `${file.name} is too large for a setup.`}]);
  const text = textOf(await file.arrayBuffer());
  if (text === null) return refuse([{message: `${file.name} is not text in UTF-8.`}]);
  const answer = await open(text, file.name, `opened ${file.name}`);
  if (answer && !answer.ok) showPaste(text, answer.problems);
  else if (answer) tell(`Opened ${file.name}.`);
}

// All of it, a mark of the byte order too: saved again it is the very same file.
function textOf(bytes) {
  try {
    return new TextDecoder('utf-8', {fatal: true, ignoreBOM: true}).decode(bytes);
  } catch {
    return null;
  }
}

function refuse(problems) {
  showPaste('', problems);
}

function showPaste(text, problems = []) {
  byId('paste-text').value = text;
  showTextProblems('paste-message', 'paste-text', problems);
  if (!byId('paste-box').open) byId('paste-box').showModal();
}

function showTextProblems(place, input, problems) {
  show(place, problems.length > 0);
  fill(place, ...problems.map((one) => element('p', {className: 'wrong'},
      `${one.line ? `Line ${one.line}: ` : ''}${problemWords(one)}`)));
  if (problems.length > 0) byId(input).setAttribute('aria-invalid', 'true');
  else byId(input).removeAttribute('aria-invalid');
}

async function readPasted() {
  const answer = await open(byId('paste-text').value, 'mount.yaml', 'pasted text');
  if (!answer) return;
  showTextProblems('paste-message', 'paste-text', answer.ok ? [] : answer.problems);
  if (answer.ok) byId('paste-box').close();
}

async function readText() {
  const text = byId('text');
  const answer = await open(text.value, setup.name, 'the text');
  if (!answer) return;
  showTextProblems('text-message', 'text', answer.ok ? [] : answer.problems);
  if (!answer.ok) return;
  delete text.dataset.typed;
  tell('Read.');
}

// ---- paper --------------------------------------------------------------------------------------

let paperChosen = false;

// As sold where the units are used, until somebody says otherwise.
function choosePaper(units) {
  if (!paperChosen) byId('paper').value = units === 'inch' ? 'letter' : 'a4';
}

let paperSoon = 0;

// A sheet is made when things rest, so that the browser's own print command finds one. It leaves
// out what takes long, the changes that were tried.
function preparePaper() {
  clearTimeout(paperSoon);
  paperSoon = setTimeout(() => makeSheet(false), 2000);
}

async function makeSheet(whole) {
  if (!isCurrent() || !setup.check.ok) return null;
  const text = setup.text;
  const request = {...sheetRequest(), changes: whole};
  const made = setup.sheet;
  if (made?.text === text && made.paper === request.paper && (made.whole || !whole)) return made;
  const answer = await paperBench.ask('sheet', text, request, whole ? 'whole sheet' : 'sheet');
  if (!answer?.ok || text !== setup.text) return answer;
  setup.sheet = {ok: true, text, paper: request.paper, whole, html: answer.html, name: answer.name};
  return setup.sheet;
}

let shownPaper = null;

async function showPaper(title, words, make) {
  fill('sheet-title', title);
  fill('sheet-words', words);
  shownPaper = null;
  byId('sheet-frame').srcdoc = '';
  if (!byId('sheet-box').open) byId('sheet-box').showModal();
  paperBench.onprogress = (progress) => fill('sheet-words', `${words} ${progress.words}.`);
  putInFrame(title, await make());
}

function putInFrame(title, answer) {
  if (!byId('sheet-box').open) return;
  if (!answer || answer.ok && answer.text !== setup.text) return fill('sheet-words', notReady());
  if (!answer.ok) return fill('sheet-words', answer.problems.map(problemWords).join(' '));
  fill('sheet-words');
  shownPaper = {...answer, title};
  const frame = byId('sheet-frame');
  frame.onload = () => stayInside(frame);
  frame.srcdoc = answer.html;
}

// First what is quick, then the whole of it with the changes that were tried.
async function showSheet() {
  await showPaper('Shop sheet', 'Drawing it ...', () => makeSheet(false));
  if (!shownPaper || shownPaper.whole) return;
  fill('sheet-words', tryingWords);
  paperBench.onprogress = (progress) => fill('sheet-words', `${tryingWords} ${progress.words}.`);
  putInFrame('Shop sheet', await makeSheet(true));
}

const tryingWords = 'What to change is still being tried and not on the sheet yet.';

function showTemplate() {
  return showPaper('Template 1:1', 'Drawing it ...', makeTemplate);
}

function notReady() {
  return setup.bad.size > 0 ? 'No sheet: an entry does not fit.' :
      'The verdict is not ready yet: close this and try again.';
}

function closePaper() {
  shownPaper = null;
  leavePaper();
}

// Gives up what is being made of a setup that is no longer looked at.
function leavePaper() {
  if (paperBench.busy && !byId('sheet-box').open) paperBench.stop();
}

// Links of the sheet lead to places on it; in a frame they would load this page instead.
function stayInside(frame) {
  frame.contentDocument?.addEventListener('click', (event) => {
    const link = event.target.closest('a[href^="#"]');
    if (!link) return;
    event.preventDefault();
    frame.contentDocument.getElementById(link.getAttribute('href').slice(1))?.scrollIntoView();
  });
}

async function makeTemplate() {
  if (setup.bad.size > 0) return null;
  const text = setup.text;
  const answer = await paperBench.ask('template', text, sheetRequest());
  return answer?.ok ? {...answer, text} : answer;
}

async function saveOther(kind) {
  tell('Making it ...');
  const answer = await paperBench.ask(kind, setup.text, sheetRequest());
  if (!answer) return tell('');
  if (!answer.ok) return tell(answer.problems.map(problemWords).join(' '));
  download(answer.name, answer.mime, answer.text);
  tell(`Saved as ${answer.name}.`);
}

// The page gives way to the sheet while the browser prints.
function putOnPaper() {
  const ready = isCurrent() && setup.sheet?.text === setup.text;
  const shown = shownPaper?.text === setup.text ? shownPaper : null;
  const paper = shown || (ready ? setup.sheet : null);
  const place = byId('on-paper');
  place.replaceChildren();
  if (!paper) {
    place.append(element('p', {}, setup.text ? notReady() : 'Nothing to print yet.'));
    return;
  }
  const sheet = new DOMParser().parseFromString(paper.html, 'text/html');
  document.documentElement.classList.add('is-sheet');
  for (const style of document.querySelectorAll('style')) style.media = 'not all';
  const shell = element('style', {id: 'paper-shell'}, '#page,dialog{display:none!important}');
  document.head.append(shell);
  place.append(...sheet.querySelectorAll('style'), ...sheet.body.childNodes);
}

function takeOffPaper() {
  byId('on-paper').replaceChildren();
  byId('paper-shell')?.remove();
  document.documentElement.classList.remove('is-sheet');
  for (const style of document.querySelectorAll('style')) style.media = '';
}

function printPaper() {
  window.print();
}

// The drawing with its rings. Places come from the engine in units of the picture; what a place
// means, and what it becomes, is the engine's as well.

const viewWords = {plan: 'From above', stern: 'From astern', side: 'From the side'};
const drawing = {
  shown: null,    // the drawing on the screen
  held: null,     // id of the ring in hand
  drag: null,     // {id, pointer, ring, from, to, next, moved, asking, over} and, of the drawing that
                  // places are counted on, {text, now, handle, box, dx, dy, x, y}
  refused: null,  // the answer to a place where the value cannot be
  settling: false,
  frame: 0,
  svg: new Map(),  // what each view shows
};
const tapSize = 44;

function viewsOf(draw) {
  return Object.entries(draw.views).filter(([, view]) => view && view.svg);
}

function viewBoxOf(svg) {
  const [left, top, width, height] = svg.getAttribute('viewBox').split(/[\s,]+/).map(Number);
  return {left, top, width, height};
}

function showDrawing(draw) {
  drawing.shown = draw;
  for (const [name, view] of viewsOf(draw)) {
    const figure = byId(`view-of-${name}`) || newView(name);
    if (drawing.svg.get(name) === view.svg) continue;
    drawing.svg.set(name, view.svg);
    figure.querySelector('.picture').replaceChildren(picture(view.svg));
  }
  for (const figure of document.querySelectorAll('#views figure'))
    figure.hidden = !draw.views[figure.dataset.view]?.svg;
  placeRings(draw);
  showAge();
  if (!drawing.drag) showPicks(draw);
  showHand();
}

// A picture of another setup than the entries say is marked as such.
function showAge() {
  const old = setup.touched || drawing.shown?.of !== setup.text;
  byId('drawing').dataset.state = setup.bad.size > 0 ? 'without' : old ? 'old' : 'fresh';
}

function newView(name) {
  const figure = element('figure', {id: `view-of-${name}`},
      element('figcaption', {}, viewWords[name] || name),
      element('div', {className: 'stage'},
          element('div', {className: 'picture'}), element('div', {className: 'rings'})));
  figure.dataset.view = name;
  byId('views').append(figure);
  const rings = figure.querySelector('.rings');
  rings.addEventListener('pointerdown', takeHold);
  rings.addEventListener('pointermove', follow);
  rings.addEventListener('pointerup', letGo);
  rings.addEventListener('pointercancel', letGo);
  rings.addEventListener('keydown', stepByKey);
  return figure;
}

function ringOf(id) {
  return [...document.querySelectorAll('.ring')].find((ring) => ring.dataset.handle === id);
}

function handleOf(id) {
  return (drawing.shown?.handles || []).find((handle) => handle.id === id);
}

function fieldOf(path) {
  return (setup.draw?.fields || []).find((field) => field.path === path);
}

function placeRings(draw) {
  const ids = new Set(draw.handles.map((handle) => handle.id));
  document.querySelectorAll('.ring').forEach((ring) => {
    if (!ids.has(ring.dataset.handle)) ring.remove();
  });
  draw.handles.forEach(placeRing);
}

function placeRing(handle) {
  const figure = byId(`view-of-${handle.view}`);
  if (!figure) return;
  const rings = figure.querySelector('.rings');
  let ring = ringOf(handle.id);
  if (!ring) ring = newRing(handle);
  if (ring.parentElement !== rings) rings.append(ring);
  const box = viewBoxOf(figure.querySelector('svg'));
  ring.setAttribute('aria-label', handle.label);
  ring.setAttribute('aria-valuetext', handle.text || 'not given');
  ring.setAttribute('aria-valuemin', 0);
  ring.setAttribute('aria-valuemax', Math.round(box.width + box.height));
  ring.setAttribute('aria-valuenow', Math.round(handle.x + handle.y - box.left - box.top));
  if (drawing.drag?.id === handle.id) return;
  setPlace(ring, box, handle.x, handle.y);
}

function newRing(handle) {
  const ring = element('div', {
    className: `ring moves-${handle.moves}`, role: 'slider', tabIndex: 0,
    onfocus: () => pickUp(handle.id),
  });
  ring.dataset.handle = handle.id;
  return ring;
}

function setPlace(ring, box, x, y) {
  ring.style.left = `${(x - box.left) / box.width * 100}%`;
  ring.style.top = `${(y - box.top) / box.height * 100}%`;
}

// Rings may lie over each other: those within reach of the finger, the nearest first.
function ringsNear(rings, event) {
  return [...rings.children].map((ring) => {
    const at = ring.getBoundingClientRect();
    return {ring, far: Math.hypot(event.clientX - at.left - at.width / 2,
        event.clientY - at.top - at.height / 2)};
  }).filter(({far}) => far <= tapSize / 2).sort((a, b) => a.far - b.far).map(({ring}) => ring);
}

function inPicture(event, rings, box) {
  const at = rings.getBoundingClientRect();
  return {
    x: box.left + (event.clientX - at.left) / at.width * box.width,
    y: box.top + (event.clientY - at.top) / at.height * box.height,
  };
}

function takeHold(event) {
  if (event.button > 0 || drawing.drag || drawing.settling) return;
  const rings = event.currentTarget;
  const near = ringsNear(rings, event);
  // What is in hand already goes first, so that it can be dragged from under others.
  const ring = near.find((one) => one.dataset.handle === drawing.held) || near[0];
  if (!ring) return;
  const again = ring.dataset.handle === drawing.held;
  event.preventDefault();
  showDrawing(setup.draw);  // the plain one, which places are counted on
  const id = ring.dataset.handle;
  ring.focus({preventScroll: true});
  pickUp(id);
  try {
    rings.setPointerCapture(event.pointerId);
  } catch {
    return;
  }
  drawing.drag = {
    id, pointer: event.pointerId, ring, listing, from: event, to: event, moved: false,
    asking: false,
    next: again && near[(near.indexOf(ring) + 1) % near.length],
  };
  countFrom(drawing.drag);
  ring.classList.add('held');
}

// Places are counted from where the finger was put down, on the drawing that is there: on another
// one when an entry typed before is read after that. False where the ring has gone.
function countFrom(drag) {
  const handle = handleOf(drag.id);
  if (!handle) return false;
  const rings = drag.ring.parentElement;
  const box = viewBoxOf(rings.parentElement.querySelector('svg'));
  const at = inPicture(drag.from, rings, box);
  const {text} = setup;
  Object.assign(drag, {text, now: text, handle, box, dx: handle.x - at.x, dy: handle.y - at.y});
  putUnder(drag, inPicture(drag.to, rings, box));
  return true;
}

function putUnder(drag, at) {
  drag.x = at.x + drag.dx;
  drag.y = at.y + drag.dy;
}

function follow(event) {
  const drag = drawing.drag;
  if (!drag || event.pointerId !== drag.pointer) return;
  putUnder(drag, inPicture(event, event.currentTarget, drag.box));
  drag.to = event;
  drag.moved = true;
  if (!drawing.frame) drawing.frame = requestAnimationFrame(moveNow);
}

// The engine reads numbers of at most 15 digits; a hundredth of a unit is less than a pixel.
function hundredth(number) {
  return Math.round(100 * number) / 100;
}

// Along its own way only: the ring stays on its line while the finger strays.
function alongItsWay(drag) {
  const {handle} = drag;
  return {
    x: hundredth(handle.moves === 'y' ? handle.x : drag.x),
    y: hundredth(handle.moves === 'x' ? handle.y : drag.y),
  };
}

function moveNow() {
  drawing.frame = 0;
  const drag = drawing.drag;
  if (!drag || !drag.moved) return;
  const at = alongItsWay(drag);
  setPlace(drag.ring, drag.box, at.x, at.y);
  if (!drag.asking) askMove(drag);
}

// At most one question under way. Every place is counted from one drawing, whatever the moves before
// have made of it.
function askMove(drag) {
  drag.asking = true;
  return inTurn(async () => {
    if (isMoved(drag.id, drag.listing) || setup.text !== drag.now && !countFrom(drag)) {
      tellChanged();
      settle();
      return;
    }
    const {x, y} = alongItsWay(drag);
    const answer =
        await drawBench.ask('move', drag.text, {handle: drag.id, x, y, hold: true});
    drag.asking = false;
    drawing.refused = answer.ok ? null : answer;
    if (answer.ok) {
      drag.now = answer.text;
      take(answer.text, answer.draw, {said: drag.handle.label, run: drag, path: drag.handle.path});
    } else {
      tellRefused();
    }
    const now = alongItsWay(drag);
    if (now.x !== x || now.y !== y) askMove(drag);
    else if (drag.over) settle();
  });
}

// Where the value cannot be, the setup stays as it was.
function tellRefused() {
  showHand();
  say((drawing.refused?.problems || []).map(problemWords).join(' '));
}

function letGo(event) {
  const drag = drawing.drag;
  if (!drag || event.pointerId !== drag.pointer) return;
  drag.ring.classList.remove('held');
  drag.over = true;
  if (drag.moved && !drag.asking) askMove(drag);
  else if (!drag.moved) settle();
  if (!drag.moved && drag.next) drag.next.focus({preventScroll: true});
}

// The ring goes where the engine has put the value, in a drawing of its own.
function settle() {
  const drag = drawing.drag;
  drawing.drag = null;
  endRun();
  if (!drag?.moved) return isCurrent() ? showCheck() : showDrawing(drawingNow());
  drawing.settling = true;
  return inTurn(async () => {
    const {text} = setup;
    const answer = await drawBench.ask('draw', text);
    drawing.settling = false;
    if (answer.ok) {
      setup.draw = {...answer, of: text};
      showSetup();
    }
    if (isCurrent()) showCheck();
    if (setup.bad.size > 0) await tryBadAgain();
  });
}

const arrowKeys = {ArrowLeft: 'left', ArrowRight: 'right', ArrowUp: 'up', ArrowDown: 'down'};

function stepByKey(event) {
  const key = arrowKeys[event.key];
  if (!key || event.altKey || event.ctrlKey || event.metaKey) return;
  event.preventDefault();
  step(event.target.dataset.handle, event.shiftKey ? 10 : 1, key);
}

function step(id, steps, key) {
  const then = listing;
  return deed(async () => {
    const handle = handleOf(id);
    if (!handle || isMoved(id, then)) return tellChanged();
    const request = key ? {handle: id, steps, key} : {handle: id, steps};
    const words = {said: handle.label, run: `step ${id}`, path: handle.path};
    const answer = await change('step', request, words);
    drawing.refused = answer.ok ? null : answer;
    if (drawing.refused) return tellRefused();
    const now = handleOf(id);
    if (now) say(`${now.label}: ${now.text}`);
  });
}

// ---- what is in hand, with its value to type ----------------------------------------------------

function pickUp(id) {
  if (drawing.held !== id) {
    endRun();
    drawing.refused = null;
  }
  drawing.held = id;
  showHand();
}

function putDown() {
  drawing.held = null;
  showHand();
}

function showHand() {
  const handle = handleOf(drawing.held);
  show('hand', Boolean(handle));
  for (const ring of document.querySelectorAll('.ring'))
    ring.classList.toggle('picked', ring.dataset.handle === drawing.held);
  byId('pick').value = handle ? handle.id : '';
  const input = byId('hand-value');
  if (!handle) {
    // The ring has gone, and the entry with it.
    if (drawing.held && input.dataset.typed) {
      untyped(input);
      tellChanged();
    }
    return;
  }
  // A ring may set two values, or one of a list: then the entry is that of its field.
  const text = fieldOf(handle.path)?.text ?? handle.text;
  const label = capital(handle.label);
  fill('hand-label', text === handle.text ? label : `${label}: ${handle.text}`);
  const bad = setup.bad.get(handle.path);
  if (input.dataset.path !== handle.path) untyped(input);
  input.dataset.path = handle.path;
  putValue(input, bad ? bad.value : text);
  showWrong(input, byId('hand-message'), bad || drawing.refused);
}

function showPicks(draw) {
  const nothing = element('option', {value: ''}, 'choose ...');
  fill('pick', nothing,
      ...draw.handles.map((handle) => element('option', {value: handle.id},
          `${capital(handle.label)}, ${handle.text || 'not given'}`)));
  byId('pick').value = drawing.held || '';
  show('pick-row', draw.handles.length > 0);
  show('drawing-help', draw.handles.length > 0);
}

function wireDrawing() {
  byId('hand-less').onclick = () => step(drawing.held, -1);
  byId('hand-more').onclick = () => step(drawing.held, 1);
  byId('hand-done').onclick = putDown;
  byId('pick').onchange = () => {
    const ring = ringOf(byId('pick').value);
    if (!ring) return putDown();
    ring.focus({preventScroll: true});
    ring.scrollIntoView({block: 'center'});
  };
  new IntersectionObserver(([seen]) => {
    if (!seen.isIntersecting && !byId('hand').contains(document.activeElement)) putDown();
  }).observe(byId('views'));
  wireEntry(byId('hand-value'), () => handleOf(drawing.held)?.label);
}

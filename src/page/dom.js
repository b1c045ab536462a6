// Small pieces for building the page. Text of a setup goes in as text nodes only.

// Marks that break lines or turn the direction of what stands behind them: never shown.
const turningMarks = /[\u2028-\u202e\u2066-\u2069]/g;

function plain(words) {
  return typeof words === 'string' ? words.replace(turningMarks, '') : words;
}

// "! the washer ...": behind the sign.
function capital(words) {
  return words.replace(/^(! )?./u, (begin) => begin.toUpperCase());
}

function byId(id) {
  return document.getElementById(id);
}

function element(tag, properties = {}, ...content) {
  const node = document.createElement(tag);
  for (const [name, value] of Object.entries(properties)) {
    if (name in node && name !== 'list') node[name] = value;
    else node.setAttribute(name, value);
  }
  node.append(...content.map(plain));
  return node;
}

function button(words, onclick, className = '') {
  return element('button', {type: 'button', className, onclick}, words);
}

function fill(id, ...content) {
  byId(id).replaceChildren(...content.map(plain));
}

function show(id, shown) {
  byId(id).hidden = !shown;
}

// A picture or sign drawn by the engine, which has escaped whatever the setup says. The policy of
// the page lets no script in it run.
function picture(markup) {
  const holder = document.createElement('template');
  holder.innerHTML = plain(markup);
  return holder.content;
}

// To be seen above everything until it is closed or said again.
function notice(key, words, ...more) {
  const old = document.querySelector(`[data-notice="${key}"]`);
  const close = button('Close', () => box.remove());
  const box = element('div', {className: 'note', 'data-notice': key, role: 'status'},
      element('p', {}, words), element('p', {className: 'row'}, ...more, close));
  if (old) old.replaceWith(box);
  else byId('notices').append(box);
  return box;
}

function noNotice(key) {
  document.querySelector(`[data-notice="${key}"]`)?.remove();
}

"""Scripts that measure how a page looks; each gives a list of what is found."""

TEXTS = """
const out = [];
const walker = document.createTreeWalker(document.getElementById('page'), NodeFilter.SHOW_TEXT);
for (let node; (node = walker.nextNode());) {
  const words = node.textContent.trim(), at = node.parentElement;
  if (!words || at.closest('.aloud, svg') || !at.checkVisibility({visibilityProperty: true}))
    continue;
  out.push([words.slice(0, 60), parseFloat(getComputedStyle(at).fontSize)]);
}
return out;"""

# Whatever must be pushed sideways or sticks out.
TOO_WIDE = """
const out = [], wide = document.documentElement.clientWidth;
if (document.scrollingElement.scrollWidth > wide) out.push('page');
for (const e of document.body.querySelectorAll('*')) {
  if (e.closest('svg, .aloud, .skip, dialog:not([open])') || !e.checkVisibility()) continue;
  const b = e.getBoundingClientRect();
  if (b.right > wide + 1 || b.left < -1) out.push(e.tagName + '.' + e.className + ' ' + b.right);
}
return out;"""

TAPS = """
const out = [];
const taps = '#page :is(button, select, input, summary, .button, .ring)';
for (const e of document.querySelectorAll(taps)) {
  if (!e.checkVisibility() || e.closest('.aloud') || e.type === 'file') continue;
  const at = (e.closest('.tick') || e).getBoundingClientRect();
  if (at.height < arguments[0] - 0.5)
    out.push(e.tagName + ' ' + (e.id || e.textContent) + ' ' + at.height);
}
return out;"""

# Ink against paper by WCAG 2's formula, for every element with text of its own outside pictures.
PALE = """
const lamp = (c) => {
  const [r, g, b] = c.match(/[\\d.]+/g).map((v) => (v /= 255) <= 0.04045 ? v / 12.92 :
      Math.pow((v + 0.055) / 1.055, 2.4));
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
};
const out = [];
for (const e of document.querySelectorAll('#page *')) {
  const own = [...e.childNodes].some((n) => n.nodeType === 3 && n.textContent.trim());
  if (!own || e.closest('svg, .aloud, :disabled') || !e.checkVisibility()) continue;
  let under = e;
  while (under && /rgba\\(0, 0, 0, 0\\)|transparent/.test(getComputedStyle(under).backgroundColor))
    under = under.parentElement;
  const a = lamp(getComputedStyle(e).color);
  const b = lamp(getComputedStyle(under || document.body).backgroundColor);
  const ratio = (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
  if (ratio < arguments[0]) out.push(e.textContent.slice(0, 40) + ' ' + ratio.toFixed(1));
}
return out;"""

// Puts the packed page into its shell: style, body and scripts. Its security policy knows the scripts
// by their hash, so that a damaged one does not run.

function unpackedFrom(id) {
  return unpackLzma(bytesOfLetters(document.getElementById(id).textContent));
}

let engineGlue = '';
let engineSum = 0;

function loadPage() {
  const page = JSON.parse(new TextDecoder().decode(unpackedFrom('packed-page')));
  engineGlue = page.glue;
  engineSum = page.engineSum;
  const script = document.createElement('script');
  script.textContent = page.script;
  document.body.append(script);
  if (typeof startPage !== 'function') throw new Error('its script is not the one that was packed');
  const style = document.createElement('style');
  style.textContent = page.style;
  document.head.append(style);
  document.body.insertAdjacentHTML('afterbegin', page.body);
  document.getElementById('shell-note').remove();
}

try {
  loadPage();
} catch (error) {
  document.getElementById('shell-note').textContent =
      `This copy of the page is damaged, or the browser older than 2023: ${error.message}.`;
}

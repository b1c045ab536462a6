// The page's engine under node, as the page's workers call it.

import {readFileSync} from 'node:fs';
import {createRequire} from 'node:module';

// `folder` holds thole_engine.js and thole_engine.wasm. Gives ask(what, text, request): an object.
export async function loadEngine(folder) {
  const createThole = createRequire(import.meta.url)(`${folder}/thole_engine.js`);
  const module = await WebAssembly.compile(readFileSync(`${folder}/thole_engine.wasm`));
  const engine = await createThole({
    instantiateWasm(imports, done) {
      WebAssembly.instantiate(module, imports).then((instance) => done(instance, module));
      return {};
    },
  });

  function inMemory(text) {
    const bytes = new TextEncoder().encode(text);
    const at = engine._malloc(bytes.length + 1);
    engine.HEAPU8.set(bytes, at);
    engine.HEAPU8[at + bytes.length] = 0;
    return at;
  }

  return (what, text = '', request = {}) => {
    const given = [what, text, JSON.stringify(request)].map(inMemory);
    const at = engine._thole_answer(...given);
    const words = engine.UTF8ToString(at);
    [at, ...given].forEach((one) => engine._free(one));
    return JSON.parse(words);
  };
}

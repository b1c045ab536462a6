// The code of a worker. Never run on the page: its text, behind that of the glue, makes a blob.
function inWorker() {
  let engine = null;
  let started = null;

  // Emscripten's ccall copies strings to a small stack; setups may be larger.
  function inMemory(text) {
    const bytes = new TextEncoder().encode(text);
    const at = engine._malloc(bytes.length + 1);
    engine.HEAPU8.set(bytes, at);
    engine.HEAPU8[at + bytes.length] = 0;
    return at;
  }

  function answer(what, text, request) {
    const given = [what, text, JSON.stringify(request)].map(inMemory);
    const at = engine._thole_answer(...given);
    const words = engine.UTF8ToString(at);
    [at, ...given].forEach(engine._free);
    return words;
  }

  async function start(module) {
    engine = await createThole({
      instantiateWasm(imports, done) {
        WebAssembly.instantiate(module, imports).then((instance) => done(instance, module));
        return {};
      },
    });
  }

  // What goes wrong here must end the worker, so that the page notices: hence the error is thrown
  // outside the promise.
  function fail(error) {
    setTimeout(() => { throw error; });
  }

  onmessage = ({data}) => {
    if (data.module) {
      started = start(data.module);
      started.catch(fail);
      return;
    }
    started.then(() => {
      postMessage({answer: answer(data.what, data.text, data.request)});
    }).catch(fail);
  };
}

// The engine: compiled once, run in workers, asked one question at a time.

// CRC-32 of ISO 3309, as zlib and PNG have it.
function sumOf(bytes) {
  const table = Uint32Array.from({length: 256}, (_, byte) => {
    let sum = byte;
    for (let i = 0; i < 8; i += 1) sum = sum >>> 1 ^ (sum & 1 ? 0xedb88320 : 0);
    return sum;
  });
  let sum = 0xffffffff;
  for (let i = 0; i < bytes.length; i += 1) sum = sum >>> 8 ^ table[(sum ^ bytes[i]) & 255];
  return ~sum >>> 0;
}

// An engine that was damaged on its way might run and calculate wrong figures.
async function unpackEngine() {
  const bytes = unpackedFrom('packed-engine');
  if (sumOf(bytes) !== engineSum) throw new Error('this copy of the page is damaged');
  return WebAssembly.compile(bytes);
}

function workerFrom(module) {
  const address = URL.createObjectURL(
      new Blob([engineGlue, `\n(${inWorker})();\n`], {type: 'text/javascript'}));
  const worker = new Worker(address);
  URL.revokeObjectURL(address);
  worker.postMessage({module});
  return worker;
}

// A trap or a full memory ends the worker; the answer then says so, and the next question gets a
// new worker.
const stoppedAnswer = {
  ok: false,
  stopped: true,
  problems: [{message: 'The engine stopped on this. Undo the last change, or save the file.'}],
};

class Bench {
  constructor(module) {
    this.module = module;
    this.worker = null;
    this.asked = null;
    this.waiting = [];
    this.onprogress = null;
  }

  // One question after the other. A question with a `key` takes the place of one that still waits
  // with the same key: the newest wins.
  ask(what, text, request = {}, key = null) {
    return new Promise((done) => {
      if (key) {
        this.waiting.filter((other) => other.key === key).forEach((other) => other.done(null));
        this.waiting = this.waiting.filter((other) => other.key !== key);
      }
      this.waiting.push({question: {what, text, request}, key, done});
      this.next();
    });
  }

  get busy() {
    return Boolean(this.asked) || this.waiting.length > 0;
  }

  next() {
    if (this.asked || this.waiting.length === 0) return;
    if (!this.worker) this.begin();
    this.asked = this.waiting.shift();
    this.worker.postMessage(this.asked.question);
  }

  begin() {
    this.worker = workerFrom(this.module);
    this.worker.onmessage = ({data}) => {
      if (data.answer) this.finish(JSON.parse(data.answer));
      else if (data.progress && this.onprogress) this.onprogress(data.progress);
    };
    this.worker.onerror = (event) => {
      event.preventDefault();
      this.end();
      this.finish(stoppedAnswer);
    };
  }

  finish(answer) {
    const asked = this.asked;
    this.asked = null;
    if (asked) asked.done(answer);
    this.next();
  }

  end() {
    if (this.worker) this.worker.terminate();
    this.worker = null;
  }

  // Gives up what is asked and what waits; those who asked get null.
  stop() {
    this.end();
    const all = [this.asked, ...this.waiting].filter(Boolean);
    this.asked = null;
    this.waiting = [];
    all.forEach((one) => one.done(null));
  }
}

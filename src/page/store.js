// Work that survives a reload, where the browser keeps anything for pages opened from a file.

const storeKey = 'thole.work';

function keepWork(work) {
  try {
    localStorage.setItem(storeKey, JSON.stringify(work));
    return true;
  } catch {
    return false;
  }
}

function keptWork() {
  try {
    const work = JSON.parse(localStorage.getItem(storeKey));
    return work && typeof work.text === 'string' ? work : null;
  } catch {
    return null;
  }
}

function dropWork() {
  try {
    localStorage.removeItem(storeKey);
  } catch {
    return;
  }
}

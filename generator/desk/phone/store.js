// What this phone keeps, in its own database, which outlives a browser that is
// killed: entries, photos by number, and a few words to remember. Where there is no
// database, memory has to do, and lasts is false.
//
// An entry: {id, machine, name, state, fields, photos: [{n, alt, private}], text, begun,
// saved, says, found, machines, rev, base, writer}. It is a draft until it is saved, then it is
// waiting until it is sent, or refused with what is wrong with it.
// A photo: {n, entry, name, written, data: Blob, id, refused}.
const stores = {entries: {keyPath: "id"}, photos: {keyPath: "n", autoIncrement: true}, words: {keyPath: "word"}};
const memory = Object.fromEntries(Object.keys(stores).map(name => [name, new Map()]));
const base = "asleft-phone";
export const kept = {lasts: true};

let open = null, db = null, next = 1;
function database() {
  if (!open) {
    open = new Promise((done, fail) => {
      const ask = indexedDB.open(base, 1);
      ask.onupgradeneeded = () => { for (const [name, how] of Object.entries(stores)) ask.result.createObjectStore(name, how); };
      ask.onerror = () => fail(ask.error);
      // A page that was left in the middle of this can hold it up for good.
      const late = setTimeout(() => { open = null; fail(new Error("late")); }, 3000);
      ask.onsuccess = () => { clearTimeout(late); done(db = ask.result); };
    });
  }
  return open;
}
// A page that is left lets go, for the next one to begin with.
addEventListener("pagehide", () => {
  if (open) open.then(d => d.close(), () => {});
  open = db = null;
});

// The database is opened only once there is one, or something to be put there: a page
// that is left while it is being made holds up the next page's for good.
let made = null;
function isMade() {
  if (made) return made;
  made = indexedDB.databases ? indexedDB.databases().then(all => all.some(d => d.name === base), () => true) : Promise.resolve(true);
  return made;
}

async function act(name, mode, what, instead) {
  try {
    const d = db || await database(); // at once where it is open: the page may be left in this moment
    return await new Promise((done, fail) => {
      const t = d.transaction(name, mode);
      let ask = null;
      what(t.objectStore(name), a => { ask = a; });
      t.oncomplete = () => done(ask.result);
      t.onerror = t.onabort = () => fail(t.error);
      setTimeout(() => fail(new Error("late")), 8000);
    });
  } catch (e) {
    if (mode === "readwrite") kept.lasts = false;
    return instead(memory[name]);
  }
}

function write(name, one) {
  made = Promise.resolve(true);
  const key = stores[name].keyPath;
  return act(name, "readwrite", (s, last) => last(s.put(one)), m => {
    one[key] = one[key] || -(next++);
    m.set(one[key], one);
    return one[key];
  }).then(n => { one[key] = n; return n; });
}

const all = name => isMade().then(there => there ? act(name, "readonly", (s, last) => last(s.getAll()), () => []) : []).then(found => found.concat([...memory[name].values()]));
const drop = (name, key) => { memory[name].delete(key); return isMade().then(there => there && act(name, "readwrite", (s, last) => last(s.delete(key)), () => {})); };

export function newID() {
  return [...crypto.getRandomValues(new Uint8Array(16))].map(n => n.toString(16).padStart(2, "0")).join("");
}

// page is this page's own mark on what it writes.
const page = newID();

// keepEntry keeps an entry. Where another page has changed it meanwhile, this is one
// more, under an id of its own: nobody's words are lost.
export async function keepEntry(entry) {
  made = Promise.resolve(true);
  const put = {...entry, rev: (entry.rev || 0) + 1, writer: page};
  const other = entry.other = entry.other || newID();
  delete put.other;
  await act("entries", "readwrite", (s, last) => {
    const look = s.get(entry.id);
    last(look);
    look.onsuccess = () => {
      if (!ours(look.result, put)) put.id = other;
      else s.delete(other);
      s.put(put);
    };
  }, m => { m.set(put.id, put); });
  entry.rev = put.rev;
  if (put.id === other) Object.assign(entry, {id: other, other: ""});
}

// ours tells whether what is there was written by this page, or is what it began with.
const ours = (there, put) => !there || there.writer === put.writer || there.rev === (put.base || 0);

// leaveEntry keeps an entry as its page is left, when nothing can be looked up any
// more: beside what is there, for settle to put in its place. What the database is given
// in this moment may not come to be; what localStorage takes is there when this returns,
// and is lost only with a browser that is killed, which leaves no page.
export function leaveEntry(entry) {
  const put = {...entry, id: entry.other = entry.other || newID(), after: entry.id, rev: (entry.rev || 0) + 1, writer: page};
  delete put.other;
  try {
    localStorage.setItem(left + put.id, JSON.stringify(put));
  } catch {
    act("entries", "readwrite", (s, last) => last(s.put(put)), m => { m.set(put.id, put); });
  }
}

// left is what the names of entries begin with that pages kept as they were left.
const left = "asleft-left-";

// takeLeft brings them into the database.
async function takeLeft() {
  const names = [];
  try {
    names.push(...Object.keys(localStorage).filter(name => name.startsWith(left)));
  } catch { /* there is none */ }
  for (const name of names) {
    const put = JSON.parse(localStorage.getItem(name));
    made = Promise.resolve(true);
    await act("entries", "readwrite", (s, last) => last(s.put(put)), m => { m.set(put.id, put); });
    localStorage.removeItem(name);
  }
}

// settle puts what pages kept as they were left in the place of what it goes on from,
// unless another page has changed that.
export async function settle() {
  await takeLeft();
  if (!await isMade()) return;
  await act("entries", "readwrite", (s, last) => {
    const look = s.getAll();
    last(look);
    look.onsuccess = () => {
      for (const e of look.result) {
        if (!e.after) continue;
        const there = look.result.find(x => x.id === e.after), beside = e.id;
        if (ours(there, e)) {
          e.id = e.after;
          s.delete(beside);
        }
        delete e.after;
        s.put(e);
      }
    };
  }, () => {});
}

// change keeps an entry, or drops it where to is null, as long as no other page has
// changed it since it was read here.
export async function change(entry, to) {
  let same = false;
  await act("entries", "readwrite", (s, last) => {
    const look = s.get(entry.id);
    last(look);
    look.onsuccess = () => {
      same = !!look.result && look.result.rev === entry.rev;
      if (same && to) s.put(Object.assign(to, {rev: entry.rev + 1, base: entry.rev + 1, writer: page}));
      if (same && (!to || to.id !== entry.id)) s.delete(entry.id);
    };
  }, m => {
    same = true;
    m.delete(entry.id);
    if (to) m.set(to.id, to);
  });
  if (same && !to) await dropPhotos(entry.photos.map(p => p.n));
  return same;
}

export const entries = () => all("entries").then(found => found.map(e => ({...e, base: e.rev})).sort((a, b) => (a.saved || a.begun) - (b.saved || b.begun)));
export const photos = () => all("photos");
export const keepPhoto = photo => write("photos", photo);

// dropPhotos drops those that no entry needs.
export async function dropPhotos(numbers) {
  const needed = new Set((await all("entries")).flatMap(e => e.photos.map(p => p.n)));
  for (const p of await photos()) if (numbers.includes(p.n) && !needed.has(p.n)) await drop("photos", p.n);
}
export const word = async name => ((await all("words")).find(w => w.word === name) || {}).is;
export const keepWord = (name, is) => write("words", {word: name, is});

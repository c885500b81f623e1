// The bench page's script. The page works without it; with it nothing is lost
// when the connection is: what is typed is kept as it is typed, photos go up in
// pieces and go on where they were cut off, and an entry that cannot be sent
// waits on this phone until it can.
(() => {
  "use strict";
  const say = document.body.dataset;
  const line = document.getElementById("line");

  // ---- What this phone keeps, in its own database: photos by number, and
  // entries that wait. Where there is none, memory has to do.
  const store = (() => {
    let open = null;
    const memory = {photos: new Map(), waiting: new Map()};
    let next = 1;
    function base() {
      if (!open) {
        open = new Promise((done, fail) => {
          const ask = indexedDB.open("asleft-bench", 1);
          ask.onupgradeneeded = () => {
            ask.result.createObjectStore("photos", {keyPath: "n", autoIncrement: true});
            ask.result.createObjectStore("waiting", {keyPath: "n", autoIncrement: true});
          };
          ask.onerror = () => fail(ask.error);
          // A page that was left in the middle of this can hold it up for good.
          const late = setTimeout(() => { open = null; fail(new Error("late")); }, 1500);
          ask.onsuccess = () => { clearTimeout(late); done(ask.result); };
        });
      }
      return open;
    }
    // A page that is left lets go, for the next one to begin with.
    addEventListener("pagehide", () => {
      if (open) open.then(db => db.close(), () => {});
      open = null;
    });
    function act(name, mode, what, instead) {
      return base().then(db => new Promise((done, fail) => {
        const t = db.transaction(name, mode), ask = what(t.objectStore(name));
        t.oncomplete = () => done(ask.result);
        t.onerror = t.onabort = () => fail(t.error);
        setTimeout(() => fail(new Error("late")), 4000);
      })).catch(() => instead(memory[name]));
    }
    // The database is opened only once there is something in it, or to be put
    // there: a page that is left while its database is being made holds up the
    // next page's for good.
    const used = () => { try { return localStorage.getItem("asleft-kept") === "yes"; } catch (e) { return false; } };
    const use = () => { try { localStorage.setItem("asleft-kept", "yes"); } catch (e) { /* forbidden */ } };
    return {
      put: (name, one) => { use(); return store.write(name, one); },
      write: (name, one) => act(name, "readwrite", s => s.put(one), m => { one.n = one.n || -(next++); m.set(one.n, one); return one.n; }).then(n => { one.n = n; return n; }),
      all: name => (used() ? act(name, "readonly", s => s.getAll(), () => []) : Promise.resolve([])).then(kept => kept.concat([...memory[name].values()])),
      drop: (name, n) => act(name, "readwrite", s => s.delete(n), m => m.delete(n)).then(() => { memory[name].delete(n); }),
    };
  })();

  function element(name, attributes, ...inside) {
    const e = Object.assign(document.createElement(name), attributes);
    e.append(...inside);
    return e;
  }

  class Cut extends Error {} // the line is cut; try again later
  class Unpaired extends Error {}

  async function ask(url, options, seconds) {
    const stop = new AbortController();
    const late = setTimeout(() => stop.abort(), seconds * 1000);
    let answer;
    try {
      answer = await fetch(url, {...options, signal: stop.signal, cache: "no-store"});
    } catch (e) {
      throw new Cut();
    } finally {
      clearTimeout(late);
    }
    if (answer.status === 401) throw new Unpaired();
    if (answer.status >= 502) throw new Cut();
    return answer;
  }

  async function json(answer) {
    try { return await answer.json(); } catch (e) { throw new Cut(); }
  }

  // ---- A photo in pieces. photo: {n, name, written, data: Blob, id, refused}.
  async function upload(photo, tell) {
    for (;;) {
      let state = null;
      if (photo.id) {
        const answer = await ask("/bench/photo/" + photo.id, {}, 20);
        if (answer.status === 200) state = await json(answer); else photo.id = "";
      }
      if (!photo.id) {
        const answer = await ask("/bench/photo", {method: "POST", body: new URLSearchParams({name: photo.name, size: photo.data.size, written: photo.written})}, 20);
        state = await json(answer);
        if (answer.status !== 201) { photo.refused = state.says || answer.statusText; return; }
        photo.id = state.id;
        await store.put("photos", photo);
      }
      let have = state.have, piece = state.piece || 262144;
      if (state.whole) return;
      while (have < photo.data.size) {
        if (tell) tell(have / photo.data.size);
        const bytes = await photo.data.slice(have, have + piece).arrayBuffer();
        const answer = await ask("/bench/photo/" + photo.id + "?at=" + have, {method: "POST", body: bytes, headers: {"Content-Type": "application/octet-stream"}}, 60);
        if (answer.status === 404) { photo.id = ""; break; }
        const news = await json(answer);
        if (answer.status === 422 || answer.status === 413) { photo.refused = news.says || answer.statusText; photo.id = ""; return; }
        if (answer.status !== 200 && answer.status !== 409) throw new Cut();
        have = news.have;
        if (news.whole) return;
      }
    }
  }

  // ---- An entry: its fields, and the photos that go with it.
  // Returns the page that came back where there is something to mend.
  async function send(entry, photos, tell) {
    for (let tries = 0; ; tries++) {
      const body = new URLSearchParams(entry.fields);
      for (const p of photos) {
        if (p.refused) continue; // and that was said
        await upload(p, tell && (part => tell(p, part)));
        if (p.refused && tell) return {refused: p};
        if (p.refused) continue;
        body.append("photo-id", p.id);
        body.append("photo-alt", p.alt || "");
        if (p.private) body.append("photo-private", p.id);
      }
      body.set("do", entry.anyway ? "save-anyway" : "save");
      const answer = await ask("/bench/m/" + entry.machine, {method: "POST", body}, 30);
      const text = await answer.text().catch(() => { throw new Cut(); });
      const page = new DOMParser().parseFromString(text, "text/html");
      if (answer.status === 409 && tries < 3) { for (const p of photos) p.id = ""; continue; }
      return {ok: answer.ok, page};
    }
  }

  // ---- What waits goes out when it can.
  let draining = false, waits = 2;
  async function drain() {
    if (draining) return;
    draining = true;
    try {
      const waiting = await store.all("waiting");
      const kept = waiting.length ? await store.all("photos") : [];
      for (const entry of waiting) {
        line.textContent = say.sending;
        const photos = entry.photos.flatMap(a => kept.filter(p => p.n === a.n).map(p => Object.assign(p, a)));
        // Nobody is there to mend it now: what is odd in it is mended at the desk.
        entry.anyway = true;
        const {ok} = await send(entry, photos);
        if (!ok) { line.textContent = say.failed; return; }
        await store.drop("waiting", entry.n);
        // One that was refused stays, and is shown with the next form.
        for (const p of photos) if (!p.refused) await store.drop("photos", p.n);
        line.textContent = say.sent;
      }
      waits = 2;
    } catch (e) {
      if (e instanceof Unpaired) { unpaired(); return; }
      line.textContent = say.kept;
      setTimeout(drain, waits * 1000);
      waits = Math.min(waits * 2, 30);
    } finally {
      draining = false;
    }
  }
  addEventListener("online", () => { waits = 2; drain(); });

  function unpaired() {
    line.replaceChildren(say.unpaired + " ", element("a", {href: "/bench/pair", textContent: "/bench/pair"}));
  }

  // ---- The form.
  function begin() {
    const form = document.getElementById("entry");
    if (!form) return;
    const machine = form.dataset.machine, draft = "asleft-draft-" + machine;
    let photos = [];

    // What was typed for bench tests that this page does not show.
    let unshown = [];
    const fields = () => [...new FormData(form)].filter(([name, value]) => typeof value === "string" && name !== "do").concat(unshown);
    const about = () => photos.map(({n, alt, private: hidden}) => ({n, alt, private: hidden}));
    // Text is kept where it is kept at once, even when the page is closed.
    function keep() {
      if (!form.isConnected) return;
      try {
        localStorage.setItem(draft, JSON.stringify({fields: fields(), photos: about()}));
        localStorage.setItem("asleft-by", form.elements.by.value);
      } catch (e) { /* full, or forbidden */ }
    }
    const forget = () => { try { localStorage.removeItem(draft); } catch (e) { /* forbidden */ } };
    const kept = (() => { try { return JSON.parse(localStorage.getItem(draft)); } catch (e) { return null; } })() || {fields: [], photos: []};

    // One more row of a list: a copy of the last one, empty.
    function more(list) {
      const rows = form.querySelector("#" + list + " .rows");
      const row = rows.lastElementChild.cloneNode(true), n = rows.children.length;
      for (const e of row.querySelectorAll("input:not([type=radio])")) e.value = "";
      // A choice is numbered by its row, and nobody has made it yet.
      for (const e of row.querySelectorAll("input[type=radio]")) {
        const label = row.querySelector(`label[for="${e.id}"]`);
        e.name = e.name.replace(/\d+$/, n);
        e.id = label.htmlFor = e.name + "-" + e.value;
        e.checked = false;
      }
      for (const e of row.querySelectorAll("select")) e.selectedIndex = 0;
      rows.append(row);
      return row;
    }

    // A field that somebody has typed in since the page came is left alone.
    function put(field, value) {
      if (!field || field.name === "date" && !value) return;
      if (field.localName === "select" || field.value === field.defaultValue) field.value = value;
    }

    // What was kept goes back in, lists as long as they were.
    function restore() {
      const by = (() => { try { return localStorage.getItem("asleft-by") || ""; } catch (e) { return ""; } })();
      if (!form.elements.by.value) form.elements.by.value = by;
      const values = new Map();
      for (const [name, value] of kept.fields) values.set(name, (values.get(name) || []).concat([value]));
      for (const rows of form.querySelectorAll(".rows")) {
        const first = rows.querySelector("input");
        const n = (values.get(first.name) || []).length;
        while (rows.children.length < n) more(rows.parentElement.id);
      }
      for (const [name, all] of values) {
        if (name.startsWith("photo-")) continue;
        const at = [...form.querySelectorAll("[name]")].filter(e => e.name === name);
        if (at.length && (at[0].type === "radio" || at[0].type === "checkbox")) for (const e of at) e.checked = all.includes(e.value);
        else if (name !== "mend" && !name.startsWith("item-")) all.forEach((value, i) => put(at[i], value));
      }
      for (const d of form.querySelectorAll("details")) {
        if ([...d.querySelectorAll("input:not([type=hidden]):not([type=radio]):not([type=checkbox]), input[type=radio]:checked")].some(e => e.value)) d.open = true;
      }
    }

    const two = n => String(n).padStart(2, "0");
    const today = () => { const d = new Date(); return d.getFullYear() + "-" + two(d.getMonth() + 1) + "-" + two(d.getDate()); };
    const now = () => { const d = new Date(); return two(d.getHours()) + ":" + two(d.getMinutes()); };
    function running() {
      const rows = [...form.querySelectorAll("#work .row")], last = rows[rows.length - 1];
      return last.querySelector("[name=from]").value && !last.querySelector("[name=to]").value ? last : null;
    }
    function clock() { document.getElementById("clock").classList.toggle("running", !!running()); }
    function start() {
      if (running()) return;
      let rows = form.querySelectorAll("#work .row"), last = rows[rows.length - 1];
      if (last.querySelector("[name=from]").value) last = more("work");
      last.querySelector("[name=from]").value = now();
      form.querySelector("#work").open = true;
    }
    function stop() {
      const row = running();
      if (!row) return;
      const from = row.querySelector("[name=from]"), to = row.querySelector("[name=to]");
      if (from.value === now()) from.value = ""; // less than a minute is no work
      else to.value = now();
    }

    // Photos that were picked: kept at once, sent in the background. What is
    // kept is plain data; what stands on the page for it is in boxes.
    const held = document.getElementById("held"), boxes = new Map();
    function show(photo) {
      if (photo.id) for (const e of held.querySelectorAll('input[name="photo-id"]')) if (e.value === photo.id) e.parentElement.remove();
      const box = element("div", {className: "photo"});
      const pic = element("img", {alt: "", src: URL.createObjectURL(photo.data)});
      pic.onload = () => URL.revokeObjectURL(pic.src);
      const text = element("input", {value: photo.alt, autocomplete: "off", oninput: () => { photo.alt = text.value; }});
      const tick = element("input", {type: "checkbox", checked: photo.private, onchange: () => { photo.private = tick.checked; keep(); }});
      const drop = element("button", {type: "button", textContent: say.drop, onclick: () => {
        photos = photos.filter(p => p !== photo);
        box.remove();
        store.drop("photos", photo.n);
        keep();
      }});
      const state = element("span", {});
      box.append(pic, state, element("label", {}, say.alt, text), element("label", {className: "tick"}, tick, say.private), drop);
      held.append(box);
      boxes.set(photo, state);
      tell(photo, 0);
    }
    function tell(photo, part) {
      boxes.get(photo).textContent = photo.refused || (part < 1 ? say.part + " " + Math.floor(part * 100) + " %" : say.whole);
    }

    let sending = Promise.resolve(), saving = false;
    function up(photo) {
      sending = sending.then(async () => {
        if (saving || !photos.includes(photo)) return;
        try {
          await upload(photo, part => tell(photo, part));
          tell(photo, 1);
        } catch (e) {
          if (e instanceof Cut) setTimeout(() => up(photo), 3000);
        }
      });
    }

    let storing = Promise.resolve();
    function pick() {
      const files = [...form.elements.photo.files];
      if (!files.length) return;
      form.elements.photo.value = "";
      for (const file of files) {
        const photo = {machine, name: file.name, written: file.lastModified, data: file, alt: "", private: false, id: "", refused: ""};
        photos.push(photo);
        show(photo);
        storing = storing.then(() => store.put("photos", photo)).then(() => up(photo));
      }
    }
    form.elements.photo.addEventListener("change", pick);
    form.querySelector("button[value=photos]").hidden = true;

    form.addEventListener("input", keep);
    // An answer that was tapped by mistake goes with a second tap.
    form.addEventListener("click", e => {
      const label = e.target.closest(".choices label"), radio = label && document.getElementById(label.htmlFor);
      if (!radio || !radio.checked) return;
      e.preventDefault();
      radio.checked = false;
      keep();
    });
    form.addEventListener("submit", async e => {
      const what = e.submitter ? e.submitter.value : "";
      const turns = what.startsWith("drop-test-") || what.startsWith("add-test-") || what === "find-tests";
      if (what.startsWith("drop-") && !turns) return; // of a photo that came without the script
      e.preventDefault();
      if (turns) { await turn(what); return; }
      if (what === "start") start();
      else if (what === "stop") stop();
      else if (what.startsWith("more-") && what !== "more-nothing") more(what.slice(5)).querySelector("input").focus();
      else if (what === "save" || what === "save-anyway") await save(e.submitter, what === "save-anyway");
      keep();
      clock();
    });

    // A defect of which nobody says if it can hurt someone is not saved: asked now,
    // it need not come back from the shop's computer, or wait on this phone.
    const always = ["guards", "brakes", "steering"];
    const unsaid = () => [...form.querySelectorAll("#defects .row")].find(row =>
      row.querySelector("[name=defect]").value && !always.includes(row.querySelector("[name=defect-system]").value) && !row.querySelector("input[type=radio]:checked"));

    // What the shop's computer knows and this page does not: the bench tests.
    async function turn(what, part = "tests") {
      keep();
      if (saving) return;
      saving = true;
      await sending;
      const body = new URLSearchParams(fields());
      body.set("do", what);
      try {
        const answer = await ask("/bench/m/" + machine, {method: "POST", body}, 20);
        const page = new DOMParser().parseFromString(await answer.text().catch(() => { throw new Cut(); }), "text/html");
        if (!page.querySelector("#entry")) throw new Cut();
        line.textContent = "";
        // What was taken out there is not to come back from what is kept here.
        const came = new Set([...page.querySelectorAll("#entry [name]")].map(e => e.name));
        const left = fields().filter(([name]) => came.has(name) && name !== "find");
        try { localStorage.setItem(draft, JSON.stringify({fields: left, photos: about()})); } catch (e) { /* full, or forbidden */ }
        take(page, location.pathname, part);
      } catch (e) {
        saving = false;
        photos.forEach(up);
        if (e instanceof Unpaired) { unpaired(); return; }
        if (!(e instanceof Cut)) throw e;
        line.textContent = say.cut;
      }
    }

    async function save(button, anyway) {
      const asked = unsaid();
      if (asked) {
        form.querySelector("#defects").open = true;
        asked.querySelector("input[type=radio]").focus();
        line.textContent = say.hurt;
        return;
      }
      button.disabled = saving = true;
      line.textContent = say.sending;
      await storing;
      // However late it is sent, the entry says when it was written.
      const {time, date} = form.elements;
      if (!time.value && date.value === today() && !form.querySelector("#work [name=from]").value) time.value = now();
      const entry = {machine, fields: fields(), anyway, photos: about()};
      try {
        await sending;
        const {ok, page, refused} = await send(entry, photos, tell);
        if (refused) {
          tell(refused, 1);
          line.textContent = refused.refused;
          button.disabled = saving = false;
          return;
        }
        if (!page.querySelector("main")) throw new Error("not a page of ours");
        line.textContent = "";
        if (ok) {
          for (const p of photos) await store.drop("photos", p.n);
          forget();
        }
        take(page, ok ? "/bench/" : location.pathname);
      } catch (e) {
        button.disabled = saving = false;
        if (e instanceof Unpaired) { unpaired(); return; }
        if (!(e instanceof Cut)) { line.textContent = say.failed; throw e; }
        await store.put("waiting", entry);
        forget();
        form.remove();
        line.textContent = say.kept;
        setTimeout(drain, 1000);
      }
    }

    // Photos of an earlier visit that were not sent.
    store.all("photos").then(async all => {
      const waiting = new Set((await store.all("waiting")).flatMap(w => w.photos.map(p => p.n)));
      for (const p of all) {
        if (p.machine !== machine || waiting.has(p.n) || photos.some(o => o.n === p.n)) continue;
        photos.push(Object.assign(p, kept.photos.find(k => k.n === p.n)));
        show(p);
        up(p);
      }
    });
    restore();
    unshown = kept.fields.filter(([name]) => name.startsWith("test-") && !form.elements[name]);
    if (unshown.length) turn("find-tests", "");
    clock();
    pick(); // what was picked before this script was here
  }

  // take shows a page that came as an answer.
  function take(page, at, part) {
    document.querySelector("main").replaceWith(document.importNode(page.querySelector("main"), true));
    history.replaceState(null, "", at);
    scrollTo(0, 0);
    begin();
    if (!part) return;
    const here = document.getElementById(part);
    here.open = true;
    here.scrollIntoView();
  }

  begin();
  drain();
})();

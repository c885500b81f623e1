// The form of an entry: what is typed is kept as it is typed, photos go up in pieces
// in the background, and an entry that cannot be sent waits.
import * as store from "./store.js";
import {say, Cut, Unpaired, ask, upload, drain, tellLine, element} from "./send.js";
import {show as listWaiting} from "./waiting.js";

// found is the entry that this page goes on with: the one that its address names, the
// one that the form is of, or the last one of the machine that was not saved.
async function found(form) {
  const ours = [form.dataset.machine, ...form.dataset.was.split(" ")];
  const all = (await store.entries()).filter(e => ours.includes(e.machine));
  const named = all.find(e => "#" + e.id === location.hash);
  if (named && named.state === "waiting") await store.keepEntry(Object.assign(named, {state: "draft"})); // it does not go out meanwhile
  return named || all.find(e => e.state !== "waiting" && e.id === form.elements.id.value) || all.filter(e => e.state === "draft").pop();
}

export async function begin() {
  const form = document.getElementById("entry");
  if (!form) return;
  const machine = form.dataset.machine;
  const kept = await found(form) || {id: form.elements.id.value, fields: [], photos: [], begun: Date.now()};
  const entry = Object.assign(kept, {machine, name: form.dataset.name});
  form.elements.id.value = entry.id;
  // What was typed before this script was ready.
  const touched = [...form.elements].some(e => ["text", "textarea", "date", "time"].includes(e.type) && e.value !== e.defaultValue);
  let photos = [];

  // What was typed for bench tests that this page does not show.
  let unshown = [];
  const fields = () => [...new FormData(form)].filter(([name, value]) => typeof value === "string" && name !== "do").concat(unshown);
  const about = () => photos.map(({n, alt, private: hidden}) => ({n, alt, private: hidden}));

  // What was filled in, as a person would read it.
  function text() {
    const lines = [], given = [];
    for (const e of form.querySelectorAll("input, textarea, select")) {
      const choice = e.type === "radio" || e.type === "checkbox";
      if (e.name === "find" || (choice ? !e.checked : !e.value || ["hidden", "file"].includes(e.type) || e.localName === "select" && e.selectedIndex < 1)) continue;
      const label = e.labels && e.labels[0], legend = e.closest("fieldset") && e.closest("fieldset").querySelector("legend");
      const name = label ? [...label.childNodes].filter(n => n.nodeType === 3).map(n => n.data).join(" ").trim() : "";
      if (choice && legend) lines.push(legend.textContent.trim() + ": " + name);
      else (["date", "time", "by"].includes(e.name) ? given : lines).push(name + ": " + (e.localName === "select" ? e.selectedOptions[0].text : e.value));
    }
    lines.push(...unshown.filter(([name, value]) => value && name.includes("-in-")).map(([name, value]) => name.split("-in-")[1] + ": " + value));
    return lines.length ? given.concat(lines).join("\n") : "";
  }

  // Each change is kept at once; what comes while one is on its way to the disk goes
  // there together, and at the latest when the page is left.
  let keeping = null, changed = false, over = false;
  function keep() {
    if (!form.isConnected || over) return;
    changed = true;
    if (!keeping) keeping = keepOn().finally(() => { keeping = null; });
  }
  function keepNow() {
    changed = false;
    Object.assign(entry, {state: "draft", fields: fields(), photos: about(), text: text()});
    return store.keepEntry(entry);
  }
  async function keepOn() {
    while (changed && !over) await keepNow();
    form.elements.id.value = entry.id;
    if (!store.kept.lasts) listWaiting(entry.id);
  }
  // Before the database is let go.
  addEventListener("pagehide", () => {
    if ((!keeping && !changed) || over || !form.isConnected) return;
    Object.assign(entry, {state: "draft", fields: fields(), photos: about(), text: text()});
    store.leaveEntry(entry);
  }, {capture: true});
  form.addEventListener("change", () => store.keepWord("by", form.elements.by.value), {passive: true});

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
  function restore(by) {
    if (!form.elements.by.value) form.elements.by.value = by || "";
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
    const text = element("input", {value: photo.alt, autocomplete: "off", oninput: () => { photo.alt = text.value; keep(); }});
    const tick = element("input", {type: "checkbox", checked: photo.private, onchange: () => { photo.private = tick.checked; keep(); }});
    const drop = element("button", {type: "button", textContent: say.drop, onclick: async () => {
      photos = photos.filter(p => p !== photo);
      box.remove();
      keep();
      await keeping;
      store.dropPhotos([photo.n]);
    }});
    const state = element("span", {});
    box.append(pic, state, element("label", {}, say.alt, text), element("label", {className: "tick"}, tick, say.private), drop);
    held.append(box);
    boxes.set(photo, state);
    if (photo.n) tell(photo, 0);
  }
  function tell({n}, part) {
    const photo = photos.find(p => p.n === n);
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
      const photo = {machine, entry: entry.id, name: file.name, written: file.lastModified, data: file, alt: "", private: false, id: "", refused: ""};
      photos.push(photo);
      show(photo);
      storing = storing.then(() => store.keepPhoto(photo)).then(() => { keep(); tell(photo, 0); up(photo); });
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
      const answer = await ask("/bench/m/" + encodeURIComponent(machine), {method: "POST", body}, 20);
      const page = new DOMParser().parseFromString(await answer.text().catch(() => { throw new Cut(); }), "text/html");
      if (!page.querySelector("#entry")) throw new Cut();
      tellLine();
      // What was taken out there is not to come back from what is kept here.
      const came = new Set([...page.querySelectorAll("#entry [name]")].map(e => e.name));
      over = true;
      await keeping;
      Object.assign(entry, {state: "draft", fields: fields().filter(([name]) => came.has(name) && name !== "find"), photos: about(), text: text()});
      await store.keepEntry(entry);
      await take(page, location.pathname + location.hash, part);
    } catch (e) {
      saving = over = false;
      photos.forEach(up);
      if (e instanceof Unpaired) { tellLine(say.unpaired + " ", element("a", {href: "/bench/pair", textContent: say.letIn})); return; }
      if (!(e instanceof Cut)) throw e;
      tellLine(say.cut);
    }
  }

  // What is wrong stands at the top, and at its field.
  function tellWrong(says = [], found = []) {
    for (const e of document.querySelectorAll("main > .note, main > .found, .wrong, button[value=save-anyway]")) e.remove();
    for (const e of form.querySelectorAll("[aria-invalid]")) { e.removeAttribute("aria-invalid"); e.removeAttribute("aria-describedby"); }
    let first = null;
    found.forEach(({field, row, says, mend}, n) => {
      const all = [...form.querySelectorAll("[name]")].filter(e => e.name === field), at = all[row] || all[0];
      if (!at) return;
      const told = element("p", {className: "wrong", id: "wrong-" + n}, element("strong", {textContent: says}), mend);
      for (let d = at.closest("details"); d; d = d.parentElement.closest("details")) d.open = true;
      (at.closest(".choices") || at.closest("label") || at).after(told);
      at.setAttribute("aria-invalid", "true");
      at.setAttribute("aria-describedby", told.id);
      first = first || at;
    });
    for (const text of says) form.before(element("p", {className: "note", role: "alert", textContent: text}));
    if (!found.length) return;
    form.before(element("section", {className: "found", role: "alert", ariaLabel: say.found}, element("h2", {textContent: say.found}),
      element("ul", {}, ...found.map(f => element("li", {}, element("strong", {textContent: f.says}), ...(f.line ? [element("code", {textContent: f.line})] : []), f.mend)))));
    form.querySelector(".foot").append(element("button", {name: "do", value: "save-anyway", className: "plain", textContent: say.anyway}));
    if (first) first.focus();
  }

  async function save(button, anyway) {
    const asked = unsaid();
    if (asked) {
      form.querySelector("#defects").open = true;
      asked.querySelector("input[type=radio]").focus();
      tellLine(say.hurt);
      return;
    }
    button.disabled = saving = true;
    tellLine(say.sending);
    await storing;
    await sending;
    // However late it is sent, the entry says when it was written.
    const {time, date} = form.elements;
    if (!time.value && date.value === today() && !form.querySelector("#work [name=from]").value) time.value = now();
    over = true;
    await keeping;
    Object.assign(entry, {state: "waiting", saved: Date.now(), fields: fields(), photos: about(), text: text(), says: [], found: []});
    await store.keepEntry(entry);
    try {
      const news = await drain({id: entry.id, anyway, tell});
      if (news.saved) {
        await leave(news);
        return;
      }
      Object.assign(entry, news.entry);
      form.elements.id.value = entry.id;
      tellLine();
      for (const {n, id, refused} of await store.photos()) {
        const photo = photos.find(p => p.n === n);
        if (!photo) continue;
        Object.assign(photo, {id, refused});
        if (refused) tell(photo, 1);
      }
      tellWrong(entry.says, entry.found);
      button.disabled = saving = over = false;
      if (entry.machines.length) { // the list asks which machine it is of
        await store.change(news.entry, Object.assign(entry, {state: "refused"}));
        form.remove();
      }
    } catch (e) {
      form.remove(); // it waits, and is listed
      if (!(e instanceof Cut || e instanceof Unpaired)) { tellLine(say.failed); throw e; }
    }
    listWaiting(form.isConnected ? entry.id : "");
  }

  // leave shows the list of machines, which tells what was saved.
  async function leave(news) {
    form.remove();
    try {
      const page = new DOMParser().parseFromString(await (await ask("/bench/", {}, 20)).text(), "text/html");
      if (!page.querySelector(".note")) throw new Cut();
      tellLine();
      await take(page, "/bench/");
    } catch (e) {
      tellLine(news.says.join(" "));
    }
  }

  // Photos of an earlier visit: those of the entry, and those that no entry has.
  async function findPhotos() {
    const needed = new Set((await store.entries()).filter(e => e.id !== entry.id).flatMap(e => e.photos.map(p => p.n)));
    for (const p of await store.photos()) {
      const own = kept.photos.find(k => k.n === p.n);
      if (!own && (p.machine !== machine || needed.has(p.n)) || photos.some(o => o.n === p.n)) continue;
      photos.push(Object.assign(p, {alt: "", private: false}, own));
      show(p);
      up(p);
    }
  }

  restore(await store.word("by"));
  if (touched) keep();
  unshown = kept.fields.filter(([name]) => name.startsWith("test-") && !form.elements[name]);
  if (unshown.length) turn("find-tests", "");
  clock();
  pick(); // what was picked before this script was here
  await findPhotos();
  form.closest("main").inert = false;
  if (entry.rev && ((entry.says || []).length || (entry.found || []).length)) tellWrong(entry.says, entry.found);
  listWaiting(entry.id);
}

// take shows a page that came as an answer, from its part of that name on. Until what was
// typed stands in it again, a tap would send it without that, or hit what just moved.
async function take(page, at, part) {
  const main = document.importNode(page.querySelector("main"), true);
  main.inert = true;
  document.querySelector("main").replaceWith(main);
  history.replaceState(null, "", at);
  const here = part && document.getElementById(part);
  if (here) {
    here.open = true;
    here.scrollIntoView();
  } else scrollTo(0, 0);
  try { await begin(); } finally { main.inert = false; }
  if (!document.getElementById("entry")) listWaiting("");
}

// The form of a new evening on a phone: what is typed is kept as it is typed, photos go
// up in pieces in the background, and an evening that cannot be sent waits.
import * as store from "./store.js";
import {say, Cut, Unpaired, ask, upload, drain, tellLine, element} from "./send.js";
import {show as listWaiting} from "./waiting.js";

const evening = () => document.querySelector("form[data-evening]");
export const here = () => !!evening();

// The draft on the shop's computer that the form was filled in from, and what of it
// stands in the form.
const drawn = form => form.elements.draft.value;

// found is the entry that this page goes on with: the one that its address names, or the
// last one of the machine that was not saved, where the page holds nothing itself.
async function found(form) {
  const ours = [form.dataset.machine, ...form.dataset.was.split(" ")];
  const all = (await store.entries()).filter(e => ours.includes(e.machine));
  const named = all.find(e => e.id === form.dataset.evening);
  if (named && named.state === "waiting") await store.keepEntry(Object.assign(named, {state: "draft"})); // it does not go out meanwhile
  if (named || drawn(form)) return named;
  return all.filter(e => e.state === "draft").pop();
}

const texts = ["text", "textarea", "date", "time", "select-one"];

export async function begin() {
  const form = evening();
  if (!form) return;
  const machine = form.dataset.machine;
  const kept = await found(form) || {id: form.dataset.evening, fields: [], photos: [], begun: Date.now()};
  const entry = Object.assign(kept, {machine, name: form.dataset.name});
  const address = () => {
    form.dataset.evening = entry.id;
    form.action = "/desk/m/" + encodeURIComponent(machine) + "/new/" + entry.id;
    history.replaceState(null, "", form.action);
  };
  if (entry.id !== form.dataset.evening) address();
  // What was typed before this script was ready.
  const touched = [...form.elements].filter(e => texts.includes(e.type) && (e.localName === "select" ? !e.options[e.selectedIndex]?.defaultSelected && e.selectedIndex > 0 : e.value !== e.defaultValue));
  let photos = [];

  // What was typed for bench tests and points that this page does not show.
  let unshown = [];
  const besides = ["do", "find", "base", "from", "turn", "window"];
  const fields = () => [...new FormData(form)].filter(([name, value]) => typeof value === "string" && !besides.includes(name)).concat(unshown);
  const about = () => photos.map(({n, alt, private: hidden}) => ({n, alt, private: hidden}));

  // What was filled in, as a person would read it.
  function text() {
    const lines = [], given = [];
    for (const e of form.querySelectorAll("input, textarea, select")) {
      const choice = e.type === "radio" || e.type === "checkbox";
      if (!e.name || e.name === "find" || (choice ? !e.checked : !e.value || ["hidden", "file"].includes(e.type) || e.localName === "select" && e.selectedIndex < 1)) continue;
      const label = e.labels && e.labels[0], legend = e.closest("fieldset") && e.closest("fieldset").querySelector("legend");
      const name = label ? [...label.childNodes].filter(n => n.nodeType === 3).map(n => n.data).join(" ").trim() : "";
      if (choice && legend) lines.push([...legend.childNodes].filter(n => n.nodeType === 3).map(n => n.data).join(" ").trim() + ": " + name);
      else (["f.date", "f.time", "f.by"].includes(e.name) ? given : lines).push(name + ": " + (e.localName === "select" ? e.selectedOptions[0].text : e.value));
    }
    lines.push(...unshown.filter(([name, value]) => value && /^f\.tests\.\d+\.(?!test$|\*)/.test(name)).map(([name, value]) => name.split(".")[3].replaceAll("_", " ") + ": " + value));
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
    if (form.isConnected && form.dataset.evening !== entry.id) address();
    if (!store.kept.lasts) listWaiting(entry.id);
  }
  // Before the database is let go.
  addEventListener("pagehide", () => {
    if ((!keeping && !changed) || over || !form.isConnected) return;
    Object.assign(entry, {state: "draft", fields: fields(), photos: about(), text: text()});
    store.leaveEntry(entry);
  }, {capture: true});
  const by = form.elements["f.by"];
  form.addEventListener("change", () => store.keepWord("by", by.value), {passive: true});

  const named = name => [...form.querySelectorAll("[name]")].filter(e => e.name === name);
  const isChoice = e => e.type === "radio" || e.type === "checkbox";

  // A field that somebody has typed in since the page came is left alone.
  function put(at, name, values) {
    if (at.some(e => touched.includes(e)) || name === "f.date" && !values[0]) return;
    if (isChoice(at.at(-1))) for (const e of at) e.checked = values.includes(e.value);
    else at.at(-1).value = values.at(-1);
  }

  // rowOf is the row of a list that a field is in, and which number it has there.
  const rowOf = name => name.match(/^(f(?:\.[a-z_]+)+)\.(\d+)\./);
  const lists = () => [...form.querySelectorAll("[data-list]")];
  const listOf = name => lists().find(l => l.dataset.list === name);
  const rowAt = (list, number) => [...list.querySelector(":scope > .rows").children].find(r => r.querySelector("[name]")?.name.startsWith(list.dataset.list + "." + number + "."));

  // What was kept goes back in, lists as long as they were. What stands in the page from
  // the shop's computer and was never kept here stays, in rows of its own.
  function restore(word) {
    if (by && !by.value) by.value = word || "";
    const values = new Map();
    for (const [name, value] of kept.fields) values.set(name, (values.get(name) || []).concat([value]));
    if (!values.size) return;
    const points = new Map([...form.querySelectorAll(".point")].map(p => [p.querySelector("input[type=hidden]").value, p]));
    const own = (values.get("draft") || [""])[0] === drawn(form); // the same draft as then
    const strange = [];
    for (const list of lists()) {
      const at = list.dataset.list;
      const numbers = new Set([...values.keys()].map(rowOf).filter(r => r && r[1] === at && Number(r[2]) < 100).map(r => Number(r[2])));
      for (const row of [...list.querySelector(":scope > .rows").children]) {
        const filled = [...row.querySelectorAll("[name]")].filter(e => e.value && !isChoice(e) && e.type !== "hidden");
        if (!own && filled.length) strange.push([at, filled.map(e => [e.name.slice(at.length + 1).replace(/^\d+\./, ""), e.value])]);
        if (![...numbers].some(n => rowAt(list, n) === row)) row.remove();
      }
      for (const n of [...numbers].sort((a, b) => a - b)) if (!rowAt(list, n)) window.desk.addRow(list, n);
    }
    for (const [name, all] of values) {
      const r = rowOf(name);
      if (r && r[1] === "f.checks" && Number(r[2]) >= 100) { // by what the point is, not by its number
        const item = (values.get("f.checks." + r[2] + ".item") || [])[0], point = points.get(item);
        const field = name.slice(r[0].length);
        if (point && field !== "item") put([...point.querySelectorAll("[name]")].filter(e => e.name.endsWith("." + field)), name, all);
        else if (!point) unshown.push(...all.map(value => [name, value]));
        continue;
      }
      const at = named(name);
      if (["draft"].includes(name) || name.includes("*")) continue;
      if (at.length) put(at, name, all);
      else if (all.some(value => value)) unshown.push(...all.map(value => [name, value]));
    }
    // A point that nobody answered is no loss.
    const said = new Set(unshown.filter(([name, value]) => value && /^f\.checks\.\d+\.(result|note)$/.test(name)).map(([name]) => rowOf(name)[2]));
    unshown = unshown.filter(([name]) => !rowOf(name) || rowOf(name)[1] !== "f.checks" || said.has(rowOf(name)[2]));
    for (const [at, filled] of strange) {
      const first = filled[0][1];
      if (kept.fields.some(([name, value]) => name.startsWith(at + ".") && value === first)) continue;
      const row = window.desk.addRow(listOf(at));
      for (const [field, value] of filled) {
        const e = [...row.querySelectorAll("[name]")].find(e => e.name.endsWith("." + field));
        if (e) e.value = value;
      }
    }
    for (const d of form.querySelectorAll("details")) {
      if ([...d.querySelectorAll("select, textarea, input:not([type=hidden]):not([type=radio]):not([type=checkbox]), input:checked")].some(e => e.value)) d.open = true;
    }
  }

  // Photos that were picked: kept at once, sent in the background. What is
  // kept is plain data; what stands on the page for it is in boxes.
  const held = document.getElementById("held"), boxes = new Map();
  function show(photo) {
    const box = element("div", {className: "photo"});
    const pic = element("img", {alt: "", src: URL.createObjectURL(photo.data)});
    pic.onload = () => URL.revokeObjectURL(pic.src);
    const words = element("input", {value: photo.alt, autocomplete: "off", oninput: () => { photo.alt = words.value; keep(); }});
    const tick = element("input", {type: "checkbox", checked: photo.private, onchange: () => { photo.private = tick.checked; keep(); }});
    const drop = element("button", {type: "button", textContent: say.drop, onclick: async () => {
      photos = photos.filter(p => p !== photo);
      box.remove();
      keep();
      await keeping;
      store.dropPhotos([photo.n]);
    }});
    const state = element("span", {});
    box.append(pic, state, element("label", {}, say.alt, words), element("label", {className: "tick"}, tick, say.private), drop);
    held.append(box);
    boxes.set(photo, state);
    if (photo.n) tell(photo, 0);
    for (let d = held.closest("details"); d; d = d.parentElement.closest("details")) d.open = true;
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
  const input = form.elements.photo;
  function pick() {
    const files = [...input.files];
    if (!files.length) return;
    input.value = "";
    for (const file of files) {
      const photo = {machine, entry: entry.id, name: file.name, written: file.lastModified, data: file, alt: "", private: false, id: "", refused: ""};
      photos.push(photo);
      show(photo);
      storing = storing.then(() => store.keepPhoto(photo)).then(() => { keep(); tell(photo, 0); up(photo); });
    }
  }
  input.addEventListener("picked", pick);
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
    const what = e.submitter ? e.submitter.value : "look";
    e.preventDefault();
    if (what === "keep" || what === "keep-so") await save(e.submitter, what === "keep-so");
    else if (what === "drop") await drop();
    else await turn(what);
  });

  // What the shop's computer knows and this page does not: the bench tests, and what
  // comes of it all.
  async function turn(what, quiet) {
    keep();
    if (saving) return;
    saving = true;
    await sending;
    const body = new URLSearchParams(new FormData(form));
    body.delete("photo");
    for (const [name, value] of unshown) body.append(name, value);
    body.set("do", what);
    try {
      const answer = await ask(new URL(form.action).pathname, {method: "POST", body}, 20);
      const page = new DOMParser().parseFromString(await answer.text().catch(() => { throw new Cut(); }), "text/html");
      const came = page.querySelector("form[data-evening]");
      if (!came) throw new Cut();
      tellLine();
      over = true;
      await keeping;
      // It has all that this page had, but for what was taken out there.
      Object.assign(entry, {state: "draft", fields: [...new FormData(came)].filter(([name, value]) => typeof value === "string" && !besides.includes(name)), photos: about(), text: text()});
      await store.keepEntry(entry);
      await take(page, "/desk/m/" + encodeURIComponent(machine) + "/new/" + entry.id, quiet ? "" : what.startsWith("look") ? "#wrong-none:not([hidden])" : /^(add-)?test /.test(what) ? "#measured [autofocus]" : "#find");
    } catch (e) {
      saving = over = false;
      photos.forEach(up);
      if (e instanceof Unpaired) { tellLine(say.unpaired + " ", element("a", {href: "/phone/pair", textContent: say.letIn})); return; }
      if (!(e instanceof Cut)) throw e;
      tellLine(say.cut);
    }
  }

  // What is wrong stands at the top, and at its field.
  function tellWrong(says = [], found = []) {
    for (const e of document.querySelectorAll("main .note")) e.remove();
    const all = {};
    for (const f of found) (all[f.field || ""] = all[f.field || ""] || []).push(f.says);
    window.desk.wrongs(all);
    const top = document.getElementById("wrong-none");
    for (const text of says) top.before(element("p", {className: "note wrong", role: "alert", textContent: text}));
    if (found.length && !form.querySelector("button[value=keep-so]")) {
      form.querySelector("button[value=keep]").after(element("button", {name: "do", value: "keep-so", textContent: document.body.dataset.keepSo}));
    }
    window.desk.ways(all);
  }

  async function drop() {
    over = true;
    await keeping;
    for (const e of await store.entries()) if (e.id === entry.id) await store.change(e, null);
    try { await ask(new URL(form.action).pathname, {method: "POST", body: new URLSearchParams({do: "drop"})}, 20); } catch (e) { /* it is on this phone alone */ }
    location.assign("/desk/m/" + encodeURIComponent(machine));
  }

  async function save(button, anyway) {
    const clock = document.getElementById("clock");
    if (clock && clock.classList.contains("running")) clock.querySelector(".stop").click(); // who keeps an evening has ended it
    button.disabled = saving = true;
    tellLine(say.sending);
    await storing;
    await sending;
    // However late it is sent, the entry says when it was written.
    const time = form.elements["f.time"], two = n => String(n).padStart(2, "0"), now = new Date();
    const today = now.getFullYear() + "-" + two(now.getMonth() + 1) + "-" + two(now.getDate());
    if (time && !time.value && form.elements["f.date"].value === today && ![...form.querySelectorAll("[name^='f.hours.'][name$='.from']")].some(e => e.value)) time.value = two(now.getHours()) + ":" + two(now.getMinutes());
    over = true;
    await keeping;
    Object.assign(entry, {state: "waiting", saved: Date.now(), fields: fields(), photos: about(), text: text(), says: [], found: []});
    await store.keepEntry(entry);
    try {
      const news = await drain({id: entry.id, anyway, tell});
      if (news.saved) {
        form.remove();
        location.assign("/desk/m/" + encodeURIComponent(machine) + "?said=kept");
        return;
      }
      Object.assign(entry, news.entry);
      address();
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
    await listWaiting(form.isConnected ? entry.id : "");
    if (form.isConnected) return;
    for (const e of document.querySelectorAll("#faults")) e.remove();
    scrollTo(0, 0); // to the list, not to what stood below the form
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
  if (touched.length) keep();
  if (unshown.length) turn("look", true);
  form.dispatchEvent(new Event("restored"));
  pick(); // what was picked before this script was here
  await findPhotos();
  form.closest("main").inert = false;
  form.dataset.ready = "yes";
  if (entry.rev && ((entry.says || []).length || (entry.found || []).length)) tellWrong(entry.says, entry.found);
  listWaiting(entry.id);
}

// take shows a page that came as an answer, from its part on that the selector finds.
// Until what was typed stands in it again, a tap would send it without that, or hit what
// just moved.
async function take(page, at, part) {
  const main = document.importNode(page.querySelector("main"), true);
  main.inert = true;
  document.querySelector("main").replaceWith(main);
  history.replaceState(null, "", at);
  window.desk.begin();
  const here = part && document.querySelector(part);
  if (here) {
    for (let d = here.closest("details"); d; d = d.parentElement.closest("details")) d.open = true;
    here.scrollIntoView({block: "center"});
  }
  try { await begin(); } finally { main.inert = false; }
}

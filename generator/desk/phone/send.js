// How what this phone keeps gets to the shop's computer: each entry by itself, in
// order, once. One that cannot go out holds up none of the others.
import * as store from "./store.js";

export const say = document.body.dataset;
export class Cut extends Error {} // the line is cut; try again later
export class Unpaired extends Error {}

// Where to: here, or the address that the computer has now, with a word that lets in.
let home = {at: "", token: ""};
export const moveTo = to => { home = to; };

export async function ask(url, options, seconds) {
  const stop = new AbortController();
  const late = setTimeout(() => stop.abort(), seconds * 1000);
  const headers = {...options.headers, "Phone-Script": "yes"};
  if (home.token) headers.Authorization = "Bearer " + home.token;
  let answer;
  try {
    answer = await fetch(home.at + url, {...options, headers, credentials: home.at ? "omit" : "same-origin", signal: stop.signal, cache: "no-store"});
  } catch (e) {
    throw new Cut();
  } finally {
    clearTimeout(late);
  }
  if (answer.status === 401) throw new Unpaired();
  if (answer.status >= 502) throw new Cut();
  return answer;
}

export async function json(answer) {
  try { return await answer.json(); } catch (e) { throw new Cut(); }
}

// upload sends a photo in pieces, and goes on where it was cut off.
export async function upload(photo, tell) {
  for (;;) {
    let state = null;
    if (photo.id) {
      const answer = await ask("/phone/photo/" + photo.id, {}, 20);
      if (answer.status === 200) state = await json(answer); else photo.id = "";
    }
    if (!photo.id) {
      const answer = await ask("/phone/photo", {method: "POST", body: new URLSearchParams({name: photo.name, size: photo.data.size, written: photo.written})}, 20);
      state = await json(answer);
      if (answer.status !== 201) { photo.refused = state.says || answer.statusText; return; }
      photo.id = state.id;
      await store.keepPhoto(photo);
    }
    let have = state.have, piece = state.piece || 262144;
    if (state.whole) return;
    while (have < photo.data.size) {
      if (tell) tell(have / photo.data.size);
      const bytes = await photo.data.slice(have, have + piece).arrayBuffer();
      const answer = await ask("/phone/photo/" + photo.id + "?at=" + have, {method: "POST", body: bytes, headers: {"Content-Type": "application/octet-stream"}}, 60);
      if (answer.status === 404) { photo.id = ""; break; }
      const news = await json(answer);
      if (answer.status === 422 || answer.status === 413) { photo.refused = news.says || answer.statusText; photo.id = ""; return; }
      if (answer.status !== 200 && answer.status !== 409) throw new Cut();
      have = news.have;
      if (news.whole) return;
    }
  }
}

// send sends an entry with its photos and returns what became of it. now is {anyway,
// tell} where somebody is there to mend it.
async function send(entry, photos, now) {
  for (let tries = 0; ; tries++) {
    const body = new URLSearchParams(entry.fields);
    for (const p of photos) {
      if (p.refused) continue; // and that was said
      await upload(p, now && (part => now.tell(p, part)));
      if (p.refused) {
        await store.keepPhoto(p);
        return {says: [p.refused]};
      }
      body.append("photo-id", p.id);
      body.append("photo-alt", p.alt || "");
      if (p.private) body.append("photo-private", p.id);
    }
    body.set("id", entry.id);
    body.set("do", now && now.anyway ? "save-anyway" : "save");
    if (!now) body.set("late", "yes");
    const answer = await ask("/phone/m/" + encodeURIComponent(entry.machine), {method: "POST", body}, 30);
    const text = await answer.text().catch(() => { throw new Cut(); });
    let news;
    try { news = JSON.parse(text); } catch (e) { news = {says: [text.slice(0, 200) || say.failed]}; }
    if (news.photos && tries < 3) { for (const p of photos) p.id = ""; continue; }
    news.later = answer.status === 500; // nothing is wrong with the entry
    return news;
  }
}

// drain sends what waits, and tells of each what became of it. now is {id, anyway,
// tell} of the entry that somebody saves at this moment. It returns what became of
// that one.
let draining = Promise.resolve(), waits = 2, again = 0;
export function drain(now) {
  const run = draining.then(() => drainOnce(now));
  draining = run.catch(() => {});
  return run;
}

async function drainOnce(now) {
  clearTimeout(again);
  const waiting = (await store.entries()).filter(e => e.state === "waiting");
  const kept = waiting.some(e => e.photos.length) ? await store.photos() : [];
  let mine = null, left = 0, sent = 0, wrong = 0, cut = null;
  for (const entry of waiting) {
    const own = now && now.id === entry.id;
    // Somebody may have dropped it, or taken it up again, while others went out.
    if (!(await store.entries()).some(e => e.id === entry.id && e.rev === entry.rev)) continue;
    const photos = entry.photos.flatMap(a => kept.filter(p => p.n === a.n).map(p => Object.assign(p, a)));
    if (!own) tellLine(say.sending);
    let news;
    try {
      news = await send(entry, photos, own ? now : null);
    } catch (e) {
      if (e instanceof Unpaired) { cut = e; break; }
      if (!(e instanceof Cut)) throw e;
      left++;
      // Is it the line, or this entry alone?
      try { await ask("/phone/alive", {}, 10); } catch (e) { cut = e; break; }
      continue;
    }
    if (own) mine = news;
    if (news.saved) {
      await store.change(entry, null);
      sent++;
      continue;
    }
    if (news.later && !own) left++;
    if (!news.later && !own) wrong++;
    const state = own ? "draft" : news.later ? "waiting" : "refused";
    // Under an id that is saved already, what is different now is one more.
    const to = {...entry, id: news.anew ? store.newID() : entry.id, state, says: news.says || [], found: news.found || [], machines: news.machines || []};
    await store.change(entry, to);
    if (own) mine.entry = to;
  }
  dispatchEvent(new Event("kept"));
  if (cut instanceof Unpaired) unpaired();
  else if (cut || left) {
    tellLine(say.kept);
    again = setTimeout(drain, waits * 1000);
    waits = Math.min(waits * 2, 30);
  } else {
    waits = 2;
    if (wrong) tellLine(say.notAll);
    else if (sent && !mine) tellLine(say.sent);
  }
  if (now && !mine) throw cut || new Cut();
  return mine;
}
addEventListener("online", () => { waits = 2; drain().catch(() => {}); });

export function tellLine(...text) { document.getElementById("news").replaceChildren(...text); }
function unpaired() {
  tellLine(say.unpaired + " ", element("a", {href: home.at + "/phone/pair", textContent: say.letIn}));
}

export function element(name, attributes, ...inside) {
  const e = Object.assign(document.createElement(name), attributes);
  e.append(...inside);
  return e;
}

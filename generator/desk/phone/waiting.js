// The list of what this phone keeps: each with its text, to be copied, corrected,
// given to another machine or dropped.
import * as store from "./store.js";
import {say, element, drain} from "./send.js";

const place = document.getElementById("waiting");

// copy puts text where it can be pasted. The newer way needs a page that came
// encrypted, which ours are not.
function copy(area, button) {
  area.focus();
  area.select();
  button.textContent = document.execCommand("copy") ? say.copied : say.copyHand;
}

const when = ms => new Date(ms).toLocaleString(document.documentElement.lang, {dateStyle: "medium", timeStyle: "short"});
const states = {waiting: say.stateWaiting, refused: say.stateRefused, draft: say.stateDraft};

function box(entry) {
  const area = element("textarea", {readOnly: true, rows: Math.min(8, entry.text.split("\n").length + 1), value: entry.text});
  area.setAttribute("aria-label", say.itsText);
  const buttons = element("div", {className: "acts"});
  const button = (text, act) => { const b = element("button", {type: "button", className: "plain", textContent: text}); b.onclick = () => act(b); buttons.append(b); return b; };
  const open = element("a", {className: "plain button", href: "/desk/m/" + encodeURIComponent(entry.machine) + "/new/" + entry.id, textContent: entry.state === "draft" ? say.goOn : say.correct});
  // There is no form without the shop's computer, or of no machine.
  if (!place.dataset.away && !(entry.machines || []).length) buttons.append(open);
  if (entry.text) button(say.copy, b => copy(area, b));
  let sure = false;
  button(say.dropIt, async b => {
    if (!sure) { sure = true; b.textContent = say.dropSure; return; }
    await store.change(entry, null);
    show();
  });
  const all = element("article", {className: "kept " + entry.state}, element("h3", {textContent: entry.name || entry.machine}), element("p", {className: "fine", textContent: when(entry.saved || entry.begun) + ((entry.machines || []).length ? "" : " · " + states[entry.state])}));
  for (const text of entry.says || []) all.append(element("p", {className: "note", textContent: text}));
  for (const f of entry.found || []) all.append(element("p", {className: "note"}, element("strong", {textContent: [f.label, f.says].filter(t => t).join(": ")})));
  if (entry.photos.length) all.append(element("p", {className: "fine", textContent: say.withPhotos.replace("0", entry.photos.length)}));
  if (entry.text) all.append(area);
  if ((entry.machines || []).length) {
    const pick = element("select", {}, element("option", {value: "", textContent: say.choose}), ...entry.machines.map(m => element("option", {value: m.key, textContent: m.name})));
    all.append(element("label", {}, say.whichMachine, pick));
    pick.onchange = async () => {
      const to = entry.machines.find(m => m.key === pick.value);
      if (!to) return;
      await store.change(entry, {...entry, machine: to.key, name: to.name, state: "waiting", says: [], machines: []});
      show();
      drain().catch(() => {});
    };
  }
  all.append(buttons);
  return all;
}

// show lists what waits, but for the entry in the form of this page.
let open = "", shown = "";
export async function show(but = open) {
  open = but;
  place.dataset.ready = "yes"; // the form is there too
  const list = (await store.entries()).filter(e => e.id !== open && (e.text || e.photos.length));
  const news = JSON.stringify([list.map(e => [e.id, e.rev]), store.kept.lasts, !!document.querySelector("form[data-evening]"), place.dataset.away]);
  if (news === shown) return; // somebody may be at it just now
  shown = news;
  place.hidden = !list.length && store.kept.lasts;
  const here = document.querySelector("form[data-evening]");
  const line = element("summary", {textContent: list.length ? say.keeps.replace("0", list.length) : say.keptNone});
  const was = place.querySelector("details");
  const all = element("details", {open: !here || !!was && was.open}, line, ...list.map(e => box(e)));
  if (!store.kept.lasts) all.append(element("p", {className: "note", textContent: say.forgets}));
  place.replaceChildren(all);
}
addEventListener("kept", () => show());

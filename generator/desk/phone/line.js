// Without a line to the shop's computer no other page opens, and the browser would show an
// empty one in the place of this. So a page is left only where the next one is there; else
// it stays, and says what can be done.
import {say, tellLine, element} from "./send.js";

const longest = 5000;
async function there() {
  const stop = new AbortController();
  const late = setTimeout(() => stop.abort(), longest);
  try {
    return (await fetch("/phone/alive", {cache: "no-store", signal: stop.signal})).status < 502;
  } catch (e) {
    return false;
  } finally {
    clearTimeout(late);
  }
}

let away = false;
function stay() {
  away = true;
  tellLine(say.stay + " ", element("a", {href: "/phone/kept", textContent: say.keptPage}));
}
function back() {
  if (away) tellLine();
  away = false;
}

export function begin() {
  document.addEventListener("click", async e => {
    const link = e.target.closest("a[href]");
    if (!link || e.defaultPrevented || e.button || e.ctrlKey || e.metaKey || e.shiftKey || link.origin !== location.origin || link.pathname === "/phone/kept") return;
    if (link.hash && link.pathname === location.pathname) return;
    e.preventDefault();
    if (await there()) location.assign(link.href); else stay();
  });
  // What a form has typed into it would be lost with its page.
  document.addEventListener("submit", async e => {
    const form = e.target;
    if (e.defaultPrevented || form.dataset.sure) return;
    e.preventDefault();
    if (!await there()) { stay(); return; }
    form.dataset.sure = "yes";
    form.requestSubmit(e.submitter);
    delete form.dataset.sure;
  });
  addEventListener("offline", stay);
  addEventListener("online", back);
  document.addEventListener("input", () => { if (away && navigator.onLine) back(); });
}

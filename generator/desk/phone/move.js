// The page of what this phone keeps: where the shop's computer has another address
// now, it is sent there.
import * as store from "./store.js";
import {ask, json, moveTo, drain, tellLine, say, element, Cut} from "./send.js";
import {show} from "./waiting.js";

const place = document.getElementById("waiting");

// alive tells whether there is the phones' base at an address.
async function alive(at, token = "") {
  moveTo({at, token});
  try { return (await ask("/phone/alive", {}, 6)).status === 204; } catch (e) { return false; }
}

export async function begin() {
  const move = document.getElementById("move");
  if (!move) return true;
  move.hidden = false;
  const [find, come] = move.querySelectorAll("form");
  let at = "";
  find.addEventListener("submit", async e => {
    e.preventDefault();
    const typed = find.elements.at.value.trim();
    try { at = new URL(typed.includes("://") ? typed : "http://" + typed).origin; } catch (e) { tellLine(say.noAddress); return; }
    if (!await alive(at)) { tellLine(say.noAddress); return; }
    try {
      const news = await json(await ask("/phone/pair", {}, 20));
      tellLine(news.says || say.codeShown);
      come.hidden = !!news.says;
      if (!news.says) come.elements.code.focus();
    } catch (e) {
      tellLine(say.noAddress);
    }
  });
  come.addEventListener("submit", async e => {
    e.preventDefault();
    try {
      const news = await json(await ask("/phone/pair", {method: "POST", body: new URLSearchParams({code: come.elements.code.value})}, 20));
      if (!news.token) { tellLine(news.says); return; }
      const home = {at, token: news.token};
      await store.keepWord("home", home);
      moveTo(home);
      come.hidden = true;
      await drain();
      move.append(element("p", {}, element("a", {href: at + "/phone/", textContent: at + "/phone/"})));
    } catch (e) {
      if (!(e instanceof Cut)) throw e;
      tellLine(say.noAddress);
    }
  });
  if (await alive("")) return true;
  place.dataset.away = "yes";
  await show();
  const home = await store.word("home");
  if (home && await alive(home.at, home.token)) return true;
  moveTo({at: "", token: ""});
  tellLine(say.away);
  return false;
}

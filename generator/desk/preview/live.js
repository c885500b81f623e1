// Follows the preview: takes in a new state of the page as it comes, without
// moving the reader, and shows over the page what there is to mend.
(() => {
  "use strict";
  const own = "/.preview/";
  let build = Number(document.currentScript.dataset.build);
  let gone = "";
  let line = null;
  let fetching = false;
  let again = false;

  // The notice stands beside the body, so that taking in a page does not touch
  // it, in a tree of its own, so that the theme's style does not either.
  const notice = document.createElement("asleft-notice");
  const inside = notice.attachShadow({mode: "open"});
  const style = make("link", {rel: "stylesheet", href: own + "live.css"});
  const box = make("section", {role: "status"});
  inside.append(style, box);
  document.documentElement.append(notice);

  function make(name, attributes, text) {
    const e = document.createElement(name);
    for (const [key, value] of Object.entries(attributes || {})) e.setAttribute(key, value);
    if (text) e.textContent = text;
    return e;
  }

  function show(title, note, problems) {
    box.replaceChildren();
    if (!title) return;
    const all = make("details", {open: ""});
    all.append(make("summary", {}, title));
    if (note) all.append(make("p", {}, note));
    for (const p of problems || []) {
      const one = make("article");
      if (p.place) one.append(make("h2", {}, p.place));
      if (p.line) one.append(make("pre", {}, p.line));
      one.append(make("p", {class: "says"}, p.says));
      if (p.mend) one.append(make("p", {}, p.mend));
      all.append(one);
    }
    box.append(all);
  }

  // A part that is the same stays as it is: photos do not flicker, what was
  // unfolded stays so, and the page does not move.
  function become(now, next) {
    if (now.isEqualNode(next)) return;
    if (now.nodeType !== Node.ELEMENT_NODE || now.nodeName !== next.nodeName) {
      now.replaceWith(document.importNode(next, true));
      return;
    }
    for (const a of [...now.attributes]) {
      if (!next.hasAttribute(a.name) && !(a.name === "open" && now.nodeName === "DETAILS")) now.removeAttribute(a.name);
    }
    for (const a of next.attributes) if (now.getAttribute(a.name) !== a.value) now.setAttribute(a.name, a.value);
    const old = [...now.childNodes], young = [...next.childNodes];
    let from = 0, end = 0;
    while (from < old.length && from < young.length && old[from].isEqualNode(young[from])) from++;
    while (end < old.length - from && end < young.length - from && old[old.length - 1 - end].isEqualNode(young[young.length - 1 - end])) end++;
    const gone = old.slice(from, old.length - end), come = young.slice(from, young.length - end);
    const both = Math.min(gone.length, come.length);
    for (let i = 0; i < both; i++) become(gone[i], come[i]);
    for (const g of gone.slice(both)) g.remove();
    const before = end ? old[old.length - end] : null;
    for (const c of come.slice(both)) now.insertBefore(document.importNode(c, true), before);
  }

  function sheets(page) {
    return [...page.querySelectorAll('link[rel="stylesheet"]')];
  }

  // A new style is loaded before the old one goes, so that the page is never bare.
  async function restyle(page) {
    const have = sheets(document.head), want = sheets(page.head);
    if (have.map(s => s.getAttribute("href")).join() === want.map(s => s.getAttribute("href")).join()) return;
    await Promise.all(want.map(s => new Promise(done => {
      const link = document.importNode(s, true);
      link.onload = link.onerror = done;
      document.head.append(link);
    })));
    for (const s of have) s.remove();
  }

  async function take() {
    if (fetching) { again = true; return; }
    fetching = true;
    try {
      do {
        again = false;
        const answer = await fetch(location.href, {cache: "no-store"});
        const page = new DOMParser().parseFromString(await answer.text(), "text/html");
        const mark = page.querySelector("script[data-build]");
        if (!mark || !build || page.head.querySelectorAll("style").length || document.head.querySelectorAll("style").length) { location.reload(); return; }
        await restyle(page);
        document.title = page.title;
        document.documentElement.lang = page.documentElement.lang;
        become(document.body, page.body);
        build = Number(mark.dataset.build);
        notice.dataset.build = build;
      } while (again);
    } finally {
      fetching = false;
    }
  }

  function follow() {
    take().catch(() => setTimeout(() => { if (line) follow(); }, 1000));
  }

  // A page that nobody looks at lets go of its line; a browser has only a few.
  function listen() {
    if (line || document.hidden) return;
    line = new EventSource(own + "news");
    line.onmessage = e => {
      const news = JSON.parse(e.data);
      gone = news.gone;
      show(news.title, news.note, news.problems);
      if (news.build !== build) follow();
    };
    line.onerror = () => {
      if (gone) show(gone);
      if (line && line.readyState === EventSource.CLOSED) { line = null; setTimeout(listen, 2000); }
    };
  }

  document.addEventListener("visibilitychange", () => {
    if (document.hidden && line) { line.close(); line = null; }
    listen();
  });
  notice.dataset.build = build;
  listen();
})();

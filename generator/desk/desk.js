// What the desk's pages do beyond plain forms: a draft and figures as one types, rows
// added and removed, photos dropped. An answer never touches a field.
'use strict';

const form = document.getElementById('form');

function wrongs(all) {
  for (const list of document.querySelectorAll('[data-wrong]')) {
    tell(list, all[list.dataset.wrong] || []);
  }
  const shown = new Set([...document.querySelectorAll('[data-wrong]')].map((l) => l.dataset.wrong));
  const rest = Object.keys(all).filter((name) => !shown.has(name)).flatMap((name) => all[name]);
  tell(document.getElementById('wrong-none'), rest);
}

function tell(list, texts) {
  if (!list) return;
  list.hidden = texts.length === 0;
  // What is wrong in a folded part is not to be missed.
  if (texts.length > 0) for (let d = list.closest('details'); d; d = d.parentElement.closest('details')) d.open = true;
  list.replaceChildren(...texts.map((text) => {
    const li = document.createElement('li');
    li.textContent = text;
    return li;
  }));
}

// Changed lines of the report are marked: those that were not in it before.
let before = null;
const told = (doc) => [...doc.querySelectorAll('main li, main p, main tr, main h2')];

async function report() {
  const frame = document.getElementById('report');
  if (!frame || getComputedStyle(frame).display === 'none') return;
  const answer = await fetch(frame.getAttribute('src'));
  if (!answer.ok || !frame.contentDocument || !frame.contentDocument.querySelector('main')) return;
  const next = new DOMParser().parseFromString(await answer.text(), 'text/html');
  if (!before) before = new Set(told(frame.contentDocument).map((e) => e.textContent));
  for (const e of told(next)) {
    if (!before.has(e.textContent) && e.textContent.trim() !== '') e.style.boxShadow = '-.6rem 0 0 -.2rem currentColor';
  }
  frame.contentDocument.querySelector('main').replaceWith(next.querySelector('main'));
}

let waiting = 0;
let busy = false;
let again = false;

async function send() {
  if (busy) { again = true; return; }
  busy = true;
  const line = document.getElementById('line');
  const data = new FormData(form);
  data.delete('photo');
  data.set('do', 'try');
  try {
    const answer = await fetch(form.action, { method: 'POST', body: new URLSearchParams(data) });
    if (!answer.ok) throw new Error(answer.statusText);
    const said = await answer.json();
    line.textContent = said.line;
    wrongs(said.wrong || {});
    tell(document.getElementById('figures'), said.figures || []);
    document.getElementById('drop').hidden = false;
    if (said.report) await report();
  } catch (e) {
    line.textContent = document.body.dataset.lost || String(e.message);
  }
  busy = false;
  if (again) { again = false; send(); }
}

function soon() {
  clearTimeout(waiting);
  waiting = setTimeout(send, 300);
}

function rows() {
  for (const list of document.querySelectorAll('[data-list]')) {
    const template = list.querySelector(':scope > template');
    const holder = list.querySelector(':scope > .rows');
    let next = holder.children.length + 1;
    list.querySelector(':scope > .more').addEventListener('click', (event) => {
      event.preventDefault();
      const made = document.createElement('div');
      made.innerHTML = template.innerHTML.replaceAll('NUMBER', String(next++));
      const row = made.firstElementChild;
      holder.append(row);
      ready(row);
      const first = row.querySelector('input:not([type=hidden]), select, textarea');
      if (first) first.focus();
    });
    for (const row of holder.children) ready(row);
  }
}

function ready(row) {
  const remove = row.querySelector(':scope > .remove');
  remove.hidden = false;
  remove.addEventListener('click', () => {
    const list = row.closest('[data-list]');
    row.remove();
    list.querySelector(':scope > .more').focus();
    soon();
  });
}

if (form) {
  rows();
  form.addEventListener('input', (event) => { if (event.target.type !== 'file') soon(); });
  // A test that is chosen has inputs of its own: the page is asked for anew.
  form.addEventListener('change', (event) => {
    if (/^f\.tests\.\d+\.test$/.test(event.target.name)) form.querySelector('button[value=look]').click();
  });
  const take = document.querySelector('.take');
  if (take) {
    const input = take.querySelector('input[type=file]');
    const put = () => { if (input.files.length) take.querySelector('button').click(); };
    input.addEventListener('change', put);
    for (const name of ['dragenter', 'dragover']) {
      take.addEventListener(name, (event) => { event.preventDefault(); take.classList.add('over'); });
    }
    take.addEventListener('dragleave', () => take.classList.remove('over'));
    take.addEventListener('drop', (event) => {
      event.preventDefault();
      take.classList.remove('over');
      input.files = event.dataTransfer.files;
      put();
    });
  }
}

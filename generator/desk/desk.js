// What the desk's pages do beyond plain forms: a draft and figures as one types, rows
// added and removed, the clock, photos dropped. An answer never touches a field.
'use strict';

let form = null;

// On a phone another script keeps what is typed in a new evening, and sends it.
const onPhone = () => 'phone' in document.body.dataset && form && 'evening' in form.dataset;

// While somebody types, what is still empty is not wrong yet: nothing is said of it, and
// nothing moves under their hands, until they keep it.
function wrongs(all, typing) {
  const lists = [...document.querySelectorAll('[data-wrong]')];
  const filled = new Set((form ? [...form.querySelectorAll('[name]')] : []).filter((e) => e.value && e.type !== 'hidden').map((e) => e.name));
  for (const list of lists) {
    const name = list.dataset.wrong, texts = all[name] || [];
    if (typing && list.hidden && !filled.has(name)) continue;
    tell(list, texts);
    for (const field of form ? form.querySelectorAll('[name]') : []) {
      if (field.name !== name) continue;
      if (texts.length > 0) field.setAttribute('aria-invalid', 'true');
      else field.removeAttribute('aria-invalid');
    }
  }
  const shown = new Set(lists.map((l) => l.dataset.wrong));
  const rest = Object.keys(all).filter((name) => !shown.has(name)).flatMap((name) => all[name]);
  const top = document.getElementById('wrong-none');
  if (!typing || !top.hidden) tell(top, rest);
}

// The way to each fault stays as long as it is one.
function faults(all, count) {
  const list = [...document.querySelectorAll('[data-fault]')].map((li) => ({ li, name: li.dataset.fault, says: li.querySelector('span') }));
  for (const { li, name, says } of list) {
    const texts = all[name] || [];
    if (texts.includes(says.textContent)) continue;
    const other = texts.find((text) => !list.some((l) => l.name === name && l.says.textContent === text));
    if (other) says.textContent = other;
    else li.remove();
  }
  for (const e of document.querySelectorAll('#count')) [e.textContent, e.hidden] = [count, count === ''];
  for (const e of document.querySelectorAll('#faults')) e.hidden = !e.firstElementChild;
}

// What is folded opens for who is led into it. Who was faster than the script and types
// already is left where he is.
function lead() {
  for (const a of document.querySelectorAll('#faults a')) way(a);
  const first = form.querySelector('[autofocus]'), at = document.activeElement;
  if (first && (at === first || at === document.body)) goTo(first);
}

function way(a) {
  a.addEventListener('click', (event) => {
    const at = document.getElementById(a.hash.slice(1));
    if (!at) return;
    event.preventDefault();
    unfold(at);
    goTo(at);
  });
}

// The ways to what is wrong, as a page has them that comes from the desk, for one that was
// told of it without being loaded anew. The page goes to the first.
function ways(all) {
  for (const e of document.querySelectorAll('#faults')) e.remove();
  const list = Object.assign(document.createElement('ul'), { id: 'faults', className: 'wrong' });
  for (const wrong of form.querySelectorAll('[data-wrong]')) {
    const name = wrong.dataset.wrong, at = document.getElementById(wrong.id.replace(/-wrong$/, '')) || wrong.closest('fieldset');
    if (!at || !(all[name] || []).length) continue;
    const label = at.labels && at.labels[0] || at.querySelector(':scope > legend'), part = at.parentElement.closest('fieldset');
    const field = label ? label.textContent : name, within = part && part.querySelector(':scope > legend');
    const text = within ? document.body.dataset.faultIn.replace('{field}', field).replace('{in}', within.textContent) : field;
    for (const told of all[name]) {
      const li = document.createElement('li'), says = document.createElement('span');
      const a = Object.assign(document.createElement('a'), { className: 'lone', href: '#' + at.id, textContent: text });
      way(a);
      li.dataset.fault = name;
      says.textContent = told;
      li.append(a, ' ', says);
      list.append(li);
    }
  }
  if (!list.firstElementChild) return;
  document.getElementById('wrong-none').before(list);
  const first = document.getElementById(list.querySelector('a').hash.slice(1));
  unfold(first);
  goTo(first);
}

// In the middle of the page nothing stands above it, not the foot nor the edge above its
// label.
function goTo(field) {
  field.focus({ preventScroll: true });
  field.scrollIntoView({ block: 'center' });
}

function unfold(e) {
  for (let d = e && e.closest('details'); d; d = d.parentElement.closest('details')) d.open = true;
}

function tell(list, texts) {
  if (!list) return;
  list.hidden = texts.length === 0;
  // What is wrong in a folded part is not to be missed.
  if (texts.length > 0) unfold(list);
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
let unsent = false; // what was typed last did not come to the desk

// What is sent is numbered: what was typed before photos were put in, or before it was kept,
// may come to the desk after that.
let turn = Date.now();
const nextTurn = () => String(++turn);

async function send() {
  if (busy) { again = true; return; }
  busy = true;
  const line = document.getElementById('line');
  const data = new FormData(form);
  data.delete('photo');
  data.set('do', 'try');
  data.set('turn', nextTurn());
  const headers = onPhone() ? { 'Phone-Script': 'yes' } : {};
  try {
    const answer = await fetch(form.action, { method: 'POST', body: new URLSearchParams(data), headers });
    if (!answer.ok) throw new Error(answer.statusText);
    const said = await answer.json();
    line.textContent = said.line;
    wrongs(said.wrong || {}, true);
    faults(said.wrong || {}, said.count || '');
    defects(said.defects || []);
    const same = document.getElementById('same-day');
    if (same) [same.textContent, same.hidden] = [said.sameDay || '', !said.sameDay];
    tell(document.getElementById('figures'), said.figures || []);
    document.getElementById('drop').hidden = false;
    unsent = false;
    if (said.report) await report();
  } catch (e) {
    line.textContent = onPhone() ? document.body.dataset.cut : document.body.dataset.lost;
    unsent = true;
    soon(3000); // nobody has to type once more for what he typed already
  }
  busy = false;
  if (again) { again = false; send(); }
}

function soon(after = 300) {
  clearTimeout(waiting);
  waiting = setTimeout(send, after);
}

// Where the desk does not answer, the browser would put a page of its own in the place of
// this one, and what is typed here would be gone with it. So a form goes out when the desk
// is there, and stays where it is not. A second press while that is asked does nothing. On
// a phone another script does so.
async function sure(event) {
  const at = event.target, own = at === form;
  if ('phone' in document.body.dataset || at.dataset.sure) return;
  event.preventDefault();
  if (at.dataset.asking) return;
  at.dataset.asking = 'yes';
  try {
    await fetch('/desk/desk.css', { method: 'HEAD', cache: 'no-store' });
    if (own) unsent = false; // it goes out whole
    at.dataset.sure = 'yes';
    at.requestSubmit(event.submitter);
    delete at.dataset.sure;
  } catch (e) {
    const line = at.querySelector('#line, .lost') || at.appendChild(Object.assign(document.createElement('p'), { className: 'wrong lost' }));
    line.setAttribute('role', 'status');
    line.textContent = document.body.dataset.lost;
    if (own) [unsent, waiting] = [true, setTimeout(send, 3000)];
  }
  delete at.dataset.asking;
}

// The number of the next row of a list: behind those that are there, and below those of
// the points of a machine's list.
function nextRow(list) {
  const at = list.dataset.list + '.';
  const used = [...list.querySelectorAll('[name]')].filter((e) => e.name.startsWith(at)).map((e) => parseInt(e.name.slice(at.length), 10)).filter((n) => n < 100);
  return Math.max(-1, ...used, Number(list.dataset.last || -1)) + 1;
}

function addRow(list, number = nextRow(list)) {
  list.dataset.last = Math.max(number, Number(list.dataset.last || -1));
  const made = document.createElement('div');
  made.innerHTML = list.querySelector(':scope > template').innerHTML.replaceAll('NUMBER', String(number));
  const row = made.firstElementChild;
  list.querySelector(':scope > .rows').append(row);
  ready(row);
  return row;
}

function rows() {
  for (const list of document.querySelectorAll('[data-list]')) {
    list.querySelector(':scope > .more').addEventListener('click', (event) => {
      event.preventDefault();
      const first = addRow(list).querySelector('input:not([type=hidden]), select, textarea');
      if (first) first.focus();
    });
    for (const row of list.querySelector(':scope > .rows').children) ready(row);
  }
}

function ready(row) {
  const remove = row.querySelector(':scope > .remove');
  remove.hidden = false;
  remove.addEventListener('click', (event) => {
    event.preventDefault();
    const list = row.closest('[data-list]');
    list.dataset.last = nextRow(list) - 1;
    row.remove();
    list.querySelector(':scope > .more').focus();
    form.dispatchEvent(new Event('input', { bubbles: true }));
  });
}

// The clock fills in from when to when.
const two = (n) => String(n).padStart(2, '0');
const now = () => { const d = new Date(); return two(d.getHours()) + ':' + two(d.getMinutes()); };
const stretches = () => [...form.querySelectorAll('[data-list="f.hours"] > .rows > .row')].map((row) => ({ from: row.querySelector('[name$=".from"]'), to: row.querySelector('[name$=".to"]') })).filter((s) => s.from && s.to);
const runs = () => stretches().find((s) => s.from.value && !s.to.value);

function clock() {
  const at = document.getElementById('clock');
  if (!at) return;
  const list = form.querySelector('[data-list="f.hours"]');
  if (!list) { at.hidden = true; return; } // the hours are one number in the file
  const show = () => at.classList.toggle('running', !!runs());
  const changed = () => { show(); form.dispatchEvent(new Event('input', { bubbles: true })); };
  at.querySelector('.start').addEventListener('click', (event) => {
    event.preventDefault();
    if (runs()) return;
    if (!stretches().some((s) => !s.from.value)) addRow(list);
    stretches().find((s) => !s.from.value).from.value = now();
    changed();
  });
  at.querySelector('.stop').addEventListener('click', (event) => {
    event.preventDefault();
    const s = runs();
    if (!s) return;
    if (s.from.value === now()) s.from.value = ''; // less than a minute is no work
    else s.to.value = now();
    changed();
  });
  for (const news of ['input', 'restored']) form.addEventListener(news, show);
  show();
}

// What the desk would not take is told before it is sent, so that nothing typed is sent in vain.
function fits(files) {
  const list = document.getElementById('refused'), most = list.dataset;
  const mb = (bytes) => String(Math.ceil(bytes / 1048576));
  const words = (text, size, all, name) => text.replace('{size}', () => mb(size)).replace('{most}', () => String(Math.floor(all / 1048576))).replace('{name}', () => name);
  const says = [...files].filter((f) => f.size > Number(most.mostPhoto)).map((f) => words(most.photoSize, f.size, Number(most.mostPhoto), f.name));
  const sum = [...files].reduce((n, f) => n + f.size, 0);
  if (!says.length && sum > Number(most.most)) says.push(words(most.tooMany, sum, Number(most.most), ''));
  tell(list, says);
  return !says.length;
}

function photos() {
  const take = document.querySelector('.take');
  if (!take) return;
  const input = take.querySelector('input[type=file]');
  const put = () => {
    if (!input.files.length) return;
    if (onPhone()) input.dispatchEvent(new Event('picked'));
    else if (fits(input.files)) take.querySelector('button').click();
    else input.value = '';
  };
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

// Repairs can name the defects that the evening found itself; a defect that is worded
// anew keeps its place in the choice.
function defects(found) {
  const all = [...form.querySelectorAll('select'), ...[...form.querySelectorAll('template')].flatMap((t) => [...t.content.querySelectorAll('select')])];
  for (const select of all.filter((s) => /^f\.(repaired|worked_around|gone)\.\w+\.key$/.test(s.name))) {
    for (const option of [...select.options]) {
      if (option.dataset.row && !found.some((d) => d.row === option.dataset.row)) option.remove();
    }
    for (const { row, key, name } of found) {
      let option = [...select.options].find((o) => o.dataset.row === row) || [...select.options].find((o) => o.value === key);
      if (!option) select.append(option = document.createElement('option'));
      option.dataset.row = row;
      option.value = key;
      option.textContent = name;
    }
  }
}

// A number that is typed is offered with the units in which the thing was measured before.
const folded = (text) => text.toLowerCase().replace(/[^\p{L}\p{N}]+/gu, ' ').trim();

function units(field) {
  const known = JSON.parse(form.dataset.units || '{}');
  const row = field.closest('.row');
  const what = row && row.querySelector('[name$=".what"]');
  const number = field.value.match(/^[^\p{L}%]*\d[^\p{L}%]*/u);
  const all = what && number && known[folded(what.value)];
  let list = document.getElementById('units');
  if (!list) {
    list = document.createElement('datalist');
    list.id = 'units';
    form.append(list);
  }
  list.replaceChildren(...(all || []).map((unit) => {
    const option = document.createElement('option');
    option.value = number[0].trim() + (unit === '%' ? '' : ' ') + unit;
    return option;
  }));
  field.setAttribute('list', 'units');
}

// The help of a field shows while the field has the focus. A press takes the focus away:
// until it is over the help stays, or what is pressed would move away from under it.
function hold() {
  let held = null;
  document.addEventListener('pointerdown', () => {
    held = document.activeElement && document.activeElement.closest('.box');
    if (held) held.classList.add('held');
  }, true);
  for (const over of ['pointerup', 'pointercancel']) {
    document.addEventListener(over, () => setTimeout(() => { if (held) held.classList.remove('held'); }), true);
  }
}

// Who says that it is sold is asked for the sale, which is of today most often.
function sold() {
  const date = form.elements['f.sold.date'], d = new Date();
  if (!date) return;
  unfold(date);
  if (!date.value) date.value = d.getFullYear() + '-' + two(d.getMonth() + 1) + '-' + two(d.getDate());
}

function choose(row) {
  const press = Object.assign(document.createElement('button'), { name: 'do', value: 'test ' + row, hidden: true });
  form.append(press);
  form.requestSubmit(press);
}

// The parts that somebody unfolded stay so when the page is asked for anew, and who pressed
// Enter in a field goes on in it.
function unfolded() {
  const at = 'unfolded ' + location.pathname;
  try {
    const was = JSON.parse(sessionStorage.getItem(at) || '{"open": []}');
    sessionStorage.removeItem(at);
    for (const id of was.open) unfold(document.querySelector(`#${CSS.escape(id)} > summary`));
    const field = was.field && document.getElementById(was.field);
    if (field && !form.querySelector('[autofocus]') && document.activeElement === document.body) goTo(field);
    form.addEventListener('submit', (event) => {
      const enter = event.submitter && event.submitter.value === 'look';
      sessionStorage.setItem(at, JSON.stringify({ open: [...form.querySelectorAll('details[id][open]')].map((d) => d.id), field: enter ? document.activeElement.id : '' }));
    });
  } catch (e) {
    // A browser that keeps nothing folds them again.
  }
}

function begin() {
  form = document.getElementById('form');
  if (!form) return;
  hold();
  unfolded();
  rows();
  lead();
  clock();
  photos();
  form.addEventListener('submit', () => { clearTimeout(waiting); form.elements.turn.value = nextTurn(); });
  form.addEventListener('input', (event) => { if (event.target.type !== 'file' && event.target.name !== 'find') soon(); });
  form.addEventListener('input', (event) => { if (/^f\.(measured\.\d+\.(value|gauge)|limits\.\d+\.limit)$/.test(event.target.name)) units(event.target); });
  form.addEventListener('input', (event) => { if (event.target.name === 'f.stage' && event.target.value === 'sold') sold(); });
  // A test that is chosen has inputs of its own: the page is asked for anew.
  form.addEventListener('change', (event) => {
    if (/^f\.tests\.\d+\.test$/.test(event.target.name)) choose(event.target.name.replace(/\.test$/, ''));
  });
}

// A note of the walk is kept as it is typed, with the point that it is of.
function walk() {
  const form = document.getElementById('walk');
  if (!form) return;
  const note = async () => {
    const data = new FormData(form);
    data.set('go', 'stay');
    try {
      await fetch(form.action, { method: 'POST', body: new URLSearchParams(data) });
    } catch (e) {
      // The buttons send it too.
    }
  };
  form.addEventListener('input', () => { clearTimeout(waiting); waiting = setTimeout(note, 300); });
  form.addEventListener('submit', () => clearTimeout(waiting));
}

// While the site goes out, its page follows. A question stands until it is answered: what
// is typed into it stays.
async function follow() {
  const run = document.getElementById('run');
  if (!run || !('working' in run.dataset)) return;
  try {
    const answer = await fetch(location.pathname, { cache: 'no-store' });
    const next = answer.ok && new DOMParser().parseFromString(await answer.text(), 'text/html').getElementById('run');
    if (!next) {
      // It is asked again.
    } else if (next.dataset.state !== run.dataset.state) {
      run.replaceWith(document.adoptNode(next));
      const first = next.querySelector('#secret') || next.querySelector('#asks');
      if (first) first.focus();
    } else if (run.querySelector('#line')) {
      const line = run.querySelector('#line'), bar = run.querySelector('progress'), goes = next.querySelector('progress');
      if (line.textContent !== next.querySelector('#line').textContent) line.textContent = next.querySelector('#line').textContent;
      if (goes.hasAttribute('value')) [bar.max, bar.value] = [goes.max, goes.value];
    }
  } catch (e) {
    const line = run.querySelector('#line');
    if (line) line.textContent = document.body.dataset.lost;
  }
  setTimeout(follow, 500);
}

// A text to put elsewhere: the clipboard is not there on every address, the selection is.
function copies() {
  for (const button of document.querySelectorAll('button[data-copy]')) {
    const text = document.getElementById(button.dataset.copy);
    button.hidden = false;
    button.addEventListener('click', async () => {
      text.focus();
      text.select();
      let done = false;
      try {
        await navigator.clipboard.writeText(text.value);
        done = true;
      } catch (e) {
        done = document.execCommand('copy');
      }
      if (done) button.textContent = button.dataset.copied;
    });
  }
}

// Of two versions the first line that differs is in sight.
for (const m of document.querySelectorAll('pre mark:first-of-type')) m.parentElement.scrollTop = m.offsetTop - m.parentElement.offsetTop - 40;

window.desk = { begin, wrongs, ways, addRow };
document.addEventListener('submit', sure);
addEventListener('beforeunload', (event) => { if (unsent && !('phone' in document.body.dataset)) event.preventDefault(); });
begin();
walk();
copies();
follow();

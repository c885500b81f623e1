// Tells whether a file, or a code typed in, is on this page's list of sealed
// reports. It asks nobody: the list stands in the page, and the file stays on
// this computer. All words come from the list.
(() => {
  "use strict";
  const at = (id) => document.getElementById(id);
  const form = at("verify-form"), file = at("verify-file"), code = at("verify-code"), answer = at("verify-answer"), list = at("verify-list");
  if (!form || !file || !code || !answer || !list) return;
  const { says, reports, largest } = JSON.parse(list.textContent);
  const reads = window.crypto && crypto.subtle && file.files;
  let turn = 0;

  const hex = (bytes) => Array.from(new Uint8Array(bytes), (b) => b.toString(16).padStart(2, "0")).join("");

  // Plain letters and digits as the texts of a PDF hold them.
  const wide = (s) => Array.from(s, (c) => "00" + c.charCodeAt(0).toString(16)).join("").toUpperCase();

  // A code as a report prints it: one of twelve digits in groups of four.
  const grouped = (code) => code.length === 12 ? code.replace(/(.{4})(?=.)/g, "$1 ") : code;

  // A file that is not on the list, but names a report that is: it was altered.
  const named = (name, bytes) => {
    const text = new TextDecoder("latin1").decode(bytes);
    return reports.find((r) => text.includes(r.facts) || text.includes(r.code) || text.includes(grouped(r.code)) || text.includes(wide(r.code)) || name.includes(r.code));
  };

  const judge = async (picked) => {
    if (picked.size > largest) return says.large;
    const bytes = await picked.arrayBuffer();
    const digest = hex(await crypto.subtle.digest("SHA-256", bytes));
    const own = reports.find((r) => r.copies.includes(digest));
    if (own) return own.unaltered;
    const other = named(picked.name, bytes);
    return other ? other.altered : says.unlisted;
  };

  const judgeCode = (typed) => {
    const digits = typed.toLowerCase().replace(/[\s:-]/g, "");
    if (!/^[0-9a-f]{10,64}$/.test(digits)) return says.miswritten;
    const copy = reports.find((r) => r.copies.includes(digits));
    if (copy) return copy.digest;
    const own = reports.filter((r) => r.facts.startsWith(digits));
    return own.map((r) => r.code_known).join(" ") || says.unknown;
  };

  file.addEventListener("change", async () => {
    if (!file.files.length) return;
    const mine = ++turn;
    answer.textContent = says.reading;
    const said = await judge(file.files[0]).catch(() => says.unreadable);
    if (mine === turn) answer.textContent = said;
  });
  form.addEventListener("submit", (e) => {
    e.preventDefault();
    turn++;
    answer.textContent = judgeCode(code.value);
  });
  if (!reads) {
    file.disabled = true;
    answer.textContent = says.cannot;
  }
  form.hidden = false;
})();

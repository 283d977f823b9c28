// The script of the pages that are served. The library sends marked forms and puts the answer into the page; what it
// has nothing for stands here: files dropped on the page, the keyboard, the clipboard. Everything works without it.
import "htmx.org";
import "./metronome.js";

document.documentElement.classList.add("scripted");

const writing = (e) => e.closest("input, textarea, select, [contenteditable]");
const rows = () => [...document.querySelectorAll("article.row")];
const here = () => document.activeElement?.closest("article.row") ?? document.getElementById(last);
let last = ""; // the row that the keyboard is at

// What only the script can do is shown only with it. A page and each part that comes later pass through this.
const reveal = () => document.querySelectorAll("[data-copy][hidden], .keys-hint[hidden]").forEach((e) => { e.hidden = false; });

const go = (step) => {
  const all = rows();
  if (!all.length) return;
  const at = all.indexOf(here());
  const to = all[Math.min(all.length - 1, Math.max(0, at < 0 ? 0 : at + step))];
  to.focus();
  to.scrollIntoView({ block: "nearest" });
};

// Waits for a row to be open and then does something with it.
const opened = (row, then) => {
  if (row.classList.contains("open")) return then(row);
  document.addEventListener("htmx:after:swap", () => {
    const now = document.getElementById(row.id);
    if (now?.classList.contains("open")) then(now);
  }, { once: true });
  row.querySelector("a.name").click();
};

const copy = async (button) => {
  const text = document.getElementById(button.dataset.copy).textContent;
  try {
    await navigator.clipboard.writeText(text);
  } catch { // not allowed here: the old way, by a field
    const field = document.createElement("textarea");
    field.value = text;
    button.after(field);
    field.select();
    document.execCommand("copy");
    field.remove();
  }
  button.textContent = "Copied";
  if (button.dataset.then) button.form.requestSubmit(button.form.querySelector("." + button.dataset.then));
};

const keys = {
  j: () => go(1),
  k: () => go(-1),
  Enter: (row, e) => e.target === row && row.querySelector("a.name").click(),
  a: (row) => row?.querySelector("button.accept")?.click(),
  p: (row) => row && opened(row, (r) => r.querySelector(".paste")?.focus()),
  c: (row) => row && opened(row, (r) => r.querySelector(".next .copy")?.click()),
  "?": () => document.getElementById("keys")?.showModal(),
  Escape: (row) => row?.classList.contains("open") && row.querySelector("a.name").click(),
};

addEventListener("keydown", (e) => {
  if (writing(e.target)) {
    if (e.key === "Escape") (here() ?? e.target).focus();
    if (e.key === "Enter" && e.ctrlKey) e.target.form?.querySelector("button.enter")?.click();
    return;
  }
  if (e.ctrlKey || e.metaKey || e.altKey || document.querySelector("dialog[open]")) return;
  const act = keys[e.key];
  if (!act || !rows().length) return;
  if (e.key !== "Enter" || e.target === here()) e.preventDefault();
  act(here(), e);
});

addEventListener("focusin", (e) => { last = e.target.closest("article.row")?.id ?? last; });

addEventListener("click", (e) => {
  const button = e.target.closest("[data-copy]");
  if (button) copy(button);
});

// After an answer the keyboard is where it was.
document.addEventListener("htmx:after:swap", () => {
  reveal();
  if (document.activeElement === document.body) document.getElementById(last)?.focus({ preventScroll: true });
});

// Files, folders and archives that are dropped anywhere on the page.
const inside = async (entry, path) => {
  if (entry.isFile) return [[await new Promise((ok, no) => entry.file(ok, no)), path + entry.name]];
  const reader = entry.createReader(), found = [];
  for (;;) { // a reader gives a hundred at a time
    const some = await new Promise((ok, no) => reader.readEntries(ok, no));
    if (!some.length) return found;
    for (const e of some) found.push(...await inside(e, path + entry.name + "/"));
  }
};

// How far an intake is, as the desk tells it with each file, here or from another page.
const follow = (sending) => {
  const news = new EventSource("arrivals");
  news.onmessage = (e) => {
    const part = new DOMParser().parseFromString(e.data, "text/html").body.firstElementChild;
    const over = !("coming" in part.dataset);
    if (over && sending) return; // the one before: what is being sent has not come yet
    document.getElementById("arrivals").replaceWith(part);
    if (over) news.close();
  };
  return news;
};

const send = async (files) => {
  const form = document.querySelector("form.drop");
  if (!form || !files.length) return;
  const body = new FormData();
  body.append("client", form.client.value);
  for (const [file, name] of files) body.append("file", file, name);
  document.getElementById("arrivals").replaceChildren(Object.assign(document.createElement("p"), { textContent: files.length + (files.length === 1 ? " file" : " files") }));
  const news = follow(true);
  try {
    const answer = await fetch(form.action, { method: "POST", body });
    if (answer.redirected) location.assign(answer.url + "#done");
    else document.querySelector("main").replaceWith(new DOMParser().parseFromString(await answer.text(), "text/html").querySelector("main"));
  } catch {
    document.getElementById("arrivals").textContent = "The desk does not answer. What it had received is kept: start it again.";
  } finally {
    news.close();
  }
};

addEventListener("dragover", (e) => {
  if (!e.dataTransfer?.types.includes("Files")) return;
  e.preventDefault();
  document.body.classList.add("dropping");
});
addEventListener("dragleave", (e) => { if (!e.relatedTarget) document.body.classList.remove("dropping"); });
addEventListener("drop", async (e) => {
  if (!e.dataTransfer?.types.includes("Files")) return;
  e.preventDefault();
  document.body.classList.remove("dropping");
  const entries = [...e.dataTransfer.items].map((i) => i.webkitGetAsEntry?.()).filter(Boolean);
  const files = entries.length ? (await Promise.all(entries.map((entry) => inside(entry, "")))).flat() : [...e.dataTransfer.files].map((f) => [f, f.name]);
  send(files);
});
addEventListener("submit", (e) => {
  if (!e.target.matches("form.drop")) return;
  e.preventDefault();
  send([...e.target.querySelector("input[type=file]").files].map((f) => [f, f.webkitRelativePath || f.name]));
});

reveal();
if (document.querySelector("#arrivals[data-coming]")) follow(false);

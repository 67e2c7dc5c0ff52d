// What was entered and is not acknowledged yet. Kept on the tablet until the server has it.
import { freshId, now, person, putReading, reached, renew, seq, token } from "./job-page.js";

const NAME = "hoistwright-bench";
let opening = null;
let sending = false;
let away = document.documentElement.dataset.kept !== undefined; // the page came from the tablet itself

function database() {
  opening ??= new Promise((done, failed) => {
    const request = indexedDB.open(NAME, 1);
    request.onupgradeneeded = () => request.result.createObjectStore("waiting", { keyPath: "at", autoIncrement: true });
    request.onsuccess = () => done(request.result);
    request.onerror = () => failed(request.error);
  });
  return opening;
}

async function inStore(mode, act) {
  const db = await database();
  return new Promise((done, failed) => {
    const transaction = db.transaction("waiting", mode, { durability: "strict" });
    const request = act(transaction.objectStore("waiting"));
    transaction.oncomplete = () => done(request.result);
    transaction.onerror = transaction.onabort = () => failed(transaction.error);
  });
}

export const waiting = () => inStore("readonly", (store) => store.getAll());
const drop = (item) => inStore("readwrite", (store) => store.delete(item.at));
const keep = (item) => inStore("readwrite", (store) => store.put(item));

/** Keep an entry, then send what waits. Resolves once it is safe on the tablet. */
export async function enter(path, fields, extra = {}) {
  const item = {
    path,
    fields: { ...fields, id: freshId(), seen: String(seq()), told_at: now(), by: person() },
    from: location.pathname,
    person: person(),
    name: document.querySelector('meta[name="bench-person-name"]')?.content ?? "",
    ...extra,
  };
  item.at = await inStore("readwrite", (store) => store.add(item));
  await show();
  flush();
  return item;
}

/** Send what waits, in order. One at a time on all tabs of this tablet. */
export function flush() {
  if (sending) return;
  sending = true;
  const work = async () => {
    try {
      for (const item of await waiting()) {
        if (item.person !== person() || item.asked) continue;
        if (!(await send(item))) break;
      }
    } finally {
      sending = false;
      await show();
    }
  };
  if (navigator.locks) navigator.locks.request("hoistwright-sending", work).catch(() => {});
  else work().catch(() => {});
}

/** The job that an address belongs to: entries of another job may wait on this tablet, too. */
const jobIn = (path) => path.split("/")[2];

async function send(item) {
  const body = new FormData();
  for (const [name, value] of Object.entries(item.fields)) {
    for (const one of Array.isArray(value) ? value : [value]) body.append(name, one);
  }
  if (item.file) body.append("photo", item.file, item.file.name || "photo.jpg");
  let answer;
  try {
    answer = await fetch(item.path, {
      method: "POST",
      body,
      headers: { Accept: "application/json", "X-Bench-Token": token() },
    });
  } catch {
    away = true;
    return false;
  }
  away = false;
  const said = await answer.json().catch(() => ({}));
  if (answer.ok) {
    if (jobIn(item.path) === jobIn(location.pathname)) reached(said.seq);
    await drop(item);
    document.dispatchEvent(new CustomEvent("bench:entered", { detail: { item, said } }));
    if (said.place && item.from === location.pathname) putReading(item.fields, said.place);
    if (said.page && item.from === location.pathname) renew(said.page);
    else document.dispatchEvent(new CustomEvent("bench:stale"));
    return true;
  }
  return refused(item, answer.status, said);
}

/** Whether to go on with the next one. What the server asks back stays until it is answered. */
async function refused(item, status, said) {
  if (status === 422 || (status === 409 && !said.next) || status === 404 || status === 400) {
    item.asked = said.asked ?? said.refused ?? "";
    item.offers = said.offers ?? [];
    item.sure = said.sure ?? "";
    await keep(item);
    document.dispatchEvent(new CustomEvent("bench:asked", { detail: { item, said } }));
    return true;
  }
  if (status === 401) document.getElementById("waiting").dataset.signedOut = "1";
  if (status === 403) document.dispatchEvent(new CustomEvent("bench:stale"));
  if (status >= 500) away = true;
  return false;
}

/** Answer what was asked back: send it with another value, or drop it. */
export async function settle(item, value) {
  await drop(item);
  if (value !== null) await enter(item.path, { ...item.fields, value }, item.file ? { file: item.file } : {});
  else await show();
}

// the strip that says what waits

function line(text, strong = false) {
  const made = document.createElement("p");
  const inner = strong ? made.appendChild(document.createElement("strong")) : made;
  inner.textContent = text;
  return made;
}

function button(words, act) {
  const made = document.createElement("button");
  made.type = "button";
  made.className = "second";
  made.textContent = words;
  made.addEventListener("click", act);
  return made;
}

export async function show() {
  const place = document.getElementById("waiting");
  if (!place) return;
  const items = await waiting().catch(() => []);
  const mine = items.filter((item) => item.person === person());
  const others = items.filter((item) => item.person !== person());
  const open = mine.filter((item) => !item.asked);
  const stopped = mine.filter((item) => item.asked && item.from !== location.pathname);
  const say = place.dataset;
  const out = [];
  const count = (number) => (number === 1 ? say.one : say.many.replace("%(number)s", number));
  const offline = away || !navigator.onLine;
  if (offline) out.push(line(say.away, true));
  if (open.length && (offline || say.signedOut)) out.push(line(count(open.length)));
  if (say.signedOut) {
    const link = document.createElement("a");
    link.href = `${say.signinAt}?next=${encodeURIComponent(location.pathname)}`;
    link.textContent = say.signinLink;
    const text = line(`${say.signin} `);
    text.append(link);
    out.push(text);
  }
  for (const name of new Set(others.map((item) => item.name))) {
    const number = others.filter((item) => item.name === name).length;
    out.push(line(`${count(number)}. ${say.other.replaceAll("%(name)s", name)}`));
  }
  for (const item of stopped) {
    const text = line(`${say.stopped} ${item.fields.value ?? item.fields.do ?? ""} – ${item.asked} `);
    const link = document.createElement("a");
    link.href = item.from;
    link.textContent = say.look;
    text.append(link);
    out.push(text, button(say.drop, () => settle(item, null)));
  }
  place.replaceChildren(...out);
  place.hidden = !out.length;
  document.body.dataset.waiting = String(open.length);
  document.dispatchEvent(new CustomEvent("bench:waiting", { detail: mine }));
}

export function start() {
  window.addEventListener("online", () => flush());
  window.addEventListener("offline", () => show());
  document.addEventListener("visibilitychange", () => document.hidden || flush());
  setInterval(() => waiting().then((items) => items.length && flush()).catch(() => {}), 3000);
  navigator.serviceWorker?.addEventListener("message", (event) => {
    if (event.data === "from the tablet") { away = true; show(); }
  });
  flush();
}

export function isAway() { return away || !navigator.onLine; }
export function back() { if (away) { away = false; flush(); } }

// What others enter on this job, as it comes.
import { back, flush } from "./job-queue.js";
import { band, refresh, seq } from "./job-page.js";

let source = null;
let due = 0;

function soon() {
  clearTimeout(due);
  due = setTimeout(() => refresh().catch(() => {}), 60);
}

function open() {
  if (source || document.hidden) return;
  source = new EventSource(`${band().dataset.stream}?after=${seq()}`);
  source.addEventListener("open", () => { back(); flush(); });
  source.addEventListener("entry", (event) => {
    if (JSON.parse(event.data).seq > seq()) soon();
  });
  source.addEventListener("signed-out", () => close());
}

function close() {
  source?.close();
  source = null;
}

export function start() {
  open();
  document.addEventListener("bench:stale", soon);
  document.addEventListener("visibilitychange", () => {
    if (document.hidden) close();
    else { open(); soon(); }
  });
  window.addEventListener("pagehide", close);
  window.addEventListener("pageshow", (event) => { if (event.persisted) { open(); soon(); } });
}

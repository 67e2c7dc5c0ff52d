// The pages of a job: entries that wait for a connection, others' entries as they come, the drawing.
// Without script all of it works by plain forms and links.
import { start as startForms } from "./job-forms.js";
import { start as startLive } from "./job-live.js";
import { start as startDrawing } from "./job-drawing.js";
import { start as startQueue } from "./job-queue.js";

const script = document.querySelector("script[data-worker]");
document.documentElement.classList.add("scripted");
startQueue();
startForms();
startLive();
startDrawing();
if ("serviceWorker" in navigator) {
  navigator.serviceWorker.register(script.dataset.worker, { scope: "/jobs/" }).catch(() => {});
  navigator.serviceWorker.ready.then((worker) => setTimeout(layReady, 1500, worker)).catch(() => {});
}

/** Have the other pages of this job kept as well, before the connection is lost. */
function layReady(worker) {
  const links = document.querySelectorAll(".partlines a, .stagebar a, .jobhome");
  const pages = new Set([...links].map((link) => link.href.split("#")[0]));
  const drawing = document.getElementById("drawing")?.dataset;
  for (const address of [drawing?.wide, drawing?.tall]) if (address) pages.add(new URL(address, location.href).href);
  if (pages.size && navigator.onLine) worker.active?.postMessage({ keep: [...pages] });
}

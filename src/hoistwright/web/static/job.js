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
}

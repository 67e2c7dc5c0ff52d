// The proof: a stop watch for the hold, a load cell on a serial line. Without script plain figures do.
import { enter } from "./job-queue.js";

// when the sequence itself changed (a test settled, a load chosen), the page is laid out anew

function changed() {
  const wanted = document.getElementById("provehead")?.dataset.steps ?? "";
  const here = [...document.querySelectorAll(".prove-step")].map((step) => step.id.slice(5)).join(" ");
  const loadHere = document.getElementById("load") !== null;
  const loadWanted = wanted.includes("lift_a_little");
  if (wanted && (wanted !== here || (loadWanted && !loadHere))) location.reload();
}

// stop watch

let since = 0;
let ticking = 0;

const seconds = () => (performance.now() - since) / 1000;

function watches() {
  for (const button of document.querySelectorAll("button.watch")) {
    button.hidden = false;
    button.classList.toggle("runs", since > 0);
    button.textContent = since > 0 ? `${seconds().toFixed(0)} s · ${button.dataset.stop}` : button.dataset.start;
  }
}

function pressed(event) {
  const button = event.target.closest?.("button.watch");
  if (!button) return;
  if (!since) {
    since = performance.now();
    ticking = setInterval(watches, 250);
  } else {
    const form = button.form;
    form.querySelector('[name="value"]').value = Math.floor(seconds()).toString(); // never longer than it was
    clearInterval(ticking);
    since = 0;
    form.requestSubmit(form.querySelector(".save"));
  }
  watches();
}

// a load cell on a serial line: one figure a line

let port = null;
let last = null;
let rows = null;
const NUMBER = /[-+]?\d+(?:[.,]\d+)?/;

/** The figure of a line; null where there is none. */
export function figureOf(line) {
  const found = NUMBER.exec(line);
  return found ? Math.abs(Number(found[0].replace(",", "."))) : null;
}

function took(line) {
  const figure = figureOf(line);
  if (figure === null) return;
  last = figure;
  const unit = document.getElementById("line-unit").value;
  document.getElementById("line-value").textContent = `${figure} ${unit}`;
  for (const id of ["line-take", "line-record"]) document.getElementById(id).disabled = false;
  if (rows) rows.push(`${((performance.now() - rows.start) / 1000).toFixed(3)},${figure}`);
}

async function open() {
  const said = document.getElementById("line-said");
  const reader = document.getElementById("line-reader");
  try {
    port = await navigator.serial.requestPort();
    await port.open({ baudRate: Number(document.getElementById("line-speed").value) });
    said.textContent = reader.dataset.none;
    let rest = "";
    const stream = port.readable.pipeThrough(new TextDecoderStream());
    const source = stream.getReader();
    for (;;) {
      const { value, done } = await source.read();
      if (done) break;
      const lines = (rest + value).split(/\r\n|\r|\n/);
      rest = lines.pop();
      lines.forEach(took);
      if (last !== null) said.textContent = "";
    }
    said.textContent = reader.dataset.lost;
  } catch (error) {
    if (error.name !== "NotFoundError") said.textContent = reader.dataset.lost; // none was chosen
  }
}

/** Into the pull of the step, as if it had been typed. */
function take() {
  const step = document.getElementById("line-reader").dataset.step;
  const field = document.getElementById(`${step}-pull-up-value`);
  if (!field || last === null) return;
  field.value = `${last} ${document.getElementById("line-unit").value}`;
  field.form.requestSubmit(field.form.querySelector(".save"));
}

async function record(button) {
  if (!rows) {
    rows = [];
    rows.start = performance.now();
    button.textContent = button.dataset.stop;
    return;
  }
  const unit = document.getElementById("line-unit").value;
  const text = [`time [s],pull [${unit}]`, ...rows].join("\n") + "\n";
  rows = null;
  button.textContent = button.dataset.start;
  const { path, step } = document.getElementById("line-reader").dataset;
  const fields = { do: "pull", step, direction: document.getElementById("pull-direction").value,
    gauge: document.getElementById("pull-gauge").value };
  await enter(path, fields, { file: new File([text], "pull.csv", { type: "text/csv" }) });
}

function serial() {
  const reader = document.getElementById("line-reader");
  if (reader && "serial" in navigator) reader.hidden = false;
}

function clicked(event) {
  const button = event.target.closest?.("#line-reader button");
  if (button?.id === "line-open") open();
  if (button?.id === "line-take") take();
  if (button?.id === "line-record") record(button);
}

document.addEventListener("click", pressed);
document.addEventListener("click", clicked);
document.addEventListener("bench:renewed", () => { changed(); watches(); serial(); });
watches();
serial();

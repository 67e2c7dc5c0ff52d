// Forms that enter one thing: kept on the tablet first, then sent. Enter in a figure goes on.
import { enter, isAway, settle, waiting } from "./job-queue.js";
import { person } from "./job-page.js";

const GAUGE = "hoistwright-gauge ";

function fieldsOf(form, submitter) {
  const fields = {};
  for (const [name, value] of new FormData(form, submitter)) {
    if (typeof value !== "string" || ["_token", "id", "seen"].includes(name)) continue;
    if (!(name in fields)) fields[name] = value;
    else fields[name] = [].concat(fields[name], value);
  }
  return fields;
}

async function submitted(event) {
  const form = event.target.closest("form[data-entry]");
  if (!form) return;
  event.preventDefault();
  const fields = fieldsOf(form, event.submitter);
  if (form.dataset.photo !== undefined) return photo(form, fields);
  if (form.classList.contains("caliper")) return figure(form, fields);
  press(form, event.submitter);
  const after = fields.next;
  delete fields.next;
  for (const field of form.querySelectorAll("input")) field.defaultValue = field.value; // said: no longer being typed
  await enter(form.getAttribute("action"), fields);
  if (after && !isAway()) document.addEventListener("bench:entered", () => location.assign(after), { once: true });
}

/** Show at once what was touched; the server's answer puts the piece in place a moment later. */
function press(form, submitter) {
  if (!submitter?.hasAttribute("aria-pressed")) return;
  for (const button of form.querySelectorAll("[aria-pressed]")) button.setAttribute("aria-pressed", "false");
  submitter.setAttribute("aria-pressed", form.querySelector('[name="done"]')?.value === "no" ? "false" : "true");
  submitter.classList.add("waits");
}

async function photo(form, fields) {
  const input = form.querySelector('input[type="file"]');
  if (!input.files.length) return;
  delete fields.next;
  delete fields.photo;
  const file = input.files[0];
  input.value = "";
  await enter(form.getAttribute("action"), fields, { file });
}

// figures

/** A figure that is left by touching something else is entered, too: on a tablet nobody looks for
 *  Enter. Left for its gauge or its unit it stays as typed. */
function left(event) {
  const input = event.target;
  if (!input.matches?.('form.caliper input[name="value"]') || !input.value.trim()) return;
  const to = event.relatedTarget;
  if (to?.matches?.("select.gauge-choice, a[data-units]") || to?.form === input.form) return;
  if (!document.hasFocus()) return; // another window or tab; the field is still the one typed in
  figure(input.form, fieldsOf(input.form), false);
}

async function figure(form, fields, goOn = true) {
  const input = form.querySelector('[name="value"]');
  if (!fields.value.trim()) return next(input);
  const doubt = isAway() && doubtful(input, fields);
  if (doubt) return ask(form, { asked: doubt, offers: [], sure: `${fields.value}!`, fields, here: true });
  ask(form, null);
  input.value = "";
  if (goOn) next(input);
  await enter(form.getAttribute("action"), fields);
}

/** Without connection the tablet itself asks back what is of another size than as new. */
function doubtful(input, fields) {
  const low = Number(input.dataset.low), high = Number(input.dataset.high);
  const text = fields.value.trim();
  const read = /^(\d+(?:[.,]\d+)?)\s*(mm|in|")?$/.exec(text);
  if (!read || !high || text.endsWith("!")) return "";
  let value = Number(read[1].replace(",", "."));
  const unit = read[2] === '"' ? "in" : read[2];
  if (unit && unit !== fields.unit) value *= unit === "in" ? 25.4 : 1 / 25.4;
  if (value >= low && value <= high) return "";
  const shown = (number) => Number(number.toPrecision(3));
  return `${text} ${read[2] ? "" : fields.unit}? ${shown(low)} – ${shown(high)} ${fields.unit}`;
}

/** The next field that still wants a figure; else the next one; else on to the next part. */
function next(input) {
  const all = [...document.querySelectorAll("form.caliper input[name=value]")].filter((field) => field.offsetParent);
  const at = all.indexOf(input);
  const after = all.slice(at + 1).find((field) => field.dataset.wanted !== undefined) ?? all[at + 1];
  (after ?? document.querySelector("button.answer") ?? document.getElementById("next-part"))?.focus();
}

function ask(form, question) {
  const place = form.querySelector(".asked");
  if (!place) return;
  place.replaceChildren();
  if (!question) return;
  const words = place.appendChild(document.createElement("p"));
  words.className = "wrong";
  words.textContent = question.asked;
  const row = place.appendChild(document.createElement("div"));
  row.className = "after";
  const choose = (text, value) => {
    const made = row.appendChild(document.createElement("button"));
    made.type = "button";
    made.className = "second";
    made.textContent = text;
    made.addEventListener("click", () => { ask(form, null); question.choose(value); });
    return made;
  };
  question.choose ??= (value) => {
    const input = form.querySelector('[name="value"]');
    if (value === null) { input.focus(); input.select(); return; }
    input.value = "";
    enter(form.getAttribute("action"), { ...question.fields, value });
    next(input);
  };
  for (const offer of question.offers) choose(offer, offer);
  if (question.sure) choose(`${question.sure.replace("!", "")} ✓`, question.sure);
  choose("✕", null).setAttribute("aria-label", document.getElementById("waiting").dataset.drop);
  // Not on a button: the next figure of a caliper ends with Enter, and must not answer this.
  const busy = document.activeElement?.matches?.("input") && document.activeElement.value;
  place.tabIndex = -1;
  if (!busy) place.focus();
}

function formOf(item) {
  const { part, feature, place = "", do: what, step, entry } = item.fields;
  return [...document.querySelectorAll("form[data-entry]")].find((form) => {
    const field = (name) => form.elements[name]?.value ?? "";
    if (field("do") !== what) return false;
    if (item.fields.what && field("what") !== item.fields.what) return false;
    if (what === "reading") return field("part") === part && field("feature") === feature && field("place") === place;
    if (what === "correct") return field("entry") === entry;
    if (what === "choose") return field("part") === part && field("renew") === item.fields.renew;
    return step ? field("step") === step : true;
  });
}

function asked(item) {
  if (item.from !== location.pathname || item.person !== person()) return;
  const form = formOf(item);
  if (!form) return;
  ask(form, {
    asked: item.asked,
    offers: item.offers ?? [],
    sure: item.sure,
    choose: (value) => {
      settle(item, value);
      const input = form.querySelector('[name="value"]');
      if (value === null) input?.focus(); else if (input) next(input);
    },
  });
}

/** Say beside each field what of it still waits on the tablet. */
function mark(items) {
  for (const old of document.querySelectorAll(".waits-here")) old.remove();
  for (const item of items) {
    if (item.from !== location.pathname || item.asked) continue;
    const form = formOf(item) ?? lookForm(item);
    if (!form) continue;
    if (item.fields.answer) {
      for (const button of form.querySelectorAll(".answer")) button.setAttribute("aria-pressed", String(button.value === item.fields.answer));
    } else if (item.fields.do === "tick") {
      form.querySelector(".answer")?.setAttribute("aria-pressed", String(item.fields.done !== "no"));
    }
    const told = form.appendChild(document.createElement("p"));
    told.className = "waits-here quiet";
    told.textContent = `${item.fields.value ?? ""} ⧖`.trim();
    told.title = document.getElementById("waiting").dataset.sending;
  }
}

function lookForm(item) {
  const { part, feature, place = "" } = item.fields;
  return [...document.querySelectorAll("form.answers")].find((form) =>
    form.elements.part?.value === part && form.elements.feature?.value === feature && form.elements.place?.value === place);
}

// gauges and units, remembered on this tablet

function gauges() {
  for (const select of document.querySelectorAll("select.gauge-choice")) {
    const kept = localStorage.getItem(GAUGE + select.dataset.kind);
    const option = [...select.options].find((each) => each.value === kept && !each.disabled);
    if (option) select.value = kept;
    useGauge(select);
  }
}

function useGauge(select) {
  for (const field of document.querySelectorAll(`input[data-gauge="${select.id}"]`)) field.value = select.value;
}

function changed(event) {
  const input = event.target;
  if (input.matches?.("select.gauge-choice")) {
    localStorage.setItem(GAUGE + input.dataset.kind, input.value);
    for (const other of document.querySelectorAll("select.gauge-choice")) {
      if (other.dataset.kind === input.dataset.kind) { other.value = input.value; useGauge(other); }
    }
  }
  if (input.matches?.('form[data-photo] input[type="file"]')) input.form.requestSubmit();
}

function units(event) {
  const link = event.target.closest?.("a[data-units]");
  if (!link || !isAway()) return;
  event.preventDefault();
  for (const each of document.querySelectorAll("a[data-units]")) each.toggleAttribute("aria-current", each === link);
  for (const field of document.querySelectorAll('form.caliper input[name="unit"]')) {
    if (["mm", "in"].includes(field.value)) {
      field.form.querySelector("[data-unit]").textContent = field.value = link.dataset.units;
    }
  }
}

export function start() {
  document.addEventListener("submit", submitted);
  document.addEventListener("change", changed);
  document.addEventListener("focusout", left);
  document.addEventListener("click", units);
  document.addEventListener("bench:asked", (event) => asked(event.detail.item));
  document.addEventListener("bench:waiting", (event) => mark(event.detail));
  document.addEventListener("bench:renewed", async () => {
    gauges();
    const items = await waiting().catch(() => []);
    mark(items.filter((item) => item.person === person()));
    items.filter((item) => item.asked).forEach(asked);
  });
  gauges();
  waiting().then((items) => items.filter((item) => item.asked).forEach(asked)).catch(() => {});
}

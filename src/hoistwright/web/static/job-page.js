// The page as it stands, and putting a newer one in its place piece by piece.

const meta = (name) => document.querySelector(`meta[name="${name}"]`)?.content ?? "";

export const band = () => document.getElementById("jobband");
export const job = () => band().dataset.job;
export const seq = () => Number(band().dataset.seq);
export const person = () => meta("bench-person");
export const token = () => meta("bench-token");

export function freshId() {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  return Array.from(bytes, (byte) => byte.toString(16).padStart(2, "0")).join("");
}

/** The time here with its offset from UTC, as the journal writes it. */
export function now() {
  const at = new Date();
  const offset = -at.getTimezoneOffset();
  const sign = offset < 0 ? "-" : "+";
  const two = (number) => String(Math.floor(Math.abs(number))).padStart(2, "0");
  const local = new Date(at.getTime() + offset * 60000).toISOString().slice(0, -1);
  return `${local}${sign}${two(offset / 60)}:${two(offset % 60)}`;
}

/** Is somebody in the middle of typing here? Then this piece is left as it is. */
function busy(piece) {
  const field = document.activeElement;
  if (!field || !piece.contains(field)) return false;
  return "value" in field && field.type !== "hidden" && field.tagName !== "BUTTON"
    && field.tagName !== "SELECT" && field.value !== field.defaultValue;
}

/** A piece without what differs each time it is made. */
const stable = (piece) => piece.outerHTML.replace(/name="(id|seen)" value="[^"]*"/g, "");

/** The piece that is being touched, else the one at the top of the screen, and where it stands. */
function held() {
  const pieces = [...document.querySelectorAll("[data-live][id]")];
  const piece = pieces.find((one) => one.contains(document.activeElement))
    ?? pieces.find((one) => one.getBoundingClientRect().bottom > 0);
  return piece ? { id: piece.id, top: piece.getBoundingClientRect().top } : null;
}

/** Bring it back there, whatever came in above it. */
function holdStill(was) {
  const piece = was && document.getElementById(was.id);
  if (!piece) return;
  const moved = piece.getBoundingClientRect().top - was.top;
  if (Math.abs(moved) >= 1) scrollBy({ top: moved, behavior: "instant" });
}

let newest = 0;

/** An entry has this number: a page made before it shows less than what stands here. */
export function reached(number) {
  newest = Math.max(newest, seq(), Number(number) || 0);
}

/** Put the pieces of a newer page in place of those here; focus and open details stay. */
export function renew(html) {
  const next = new DOMParser().parseFromString(html, "text/html");
  const madeAt = next.getElementById("jobband")?.dataset.seq;
  if (madeAt === undefined) return false;
  reached(0);
  if (Number(madeAt) < newest) return true; // it was on its way while more was entered; another one follows
  const focused = document.activeElement?.id;
  const still = held();
  const fields = new Map();
  for (const field of document.querySelectorAll("[data-live] input[id]")) {
    if (field.type === "text" && field.value !== field.defaultValue) fields.set(field.id, field.value);
  }
  for (const piece of document.querySelectorAll("[data-live][id]")) {
    const fresh = next.getElementById(piece.id);
    if (!fresh) continue;
    for (const name of Object.keys(fresh.dataset)) piece.dataset[name] = fresh.dataset[name];
    if (stable(fresh) === stable(piece) || busy(piece)) continue;
    const open = [...piece.querySelectorAll("details")].map((details) => details.open);
    const place = document.importNode(fresh, true);
    [...place.querySelectorAll("details")].forEach((details, at) => {
      if (open[at]) details.open = true;
    });
    piece.replaceWith(place);
  }
  for (const [id, value] of fields) {
    const field = document.getElementById(id);
    if (field) field.value = value;
  }
  if (focused && document.activeElement?.id !== focused) document.getElementById(focused)?.focus({ preventScroll: true });
  holdStill(still);
  document.dispatchEvent(new CustomEvent("bench:renewed"));
  return true;
}

/** Show a reading just entered, with its verdict, at its place; the rest follows by `refresh`. */
export function putReading(fields, html) {
  const same = (form, name) => form.querySelector(`[name="${name}"]`)?.value === (fields[name] ?? "");
  for (const form of document.querySelectorAll('.measure-row form[data-entry]')) {
    if (!["part", "feature", "place"].every((name) => same(form, name))) continue;
    const row = form.closest(".measure-row");
    row.querySelectorAll(":scope > .kept, :scope > .verdict").forEach((old) => old.remove());
    const made = new DOMParser().parseFromString(html, "text/html").body;
    row.prepend(...[...made.children].map((piece) => document.importNode(piece, true)));
    for (const field of row.querySelectorAll("[data-wanted]")) delete field.dataset.wanted;
    return;
  }
}

/** Fetch this page anew and put its pieces in place. */
export async function refresh() {
  const answer = await fetch(location.pathname + location.search, { headers: { "X-Bench-Piece": "1" } });
  if (!answer.ok || answer.redirected) return false;
  return renew(await answer.text());
}

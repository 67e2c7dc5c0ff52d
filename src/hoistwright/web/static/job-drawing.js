// The exploded drawing as the menu: fetched once, each part with the sign and hatch of its state.

const place = () => document.getElementById("drawing");
const REACH = 60; // pixels from the middle of a balloon within which a finger still means it

function wide() {
  return matchMedia("(min-width: 64rem)").matches;
}

async function draw() {
  const box = place();
  if (!box) return;
  const shape = wide() ? "wide" : "tall";
  if (box.dataset.shape === shape) return;
  box.dataset.shape = shape;
  box.setAttribute("aria-busy", "true");
  const answer = await fetch(box.dataset[shape]).catch(() => null);
  if (!answer?.ok) { delete box.dataset.shape; return; }
  const parsed = new DOMParser().parseFromString(await answer.text(), "image/svg+xml");
  box.replaceChildren(document.importNode(parsed.documentElement, true));
  box.removeAttribute("aria-busy");
  paint();
}

/** The states of the parts, as the page has them now. */
function paint() {
  const told = document.getElementById("states"), box = place();
  if (!told || !box?.querySelector("svg")) return;
  const states = JSON.parse(told.dataset.states), signs = JSON.parse(told.dataset.signs);
  const words = JSON.parse(told.dataset.words);
  for (const part of box.querySelectorAll("[data-part]")) {
    const state = states[part.dataset.part] ?? "";
    const hatch = state && !["fit", "renewed"].includes(state) ? `url(#job-hatch-${state.replace(" ", "-")})` : "#fff";
    for (const face of part.querySelectorAll(".face")) face.setAttribute("fill", hatch);
    part.dataset.name ??= part.getAttribute("aria-label");
    part.setAttribute("aria-label", state ? `${part.dataset.name}, ${words[state]}` : part.dataset.name);
    part.dataset.state = state;
  }
  for (const balloon of box.querySelectorAll("[data-balloon]")) {
    const state = states[balloon.dataset.balloon] ?? "";
    balloon.querySelector(".sign")?.setAttribute("d", state ? signs[state] : "");
  }
}

function go(key) {
  location.assign(place().dataset.partAt.replace("PART", key));
}

function touched(event) {
  const box = place();
  if (!box?.contains(event.target)) return;
  const hit = event.target.closest("[data-part], [data-balloon]");
  if (hit) return go(hit.dataset.part ?? hit.dataset.balloon);
  let best = null, least = REACH;
  for (const balloon of box.querySelectorAll("[data-balloon] circle:last-of-type")) {
    const at = balloon.getBoundingClientRect();
    const far = Math.hypot(at.x + at.width / 2 - event.clientX, at.y + at.height / 2 - event.clientY);
    if (far < least) { least = far; best = balloon.closest("[data-balloon]"); }
  }
  if (best) go(best.dataset.balloon);
}

export function start() {
  if (!place()) return;
  draw();
  matchMedia("(min-width: 64rem)").addEventListener("change", draw);
  document.addEventListener("bench:renewed", paint);
  document.addEventListener("click", touched);
  document.addEventListener("keydown", (event) => {
    const part = event.target.closest?.("#drawing [data-part]");
    if (part && (event.key === "Enter" || event.key === " ")) { event.preventDefault(); go(part.dataset.part); }
  });
}

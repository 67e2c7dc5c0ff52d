// Fetches fitting designs while the data plate is typed, and what is asked back about the rated
// load. Without script buttons do it.
"use strict";
(() => {
  const form = document.getElementById("booking");
  const place = document.getElementById("suggestions");
  const asking = document.getElementById("load-asked");
  if (!form || !place || !asking) return;
  const load = form.elements.rated_load;
  const plate = ["kind", "maker", "model", "rated_load", "falls", "wire", "pitch", "design"];
  let waiting = 0;
  let asked = "";

  async function fetchThem() {
    const sent = new FormData();
    for (const [name, value] of new FormData(form)) if (typeof value === "string") sent.append(name, value);
    const what = plate.map((name) => sent.get(name)).join("\n");
    if (what === asked) return;
    asked = what;
    const answer = await fetch(place.dataset.from, { method: "POST", body: sent }).catch(() => null);
    if (!answer || !answer.ok || what !== asked) return;
    const next = new DOMParser().parseFromString(await answer.text(), "text/html");
    const question = next.getElementById("load-asked");
    question.remove();
    put(question);
    const focused = place.contains(document.activeElement);
    if (!focused) place.replaceChildren(...next.body.childNodes);
  }

  /** The question stands below its field; not while a figure is being typed into it. */
  function put(question) {
    const same = question.textContent.trim() === asking.textContent.trim();
    if (same || asking.contains(document.activeElement)) return;
    if (document.activeElement === load) asking.replaceChildren();
    else asking.replaceChildren(...question.childNodes);
  }

  form.addEventListener("input", (event) => {
    if (!plate.includes(event.target.name)) return;
    if (event.target === load) load.removeAttribute("aria-invalid");
    clearTimeout(waiting);
    waiting = setTimeout(fetchThem, 350);
  });
  load.addEventListener("blur", () => { asked = ""; fetchThem(); });

  asking.addEventListener("click", (event) => {
    const button = event.target.closest("button");
    if (!button) return;
    event.preventDefault();
    load.value = button.value;
    asking.replaceChildren();
    load.removeAttribute("aria-invalid");
    document.getElementById("rated_load-wrong")?.remove();
    form.elements.falls.focus();
    fetchThem();
  });

  // Sent with the question open, the photos would have to be taken again: it is answered first.
  form.addEventListener("submit", (event) => {
    const first = asking.querySelector("button");
    if (!first || event.submitter?.name === "act") return;
    event.preventDefault();
    first.focus();
    asking.scrollIntoView({ block: "center" });
  });

  // A caliper that types ends with Enter: go on to the next field instead of sending the form.
  form.addEventListener("keydown", (event) => {
    const from = event.target;
    if (event.key !== "Enter" || from.tagName !== "INPUT" || ["radio", "checkbox", "file"].includes(from.type)) return;
    event.preventDefault();
    const fields = [...form.querySelectorAll("input:not([type=hidden]), select, textarea, button")];
    const next = fields[fields.indexOf(from) + 1];
    if (next) next.focus();
  });
})();

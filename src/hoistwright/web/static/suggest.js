// Fetches fitting designs while the data plate is typed. Without script a button does it.
"use strict";
(() => {
  const form = document.getElementById("booking");
  const place = document.getElementById("suggestions");
  if (!form || !place) return;
  const plate = ["kind", "maker", "model", "rated_load", "falls", "wire", "pitch"];
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
    const focused = place.contains(document.activeElement);
    if (!focused) place.innerHTML = await answer.text();
  }

  form.addEventListener("input", (event) => {
    if (!plate.includes(event.target.name)) return;
    clearTimeout(waiting);
    waiting = setTimeout(fetchThem, 350);
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

// Keeps the pages of jobs that were opened once, for when there is no connection.
// It reaches no further than /jobs/, and sends nothing by itself.
const VERSION = "VERSION";
const ASSETS = "hoistwright-assets-" + VERSION;
const PAGES = "hoistwright-pages";
const MOST_PAGES = 300;
const assets = [/* ASSETS */];

self.addEventListener("install", (event) => {
  event.waitUntil(caches.open(ASSETS).then((cache) => cache.addAll(assets)).then(() => self.skipWaiting()));
});

self.addEventListener("activate", (event) => {
  event.waitUntil((async () => {
    for (const name of await caches.keys()) {
      if (name.startsWith("hoistwright-assets-") && name !== ASSETS) await caches.delete(name);
    }
    await self.clients.claim();
    for (const client of await self.clients.matchAll({ type: "window" })) await keepPage(client.url);
  })());
});

/** The page that was open before this worker was there. */
async function keepPage(address) {
  const answer = await fetch(address, { credentials: "same-origin" }).catch(() => null);
  if (answer) await keep(new Request(address), answer.clone());
  if (answer?.ok && lasting(answer)) await (await caches.open(PAGES)).put(address, answer);
}

/** A picture whose address changes with what it shows. */
const lasting = (answer) => /immutable/.test(answer.headers.get("cache-control") ?? "");

// The pages that a page of the job leads to, one after the other, where they are not kept yet.
self.addEventListener("message", (event) => {
  const pages = (event.data?.keep ?? []).filter((page) => new URL(page).pathname.startsWith("/jobs/"));
  event.waitUntil((async () => {
    for (const page of pages.slice(0, MOST_PAGES)) {
      if (!(await caches.match(page, { cacheName: PAGES }))) await keepPage(page);
    }
  })());
});

self.addEventListener("fetch", (event) => {
  const request = event.request, url = new URL(request.url);
  if (request.method !== "GET" || url.origin !== self.location.origin) return;
  if (url.pathname.startsWith("/static/")) event.respondWith(asset(request));
  else if (!url.pathname.startsWith("/jobs/") || url.pathname.endsWith("/stream")) return;
  else if (request.mode === "navigate" || request.headers.get("x-bench-piece")) event.respondWith(page(event));
  else event.respondWith(picture(request));
});

async function asset(request) {
  const kept = await caches.match(request);
  if (kept) return kept;
  const answer = await fetch(request);
  if (answer.ok) (await caches.open(ASSETS)).put(request, answer.clone());
  return answer;
}

/** From the server; where there is none, as it was last time, and the page is told so. */
async function page(event) {
  try {
    const answer = await fetch(event.request);
    if (answer.redirected && new URL(answer.url).pathname.startsWith("/sign-in")) await caches.delete(PAGES);
    else await keep(event.request, answer.clone());
    return answer;
  } catch (error) {
    const kept = await caches.match(plain(event.request), { cacheName: PAGES });
    if (!kept) throw error;
    const client = event.resultingClientId || event.clientId;
    setTimeout(async () => (await self.clients.get(client))?.postMessage("from the tablet"), 500);
    return event.request.mode === "navigate" ? marked(kept) : kept;
  }
}

/** A whole page says itself that it comes from the tablet: its script knows before anything is typed. */
async function marked(kept) {
  const text = (await kept.text()).replace("<html", "<html data-kept");
  return new Response(text, { status: kept.status, headers: kept.headers });
}

async function picture(request) {
  const kept = await caches.match(request, { cacheName: PAGES });
  if (kept) return kept;
  const answer = await fetch(request);
  if (answer.ok && lasting(answer)) (await caches.open(PAGES)).put(request, answer.clone());
  return answer;
}

const plain = (request) => request.url.split("#")[0];

/** Pages of one person at a time: another's are thrown away before the first one is kept. */
async function keep(request, answer) {
  const type = answer.headers.get("content-type") ?? "";
  if (!answer.ok || answer.redirected || !type.startsWith("text/html")) return;
  const text = await answer.clone().text();
  const person = /name="bench-person" content="([^"]*)"/.exec(text)?.[1] ?? "";
  let cache = await caches.open(PAGES);
  const whose = await (await cache.match("/jobs/whose"))?.text();
  if (whose !== undefined && whose !== person) {
    await caches.delete(PAGES);
    cache = await caches.open(PAGES);
  }
  if (whose !== person) await cache.put("/jobs/whose", new Response(person));
  await cache.put(plain(request), answer);
  const keys = await cache.keys();
  for (const old of keys.slice(1, Math.max(1, keys.length - MOST_PAGES))) await cache.delete(old);
}

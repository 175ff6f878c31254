// Keeps the session pages that were opened, and their files, so that they open again without network.
// Nothing else is kept; signing in or out empties it, and so does another person.
const PREFIX = "speedloom-field ";
const PAGE = /^\/squads\/[^/]+\/(athletes\/[^/]+\/)?programmes\/[^/]+\/sessions\/[^/]+\/$/;
const STATIC = /^\/static\/.+\.(js|css|svg)$/;
const WAIT_MS = 4000;

// What has reached the site is forgotten here when somebody signs in or out; what waits stays.
const forgetSent = () =>
  new Promise((resolve) => {
    const request = indexedDB.open("speedloom-field", 1);
    request.onupgradeneeded = () => request.transaction.abort();
    request.onerror = resolve;
    request.onsuccess = () => {
      const deal = request.result.transaction("entries", "readwrite");
      deal.oncomplete = deal.onabort = resolve;
      deal.objectStore("entries").openCursor().onsuccess = ({ target }) => {
        if (target.result?.value.state === "sent") target.result.delete();
        target.result?.continue();
      };
    };
  });

const nameOf = (by) => `${PREFIX}${by}`;
const ours = async () => (await caches.keys()).filter((name) => name.startsWith(PREFIX));
const empty = async (but) => Promise.all((await ours()).filter((name) => name !== but).map((name) => caches.delete(name)));

addEventListener("install", () => skipWaiting());
addEventListener("activate", (event) => event.waitUntil(clients.claim()));

addEventListener("message", (event) => {
  const { by, page, files } = event.data ?? {};
  if (by && page) event.waitUntil(keep(by, page, files));
});

// The page says who is signed in: what was kept for somebody else goes first.
const keep = async (by, page, files) => {
  await empty(nameOf(by));
  const cache = await caches.open(nameOf(by));
  await Promise.all([page.split("#")[0], ...files].map((one) => refresh(cache, one)));
  for (const one of await Promise.all(files.filter((file) => file.endsWith(".js")).map((file) => imported(file)))) {
    await Promise.all(one.map((file) => refresh(cache, file)));
  }
};

const imported = async (file, seen = new Set()) => {
  if (seen.has(file)) return [];
  seen.add(file);
  const answer = await fetch(file).catch(() => null);
  if (!answer?.ok) return [];
  const names = [...(await answer.text()).matchAll(/from "(\.\/[^"]+)"/g)].map((found) => new URL(found[1], file).href);
  const below = await Promise.all(names.map((name) => imported(name, seen)));
  return [...names, ...below.flat()];
};

const refresh = async (cache, address) => {
  const answer = await fetch(address, { credentials: "same-origin" }).catch(() => null);
  if (answer?.ok && !answer.redirected) await cache.put(address, answer);
};

const kept = async (request) => {
  for (const name of await ours()) {
    const found = await (await caches.open(name)).match(request, { ignoreVary: true });
    if (found) return found;
  }
  return null;
};

// The network first; what is kept where there is none, or where it takes too long.
const networkFirst = async (request) => {
  const asked = fetch(request);
  asked.catch(() => null);
  const late = new Promise((resolve) => setTimeout(resolve, WAIT_MS));
  try {
    const answer = await Promise.race([asked, late]);
    return answer ?? (await kept(request)) ?? (await asked);
  } catch {
    return (await kept(request)) ?? Response.error();
  }
};

addEventListener("fetch", (event) => {
  const { request } = event;
  const { origin, pathname } = new URL(request.url);
  if (origin !== location.origin) return;
  if (request.method === "POST" && /^\/(sign-(in|out)|invitation)\//.test(pathname)) event.waitUntil(Promise.all([empty(), forgetSent()]));
  if (request.method !== "GET" || request.headers.has("HX-Request")) return;
  const page = request.mode === "navigate" && PAGE.test(pathname);
  if (page || STATIC.test(pathname)) event.respondWith(networkFirst(request));
});

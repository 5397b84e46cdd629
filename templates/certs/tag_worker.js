// Keeps the last answer of each tag seen on this phone, for when the signal is gone.
// The network goes first; only 200 is kept; what is given back shows its banner (class "gone").
const KEPT = "tags-1", MOST = 50, PATIENCE_MS = 8000;

// One answer for a tag, in whatever language and case it was asked for.
const keyOf = (address) => {
  const path = new URL(address).pathname;
  return /^\/t\/[^/.]+$/i.test(path) ? path.toUpperCase() : "";
};

const keep = async (key, answer) => {
  const kept = await caches.open(KEPT);
  // A tag that is known no more is no longer told; an overloaded server says nothing about it.
  if (answer.ok || answer.status === 404) await kept.delete(key);
  if (!answer.ok || answer.redirected) return;
  await kept.put(key, answer);
  const keys = await kept.keys();
  await Promise.all(keys.slice(0, Math.max(0, keys.length - MOST)).map((one) => kept.delete(one)));
};

const spared = async (key) => {
  const answer = await (await caches.open(KEPT)).match(key, { ignoreVary: true });
  if (!answer) return undefined;
  const headers = new Headers(answer.headers);
  for (const name of ["Content-Length", "Content-Encoding"]) headers.delete(name);
  const page = (await answer.text()).replace("<html ", '<html class="gone" ');
  return new Response(page, { headers });
};

const answered = async (event, key) => {
  const fresh = fetch(event.request).then((answer) => {
    event.waitUntil(keep(key, answer.clone()));
    return answer;
  });
  const late = new Promise((go) => setTimeout(go, PATIENCE_MS)).then(() => spared(key));
  try {
    return await Promise.race([fresh, late.then((page) => page || fresh)]);
  } catch (trouble) {
    const page = await spared(key);
    if (page) return page;
    throw trouble;
  }
};

addEventListener("install", () => skipWaiting());
// The page that brought the worker was loaded without it: it is asked for once more, and kept.
addEventListener("activate", (event) => event.waitUntil((async () => {
  await clients.claim();
  for (const { url } of await clients.matchAll({ type: "window" })) {
    if (keyOf(url)) await fetch(url).then((answer) => keep(keyOf(url), answer)).catch(() => {});
  }
})()));
addEventListener("fetch", (event) => {
  const { mode, method, url } = event.request;
  const key = mode === "navigate" && method === "GET" ? keyOf(url) : "";
  if (key) event.respondWith(answered(event, key));
});

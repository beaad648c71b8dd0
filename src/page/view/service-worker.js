// Keeps this version of the page on the device, so that it opens without a network.
const kept = "rowscape-VERSION";
const files = ["./", "manifest.webmanifest", "icon-192.png", "icon-512.png"];

addEventListener("install", (event) => {
  event.waitUntil(caches.open(kept).then((cache) => cache.addAll(files)));
});

addEventListener("activate", (event) => {
  const old = (names) => names.filter((name) => name.startsWith("rowscape-") && name !== kept);
  event.waitUntil(
    caches.keys().then((names) => Promise.all(old(names).map((name) => caches.delete(name)))).then(() => clients.claim()),
  );
});

addEventListener("message", (event) => {
  if (event.data === "take over") skipWaiting();
});

addEventListener("fetch", (event) => {
  const { method, mode, url } = event.request;
  if (method !== "GET" || new URL(url).origin !== location.origin) return;
  const asked = mode === "navigate" ? "./" : event.request;
  event.respondWith(caches.open(kept).then((cache) => cache.match(asked)).then((found) => found ?? fetch(event.request)));
});

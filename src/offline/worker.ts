/**
 * The service worker: keeps every file of the app, so that all of it works without a network, and hands
 * over to a newer version only when it is told to or when no page is open. The build fills in which files
 * there are.
 */

/** Filled in by the build: paths from the app's folder, and a name that changes with any of them. */
declare const FILES: readonly string[];
declare const VERSION: string;

interface LifeEvent extends Event {
  waitUntil(work: Promise<unknown>): void;
}
interface AskEvent extends Event {
  readonly request: Request;
  respondWith(answer: Promise<Response>): void;
}
interface Scope {
  readonly registration: { readonly scope: string };
  readonly clients: { claim(): Promise<void> };
  readonly caches: CacheStorage;
  skipWaiting(): Promise<void>;
  addEventListener(type: 'install' | 'activate', listener: (event: LifeEvent) => void): void;
  addEventListener(type: 'fetch', listener: (event: AskEvent) => void): void;
  addEventListener(type: 'message', listener: (event: MessageEvent<unknown>) => void): void;
}
const scope = self as unknown as Scope;
const { caches } = scope;

const home = scope.registration.scope;
/** Other apps of the same host have caches, too. */
const prefix = `vampwright ${new URL(home).pathname} `;
const name = prefix + VERSION;

/** Names with a hash in them: what stands under such a name never changes. */
const isLasting = (url: string) => new URL(url).pathname.includes('/assets/');

scope.addEventListener('install', (event) => event.waitUntil(fill()));
scope.addEventListener('activate', (event) => event.waitUntil(tidy().then(() => scope.clients.claim())));
scope.addEventListener('message', ({ data }) => {
  if (data === 'take over') void scope.skipWaiting();
});
scope.addEventListener('fetch', (event) => {
  const { method, url } = event.request;
  if (method === 'GET' && url.startsWith(home)) event.respondWith(answer(event.request));
});

/** One file after the other, so that whatever the page asks for meanwhile comes first. */
async function fill(): Promise<void> {
  const cache = await caches.open(name);
  for (const path of FILES) {
    const { href } = new URL(path, home);
    if ((await cache.match(href)) !== undefined) continue;
    const before = isLasting(href) ? await caches.match(href) : undefined;
    const response = before ?? (await fetch(href, { cache: isLasting(href) ? 'default' : 'reload' }));
    if (!response.ok) throw new Error(`${href}: ${response.status}`);
    await cache.put(href, response);
  }
}

/** The version before stays for pages that are still open on it; older ones go. */
async function tidy(): Promise<void> {
  const ours = (await caches.keys()).filter((one) => one.startsWith(prefix));
  const others = ours.filter((one) => one !== name);
  await Promise.all(others.slice(0, -1).map((one) => caches.delete(one)));
}

async function answer(request: Request): Promise<Response> {
  const url = new URL(request.url);
  const isHome = url.origin + url.pathname === home || url.origin + url.pathname === `${home}index.html`;
  const asked = isHome ? home : request.url;
  const cache = await caches.open(name);
  return (await cache.match(asked)) ?? (await caches.match(asked)) ?? fetch(request);
}

// A module to the type checker; the build takes this line out.
export {};

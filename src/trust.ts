/**
 * Where the browser has Trusted Types, text becomes neither markup nor code, and only the app's own files
 * are run as workers. Imported before everything else.
 */

interface Policies {
  createPolicy(name: string, rules: { createScriptURL: (url: string) => string }): unknown;
}

const { trustedTypes } = globalThis as { readonly trustedTypes?: Policies };
const home = new URL('.', document.baseURI).href;

trustedTypes?.createPolicy('default', {
  createScriptURL(url) {
    if (new URL(url, document.baseURI).href.startsWith(home)) return url;
    throw new TypeError(`not one of the app's own files: ${url}`);
  },
});

export {};

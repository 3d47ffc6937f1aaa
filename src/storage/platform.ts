/** What of the browser may be missing: in a private window, in an old browser, or outside of any. */
export const platform: {
  readonly indexedDB?: IDBFactory;
  readonly BroadcastChannel?: typeof BroadcastChannel;
  readonly document?: Document;
  readonly navigator?: { readonly storage?: Partial<StorageManager> };
} = globalThis;

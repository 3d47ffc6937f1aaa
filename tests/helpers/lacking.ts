import { expect } from 'vitest';

/** Takes a method from all objects of a kind, as in a browser that has none. Returns what gives it back. */
export function lacking(prototype: object, method: string): () => void {
  const had = Object.getOwnPropertyDescriptor(prototype, method);
  expect(had, method).toBeDefined();
  expect(Reflect.deleteProperty(prototype, method)).toBe(true);
  return () => void Object.defineProperty(prototype, method, had!);
}

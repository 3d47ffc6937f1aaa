import axe from 'axe-core';
import { expect } from 'vitest';
import type { Session } from '../../src/ui/session.svelte.ts';

/** The rules that look at colours: all else is the same in both themes. */
const COLOURS = ['color-contrast', 'link-in-text-block'];
const TAGS = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'];

/** What of the page keeps somebody out, by axe's rules: all of them, or those that look at colours. */
export async function complaints(rules: 'all' | 'colours' = 'all'): Promise<string[]> {
  await document.fonts.ready;
  const { violations } = await axe.run(document, {
    runOnly: rules === 'all' ? TAGS : { type: 'rule', values: COLOURS },
    // The page of the test runner has no title and language of ours.
    ...(rules === 'all' && {
      rules: { 'document-title': { enabled: false }, 'html-has-lang': { enabled: false } },
    }),
  });
  return violations.flatMap(({ id, nodes }) =>
    nodes.map(({ html, failureSummary }) => `${id}: ${html} ${failureSummary}`),
  );
}

/**
 * What is wrong on the page as it stands, by day and then by night: axe's complaints, and what overflows. Axe
 * is asked where the page is narrowest and widest, for its words on what lies between are the same; by night only
 * about colours, and once, for they do not depend on the width.
 */
export async function wrong(session: Session): Promise<string[]> {
  const found: string[] = [];
  for (const theme of ['day', 'night'] as const) {
    await light(session, theme);
    const asked = theme === 'day' ? [360, 1440] : [1440];
    const said = asked.includes(innerWidth) ? await complaints(theme === 'day' ? 'all' : 'colours') : [];
    found.push(...[...said, ...overflowing()].map((one) => `by ${theme}: ${one}`));
  }
  return found;
}

/** Turns the page to day or night, and waits until its colours have changed. */
async function light(session: Session, theme: 'day' | 'night'): Promise<void> {
  session.preferences.set({ theme });
  await expect.poll(() => document.documentElement.dataset['theme']).toBe(theme);
  // One colour's change may set off another's: what inherits it changes after it.
  const changing = () => document.getAnimations().filter((one) => one instanceof CSSTransition).length;
  await expect.poll(changing).toBe(0);
}

/** Elements whose text is wider than their place and shows beyond it; what is drawn has no such place. */
export function overflowing(): string[] {
  const wide = [...document.querySelectorAll<HTMLElement>('.app *:not(.playhead, .head, svg *)')].filter(
    (element) => {
      const { overflow, display } = getComputedStyle(element);
      return (
        element.clientWidth > 0 &&
        display !== 'inline' &&
        overflow === 'visible' &&
        element.scrollWidth > element.clientWidth + 2
      );
    },
  );
  return wide.map(({ tagName, className }) => `${tagName} ${className}`);
}

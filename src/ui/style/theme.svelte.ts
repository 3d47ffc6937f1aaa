import type { Preferences } from '../preferences.svelte.ts';

/** Shows the page in the light that was chosen. To be called as a component is made. */
export function showTheme(preferences: Preferences): void {
  $effect(() => {
    const { theme } = preferences.values;
    if (theme === 'auto') delete document.documentElement.dataset['theme'];
    else document.documentElement.dataset['theme'] = theme;
  });
}

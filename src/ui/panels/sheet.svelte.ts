import { tick } from 'svelte';
import { reach } from '../find/reach.ts';
import type { PanelName } from './panels.ts';

/** Which sheet lies beside the ribbon; one at a time. Where there is room, the text does at first. */
export class OpenSheet {
  name: PanelName | null = $state(matchMedia('(width >= 1100px)').matches ? 'text' : null);
  /** What had the focus when it was opened. */
  #opener: Element | null = null;

  /** Opens a sheet, or closes it where it is open. */
  async toggle(name: PanelName): Promise<void> {
    if (this.name === name) return this.close();
    this.#opener = document.activeElement;
    this.name = name;
    await tick();
    focusFirst(name);
  }

  /** Opens a sheet, and puts the focus on the control with this caption. */
  async show(name: PanelName, label?: string): Promise<void> {
    if (this.name !== name) await this.toggle(name);
    else focusFirst(name);
    if (label !== undefined) await reach(() => document.querySelector('#panel'), { label });
  }

  close(): void {
    this.name = null;
    if (this.#opener instanceof HTMLElement && this.#opener.isConnected) this.#opener.focus();
  }
}

function focusFirst(name: PanelName) {
  const first = name === 'text' ? '#chart-text' : '#panel button';
  document.querySelector<HTMLElement>(first)?.focus({ preventScroll: true });
}

import { parseObject } from './json.ts';

/** What a list shows of a chart beside its name. */
export interface Glance {
  /** The changes as typed; empty where the file cannot be read. */
  readonly text: string;
}

/** Looks into a chart file without reading all of it. */
export function glance(file: string): Glance {
  const parsed = parseObject(file);
  const chart = parsed.ok ? parsed.value['chart'] : '';
  if (Array.isArray(chart)) return { text: chart.filter((line) => typeof line === 'string').join('\n') };
  return { text: typeof chart === 'string' ? chart : '' };
}

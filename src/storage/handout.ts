import { WHOLE_HANDOUT, type Handout } from '../engine/index.ts';
import { readObject } from './fields.ts';
import type { Notices } from './notices.ts';
import { HandoutFields, type ProjectFile } from './schema.ts';

/** How the handout is printed, as the chart file holds it; what is as first set is left out. */
export function handoutToFile({ without, labels }: Handout): Pick<ProjectFile, 'handout'> {
  const isUsual = labels === WHOLE_HANDOUT.labels;
  if (isUsual && without.length === 0) return {};
  return { handout: { ...(without.length > 0 && { without: [...without] }), ...(!isUsual && { labels }) } };
}

export function readHandout(raw: unknown, notices: Notices): Handout {
  const { without = [], labels } = readObject(raw, HandoutFields, 'handout', notices);
  return { without: [...new Set(without)], labels: labels ?? WHOLE_HANDOUT.labels };
}

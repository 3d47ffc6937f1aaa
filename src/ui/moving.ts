import {
  intervalBetween,
  pitchClass,
  plainName,
  transposeChartText,
  transposeName,
  type Chart,
  type HomeKey,
} from '../engine/index.ts';

/**
 * A chart moved so that what sounds in `from` sounds in `to`.
 * @param home the chart's own key, where that is another than the one it sounds in; null where it is the
 *   changes' matter
 */
export function moved(
  chart: Chart,
  from: HomeKey,
  to: HomeKey,
  home: HomeKey | null = from,
): { readonly text: string; readonly key: HomeKey | null } {
  const names = { from: from.tonic, to: to.tonic };
  const text = transposeChartText(chart, pitchClass(to.tonic) - pitchClass(from.tonic), names);
  const interval = intervalBetween(from.tonic, to.tonic);
  const key = home === from ? to : home && { ...home, tonic: plainName(transposeName(home.tonic, interval)) };
  return { text, key };
}

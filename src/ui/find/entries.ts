import { ACTIONS, type ActionName } from '../keys/actions.ts';
import { PANELS, type PanelName } from '../panels/panels.ts';
import type { Preset } from '../ports.ts';
import { PLACES } from './places.ts';
import type { Entry } from './search.ts';
import { WORDS } from './words.ts';

/** What finding leads to. */
export interface Finds {
  readonly perform: (action: ActionName) => void;
  /** Opens a sheet; with a caption, puts the focus on what it stands at. */
  readonly show: (sheet: PanelName, label?: string) => void;
  readonly openChart: (preset: Preset) => void;
}

/** The sheet that an action opens; null where it does something else. */
function sheetOf(action: ActionName): PanelName | null {
  if (action === 'instrument') return 'neck';
  if (action === 'neck') return null;
  return PANELS.find(({ name }) => name === action)?.name ?? null;
}

const labelOf = (sheet: PanelName) => PANELS.find(({ name }) => name === sheet)?.label ?? '';

/** Everything there is to find: actions, sheets, what has its place in one, and ready-made charts. */
export function entriesOf(
  keys: Readonly<Record<ActionName, readonly string[]>>,
  presets: readonly Preset[],
  { perform, show, openChart }: Finds,
): readonly Entry[] {
  const actions = ACTIONS.filter(({ name }) => name !== 'find').map(({ name, what }) => {
    const sheet = sheetOf(name);
    return {
      id: `action-${name}`,
      name: what,
      words: WORDS[name] ?? '',
      where: sheet === null ? '' : 'Sheet',
      keys: keys[name],
      run: () => (sheet === null ? perform(name) : show(sheet)),
    };
  });
  const reached = new Set(ACTIONS.map(({ name }) => sheetOf(name)));
  const sheets = PANELS.filter(({ name }) => !reached.has(name)).map(({ name, label }) => ({
    id: `sheet-${name}`,
    name: label,
    words: '',
    where: 'Sheet',
    keys: [],
    run: () => show(name),
  }));
  const places = PLACES.map(({ name, sheet, label, words }) => ({
    id: `${sheet}-${name}`,
    name,
    words,
    where: labelOf(sheet),
    keys: [],
    run: () => show(sheet, label),
  }));
  const charts = presets.map((preset) => ({
    id: `chart-${preset.id}`,
    name: preset.title,
    words: `${preset.sentence} ${preset.project.tags.join(' ')}`,
    where: 'Chart',
    keys: [],
    run: () => openChart(preset),
  }));
  return [...actions, ...sheets, ...places, ...charts];
}

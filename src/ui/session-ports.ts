import type { Project } from '../engine/index.ts';
import type { Credit, Exchange, MidiOutPort, PlayerPort, Preset, RenderPort, ScorePort } from './ports.ts';
import type { PreferenceKeeper } from './preferences.svelte.ts';

/** What the session is given by the one who builds it. */
export interface SessionPorts {
  readonly player: PlayerPort;
  /** Charts that come with the app: the first, or all where they are at hand. */
  readonly presets: readonly Preset[];
  /** Reads all of them, where they are not at hand. */
  readonly readPresets?: () => Promise<readonly Preset[]>;
  readonly project: Project;
  /** Called with each new state of the project, for keeping it. */
  readonly keep?: (project: Project) => void;
  readonly preferences?: PreferenceKeeper;
  readonly exchange?: Exchange;
  readonly render?: RenderPort;
  readonly scores?: ScorePort;
  readonly midiOut?: MidiOutPort;
  /** Whose the sounds are. */
  readonly credits?: readonly Credit[];
}
